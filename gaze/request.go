package gaze

import (
	"math"

	"sightpost/gaze/frame"
)

// Rates is what a deviation from the preferred aim costs: mm of margin per
// degree of each angle and per mm of distance.
type Rates struct {
	GazePerDegree, FacingPerDegree, RollPerDegree, DistancePerMM float64
}

// vector returns the rates per unit of the search's variables, angles in radians.
func (r Rates) vector() []float64 {
	const perDegree = 180 / math.Pi
	gaze, facing := r.GazePerDegree*perDegree, r.FacingPerDegree*perDegree
	return []float64{gaze, gaze, r.DistancePerMM, facing, facing, r.RollPerDegree * perDegree}
}

// Ranges bounds the aim in the leading posture.
type Ranges struct{ Low, High Aim }

// have reports whether an aim is within the ranges.
func (r *Ranges) have(x Aim) bool {
	low, high := r.Low.Vector(), r.High.Vector()
	for k, v := range x.Vector() {
		if v < low[k] || v > high[k] {
			return false
		}
	}
	return true
}

// Limit is something a screen's pose must never break, however good its margin:
// a distance kept from the face, a space kept clear. [Place] calls it from several
// goroutines at a time. It should be smooth: the search follows the kink between two
// limits, and creeps along one within a limit.
type Limit interface {
	// Margin returns the distance left of a screen at pose carrierFromScreen, negative
	// when broken.
	Margin(screen frame.Pose) Slope
}

// Request is what [Place] needs. The first posture leads: the aim is relative to
// its head.
type Request struct {
	Judge    Judge
	Postures []PostureInCarrier // those that must work, at least one
	Upright  Upright
	Prefer   Aim
	Rates    Rates
	Ranges   Ranges
	Limits   []Limit
	// RequiredMM is the margin that counts as good enough. Comfort is weighed only among
	// screens that have it.
	RequiredMM float64
}
