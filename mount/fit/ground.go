package fit

import (
	"cmp"
	"math"
	"slices"

	"sightpost/gaze/frame"
)

// Ground is where the middle lines of a mount's tubes are lowest: a post that hangs far out of
// its clamp can reach the floor when the seat tilts, or once it is leveled.
type Ground struct {
	MM   float64 // above the floor, negative below it
	Part string
	// Posture is its place; Level with the seat level, in which no posture is.
	Posture int
}

// Level is the place of no posture: that of the untilted chair.
const Level = -1

// ground returns where the tubes are lowest in any posture in which the mount is used; MM is
// infinite without tubes.
func (b *problem) ground(tubes func(posture int) []TubePiece) Ground {
	low := Ground{MM: math.Inf(1)}
	for _, i := range b.asSet {
		low.lower(i, b.postures[i].Carrier, tubes(i))
	}
	return low
}

// lower makes g the lowest of tubes that are carried as in a posture, if they are lower.
func (g *Ground) lower(posture int, carrier frame.Pose, tubes []TubePiece) {
	for k := range tubes {
		for _, end := range tubes[k].ends() {
			if z := carrier.Apply(end).Z; z < g.MM {
				*g = Ground{z, tubes[k].Part, posture}
			}
		}
	}
}

// TooClose reports whether it is nearer to the floor than required (mm), by more than rounding.
func (g Ground) TooClose(requiredMM float64) bool { return g.MM < requiredMM-RoundingMM }

// groundLeveled returns the lower of g and where the tubes are with the seat level, bent as in the
// posture nearest to that.
func groundLeveled(b *problem, g Ground, tubes func(posture int) []TubePiece) Ground {
	tilt := func(i int) frame.Angle { return max(b.postures[i].Posture.SeatTilt, -b.postures[i].Posture.SeatTilt) }
	nearest := slices.MinFunc(b.asSet, func(i, j int) int { return cmp.Compare(tilt(i), tilt(j)) })
	g.lower(Level, frame.Identity(), tubes(nearest))
	return g
}
