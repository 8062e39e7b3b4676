package plots

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount/space"
)

// anyTurned returns a direction of view at random, over twice round.
func anyTurned(rng *rand.Rand) Turned {
	angle := func() frame.Angle { return frame.Angle(4 * math.Pi * (rng.Float64() - 0.5)) }
	return Turned{Azimuth: angle(), Elevation: angle()}
}

// TestView3DIsIsometric looks along the diagonal of a cube, from where all its
// edges are shortened to sqrt(2/3) and stand at 120° to each other: the isometric
// view3d of technical drawing.
func TestView3DIsIsometric(t *testing.T) {
	v := Turned{Azimuth: 45 * frame.Degree, Elevation: frame.Angle(math.Atan(math.Sqrt2 / 2))}.plane()
	edges := v.flatAll(r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1})
	for i, e := range edges {
		next := edges[(i+1)%3]
		if got := r2.Norm(e); math.Abs(got-math.Sqrt(2.0/3)) > tol {
			t.Errorf("edge %d is %v long, want sqrt(2/3)", i, got)
		}
		if got := r2.Dot(e, next) / r2.Norm(e) / r2.Norm(next); math.Abs(got+0.5) > tol {
			t.Errorf("edges %d and %d stand at acos %v, want 120°", i, i+1, got)
		}
	}
}

// TestView3DKeepsGauss checks the fundamental theorem of view3d: three
// points of paper, as complex numbers, are the images of the edges of a unit cube
// exactly if the sum of their squares is 0 and that of their squared lengths 2.
//
// Reference: C. F. Gauss, Werke, volume 2, 1876, page 309, from memory.
func TestView3DKeepsGauss(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 500 {
		view := anyTurned(rng)
		var sum complex128
		lengths := 0.0
		for _, e := range view.plane().flatAll(r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}) {
			z := complex(e.X, e.Y)
			sum += z * z
			lengths += real(z * cmplx.Conj(z))
		}
		if cmplx.Abs(sum) > tol || math.Abs(lengths-2) > tol {
			t.Fatalf("%v: squares sum to %v, lengths to %v", view, sum, lengths)
		}
	}
}

// TestTurnedAgreesWithViews compares the three views with the view3d seen from
// the same side.
func TestTurnedAgreesWithViews(t *testing.T) {
	for v, turned := range map[View]Turned{
		Side:  {Azimuth: -90 * frame.Degree},
		Front: {},
		Top:   {Azimuth: -90 * frame.Degree, Elevation: 90 * frame.Degree},
	} {
		want, got := views[v].plane, turned.plane()
		if r3.Norm(r3.Sub(want.x, got.x)) > tol || r3.Norm(r3.Sub(want.y, got.y)) > tol {
			t.Errorf("%v: paper's axes are %v, want %v", turned, got, want)
		}
	}
}

// TestView3DMirrors looks at mirrored points from the mirrored side: paper is
// mirrored.
func TestView3DMirrors(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for range 200 {
		view := anyTurned(rng)
		p := r3.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}
		a := view.plane().flat(p)
		b := Turned{Azimuth: -view.Azimuth, Elevation: view.Elevation}.plane().flat(r3.Vec{X: p.X, Y: -p.Y, Z: p.Z})
		if math.Abs(a.X+b.X) > tol || math.Abs(a.Y-b.Y) > tol {
			t.Fatalf("%v: %v is drawn at %v, its mirror image at %v", view, p, a, b)
		}
	}
}

// anyBoxes returns boxes at random that are apart.
func anyBoxes(rng *rand.Rand) []space.Shape {
	var out []space.Shape
	for len(out) < 7 {
		turn := r3.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}
		s := space.Shape{
			Pose:    frame.Pose{Rot: frame.FromVector(turn), At: r3.Vec{X: 300 * rng.Float64(), Y: 300 * rng.Float64(), Z: 300 * rng.Float64()}},
			HalfMM:  r3.Vec{X: 10 + 240*rng.Float64(), Y: 10 + 60*rng.Float64(), Z: 2 + 5*rng.Float64()},
			RoundMM: 15 * rng.Float64(),
		}
		apart := true
		for _, o := range out {
			apart = apart && space.Between(s, o).MM > 1
		}
		if apart {
			out = append(out, s)
		}
	}
	return out
}

// TestPaintersOrder compares what is drawn last at a place on paper with what a ray
// from there to the viewer leaves last, stepping along it.
func TestPaintersOrder(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	looked := 0
	for range 60 {
		boxes, v := anyBoxes(rng), anyTurned(rng).plane()
		pieces := make([]piece, len(boxes))
		for i, b := range boxes {
			pieces[i] = piece{shape: b, outline: v.shape(b)}
		}
		out := v.ordered(pieces)
		for range 100 {
			p := r3.Vec{X: 300 * rng.Float64(), Y: 300 * rng.Float64(), Z: 300 * rng.Float64()}
			want, ok := firstMet(v, p, boxes)
			if !ok {
				continue
			}
			looked++
			var got space.Shape
			for _, k := range out {
				if covers(k.outline, v.flat(p)) {
					got = k.shape
				}
			}
			if got != want {
				t.Fatalf("at %v the box about %v is drawn last, but the one about %v is in front", p, got.Pose.At, want.Pose.At)
			}
		}
	}
	if looked < 1000 {
		t.Errorf("only %d places had a box", looked)
	}
}

// firstMet returns the box that a viewer meets first on the line of view through
// p, and whether there is one that is met for certain: the ray goes well into it,
// so that it cannot slip past the drawn outline.
func firstMet(v plane, p r3.Vec, boxes []space.Shape) (space.Shape, bool) {
	const far, least, well = 900.0, 0.1, -3.0
	at := func(d float64) r3.Vec { return r3.Add(p, r3.Scale(d, v.toward())) }
	for d := far; d > -far; {
		near, first := math.Inf(1), space.Shape{}
		for _, b := range boxes {
			if mm := space.FromPoint(at(d), b).MM; mm < near {
				near, first = mm, b
			}
		}
		if near < least {
			for range 50 {
				d -= 4
				if space.FromPoint(at(d), first).MM < well {
					return first, true
				}
			}
			return first, false
		}
		d -= near
	}
	return space.Shape{}, false
}

// TestHidden puts a plate before, at and behind points.
func TestHidden(t *testing.T) {
	v := Turned{}.plane() // the viewer is ahead
	plate := space.Shape{Pose: frame.Identity(), HalfMM: r3.Vec{X: 5, Y: 100, Z: 100}}
	pieces := []piece{{shape: plate, outline: v.shape(plate), group: ofScreen}}
	for _, tt := range []struct {
		name string
		p    r3.Vec
		but  group
		want bool
	}{
		{"behind", r3.Vec{X: -50}, ofKeep, true},
		{"in front", r3.Vec{X: 50}, ofKeep, false},
		{"inside", r3.Vec{}, ofKeep, true},
		{"behind, beside it", r3.Vec{X: -50, Y: 120}, ofKeep, false},
		{"behind its own", r3.Vec{X: -50}, ofScreen, false},
	} {
		if got := v.hidden(tt.p, pieces, tt.but); got != tt.want {
			t.Errorf("%s: hidden is %v", tt.name, got)
		}
	}
}
