package plots

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
)

// TestHiddenByTube compares what a level tube across the view hides with the tangents
// from the eye to its section: circles of sixteen points fall short of round ones by
// two per cent of the radius.
func TestHiddenByTube(t *testing.T) {
	const high, up, far, radius, half = 1200.0, 800.0, 500.0, 12.5, 400.0
	eye := r3.Vec{Z: high}
	a, b := r3.Vec{X: far, Y: -half, Z: up}, r3.Vec{X: far, Y: half, Z: up}
	tube := append(ringAt(a, b, radius), ringAt(b, a, radius)...)
	got := coneOf(eye, tube).of(gaze.LookedAt(0))
	down, open := math.Atan2(high-up, far), math.Asin(radius/math.Hypot(far, high-up))
	near, end := high/math.Tan(down+open), high/math.Tan(down-open)
	lowX, highX, wide := math.Inf(1), math.Inf(-1), 0.0
	for _, p := range got {
		lowX, highX, wide = min(lowX, p.X), max(highX, p.X), max(wide, math.Abs(p.Y))
	}
	const shortMM = 0.02 * radius * 4 // of the radius, as large as the shadow makes it
	for _, tt := range []struct {
		name      string
		got, want float64
	}{
		{"near", lowX, near},
		{"far", highX, end},
		{"half the width", wide, half * high / (high - up - radius)},
	} {
		if math.Abs(tt.got-tt.want) > shortMM*3 {
			t.Errorf("%s: %.1f mm, want %.1f", tt.name, tt.got, tt.want)
		}
	}
}

// TestHiddenByNothing: nothing is hidden by what is behind or around the eye, and
// nothing from an eye that is not above the floor.
func TestHiddenByNothing(t *testing.T) {
	box := func(x, z float64) []r3.Vec {
		var all []r3.Vec
		for i := range 8 {
			all = append(all, r3.Vec{X: x + float64(i&1)*100, Y: float64(i&2)*50 - 50, Z: z + float64(i&4)*25})
		}
		return all
	}
	for _, tt := range []struct {
		name   string
		eye    r3.Vec
		points []r3.Vec
	}{
		{"behind", r3.Vec{Z: 1200}, box(-600, 800)},
		{"around", r3.Vec{Z: 1200}, box(-50, 1150)},
		{"above", r3.Vec{Z: 1200}, box(400, 1300)},
		{"eye on the floor", r3.Vec{}, box(400, 0)},
		{"no number", r3.Vec{Z: 1200}, []r3.Vec{{X: math.NaN()}, {X: 1}, {Y: 1}}},
	} {
		if got := coneOf(tt.eye, tt.points).of(gaze.LookedAt(0)); len(got) > 0 {
			t.Errorf("%s: hides %v", tt.name, got)
		}
	}
	if got := coneOf(r3.Vec{Z: 1200}, box(400, 800)).of(gaze.LookedAt(0)); len(got) < 3 {
		t.Error("a box ahead hides nothing")
	}
}

// TestAreaTogether: what polygons have in common counts once, whichever way round their
// corners go.
func TestAreaTogether(t *testing.T) {
	square := func(x, y float64) []r3.Vec {
		return []r3.Vec{{X: x, Y: y}, {X: x + 1000, Y: y}, {X: x + 1000, Y: y + 1000}, {X: x, Y: y + 1000}}
	}
	turned := []r3.Vec{{X: 500, Y: 1500}, {X: 1500, Y: 1500}, {X: 1500, Y: 500}, {X: 500, Y: 500}}
	const roundingMM2 = 1
	for _, tt := range []struct {
		name string
		all  [][]r3.Vec
		want float64
	}{
		{"none", nil, 0},
		{"one", [][]r3.Vec{square(0, 0)}, 1e6},
		{"apart", [][]r3.Vec{square(0, 0), square(3000, 0)}, 2e6},
		{"overlapping", [][]r3.Vec{square(0, 0), turned}, 1.75e6},
		{"twice", [][]r3.Vec{turned, turned}, 1e6},
		{"behind", [][]r3.Vec{square(-2000, 0)}, 0},
	} {
		if got := areaTogether(tt.all, 0); math.Abs(got-tt.want) > roundingMM2 {
			t.Errorf("%s: %v mm², want %v", tt.name, got, tt.want)
		}
	}
}
