package frame_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

func TestWrapped(t *testing.T) {
	const tolerance = 1e-12 // degrees: a few roundings of a number of some hundreds
	for _, row := range []struct {
		name     string
		in, want float64 // degrees
	}{
		{"inside stays", 17.5, 17.5},
		{"half a turn stays", 180, 180},
		{"half a turn back becomes forward", -180, 180},
		{"just past half a turn", 190, -170},
		{"a turn is none", 360, 0},
		{"one and a half", 540, 180},
		{"many turns back", -3601, -1},
	} {
		t.Run(row.name, func(t *testing.T) {
			got := (frame.Angle(row.in) * frame.Degree).Wrapped().Degrees()
			if !(math.Abs(got-row.want) <= tolerance) {
				t.Errorf("Wrapped(%g°) = %g°, want %g°", row.in, got, row.want)
			}
		})
	}
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if got := frame.Angle(bad).Wrapped(); !math.IsNaN(got.Radians()) {
			t.Errorf("Wrapped(%g) = %g, want NaN", bad, got)
		}
	}
}

// TestWrappedKeepsDirection: the wrapped angle points the same way.
func TestWrappedKeepsDirection(t *testing.T) {
	const tolerance = 1e-12 // of a sine; angles up to 60 rad lose some 60 ulp
	rng := rand.New(rand.NewPCG(1, 1))
	for range 200 {
		a := frame.Angle((rng.Float64() - 0.5) * 120)
		w := a.Wrapped()
		if !(w > -math.Pi && w <= math.Pi) {
			t.Fatalf("Wrapped(%g) = %g is outside a turn", a, w)
		}
		sa, ca := math.Sincos(a.Radians())
		sw, cw := math.Sincos(w.Radians())
		if math.Abs(sa-sw)+math.Abs(ca-cw) > tolerance {
			t.Fatalf("Wrapped(%g) = %g points elsewhere", a, w)
		}
	}
}

// TestSincos: the standard library's is the reference.
func TestSincos(t *testing.T) {
	const tolerance = 0x1p-52
	rng := rand.New(rand.NewPCG(1, 2))
	for _, size := range []float64{0, 1e-300, 1e-9, 0.1, 1, 10, 1e5, 1e9, math.Inf(1), math.NaN()} {
		for range 2000 {
			x := size * (2*rng.Float64() - 1)
			if size < 1e5 && rng.IntN(2) == 0 { // about where the quadrant changes
				x += math.Pi / 4 * float64(rng.IntN(41)-20)
			}
			sin, cos := frame.Sincos(frame.Angle(x))
			wantSin, wantCos := math.Sincos(x)
			if math.IsNaN(wantSin) && math.IsNaN(sin) && math.IsNaN(cos) {
				continue
			}
			if !(math.Abs(sin-wantSin) <= tolerance && math.Abs(cos-wantCos) <= tolerance) {
				t.Fatalf("Sincos(%v) = %v, %v, want %v, %v", x, sin, cos, wantSin, wantCos)
			}
			if x != 0 && math.Abs(x) < 1e-9 && sin != x {
				t.Fatalf("the sine of %v is %v", x, sin)
			}
		}
	}
}

func TestBetween(t *testing.T) {
	x := r3.Vec{X: 1}
	for _, row := range []struct {
		name      string
		p, q      r3.Vec
		want, tol float64 // radians
	}{
		{"square", x, r3.Vec{Z: 7}, math.Pi / 2, 1e-15},
		{"same way", x, r3.Vec{X: 3}, 0, 0},
		{"opposite", x, r3.Vec{X: -3}, math.Pi, 0},
		// The arccosine of the dot product gives 0 for the first of these.
		{"a nanoradian", x, r3.Vec{X: 1, Y: 1e-9}, 1e-9, 1e-24},
		{"a nanoradian short of opposite", x, r3.Vec{X: -1, Y: 1e-9}, math.Pi - 1e-9, 1e-15},
		{"lengths do not matter", r3.Vec{X: 1e-150}, r3.Vec{X: 1e150, Y: 1e150}, math.Pi / 4, 1e-15},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := frame.Between(row.p, row.q).Radians(); !(math.Abs(got-row.want) <= row.tol) {
				t.Errorf("Between(%v, %v) = %.17g, want %.17g", row.p, row.q, got, row.want)
			}
		})
	}
	if got := frame.Between(x, r3.Vec{}); !math.IsNaN(got.Radians()) {
		t.Errorf("Between a zero vector = %g, want NaN", got)
	}
}
