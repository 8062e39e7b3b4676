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
func (w *Preferences) bounds(x *gaze.Aim) (out [6]bounded) {
	value, low, high := x.Vector(), w.Ranges.Low.Vector(), w.Ranges.High.Vector()
	for i := range out {
		out[i] = bounded{AimVariable(i), value[i], low[i], high[i]}
	}
	return out
}

const (
	// rangeSlack and rangeSlackMM are by how much an aim may be outside of its range:
	// what is left when settings are read to 1° and 5 mm, so that a range of no width
	// can be met.
	rangeSlack   = 0.5 * frame.Degree
	rangeSlackMM = 2.5
)

// slack returns the slack in the unit of the variable, mm or radians.
func (v AimVariable) slack() float64 {
	if v.Turns() {
		return rangeSlack.Radians()
	}
	return rangeSlackMM
}

// slackRanges returns the ranges widened by the slack.
func (w *Preferences) slackRanges() gaze.Ranges {
	low, high := w.Ranges.Low.Vector(), w.Ranges.High.Vector()
	for i := range low {
		by := AimVariable(i).slack()
		low[i], high[i] = low[i]-by, high[i]+by
	}
	return gaze.Ranges{Low: gaze.AimOf(low), High: gaze.AimOf(high)}
}

// outOfRange returns the variables of an aim that are outside of their ranges.
func (w *Preferences) outOfRange(x *gaze.Aim, posture int) []Reason {
	var out []Reason
	for _, v := range w.bounds(x) {
		if min(v.value-v.low, v.high-v.value)+v.variable.slack() < 0 {
			out = append(out, Reason{Kind: OutOfRange, Posture: posture, Variable: v.variable, Is: v.value, Low: v.low, High: v.high})
		}
	}
	return out
}
