package gaze

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// newCorner prepares the gaze limit at a corner.
//
// By the inscribed-angle theorem the places from which the chord from the
// tracker to the corner, of length c, is seen under the angle g lie on an arc of
// radius c / (2 sin g) about a center c / (2 tan g) from the chord's middle, in
// each half-plane through the chord. Outside the arc the angle is smaller.
//
// Reference: Euclid, Elements, book III, propositions 20 and 21.
func newCorner(id Corner, at, tracker r3.Vec, limit frame.Angle) corner {
	chord := r3.Sub(at, tracker)
	length := r3.Norm(chord)
	s, c := math.Sincos(limit.Radians())
	k := corner{id: id, at: at, half: r3.Scale(0.5, r3.Add(at, tracker)), chord: r3.Vec{X: 1}}
	if length > 0 {
		k.chord = r3.Scale(1/length, chord)
	}
	k.radius, k.center = length/(2*s), length*c/(2*s)
	return k
}

// arcPoint is the distance to an arc's surface at a point: its gradient and what
// is needed of its second derivative.
type arcPoint struct {
	inward, tangent, around r3.Vec // unit, mutually square
	bend, ring              float64
}

// curvature returns the second derivative of the distance applied to v.
//
// On a surface of revolution the gradient turns by 1/q per mm along the arc, q
// the distance from the arc's center, and by n_ρ/ρ per mm around the axis.
func (p arcPoint) curvature(v r3.Vec) r3.Vec {
	return r3.Add(
		r3.Scale(p.bend*r3.Dot(p.tangent, v), p.tangent),
		r3.Scale(p.ring*r3.Dot(p.around, v), p.around))
}

// margin returns the signed distance (mm) of the eye at p, in screen axes, from
// the surface on which the chord is seen under the gaze limit, positive where
// the angle is smaller.
func (k *corner) margin(p r3.Vec) (float64, arcPoint) {
	from := r3.Sub(p, k.half)
	u := r3.Dot(from, k.chord)
	out := r3.Sub(from, r3.Scale(u, k.chord))
	rho := math.Sqrt(r3.Norm2(out)) // far from overflow: several times as fast as Hypot
	if rho > 0 {
		out = r3.Scale(1/rho, out)
	} else {
		out = squareTo(k.chord) // on the chord's line every half-plane is as good
	}
	v := rho - k.center
	q := math.Sqrt(u*u + v*v)
	if q == 0 {
		return -k.radius, arcPoint{inward: out, tangent: k.chord, around: r3.Cross(k.chord, out)}
	}
	cu, cv := u/q, v/q
	g := arcPoint{
		inward:  r3.Add(r3.Scale(cu, k.chord), r3.Scale(cv, out)),
		tangent: r3.Sub(r3.Scale(cu, out), r3.Scale(cv, k.chord)),
		around:  r3.Cross(k.chord, out),
		bend:    1 / q,
	}
	if rho > 0 {
		g.ring = cv / rho
	}
	return q - k.radius, g
}

// squareTo returns a unit vector square to the unit vector v.
func squareTo(v r3.Vec) r3.Vec {
	if math.Abs(v.X) < 0.6 {
		return r3.Unit(r3.Cross(v, r3.Vec{X: 1}))
	}
	return r3.Unit(r3.Cross(v, r3.Vec{Y: 1}))
}
