package space

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// parallel is the squared sine of the angle between two edges below which their
// cross product is not tried as a direction. Leaving such a direction out costs
// at most the edge length times the sine, 1e-12: far below the rounding of a
// tape measure, and of the arithmetic.
const parallel = 1e-24

// widest returns the direction, among the fifteen normals of the faces of d, in
// which the two boxes are widest apart, and how far apart they are in it (mm,
// negative if they overlap). It stops at the three and three face normals if the
// boxes are more than enoughMM apart in one of them: then any of these is a fair
// start for finding the nearest points.
//
// Every unit direction is a true lower bound of the signed distance, so rounding
// error in a direction can't make the answer wrong, only short by as little.
func (d *difference) widest(enoughMM float64) (toward r3.Vec, mm float64) {
	mm = math.Inf(-1)
	for i := range d.u {
		n := d.facing(d.u[i])
		if s := d.apart(n); s > mm {
			toward, mm = n, s
		}
	}
	if mm > enoughMM {
		return toward, mm
	}
	for i := range 3 {
		if d.h[i] == 0 {
			continue // no edge, so no face along it
		}
		for j := 3; j < 6; j++ {
			if d.h[j] == 0 {
				continue
			}
			n := r3.Cross(d.u[i], d.u[j])
			nn := r3.Dot(n, n)
			if nn < parallel {
				continue
			}
			n = d.facing(r3.Scale(1/math.Sqrt(nn), n))
			if s := d.apart(n); s > mm {
				toward, mm = n, s
			}
		}
	}
	return toward, mm
}

// facing returns n or its opposite, whichever leads from the second box to the
// first.
func (d *difference) facing(n r3.Vec) r3.Vec {
	if r3.Dot(n, d.c) < 0 {
		return r3.Scale(-1, n)
	}
	return n
}

// apart returns how far apart the boxes are along the unit direction n, negative
// if they overlap in it. It is NaN if n is.
func (d *difference) apart(n r3.Vec) float64 {
	s := r3.Dot(n, d.c) - d.h[0]*math.Abs(n.X) - d.h[1]*math.Abs(n.Y) - d.h[2]*math.Abs(n.Z)
	for j := 3; j < 6; j++ {
		if d.h[j] != 0 { // half of what is near a mount is round
			s -= d.h[j] * math.Abs(r3.Dot(n, d.u[j]))
		}
	}
	return s
}
