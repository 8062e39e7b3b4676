package space_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount/space"
)

// slide moves s by v over the arc.
func slide(s space.Shape, v r3.Vec) space.Arc {
	return space.Arc{
		SpeedMM: r3.Norm(v),
		At: func(t float64, shapes []space.Shape) []space.Shape {
			return append(shapes, s.Moved(frame.Translate(r3.Scale(t, v))))
		},
	}
}

// swing turns the shapes by a about the upright line through the origin.
func swing(a frame.Angle, moving ...space.Shape) space.Arc {
	arc := space.Arc{At: func(t float64, shapes []space.Shape) []space.Shape {
		for _, s := range moving {
			shapes = append(shapes, s.Moved(frame.Rotate(frame.Angle(t)*a, vec(0, 0, 1))))
		}
		return shapes
	}}
	for _, s := range moving {
		arc.SpeedMM = max(arc.SpeedMM, math.Abs(a.Radians())*s.ReachMM(vec(0, 0, 0), vec(0, 0, 1)))
	}
	return arc
}

func TestSweepByHand(t *testing.T) {
	const fineMM = 1e-3
	plate := must(space.Box(frame.Translate(vec(0, 0, 200)), vec(300, 10, 200)))
	thread := must(space.Ball(vec(0, 0, 0), 0.01))
	for _, tt := range []struct {
		name  string
		arc   space.Arc
		fixed []space.Shape
		mm, t float64
	}{
		{"ball passes ball", slide(must(space.Ball(vec(-60, 50, 0), 10)), vec(100, 0, 0)), []space.Shape{must(space.Ball(vec(0, 0, 0), 15))}, 25, 0.6},
		{"thin through thin", slide(thread, vec(1000, 0, 0)), []space.Shape{must(space.Ball(vec(321, 0, 0), 0.01))}, -0.02, 0.321},
		{"nearest at the start", slide(thread, vec(0, 100, 0)), []space.Shape{cube(vec(0, -15, 0), 10)}, 9.99, 0},
		{"nearest at the end", slide(thread, vec(0, 100, 0)), []space.Shape{cube(vec(0, 115, 0), 10)}, 9.99, 1},
		{"second obstacle", slide(thread, vec(0, 100, 0)), []space.Shape{cube(vec(900, 0, 0), 10), cube(vec(55, 50, 0), 0)}, 54.99, 0.5},
		{"nothing moves", slide(plate, vec(0, 0, 0)), []space.Shape{cube(vec(0, 0, 0), 200)}, 0, 0},
		{"arm swings past a post", swing(90*frame.Degree, must(space.Capsule(vec(50, 0, 0), vec(400, 0, 0), 12))), []space.Shape{must(space.Capsule(vec(0, 0, 30), vec(0, 0, 300), 8))}, math.Hypot(50, 30) - 20, 0},
		{"arm swings into a knee", swing(90*frame.Degree, must(space.Capsule(vec(50, 0, 0), vec(400, 0, 0), 12))), []space.Shape{must(space.Ball(vec(200, 200, 40), 60))}, -32, 0.5},
	} {
		t.Run(tt.name, func(t *testing.T) {
			tt.arc.ResolutionMM = fineMM
			got, err := space.Sweep(tt.arc, tt.fixed)
			if err != nil {
				t.Fatal(err)
			}
			if got.MM < tt.mm-exactMM || got.MM > tt.mm+fineMM {
				t.Errorf("least gap = %.6g mm, want %g to %g more", got.MM, tt.mm, fineMM)
			}
			again := space.Between(tt.arc.At(got.T, nil)[got.Mover], tt.fixed[got.Fixed])
			if again != got.Gap {
				t.Errorf("gap at T = %g is %+v, reported %+v", got.T, again, got.Gap)
			}
			if near := slack(fineMM, tt.arc.SpeedMM); tt.name != "arm swings past a post" && !(math.Abs(got.T-tt.t) < near) {
				t.Errorf("T = %g, want %g within %g", got.T, tt.t, near)
			}
		})
	}
}

// slack is how far T may lie from a rounded minimum: the gap rises there with
// the square of the way, over a radius of some metres at most.
func slack(resolutionMM, speedMM float64) float64 {
	if speedMM == 0 {
		return exactMM
	}
	return math.Sqrt(2*5000*resolutionMM) / speedMM
}

// Against the least of a dense scan, which can only be too large.
func TestSweepMissesNothing(t *testing.T) {
	const scan = 2000
	rng := rand.New(rand.NewPCG(2, 1))
	for range 60 {
		arc := swing(frame.Angle(rng.Float64()*3), anyShape(rng), anyShape(rng))
		arc.ResolutionMM = 0.05
		fixed := []space.Shape{anyShape(rng), anyShape(rng)}
		got, err := space.Sweep(arc, fixed)
		if err != nil {
			t.Fatal(err)
		}
		for i := range scan + 1 {
			for _, m := range arc.At(float64(i)/scan, nil) {
				for _, f := range fixed {
					if g := space.Between(m, f).MM; g < got.MM-arc.ResolutionMM {
						t.Fatalf("gap at %d/%d is %g mm, Sweep found %g at %g", i, scan, g, got.MM, got.T)
					}
				}
			}
		}
	}
}

func TestSweepLooksWhereItMatters(t *testing.T) {
	arc := slide(must(space.Ball(vec(-600, 50, 0), 10)), vec(1000, 0, 0))
	at, looks := arc.At, 0
	arc.At = func(t float64, shapes []space.Shape) []space.Shape { looks++; return at(t, shapes) }
	if _, err := space.Sweep(arc, []space.Shape{must(space.Ball(vec(0, 0, 0), 15))}); err != nil {
		t.Fatal(err)
	}
	if limit := 200; looks > limit { // even steps of the resolution would be 5000
		t.Errorf("Sweep looked %d times, want at most %d", looks, limit)
	}
}

func TestSweepRefuses(t *testing.T) {
	ball := must(space.Ball(vec(0, 0, 0), 10))
	fixed := []space.Shape{must(space.Ball(vec(500, 0, 0), 10))}
	with := func(change func(*space.Arc)) space.Arc {
		arc := slide(ball, vec(300, 0, 0))
		change(&arc)
		return arc
	}
	for _, tt := range []struct {
		name  string
		arc   space.Arc
		fixed []space.Shape
		want  string
	}{
		{"no function", with(func(a *space.Arc) { a.At = nil }), fixed, "Arc.At is nil"},
		{"negative speed", with(func(a *space.Arc) { a.SpeedMM = -1 }), fixed, "speed -1 mm"},
		{"NaN speed", with(func(a *space.Arc) { a.SpeedMM = math.NaN() }), fixed, "speed NaN mm"},
		{"negative resolution", with(func(a *space.Arc) { a.ResolutionMM = -1 }), fixed, "resolution -1 mm"},
		{"too fine", with(func(a *space.Arc) { a.ResolutionMM = 1e-9 }), fixed, "use at least 0.0003 mm"},
		{"speed too low", with(func(a *space.Arc) { a.SpeedMM = 30 }), fixed, "raise SpeedMM"},
		{"bad fixed shape", with(func(*space.Arc) {}), make([]space.Shape, 1), "fixed shape 0"},
		{"bad moving shape", with(func(a *space.Arc) {
			a.At = func(_ float64, s []space.Shape) []space.Shape { return append(s, space.Shape{}) }
		}), fixed, "moving shape 0 at t = 0"},
		{"number changes", with(func(a *space.Arc) {
			a.At = func(t float64, s []space.Shape) []space.Shape {
				return append(s, []space.Shape{ball, ball}[:1+int(t)]...)
			}
		}), fixed, "2 shapes at t = 1, 1 before"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if _, err := space.Sweep(tt.arc, tt.fixed); err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("error is %v, want one with %q", err, tt.want)
			}
		})
	}
	if _, err := space.Sweep(with(func(*space.Arc) {}), nil); !errors.Is(err, space.ErrNoShapes) {
		t.Errorf("with nothing in the way the error is %v, want ErrNoShapes", err)
	}
}
