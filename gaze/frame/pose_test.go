package frame_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// roundingMM is what is allowed for points some meters from the origin: 1e4 units
// in the last place, still a million times below what a tape shows.
const roundingMM = 1e-8

func randomPose(rng *rand.Rand) frame.Pose {
	return frame.Pose{Rot: randomRotation(rng), At: r3.Scale(800, randomVec(rng))}
}

func TestPosesAreRigid(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 5))
	for trial := range 200 {
		p, q, r := randomPose(rng), randomPose(rng), randomPose(rng)
		v, w := r3.Scale(500, randomVec(rng)), r3.Scale(500, randomVec(rng))
		for _, row := range []struct {
			name string
			off  float64
		}{
			{"distance kept", math.Abs(apart(p.Apply(v), p.Apply(w)) - apart(v, w))},
			{"inverse", apart(p.ApplyInverse(p.Apply(v)), v)},
			{"inverse as a pose", apart(p.Inverse().Apply(v), p.ApplyInverse(v))},
			{"inverse on the right", apart(p.Mul(p.Inverse()).Apply(v), v)},
			{"product", apart(p.Mul(q).Apply(v), p.Apply(q.Apply(v)))},
			{"product is associative", apart(p.Mul(q).Mul(r).Apply(v), p.Mul(q.Mul(r)).Apply(v))},
			{"identity", apart(frame.Identity().Mul(p).Apply(v), p.Apply(v))},
			{"translation", apart(frame.Translate(w).Apply(v), r3.Add(v, w))},
		} {
			if !(row.off <= roundingMM) {
				t.Fatalf("trial %d: %s: off by %g mm", trial, row.name, row.off)
			}
		}
	}
}

func TestRotateAroundKeepsItsPoint(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 6))
	for trial := range 200 {
		point, axis, v := r3.Scale(700, randomVec(rng)), randomVec(rng), r3.Scale(700, randomVec(rng))
		a := frame.Angle(rng.NormFloat64())
		p := frame.RotateAround(point, a, axis)
		if d := apart(p.Apply(point), point); d > roundingMM {
			t.Fatalf("trial %d: the point moved by %g mm", trial, d)
		}
		want := r3.Add(point, frame.Rotate(a, axis).Apply(r3.Sub(v, point)))
		if d := apart(p.Apply(v), want); d > roundingMM {
			t.Fatalf("trial %d: off by %g mm", trial, d)
		}
	}
}

func TestIsFinite(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, row := range []struct {
		name string
		v    r3.Vec
		want bool
	}{
		{"zero", r3.Vec{}, true},
		{"huge, with a sum that overflows", r3.Vec{X: math.MaxFloat64, Y: math.MaxFloat64}, true},
		{"not a number", r3.Vec{Y: nan}, false},
		{"infinite", r3.Vec{Z: -inf}, false},
		{"infinities that cancel", r3.Vec{X: inf, Y: -inf}, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := frame.IsFinite(row.v); got != row.want {
				t.Errorf("IsFinite(%v) = %v, want %v", row.v, got, row.want)
			}
			p := frame.Identity()
			p.At = row.v
			q := frame.Identity()
			q.Rot.Y = row.v
			if p.IsFinite() != row.want || q.IsFinite() != row.want {
				t.Errorf("poses that hold %v: got %v and %v, want %v", row.v, p.IsFinite(), q.IsFinite(), row.want)
			}
		})
	}
	if p := frame.Rotate(1, r3.Vec{}); p.IsFinite() {
		t.Errorf("a turn about no axis is %v, want NaN entries", p)
	}
}

// TestBlend: a point on the circle that a turn about z draws.
func TestBlend(t *testing.T) {
	const rounding = 1e-15
	sin, cos := math.Sincos(0.7)
	got, want := frame.Blend(r3.Vec{X: 1}, r3.Vec{Y: 1}, cos, sin), frame.Rotate(0.7, r3.Vec{Z: 1}).Apply(r3.Vec{X: 1})
	if !(apart(got, want) <= rounding) {
		t.Errorf("got %v, want %v", got, want)
	}
}
