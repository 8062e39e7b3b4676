package space_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount/space"
)

// exactMM is the error allowed to a distance between things within some meters:
// a thousand times the last digit of a coordinate.
const exactMM = 1e-9

// contactMM is the error allowed where boxes all but touch, almost parallel: see
// [space.Between].
const contactMM = 1e-6

// certify proves the gap g of a and b from first principles.
//
// The points lie on both surfaces and differ by g, so the distance is no more;
// the plane across Toward parts the shapes by g, so it is no less. For
// overlapping shapes the first says that g along Toward parts them, and random
// directions are tried for one that parts them sooner.
func certify(t *testing.T, a, b space.Shape, g space.Clearance, rng *rand.Rand) {
	t.Helper()
	const mm = contactMM
	if d := math.Abs(r3.Norm(g.Toward) - 1); !(d < exactMM) {
		t.Errorf("Toward %v has length off by %g", g.Toward, d)
	}
	if d := surface(a, g.On); !(math.Abs(d) < mm) {
		t.Errorf("On is %g mm off the first surface", d)
	}
	if d := surface(b, g.Against); !(math.Abs(d) < mm) {
		t.Errorf("Against is %g mm off the second surface", d)
	}
	if d := r3.Norm(r3.Sub(r3.Sub(g.On, g.Against), r3.Scale(g.MM, g.Toward))); !(d < mm) {
		t.Errorf("On - Against differs from MM Toward by %g mm", d)
	}
	if d := parting(a, b, g.Toward) - g.MM; !(math.Abs(d) < mm) {
		t.Errorf("Toward parts the shapes by %g mm more than MM = %g", d, g.MM)
	}
	for range 50 {
		n := direction(rng)
		if d := parting(a, b, n) - g.MM; d > mm {
			t.Errorf("direction %v parts the shapes by %g mm more than MM = %g", n, d, g.MM)
		}
	}
	if t.Failed() {
		t.Fatalf("a = %+v\nb = %+v\ngap = %+v", a, b, g)
	}
}

// surface returns the signed distance of p from the surface of s, by folding
// space into one octant of its box.
func surface(s space.Shape, p r3.Vec) float64 {
	p = s.Pose.ApplyInverse(p)
	x, y, z := math.Abs(p.X)-s.HalfMM.X, math.Abs(p.Y)-s.HalfMM.Y, math.Abs(p.Z)-s.HalfMM.Z
	outside := r3.Norm(r3.Vec{X: max(x, 0), Y: max(y, 0), Z: max(z, 0)})
	return outside + min(max(x, y, z), 0) - s.RoundMM
}

// parting returns how far apart a and b are along n, from their corners.
func parting(a, b space.Shape, n r3.Vec) float64 {
	lowest, highest := math.Inf(1), math.Inf(-1)
	for _, c := range corners(a) {
		lowest = min(lowest, r3.Dot(c, n))
	}
	for _, c := range corners(b) {
		highest = max(highest, r3.Dot(c, n))
	}
	return lowest - a.RoundMM - highest - b.RoundMM
}

func corners(s space.Shape) (c [8]r3.Vec) {
	for i := range c {
		sign := func(bit int) float64 { return float64(2*(i>>bit&1) - 1) }
		h := s.HalfMM
		c[i] = s.Pose.Apply(r3.Vec{X: sign(0) * h.X, Y: sign(1) * h.Y, Z: sign(2) * h.Z})
	}
	return c
}

// byFeatures returns the distance between two shapes that are known to be apart,
// as the least over all pairs of corner and box and all pairs of edges.
func byFeatures(a, b space.Shape) float64 {
	best := math.Inf(1)
	ca, cb := corners(a), corners(b)
	for i := range 8 {
		best = min(best, cornerToBox(b, ca[i]), cornerToBox(a, cb[i]))
		for _, u := range [3]int{1, 2, 4} {
			if i&u != 0 {
				continue
			}
			for k := range 8 {
				for _, v := range [3]int{1, 2, 4} {
					if k&v == 0 {
						best = min(best, betweenSegments(ca[i], ca[i|u], cb[k], cb[k|v]))
					}
				}
			}
		}
	}
	return best - a.RoundMM - b.RoundMM
}

func cornerToBox(s space.Shape, p r3.Vec) float64 {
	s.RoundMM = 0
	return surface(s, p)
}

// betweenSegments returns the distance of the segments pq and rs: of the crossing
// point of their lines if it lies within both, else of an end from the other.
func betweenSegments(p, q, r, s r3.Vec) float64 {
	best := min(toSegment(p, r, s), toSegment(q, r, s), toSegment(r, p, q), toSegment(s, p, q))
	u, v, w := r3.Sub(q, p), r3.Sub(s, r), r3.Sub(p, r)
	n := r3.Cross(u, v)
	if nn := r3.Dot(n, n); nn > 0 {
		x := r3.Dot(r3.Cross(v, w), n) / nn
		y := r3.Dot(r3.Cross(u, w), n) / nn
		if x >= 0 && x <= 1 && y >= 0 && y <= 1 {
			on, against := r3.Add(p, r3.Scale(x, u)), r3.Add(r, r3.Scale(y, v))
			best = min(best, r3.Norm(r3.Sub(on, against)))
		}
	}
	return best
}

func toSegment(x, p, q r3.Vec) float64 {
	along := r3.Sub(q, p)
	share := 0.0
	if l := r3.Dot(along, along); l > 0 {
		share = min(max(r3.Dot(r3.Sub(x, p), along)/l, 0), 1)
	}
	return r3.Norm(r3.Sub(x, r3.Add(p, r3.Scale(share, along))))
}

func direction(rng *rand.Rand) r3.Vec {
	return r3.Unit(r3.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()})
}

// anyShape draws a box, plate, rod or ball, rounded or not, turned freely, by
// quarter turns, or by quarter turns and a hair, where methods for gaps tend to
// fail.
func anyShape(rng *rand.Rand) space.Shape {
	half := func() float64 {
		if rng.IntN(4) == 0 {
			return 0
		}
		return float64(1 + rng.IntN(200))
	}
	within := 50 + 300*rng.IntN(2) // overlapping and apart about equally often
	place := func() float64 { return float64(rng.IntN(2*within) - within) }
	at := r3.Vec{X: place(), Y: place(), Z: place()}
	s := space.Shape{Pose: anyTurn(rng), HalfMM: r3.Vec{X: half(), Y: half(), Z: half()}}
	s.Pose.At = at
	if rng.IntN(2) == 0 {
		s.RoundMM = float64(rng.IntN(50))
	}
	return s
}

func anyTurn(rng *rand.Rand) frame.Pose {
	quarter := frame.Angle(rng.IntN(4)) * 90 * frame.Degree
	square := frame.Rotate(quarter, r3.Vec{X: 1}).Mul(frame.Rotate(quarter, r3.Vec{Y: 1}))
	switch rng.IntN(3) {
	case 0:
		return frame.Rotate(frame.Angle(rng.Float64()*2*math.Pi), direction(rng))
	case 1:
		return square
	default:
		hair := frame.Angle(math.Pow(10, -2-12*rng.Float64()))
		return frame.Rotate(hair, direction(rng)).Mul(square)
	}
}
