package gaze

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// limit is one limit of the gaze range: a plane through the eye.
type limit struct {
	kind   ConditionKind
	normal r3.Vec // unit, head axes; normal · (corner - eye) >= 0 is within range
}

// limits returns the four planes of the gaze range. For the left limit L,
//
//	atan2(left, forward) <= L  ⇔  sin L · forward - cos L · left >= 0
//
// and so on for the others.
func (r GazeRange) limits() [4]limit {
	plane := func(kind ConditionKind, a frame.Angle, away r3.Vec) limit {
		s, c := math.Sincos(a.Radians())
		return limit{kind: kind, normal: r3.Sub(r3.Vec{X: s}, r3.Scale(c, away))}
	}
	return [4]limit{
		plane(BeyondLeft, r.Left, r3.Vec{Y: 1}),
		plane(BeyondRight, r.Right, r3.Vec{Y: -1}),
		plane(BeyondUp, r.Up, r3.Vec{Z: 1}),
		plane(BeyondDown, r.Down, r3.Vec{Z: -1}),
	}
}
