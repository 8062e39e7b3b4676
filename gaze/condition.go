package gaze

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// ConditionKind is what a condition asks for.
type ConditionKind int

// The kinds of condition: six faces of the tracking volume, the tracker's gaze
// limit and the four limits of the gaze range.
const (
	TooNear ConditionKind = iota
	TooFar
	PastLeft
	PastRight
	PastTop
	PastBottom
	GazeLimit
	BeyondLeft
	BeyondRight
	BeyondUp
	BeyondDown
)

// Condition is one thing that must hold at one eye, for some kinds at one
// corner of the used part of the screen. Left and right are the viewer's.
type Condition struct {
	Kind   ConditionKind
	Eye    Eye
	Corner Corner
}

// String says in plain words what is wrong when the condition does not hold.
func (c Condition) String() string {
	eye := c.Eye.String()
	switch c.Kind {
	case TooNear:
		return eye + " too near"
	case TooFar:
		return eye + " too far"
	case PastLeft:
		return eye + " leaves the tracking volume to the left"
	case PastRight:
		return eye + " leaves the tracking volume to the right"
	case PastTop:
		return eye + " leaves the tracking volume at the top"
	case PastBottom:
		return eye + " leaves the tracking volume at the bottom"
	case GazeLimit:
		return c.Corner.String() + ": beyond the gaze-angle limit of the " + eye
	case BeyondLeft:
		return c.Corner.String() + ": beyond the gaze range of the " + eye + " to the left"
	case BeyondRight:
		return c.Corner.String() + ": beyond the gaze range of the " + eye + " to the right"
	case BeyondUp:
		return c.Corner.String() + ": beyond the gaze range of the " + eye + " upward"
	default:
		return c.Corner.String() + ": beyond the gaze range of the " + eye + " downward"
	}
}

// ConditionMargin is how far the head may move before a condition fails.
type ConditionMargin struct {
	Condition Condition
	// MM is the signed distance of the eye from where the condition fails, less
	// what the usual movement takes up in that direction (mm).
	MM float64
	// Inward is the unit direction, in carrier axes, in which moving the eye
	// adds margin.
	Inward r3.Vec
	// Shift is the change of MM per mm of movement of the screen, Turn the change
	// per radian of its turn about its middle; both as vectors in carrier axes.
	Shift, Turn r3.Vec
}

// Along returns the change of the margin (mm) for a small movement of the screen:
// shift in mm and turn in radians about the screen's middle, carrier axes.
func (r ConditionMargin) Along(shift, turn r3.Vec) float64 {
	return r3.Dot(r.Shift, shift) + r3.Dot(r.Turn, turn)
}

// Least returns the place of the least margin in margins, the first of those that differ by
// rounding alone, or -1 when there is none. A margin that is not a number counts as the
// least, so that it is seen.
func Least(margins []ConditionMargin) int {
	least := -1
	for i, r := range margins {
		if least < 0 || Less(r.MM, margins[least].MM) || math.IsNaN(r.MM) {
			least = i
		}
	}
	return least
}

// Less reports whether margin a is less than b by more than rounding: so that of two eyes,
// conditions or postures that fare alike the same one is named on every processor.
func Less(a, b float64) bool { return a < b && b-a > tie*(1+math.Abs(b)) }

// tie is by what part two margins may differ that count as alike.
const tie = 1e-9
