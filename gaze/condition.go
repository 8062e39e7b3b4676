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
	c.Kind = min(max(c.Kind, TooNear), BeyondDown)
	words := [...]string{
		TooNear: " too near", TooFar: " too far",
		PastLeft: "to the left", PastRight: "to the right", PastTop: "at the top", PastBottom: "at the bottom",
		BeyondLeft: "leftward", BeyondRight: "rightward", BeyondUp: "upward", BeyondDown: "downward",
	}
	switch {
	case c.Kind <= TooFar:
		return eye + words[c.Kind]
	case c.Kind <= PastBottom:
		return eye + " leaves the tracking volume " + words[c.Kind]
	case c.Kind == GazeLimit:
		return c.Corner.String() + ": beyond the " + eye + "'s gaze-angle limit"
	}
	return c.Corner.String() + ": beyond the " + eye + "'s " + words[c.Kind] + " gaze range"
}

// ConditionMargin is how far the head may move before a condition fails.
type ConditionMargin struct {
	Condition Condition
	// Slope has the signed distance of the eye from where the condition fails, less
	// what the usual movement takes up in that direction.
	Slope
	// Inward is the unit direction, in carrier axes, in which moving the eye
	// adds margin.
	Inward r3.Vec
}

// Slope is a number (mm, or radians for a cost in an angle) that belongs to a
// screen's pose, and its change per mm of shift and per radian of turn of the
// screen about its middle, in carrier axes.
type Slope struct {
	MM          float64
	Shift, Turn r3.Vec
}

// Along returns the change for a small movement of the screen: shift in mm and turn in
// radians about the screen's middle, carrier axes.
func (s *Slope) Along(shift, turn r3.Vec) float64 {
	return r3.Dot(s.Shift, shift) + r3.Dot(s.Turn, turn)
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
func Less(a, b float64) bool {
	return a < b && b-a > tie*(1+min(math.Abs(a), math.Abs(b)))
}

// tie is by what part two margins may differ that count as alike.
const tie = 1e-9
