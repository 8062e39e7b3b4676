package plots

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
)

// TestHiddenByTube compares what a level tube across the view hides with the tangents
// from the eye to its section.
func TestHiddenByTube(t *testing.T) {
	const high, up, far, radius, half = 1200.0, 800.0, 500.0, 12.5, 400.0
	eye := r3.Vec{Z: high}
	a, b := r3.Vec{X: far, Y: -half, Z: up}, r3.Vec{X: far, Y: half, Z: up}
	got := straight{a, b, radius}.hides(eye, gaze.LookedAt(0))
	down, open := math.Atan2(high-up, far), math.Asin(radius/math.Hypot(far, high-up))
	near, end := high/math.Tan(down+open), high/math.Tan(down-open)
	lowX, highX, wide := math.Inf(1), math.Inf(-1), 0.0
	for _, p := range got {
		lowX, highX, wide = min(lowX, p.X), max(highX, p.X), max(wide, math.Abs(p.Y))
	}
	const shortMM = 1 // the planes go by the middle line, not by the tangents
	for _, tt := range []struct {
		name      string
		got, want float64
	}{
		{"near", lowX, near},
		{"far", highX, end},
		{"half the width", wide, half * high / (high - up - radius*math.Cos(down))},
	} {
		if math.Abs(tt.got-tt.want) > shortMM {
			t.Errorf("%s: %.1f mm, want %.1f", tt.name, tt.got, tt.want)
		}
	}
}

// TestHiddenByNothing: nothing is hidden by what is behind the eye, above it or without
// direction, and nothing from an eye that is not above the floor.
func TestHiddenByNothing(t *testing.T) {
	across := func(x, z float64) straight {
		return straight{r3.Vec{X: x, Y: -50, Z: z}, r3.Vec{X: x, Y: 50, Z: z}, 10}
	}
	for _, tt := range []struct {
		name string
		eye  r3.Vec
		tube straight
	}{
		{"behind", r3.Vec{Z: 1200}, across(-600, 800)},
		{"above", r3.Vec{Z: 1200}, across(400, 1300)},
		{"end on", r3.Vec{Z: 1200}, straight{r3.Vec{X: 100, Z: 1100}, r3.Vec{X: 200, Z: 1000}, 10}},
		{"eye on the floor", r3.Vec{}, across(400, 0)},
		{"no number", r3.Vec{Z: 1200}, across(math.NaN(), 800)},
	} {
		if got := tt.tube.hides(tt.eye, gaze.LookedAt(0)); len(got) > 0 {
			t.Errorf("%s: hides %v", tt.name, got)
		}
	}
	if got := across(400, 800).hides(r3.Vec{Z: 1200}, gaze.LookedAt(0)); len(got) < 3 {
		t.Error("a tube ahead hides nothing")
	}
}
