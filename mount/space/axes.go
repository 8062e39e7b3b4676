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
	for _, n := range d.u {
		if s := math.Abs(r3.Dot(n, d.c)) - d.reach(n); s > mm {
			toward, mm = n, s
		}
	}
	if mm <= enoughMM {
		for _, p := range d.u[:3] {
			for _, q := range d.u[3:] {
				n := r3.Cross(p, q)
				nn := r3.Dot(n, n)
				if nn < parallel {
					continue
				}
				n = r3.Scale(1/math.Sqrt(nn), n)
				if s := math.Abs(r3.Dot(n, d.c)) - d.reach(n); s > mm {
					toward, mm = n, s
				}
			}
		}
	}
	if r3.Dot(toward, d.c) < 0 {
		toward = r3.Scale(-1, toward)
	}
	return toward, mm
}

// reach returns how far d extends from its middle along n.
func (d *difference) reach(n r3.Vec) float64 {
	var sum float64
	for j, u := range d.u {
		sum += d.h[j] * math.Abs(r3.Dot(n, u))
	}
	return sum
}
