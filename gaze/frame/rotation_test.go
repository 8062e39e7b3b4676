package frame_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// rounding is what is allowed for chains of a few dozen operations on numbers of
// order one: some thousand units in the last place.
const rounding = 1e-13

func randomVec(rng *rand.Rand) r3.Vec {
	return r3.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}
}

func randomRotation(rng *rand.Rand) frame.Rotation {
	return frame.About(randomVec(rng), frame.Angle(rng.NormFloat64()*2))
}

func apart(p, q r3.Vec) float64 { return r3.Norm(r3.Sub(p, q)) }

func rotationsApart(a, b frame.Rotation) float64 {
	return max(apart(a.X, b.X), apart(a.Y, b.Y), apart(a.Z, b.Z))
}

// TestRightHandRule: a quarter turn about each axis takes the next axis to the
// one after it.
func TestRightHandRule(t *testing.T) {
	x, y, z := r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}
	for _, row := range []struct {
		name           string
		axis, in, want r3.Vec
	}{
		{"forward takes left to up", x, y, z},
		{"left takes up to forward", y, z, x},
		{"up takes forward to left", z, x, y},
		{"an axis is not to be of unit length", r3.Vec{Z: 12}, x, y},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := frame.About(row.axis, 90*frame.Degree).Apply(row.in); apart(got, row.want) > rounding {
				t.Errorf("got %v, want %v", got, row.want)
			}
		})
	}
}

// TestRotationsKeepLengthsAndHands: lengths, angles and handedness stay, the
// inverse undoes, and Mul is one turn after the other.
func TestRotationsKeepLengthsAndHands(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for trial := range 200 {
		r, q := randomRotation(rng), randomRotation(rng)
		v, w := randomVec(rng), randomVec(rng)
		if d := r3.Norm(r.Apply(v)) - r3.Norm(v); math.Abs(d) > 10*rounding {
			t.Fatalf("trial %d: length changed by %g", trial, d)
		}
		if d := apart(r.Apply(r3.Cross(v, w)), r3.Cross(r.Apply(v), r.Apply(w))); d > 20*rounding {
			t.Fatalf("trial %d: cross product changed by %g", trial, d)
		}
		if d := apart(r.ApplyInverse(r.Apply(v)), v) + apart(r.Inverse().Apply(v), r.ApplyInverse(v)); d > 20*rounding {
			t.Fatalf("trial %d: inverse is off by %g", trial, d)
		}
		if d := apart(r.Mul(q).Apply(v), r.Apply(q.Apply(v))); d > 20*rounding {
			t.Fatalf("trial %d: product is off by %g", trial, d)
		}
	}
}

// TestVectorRoundTrip goes from a rotation vector to the rotation and back, at
// angles that include both ends, where precision is hardest to keep.
func TestVectorRoundTrip(t *testing.T) {
	// Near π the sine that tells the angle is a difference of numbers of order
	// one, so an angle is good to some units in the last place of π.
	const tolerance = 1e-13
	rng := rand.New(rand.NewPCG(1, 3))
	angles := []float64{1e-300, 1e-160, 1e-12, 1e-8, 1e-4, 0.1, 1, 2, 2.8, 3.1, math.Pi - 1e-4, math.Pi - 1e-8, math.Pi - 1e-11}
	for _, angle := range angles {
		for trial := range 100 {
			v := r3.Scale(angle, r3.Unit(randomVec(rng)))
			got := frame.FromVector(v).Vector()
			if d := apart(got, v); !(d <= tolerance*(1+angle)) {
				t.Fatalf("angle %g, trial %d: %v came back as %v", angle, trial, v, got)
			}
		}
	}
	if got := frame.FromVector(r3.Vec{}); got != frame.NoTurn() {
		t.Errorf("FromVector of zero = %v, want no turn", got)
	}
}

// TestVectorHalfTurns: at half a turn either of two opposite vectors is right,
// and about the axes the column that is chosen changes.
func TestVectorHalfTurns(t *testing.T) {
	for _, axis := range []r3.Vec{
		{X: 1},
		{Y: 1},
		{Z: 1},
		{X: -1},
		{X: 1, Y: 1},
		{Y: 1, Z: -1},
		{X: 1, Y: 1, Z: 1},
		{X: 1e-9, Y: 1, Z: 1e-9},
	} {
		want := r3.Scale(math.Pi, r3.Unit(axis))
		got := frame.About(axis, math.Pi).Vector()
		if min(apart(got, want), apart(got, r3.Scale(-1, want))) > rounding {
			t.Errorf("half a turn about %v: got %v", axis, got)
		}
	}
}

func TestRotationAngle(t *testing.T) {
	const tolerance = 1e-12 // degrees
	for _, want := range []float64{0, 1e-6, 30, 90, 179.9999, 180} {
		got := frame.About(r3.Vec{X: 1, Y: 2, Z: -3}, frame.Angle(want)*frame.Degree).Angle().Degrees()
		if math.Abs(got-want) > tolerance {
			t.Errorf("got %.15g°, want %g°", got, want)
		}
	}
}

func TestFromAxes(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 4))
	for trial := range 200 {
		x, y := randomVec(rng), randomVec(rng)
		r := frame.FromAxes(x, y)
		if r3.Dot(r.X, x) < r3.Norm(x)-10*rounding || r3.Dot(r.Y, y) < 0 || math.Abs(r3.Dot(r.Z, y)) > 10*rounding {
			t.Fatalf("trial %d: axes %v do not follow %v and %v", trial, r, x, y)
		}
		if d := rotationsApart(r.Mul(r.Inverse()), frame.NoTurn()); d > 10*rounding {
			t.Fatalf("trial %d: not a rotation, by %g", trial, d)
		}
		if d := rotationsApart(frame.FromAxes(r.X, r.Y), r); d > rounding {
			t.Fatalf("trial %d: its own axes give another rotation, by %g", trial, d)
		}
	}
	if r := frame.FromAxes(r3.Vec{X: 1}, r3.Vec{X: 2}); frame.IsFinite(r.Z) {
		t.Errorf("parallel axes gave %v, want NaN", r)
	}
}

func FuzzRotationVector(f *testing.F) {
	f.Add(0.0, 0.0, 0.0)
	f.Add(math.Pi, 0.0, 0.0)
	f.Add(1e-320, -1e-320, 0.0)
	f.Add(2.0, -1.0, 0.5)
	f.Fuzz(func(t *testing.T, x, y, z float64) {
		v := r3.Vec{X: x, Y: y, Z: z}
		r := frame.FromVector(v)
		back := r.Vector()
		if n := r3.Norm(v); !(n < 1e6) {
			return // a turn of more than a million radians has lost its angle
		}
		// An angle of n radians is reduced to a turn with an error of n ulp.
		tolerance := 1e-13 + 1e-15*r3.Norm(v)
		if d := rotationsApart(frame.FromVector(back), r); !(d <= 100*tolerance) {
			t.Errorf("%v came back as %v, %g away", v, back, d)
		}
		if n := r3.Norm(back); !(n <= math.Pi+1e-15) {
			t.Errorf("%v came back longer than half a turn: %v", v, back)
		}
	})
}
