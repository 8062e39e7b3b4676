package space_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount/space"
)

func vec(x, y, z float64) r3.Vec { return r3.Vec{X: x, Y: y, Z: z} }

// knob returns the ball about a center.
func knob(center r3.Vec, radius float64) (space.Shape, error) {
	return space.Capsule(center, center, radius)
}

func must(s space.Shape, err error) space.Shape {
	if err != nil {
		panic(err)
	}
	return s
}

func cube(at r3.Vec, edge float64) space.Shape {
	return must(space.Box(frame.Translate(at), vec(edge, edge, edge)))
}

// onEdge is a cube of edge 10 about the origin, stood on an edge along y: its
// ridge is 5√2 above its middle.
func onEdge() space.Shape {
	return must(space.Box(frame.Rotate(45*frame.Degree, vec(0, 1, 0)), vec(10, 10, 10)))
}

// onCorner is a cube of edge 10 about the origin, stood on a corner: its top is
// half a space diagonal, 5√3, above its middle.
func onCorner() space.Shape {
	diagonal := vec(1, 1, 1)
	turn := frame.Rotate(frame.Between(diagonal, vec(0, 0, 1)), r3.Cross(diagonal, vec(0, 0, 1)))
	return must(space.Box(turn, vec(10, 10, 10)))
}

func TestBetweenByHand(t *testing.T) {
	box := cube(vec(0, 0, 0), 10)
	ridgeAlongX := must(space.Box(frame.Rotate(45*frame.Degree, vec(1, 0, 0)), vec(10, 10, 10))).
		Moved(frame.Translate(vec(0, 0, 20)))
	rod := must(space.Capsule(vec(-50, 0, 0), vec(50, 0, 0), 3))
	rounded := box
	rounded.RoundMM = 2
	for _, tt := range []struct {
		name   string
		a, b   space.Shape
		mm     float64
		toward r3.Vec
	}{
		{"face to face", cube(vec(0, 0, 15), 10), box, 5, vec(0, 0, 1)},
		{"faces touch", cube(vec(0, 10, 0), 10), box, 0, vec(0, 1, 0)},
		{"faces overlap", cube(vec(8, 1, 0), 10), box, -2, vec(1, 0, 0)},
		{"parallel edges", cube(vec(13, 14, 0), 10), box, 5, vec(0.6, 0.8, 0)},
		{"corner to corner", cube(vec(12, 13, 16), 10), box, 7, vec(2./7, 3./7, 6./7)},
		{"crossing edges", ridgeAlongX, onEdge(), 20 - 10*math.Sqrt2, vec(0, 0, 1)},
		{"crossing edges overlap", ridgeAlongX.Moved(frame.Translate(vec(0, 0, -6))), onEdge(), 14 - 10*math.Sqrt2, vec(0, 0, 1)},
		{"corner to face", cube(vec(0, 0, 20), 10), onCorner(), 15 - 5*math.Sqrt(3), vec(0, 0, 1)},
		{"corner in face", cube(vec(0, 0, 13), 10), onCorner(), 8 - 5*math.Sqrt(3), vec(0, 0, 1)},
		{"rounded corners", cube(vec(12, 13, 16), 10), rounded, 5, vec(2./7, 3./7, 6./7)},
		{"crossing capsules", must(space.Capsule(vec(0, -50, 10), vec(0, 50, 10), 2)), rod, 5, vec(0, 0, 1)},
		{"crossing capsules overlap", must(space.Capsule(vec(0, -50, 4), vec(0, 50, 4), 2)), rod, -1, vec(0, 0, 1)},
		{"parallel capsules", rod.Moved(frame.Translate(vec(7, 0, -10))), rod, 4, vec(0, 0, -1)},
		{"capsules end to end", rod.Moved(frame.Translate(vec(110, 0, 0))), rod, 4, vec(1, 0, 0)},
		{"capsule ends askew", rod.Moved(frame.Translate(vec(103, 4, 0))), rod, -1, vec(0.6, 0.8, 0)},
		{"ball in box", must(knob(vec(0, 4, 0), 1)), box, -2, vec(0, 1, 0)},
		{"balls", must(knob(vec(3, 4, 0), 1)), must(knob(vec(0, 0, 0), 1)), 3, vec(0.6, 0.8, 0)},
		{"plate over rod", must(space.Box(frame.Translate(vec(0, 0, 8)), vec(40, 40, 0))), rod, 5, vec(0, 0, 1)},
	} {
		t.Run(tt.name, func(t *testing.T) {
			g := space.Between(tt.a, tt.b)
			if !(math.Abs(g.MM-tt.mm) < exactMM) {
				t.Errorf("Between = %g mm, want %g", g.MM, tt.mm)
			}
			if d := r3.Norm(r3.Sub(g.Toward, tt.toward)); !(d < exactMM) {
				t.Errorf("Toward = %v, want %v", g.Toward, tt.toward)
			}
			certify(t, tt.a, tt.b, g, rand.New(rand.NewPCG(1, 1)))
		})
	}
}

// Where every direction is as good as its opposite, the sense is free.
func TestBetweenCommonMiddle(t *testing.T) {
	rod := must(space.Capsule(vec(-50, 0, 0), vec(50, 0, 0), 3))
	across := must(space.Capsule(vec(0, -50, 0), vec(0, 50, 0), 2))
	for _, tt := range []struct {
		name string
		a, b space.Shape
		mm   float64
	}{
		{"same cube twice", cube(vec(1, 2, 3), 10), cube(vec(1, 2, 3), 10), -10},
		{"capsules through each other", across, rod, -5},
		{"same capsule twice", rod, rod, -6},
		{"ball in ball", must(knob(vec(0, 0, 0), 2)), must(knob(vec(0, 0, 0), 3)), -5},
		{"same point twice", must(knob(vec(9, 0, 0), 0)), must(knob(vec(9, 0, 0), 0)), 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			g := space.Between(tt.a, tt.b)
			if !(math.Abs(g.MM-tt.mm) < exactMM) {
				t.Errorf("Between = %g mm, want %g", g.MM, tt.mm)
			}
			certify(t, tt.a, tt.b, g, rand.New(rand.NewPCG(1, 1)))
		})
	}
}

func TestFromPoint(t *testing.T) {
	g := space.FromPoint(vec(0, 0, 12), cube(vec(0, 0, 0), 10))
	want := space.Clearance{MM: 7, On: vec(0, 0, 12), Against: vec(0, 0, 5), Toward: vec(0, 0, 1)}
	if g != want {
		t.Errorf("FromPoint = %+v, want %+v", g, want)
	}
}

const draws = 20000

// Clear says what Between does, and never of a thing in an unknown place that it is
// clear. FarApart says so of none that is not clear, and of most that are.
func TestClear(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 7))
	far, glance := 0, 0
	for range draws {
		a, b, mm := anyShape(rng), anyShape(rng), 300*rng.Float64()-100
		if got, want := space.Clear(a, b, mm), space.Between(a, b).MM >= mm; got != want {
			t.Fatalf("Clear(%g) = %v, want %v\na = %+v\nb = %+v", mm, got, want, a, b)
		} else if want {
			far++
		}
		if !space.FarApart(&a, &b, mm) {
			continue
		}
		if glance++; !(space.Between(a, b).MM > mm-exactMM) {
			t.Fatalf("FarApart(%g) of shapes %g mm apart\na = %+v\nb = %+v", mm, space.Between(a, b).MM, a, b)
		}
	}
	if glance < far/2 {
		t.Errorf("%d are clear, only %d at a glance", far, glance)
	}
	away := must(knob(vec(1e6, 0, 0), 1))
	if space.Clear(space.Shape{}, away, 0) || space.Clear(away, space.Shape{}, 0) {
		t.Error("the zero Shape passes for clear")
	}
}

func TestBetweenRandom(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	apart := 0
	for range draws {
		a, b := anyShape(rng), anyShape(rng)
		g := space.Between(a, b)
		certify(t, a, b, g, rng)
		if g.MM+a.RoundMM+b.RoundMM <= exactMM {
			continue
		}
		apart++
		if want := byFeatures(a, b); !(math.Abs(g.MM-want) < contactMM) {
			t.Fatalf("Between = %.12g mm, by features %.12g\na = %+v\nb = %+v", g.MM, want, a, b)
		}
	}
	if apart < draws/5 || apart > draws*4/5 {
		t.Errorf("%d of %d draws apart: both cases should be common", apart, draws)
	}
}

// No point of either body that is tried at random comes nearer to the other than the
// gap; the nearest comes within a few mm of it.
func TestBetweenAgainstPoints(t *testing.T) {
	const points, pairs, nearMM = 100_000, 12, 10
	rng := rand.New(rand.NewPCG(1, 8))
	for tried := 0; tried < pairs; {
		a, b := anyShape(rng), anyShape(rng)
		g := space.Between(a, b).MM
		if g < 0 {
			continue
		}
		tried++
		nearest := math.Inf(1)
		for range points {
			nearest = min(nearest, surface(b, anyPoint(a, rng)), surface(a, anyPoint(b, rng)))
		}
		if nearest < g-exactMM {
			t.Errorf("a point is %g mm away, the gap is %g\na = %+v\nb = %+v", nearest, g, a, b)
		}
		if nearest > g+nearMM {
			t.Errorf("no point is nearer than %g mm, the gap is %g\na = %+v\nb = %+v", nearest, g, a, b)
		}
	}
}

// anyPoint draws a point of a shape, most often one of its surface.
func anyPoint(s space.Shape, rng *rand.Rand) r3.Vec {
	on := func(h float64) float64 { return min(max(1.5*h*(2*rng.Float64()-1), -h), h) }
	core := s.Pose.Apply(vec(on(s.HalfMM.X), on(s.HalfMM.Y), on(s.HalfMM.Z)))
	return r3.Add(core, r3.Scale(s.RoundMM, direction(rng)))
}

func TestBetweenSymmetric(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 3))
	for range draws {
		a, b := anyShape(rng), anyShape(rng)
		g, back := space.Between(a, b), space.Between(b, a)
		if !(math.Abs(g.MM-back.MM) < contactMM) {
			t.Fatalf("Between(a, b) = %.12g, Between(b, a) = %.12g\na = %+v\nb = %+v", g.MM, back.MM, a, b)
		}
		if g.MM <= 0 {
			continue // of several directions equally good either may be chosen
		}
		if d := r3.Norm(r3.Add(g.Toward, back.Toward)); !(d < 1e-5) {
			t.Fatalf("Toward %v and back %v are not opposite\na = %+v\nb = %+v", g.Toward, back.Toward, a, b)
		}
	}
}

func TestBetweenMovedTogether(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 4))
	for range draws {
		a, b, p := anyShape(rng), anyShape(rng), anyTurn(rng)
		p.At = r3.Scale(1000, direction(rng))
		g, moved := space.Between(a, b), space.Between(a.Moved(p), b.Moved(p))
		if !(math.Abs(g.MM-moved.MM) < contactMM) {
			t.Fatalf("gap %.12g becomes %.12g when both move\na = %+v\nb = %+v", g.MM, moved.MM, a, b)
		}
	}
}

// The gap is a difference quotient's limit along Toward, and 0 across it, wherever
// it is smooth: that is, where the quotients on both sides agree.
func TestTowardIsGradient(t *testing.T) {
	const step, slack = 1e-3, 1e-4 // mm; curvature of balls of >= 1 mm
	rng := rand.New(rand.NewPCG(1, 5))
	smooth := 0
	for range draws {
		a, b, v := anyShape(rng), anyShape(rng), direction(rng)
		g := space.Between(a, b)
		quotient := func(by float64) float64 {
			return (space.Between(a.Moved(frame.Translate(r3.Scale(by, v))), b).MM - g.MM) / by
		}
		ahead, behind := quotient(step), quotient(-step)
		if math.Abs(ahead-behind) > slack {
			continue
		}
		smooth++
		if want := r3.Dot(g.Toward, v); !(math.Abs(ahead-want) < 2*slack) {
			t.Fatalf("gap changes by %g along %v, Toward says %g\na = %+v\nb = %+v", ahead, v, want, a, b)
		}
	}
	if smooth < draws*3/4 {
		t.Errorf("only %d of %d draws are smooth", smooth, draws)
	}
}

// Drawing two shapes apart through contact, the gap grows by no more than the
// step, with no jump where the boxes or the roundings touch.
func TestBetweenContinuousAcrossTouching(t *testing.T) {
	const step, slack = 1e-4, contactMM
	rng := rand.New(rand.NewPCG(1, 6))
	for range 2000 {
		a, b := anyShape(rng), anyShape(rng)
		g := space.Between(a, b)
		for _, contact := range []float64{0, a.RoundMM + b.RoundMM} {
			at := r3.Scale(-g.MM-contact, g.Toward) // shapes, then cores, touch here
			last := space.Between(a.Moved(frame.Translate(r3.Sub(at, r3.Scale(20*step, g.Toward)))), b).MM
			for i := -19; i <= 20; i++ {
				v := r3.Add(at, r3.Scale(float64(i)*step, g.Toward))
				next := space.Between(a.Moved(frame.Translate(v)), b).MM
				if !(math.Abs(next-last) < step+slack) {
					t.Fatalf("gap jumps from %.12g to %.12g in a step of %g\na = %+v\nb = %+v", last, next, step, a, b)
				}
				last = next
			}
		}
	}
}
