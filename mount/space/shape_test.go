package space_test

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount/space"
)

func TestConstructorsRefuse(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	at := frame.Identity()
	for _, tt := range []struct {
		name string
		make func() (space.Shape, error)
		want string
	}{
		{"negative size", func() (space.Shape, error) { return space.Box(at, vec(1, -2, 3)) }, "space: box: half length along y -1 mm is outside 0 to 1e+09 mm"},
		{"NaN size", func() (space.Shape, error) { return space.Box(at, vec(nan, 2, 3)) }, "space: box: half length along x NaN mm"},
		{"infinite size", func() (space.Shape, error) { return space.Box(at, vec(1, 2, inf)) }, "space: box: half length along z +Inf mm"},
		{"no rotation", func() (space.Shape, error) { return space.Box(frame.Pose{}, vec(1, 2, 3)) }, "its rotation is not one"},
		{"NaN rotation", func() (space.Shape, error) { return space.Box(frame.Rotate(1, vec(0, 0, 0)), vec(1, 2, 3)) }, "its rotation is not one"},
		{"mirror", func() (space.Shape, error) {
			return space.Box(frame.Pose{Rot: frame.Rotation{X: vec(-1, 0, 0), Y: vec(0, 1, 0), Z: vec(0, 0, 1)}}, vec(1, 2, 3))
		}, "its rotation is not one"},
		{"capsule end NaN", func() (space.Shape, error) { return space.Capsule(vec(nan, 0, 0), vec(1, 0, 0), 1) }, "space: capsule: half length along x NaN mm"},
		{"capsule end infinite", func() (space.Shape, error) { return space.Capsule(vec(0, 0, 0), vec(0, inf, 0), 1) }, "space: capsule: half length along x +Inf mm"},
		{"capsule far away", func() (space.Shape, error) { return space.Capsule(vec(1e10, 0, 0), vec(1e10, 0, 0), 1) }, "space: capsule: place (1e+10, 0, 0) mm"},
		{"negative radius", func() (space.Shape, error) { return space.Capsule(vec(0, 0, 0), vec(1, 0, 0), -1) }, "space: capsule: radius -1 mm"},
		{"ball radius NaN", func() (space.Shape, error) { return knob(vec(0, 0, 0), nan) }, "space: capsule: radius NaN mm"},
		{"ball center NaN", func() (space.Shape, error) { return knob(vec(0, nan, 0), 1) }, "space: capsule: half length along x NaN mm"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s, err := tt.make()
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Fatalf("error is %v, want one with %q", err, tt.want)
			}
			if s != (space.Shape{}) {
				t.Errorf("shape beside the error is %+v, want the zero value", s)
			}
		})
	}
}

func TestZeroShapeNeverPassesForClear(t *testing.T) {
	far := must(knob(vec(1e6, 0, 0), 1))
	for _, g := range []space.Clearance{space.Between(space.Shape{}, far), space.Between(far, space.Shape{})} {
		if g.MM != -space.LimitMM {
			t.Errorf("gap to the zero Shape = %g mm, want %g", g.MM, -space.LimitMM)
		}
	}
}

func TestCapsuleEnds(t *testing.T) {
	for _, tt := range []struct {
		name string
		a, b r3.Vec
	}{
		{"along x", vec(-1, 0, 0), vec(4, 0, 0)},
		{"along y", vec(0, 2, 0), vec(0, -3, 0)},
		{"along z", vec(7, 0, 0), vec(7, 0, 9)},
		{"askew", vec(1, 2, 3), vec(-30, 20, 11)},
		{"ends coincide", vec(1, 2, 3), vec(1, 2, 3)},
		{"ends all but coincide", vec(1, 2, 3), vec(1, 2, 3+1e-12)},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := must(space.Capsule(tt.a, tt.b, 2))
			for _, end := range []r3.Vec{tt.a, tt.b} {
				if g := space.FromPoint(end, s); !(math.Abs(g.MM+2) < exactMM) {
					t.Errorf("end %v is %g mm from the surface, want -2", end, g.MM)
				}
			}
			beyond := r3.Add(tt.b, r3.Scale(5, r3.Unit(vec(1, 1, 1))))
			if g, want := space.FromPoint(beyond, s).MM, toSegment(beyond, tt.a, tt.b)-2; !(math.Abs(g-want) < exactMM) {
				t.Errorf("point beyond the end is %g mm away, want %g", g, want)
			}
		})
	}
}

func TestReachMM(t *testing.T) {
	box := must(space.Box(frame.Translate(vec(10, 0, 5)), vec(4, 6, 8)))
	box.RoundMM = 1
	for _, tt := range []struct {
		name           string
		through, along r3.Vec
		want           float64
	}{
		{"upright line", vec(0, 0, 0), vec(0, 0, 2), math.Hypot(12, 3) + 1},
		{"line through the middle", vec(10, 0, 5), vec(1, 0, 0), 5 + 1},
		{"point", vec(0, 0, 0), vec(0, 0, 0), math.Sqrt(12*12+3*3+9*9) + 1},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if got := box.ReachMM(tt.through, tt.along); !(math.Abs(got-tt.want) < exactMM) {
				t.Errorf("ReachMM = %g, want %g", got, tt.want)
			}
		})
	}
}
