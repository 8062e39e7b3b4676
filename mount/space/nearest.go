package space

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	// rounding is the error of a six-term sum, as a share of scale: a smaller
	// gradient counts as zero, and two gaps closer than that as equal.
	rounding = 1e-15
	// maxSteps bounds the work where rounding error makes the active set waver
	// between neighbors, each as good as the other. Of two million random pairs,
	// half of them parallel to within a hair, all but five needed 2 to 7 steps.
	maxSteps = 64
)

// search is the state of [difference.nearest]: the coordinates x of a point of d,
// and which of them (at most three) are free; the others rest where they are.
type search struct {
	*difference
	x    [6]float64
	free [3]int
	n    int // how many are free
}

// nearest returns the coordinates x of the point r of d nearest to the origin,
// and r, starting from the face or corner of d toward the origin, where toward
// points from the origin to d. The origin must lie outside d.
//
// It minimizes |c + Σ x_j u_j|² within |x_j| <= h_j. The gradient by x_j is
// u_j·r; a coordinate is at rest if that is zero, or if x_j is at the bound it is
// driven against. Each round frees the coordinate that is driven hardest, solves
// the least-squares problem in the free ones, and goes there, or as far as the
// first bound on the way, where that coordinate is fixed and the rest solved
// again. Each round lowers |r|, so no set of free coordinates comes back.
//
// A freed u_j is never a combination of those already free, because r is square
// to those and not to u_j; and three free ones in the interior would make r zero.
// So at most three are ever free, and the solutions are closed forms.
//
// Reference: P. B. Stark, R. L. Parker, "Bounded-variable least-squares: an
// algorithm and applications", Computational Statistics 10, 1995 (from memory).
func (d *difference) nearest(toward r3.Vec) (x [6]float64, r r3.Vec) {
	s := search{difference: d}
	s.start(toward)
	r = s.point()
	for range maxSteps {
		j := s.drivenHardest(r)
		if j < 0 || !s.release(j) {
			break
		}
		r = s.settle(r)
	}
	return s.x, r
}

// start puts every coordinate at the bound nearest to the origin along toward,
// and at its middle if it does not matter there: so parallel faces are met in
// their middle, not at a corner.
func (s *search) start(toward r3.Vec) {
	const square = 1e-9 // cosine below which an edge lies in the face
	for j := range s.u {
		switch c := r3.Dot(toward, s.u[j]); {
		case c > square:
			s.x[j] = -s.h[j]
		case c < -square:
			s.x[j] = s.h[j]
		}
	}
}

// point returns the point of d with coordinates x.
func (s *search) point() r3.Vec {
	r := r3.Vec{X: s.c.X + s.x[0], Y: s.c.Y + s.x[1], Z: s.c.Z + s.x[2]}
	for j := 3; j < 6; j++ {
		if x := s.x[j]; x != 0 {
			r = r3.Add(r, r3.Scale(x, s.u[j]))
		}
	}
	return r
}

// drivenHardest returns the coordinate with the largest gradient at r among those
// free to follow it, or -1 if all are at rest.
func (s *search) drivenHardest(r r3.Vec) int {
	hardest, most := -1, s.scale*rounding
	along := [6]float64{r.X, r.Y, r.Z}
	for j := range along {
		if s.h[j] == 0 {
			continue
		}
		if j >= 3 {
			along[j] = r3.Dot(s.u[j], r)
		}
		g := along[j]
		if (g < 0 && s.x[j] >= s.h[j]) || (g > 0 && s.x[j] <= -s.h[j]) {
			continue
		}
		if g = math.Abs(g); g > most {
			hardest, most = j, g
		}
	}
	return hardest
}

// release frees coordinate j. It reports false if there is no space for it, which
// means that the origin is reached.
func (s *search) release(j int) bool {
	for _, k := range s.free[:s.n] {
		if k == j {
			return true // free already: rounding left a remainder to be solved again
		}
	}
	if s.n == len(s.free) {
		return false
	}
	s.free[s.n] = j
	s.n++
	return true
}

// settle moves the free coordinates from r to their least-squares solution,
// fixing each that meets a bound on the way. It returns the point reached.
func (s *search) settle(r r3.Vec) r3.Vec {
	for s.n > 0 {
		met := s.move(s.solve(r))
		r = s.point()
		if met < 0 {
			break
		}
		s.n--
		s.free[met] = s.free[s.n]
	}
	return r
}

// move goes by step, or by the part of it that keeps all free coordinates within
// their bounds. It returns the place in free of the one that met its bound, or -1.
func (s *search) move(step [3]float64) int {
	met, share := -1, 1.0
	for i, j := range s.free[:s.n] {
		room := math.Copysign(s.h[j], step[i]) - s.x[j]
		if math.Abs(room) < share*math.Abs(step[i]) {
			met, share = i, room/step[i]
		}
	}
	for i, j := range s.free[:s.n] {
		s.x[j] = min(max(s.x[j]+share*step[i], -s.h[j]), s.h[j])
	}
	if met >= 0 {
		j := s.free[met]
		s.x[j] = math.Copysign(s.h[j], step[met])
	}
	return met
}

// solve returns the step of the free coordinates to the least |r|.
//
// The last step of each set comes from cross products, never from 1 - cos², so
// that nearly parallel edges keep their digits; each earlier one makes up for
// those after it, so that they cancel to the last digit even where they are
// huge. Edges parallel to the last digit give no step for the later one.
func (s *search) solve(r r3.Vec) (step [3]float64) {
	switch s.n {
	case 1:
		step[0] = -r3.Dot(s.u[s.free[0]], r)
	case 2:
		step[0], step[1] = solvePair(s.u[s.free[0]], s.u[s.free[1]], r)
	case 3:
		p, q, t := s.u[s.free[0]], s.u[s.free[1]], s.u[s.free[2]]
		n := r3.Cross(p, q)
		if det := r3.Dot(n, t); det != 0 {
			step[2] = -r3.Dot(n, r) / det
		}
		step[0], step[1] = solvePair(p, q, r3.Add(r, r3.Scale(step[2], t)))
	}
	return step
}

// solvePair returns the x and y that make |r + x p + y q| least, for unit p and q.
func solvePair(p, q, r r3.Vec) (x, y float64) {
	n := r3.Cross(p, q)
	if nn := r3.Dot(n, n); nn > 0 {
		y = -r3.Dot(r3.Cross(p, r), n) / nn
	}
	return -r3.Dot(p, r) - r3.Dot(p, q)*y, y
}

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
