package gaze

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Shadow is a part of the floor that is hidden: how far it reaches ahead and to
// the sides (mm, chair axes). The zero Shadow hides nothing.
type Shadow struct {
	Hides           bool
	NearMM, FarMM   float64 // ahead of the point on the floor below the eyes
	LeftMM, RightMM float64 // to the person's left of the chair's midline; right is negative
	// Endless says that it reaches as far as is judged, LookMM ahead or to a side,
	// and goes on; FarMM, LeftMM and RightMM are then where looking ends.
	Endless bool
	// AreaMM2 is its area, and PathMM how much of the midline straight ahead of the
	// chair is in it.
	AreaMM2, PathMM float64
	// Outline are its corners in chair axes, in order around it, on the floor.
	Outline []r3.Vec
}

// LookMM is how far ahead of the eyes, and to either side of the chair's midline,
// the floor is looked at: some five seconds at the speed of a chair. A choice of
// this tool.
const LookMM = 10000.0

// floor returns what b hides of the floor from each eye and from both.
//
// What a convex body hides from a point is a cone; with the floor it has a convex
// polygon in common, that of the floor that is looked at, cut by the planes of the
// cone. What both eyes do not see is the polygon of one cut by the planes of the
// other. The floor is taken to be beyond the box, as it is for a box above it.
func (v *viewer) floor(b *box) (each [2]Shadow, both Shadow) {
	if !b.near(v.middle) || !b.near(v.eyes[0]) || !b.near(v.eyes[1]) {
		return each, both
	}
	common := LookedAt(v.middle.X)
	for i, eye := range v.eyes {
		each[i] = v.shadow(b.hides(eye, LookedAt(v.middle.X)))
		common = b.hides(eye, common)
	}
	return each, v.shadow(common)
}

// LookedAt returns the part of the floor that is looked at from eyes at x, as a
// rectangle in chair axes (mm).
func LookedAt(x float64) []r3.Vec {
	near, far := x, x+LookMM
	return []r3.Vec{{X: near, Y: LookMM}, {X: near, Y: -LookMM}, {X: far, Y: -LookMM}, {X: far, Y: LookMM}}
}

// hides returns the part of a convex polygon on the floor that the box hides from
// an eye.
func (b *box) hides(eye r3.Vec, floor []r3.Vec) []r3.Vec {
	if !(eye.Z > 0) {
		return nil
	}
	faces := b.seen(eye)
	solid := 0.0
	for _, f := range faces {
		solid += solidAngle(f)
	}
	if len(faces) > 0 && solid == 0 {
		return nil // a box without thickness, seen edge-on
	}
	if len(faces) == 0 {
		return floor // the eye is inside
	}
	for _, n := range b.outline(eye) {
		floor = Clip(floor, n, r3.Dot(n, eye))
	}
	return floor
}

// shadow measures a convex polygon on the floor.
func (v *viewer) shadow(polygon []r3.Vec) Shadow {
	area := areaOf(polygon)
	if !(area > 0) {
		return Shadow{}
	}
	s := Shadow{Hides: true, NearMM: math.Inf(1), FarMM: math.Inf(-1), LeftMM: math.Inf(-1), RightMM: math.Inf(1), AreaMM2: area, Outline: polygon}
	for _, p := range polygon {
		s.NearMM, s.FarMM = min(s.NearMM, p.X-v.middle.X), max(s.FarMM, p.X-v.middle.X)
		s.LeftMM, s.RightMM = max(s.LeftMM, p.Y), min(s.RightMM, p.Y)
	}
	const roundingMM = 1e-3
	s.Endless = max(s.FarMM, s.LeftMM, -s.RightMM) > LookMM-roundingMM
	s.PathMM = onMidline(polygon)
	return s
}

// areaOf returns the area of a convex polygon on the floor (mm²).
func areaOf(polygon []r3.Vec) float64 {
	sum := 0.0
	for i := 2; i < len(polygon); i++ {
		sum += r3.Cross(r3.Sub(polygon[i-1], polygon[0]), r3.Sub(polygon[i], polygon[0])).Z
	}
	return math.Abs(sum) / 2
}

// onMidline returns the length of the chair's midline, y = 0, inside a convex
// polygon on the floor (mm).
func onMidline(polygon []r3.Vec) float64 {
	near, far := math.Inf(1), math.Inf(-1)
	for i, q := range polygon {
		p := polygon[(i+len(polygon)-1)%len(polygon)]
		if (p.Y < 0) != (q.Y < 0) {
			x := p.X + (q.X-p.X)*p.Y/(p.Y-q.Y)
			near, far = min(near, x), max(far, x)
		}
	}
	return max(0, far-near)
}
