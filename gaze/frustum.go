package gaze

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// face is one plane of the tracking volume in screen axes.
type face struct {
	kind   ConditionKind
	inward r3.Vec  // unit normal toward the inside
	offset float64 // inward · a point of the plane
}

// margin returns the signed distance (mm) of p from the face, positive inside.
func (f *face) margin(p r3.Vec) float64 { return r3.Dot(f.inward, p) - f.offset }

// faces returns the six faces of the tracking volume: near and far across the
// optical axis, and four through the tracker. The inside of a side face at half
// angle h, with z along the axis and x across toward that side, is
//
//	z sin h - x cos h >= 0
//
// Sides are the viewer's: a person's eye far to the right of the axis leaves the
// view to the right.
func (t Tracker) faces() [6]face {
	at, axis := t.Place(), t.Axis()
	right := r3.Vec{X: 1}
	up := r3.Cross(axis, right)
	side := func(kind ConditionKind, across r3.Vec, half float64) face {
		s, c := math.Sincos(half)
		n := r3.Sub(r3.Scale(s, axis), r3.Scale(c, across))
		return face{kind: kind, inward: n, offset: r3.Dot(n, at)}
	}
	base := r3.Dot(axis, at)
	across, upDown := t.Across.Radians()/2, t.UpDown.Radians()/2
	return [6]face{
		{kind: TooNear, inward: axis, offset: base + t.NearMM},
		{kind: TooFar, inward: r3.Scale(-1, axis), offset: -base - t.FarMM},
		side(PastLeft, r3.Scale(-1, right), across),
		side(PastRight, right, across),
		side(PastTop, up, upDown),
		side(PastBottom, r3.Scale(-1, up), upDown),
	}
}
