package gaze

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// SolidAngle returns the solid angle (steradians, 0 to 2π) of the triangle with
// its corners at a, b and c, seen from the origin; 0 if the origin is in its plane
// or at one of them (nearer than 1e-300). With unit vectors to the corners,
//
//	tan Ω/2 = |a · (b × c)| / (1 + a·b + b·c + c·a)
//
// Corners need not be at the same distance, and only directions count.
//
// Reference: A. van Oosterom and J. Strackee, "The Solid Angle of a Plane
// Triangle", IEEE Transactions on Biomedical Engineering BME-30(2), 1983, 125-126,
// eq. 8 (from memory).
func SolidAngle(a, b, c r3.Vec) float64 {
	if min(r3.Norm(a), r3.Norm(b), r3.Norm(c)) < 1e-300 {
		return 0
	}
	a, b, c = r3.Unit(a), r3.Unit(b), r3.Unit(c)
	return 2 * math.Atan2(math.Abs(r3.Dot(a, r3.Cross(b, c))), 1+r3.Dot(a, b)+r3.Dot(b, c)+r3.Dot(c, a))
}

// solidAngle returns the solid angle of a convex polygon seen from the origin, as
// a fan of triangles.
func solidAngle(polygon []r3.Vec) float64 {
	sum := 0.0
	for i := 2; i < len(polygon); i++ {
		sum += SolidAngle(polygon[0], polygon[i-1], polygon[i])
	}
	return sum
}

// Clip returns the part of a convex polygon where n·v >= offset: none, or its corners in
// order around it.
//
// Reference: I. E. Sutherland and G. W. Hodgman, "Reentrant Polygon Clipping",
// Communications of the ACM 17(1), 1974, 32-42 (from memory).
func Clip(polygon []r3.Vec, n r3.Vec, offset float64) []r3.Vec {
	var kept []r3.Vec
	for i, q := range polygon {
		p := polygon[(i+len(polygon)-1)%len(polygon)]
		dp, dq := r3.Dot(n, p)-offset, r3.Dot(n, q)-offset
		if (dp < 0) != (dq < 0) {
			kept = append(kept, r3.Add(p, r3.Scale(dp/(dp-dq), r3.Sub(q, p))))
		}
		if dq >= 0 {
			kept = append(kept, q)
		}
	}
	return kept
}

// box is a housing somewhere before a viewer.
type box struct {
	at           frame.Pose // chairFromScreen
	middle, half r3.Vec     // screen axes
}

func (s Screen) box() box {
	middle, half := s.Housing()
	return box{middle: middle, half: half}
}

// near reports whether the box has a pose that, like a viewer's eye, is made of
// numbers and not vast.
func (b *box) near(eye r3.Vec) bool {
	reach := r3.Norm(b.middle) + r3.Norm(b.half)
	return b.at.IsFinite() && b.at.Rot != (frame.Rotation{}) && r3.Norm(b.at.At) < vastMM && r3.Norm(eye) < vastMM && reach < vastMM
}

// corner returns a corner of the box in chair axes; signs are ±1 along each axis.
func (b *box) corner(signs [3]float64) r3.Vec {
	return b.at.Apply(r3.Add(b.middle, r3.Vec{X: signs[0] * b.half.X, Y: signs[1] * b.half.Y, Z: signs[2] * b.half.Z}))
}

// faces returns for each axis of the box and each side, low before high, whether
// an eye in chair axes sees that face: whether it is beyond its plane.
func (b *box) faces(eye r3.Vec) (sees [3][2]bool) {
	local := r3.Sub(b.at.ApplyInverse(eye), b.middle)
	at, half := [3]float64{local.X, local.Y, local.Z}, [3]float64{b.half.X, b.half.Y, b.half.Z}
	for axis := range sees {
		sees[axis] = [2]bool{-at[axis] > half[axis], at[axis] > half[axis]}
	}
	return sees
}

// seen returns the faces that an eye sees, as quadrangles from the eye; none for
// an eye inside or on the box.
func (b *box) seen(eye r3.Vec) [][]r3.Vec {
	var quads [][]r3.Vec
	for axis, sides := range b.faces(eye) {
		for side, sees := range sides {
			if !sees {
				continue
			}
			quad := make([]r3.Vec, 4)
			for k, turn := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
				var signs [3]float64
				signs[axis], signs[(axis+1)%3], signs[(axis+2)%3] = float64(2*side-1), turn[0], turn[1]
				quad[k] = r3.Sub(b.corner(signs), eye)
			}
			quads = append(quads, quad)
		}
	}
	return quads
}

// outline returns the planes through an eye that bound what the box hides from it,
// as normals that point inward. Each goes through an edge of which one face is
// seen and the other is not.
func (b *box) outline(eye r3.Vec) []r3.Vec {
	sees := b.faces(eye)
	inside := r3.Sub(b.at.Apply(b.middle), eye)
	var planes []r3.Vec
	for axis := range 3 {
		i, j := (axis+1)%3, (axis+2)%3
		for si := range 2 {
			for sj := range 2 {
				if sees[i][si] == sees[j][sj] {
					continue
				}
				var signs [3]float64
				signs[i], signs[j] = float64(2*si-1), float64(2*sj-1)
				signs[axis] = -1
				p := r3.Sub(b.corner(signs), eye)
				signs[axis] = 1
				n := r3.Cross(p, r3.Sub(b.corner(signs), eye))
				if r3.Dot(n, inside) < 0 {
					n = r3.Scale(-1, n)
				}
				planes = append(planes, n)
			}
		}
	}
	return planes
}
