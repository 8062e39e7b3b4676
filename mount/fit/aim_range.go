package fit

import (
	"sightpost/gaze"
	"sightpost/gaze/frame"
)

// AimVariable is a variable of [gaze.Aim].
type AimVariable int

// The variables of the aim, in their order.
const (
	GazeLeft AimVariable = iota
	GazeDown
	Distance
	FacingUp
	FacingRight
	Roll
)

// String returns the variable's name: "gaze left", "distance".
func (v AimVariable) String() string {
	return [...]string{"gaze left", "gaze down", "distance", "facing up", "facing right", "roll"}[v]
}

// Turns reports whether v is an angle; otherwise it is a length.
func (v AimVariable) Turns() bool { return v != Distance }

// bounded is one variable of an aim, in mm or radians, with its range.
type bounded struct {
	variable         AimVariable
	value, low, high float64
}

// bounds returns the variables of an aim with their ranges.
func (w *Preferences) bounds(x *gaze.Aim) [6]bounded {
	low, high := &w.Ranges.Low, &w.Ranges.High
	angle := func(of AimVariable, v, low, high frame.Angle) bounded {
		return bounded{of, v.Radians(), low.Radians(), high.Radians()}
	}
	return [6]bounded{
		angle(GazeLeft, x.Left, low.Left, high.Left),
		angle(GazeDown, x.Down, low.Down, high.Down),
		{Distance, x.DistanceMM, low.DistanceMM, high.DistanceMM},
		angle(FacingUp, x.FacingUp, low.FacingUp, high.FacingUp),
		angle(FacingRight, x.FacingRight, low.FacingRight, high.FacingRight),
		angle(Roll, x.Roll, low.Roll, high.Roll),
	}
}

const (
	// rangeSlack and rangeSlackMM are by how much an aim may be outside of its range:
	// what is left when settings are read to 1° and 5 mm, so that a range of no width
	// can be met.
	rangeSlack   = 0.5 * frame.Degree
	rangeSlackMM = 2.5
)

// outside reports whether the value is outside of its range.
func (b *bounded) outside() bool { return b.marginInside() < 0 }

// marginInside returns how far the value is from leaving its range, the slack included: negative
// when it is outside.
func (b *bounded) marginInside() float64 {
	slack := rangeSlackMM
	if b.variable.Turns() {
		slack = rangeSlack.Radians()
	}
	return min(b.value-b.low, b.high-b.value) + slack
}

// slackRanges returns the ranges as wide as they count as met.
func (w *Preferences) slackRanges() gaze.Ranges {
	wider := func(x gaze.Aim, sign float64) gaze.Aim {
		turn := frame.Angle(sign) * rangeSlack
		return gaze.Aim{
			Left: x.Left + turn, Down: x.Down + turn, DistanceMM: x.DistanceMM + sign*rangeSlackMM,
			FacingUp: x.FacingUp + turn, FacingRight: x.FacingRight + turn, Roll: x.Roll + turn,
		}
	}
	return gaze.Ranges{Low: wider(w.Ranges.Low, -1), High: wider(w.Ranges.High, 1)}
}

// outOfRange returns the variables of the screen's aim in the leading posture that are
// outside of their ranges.
func (b *problem) outOfRange(r *Result) []Reason {
	var out []Reason
	for _, v := range b.job.Preferences.bounds(&r.Postures[b.must[0]].Aim) {
		if v.outside() {
			out = append(out, Reason{Kind: OutOfRange, Posture: b.must[0], Variable: v.variable, Is: v.value, Low: v.low, High: v.high})
		}
	}
	return out
}
