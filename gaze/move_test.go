package gaze_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
)

// TestMoveOf: with the carrier tilted, lowered still means toward the floor, and a
// swing keeps the distance from between the eyes.
func TestMoveOf(t *testing.T) {
	const rounding = 1e-9 // mm: products of numbers up to a meter
	tilted := frame.Rotate(-20*frame.Degree, r3.Vec{Y: 1})
	st := &gaze.PostureInCarrier{Carrier: tilted, Eyes: [2]r3.Vec{{X: 150, Y: 30, Z: 1180}, {X: 150, Y: -30, Z: 1180}}}
	screen := frame.Translate(r3.Vec{X: 700, Y: 10, Z: 1100})
	here := tilted.Mul(screen).At
	eyes := tilted.Apply(r3.Vec{X: 150, Z: 1180})

	low := tilted.Mul(gaze.Lowered.Of(screen, st)).At
	if d := r3.Norm(r3.Sub(low, r3.Sub(here, r3.Vec{Z: gaze.LowerMM}))); !(d < rounding) {
		t.Errorf("lowered to %v from %v", low, here)
	}
	for _, m := range []gaze.Move{gaze.SwungLeft, gaze.SwungRight} {
		at := tilted.Mul(m.Of(screen, st)).At
		if d := math.Abs(r3.Norm(r3.Sub(at, eyes)) - r3.Norm(r3.Sub(here, eyes))); !(d < rounding) {
			t.Errorf("%v changes the distance by %v mm", m, d)
		}
		if aside := at.Y - here.Y; aside > 0 != (m == gaze.SwungLeft) {
			t.Errorf("%v moves the screen by %v mm to the left", m, aside)
		}
	}
	if at := tilted.Mul(gaze.TiltedBack.Of(screen, st)).At; !(r3.Norm(r3.Sub(at, here)) < rounding) {
		t.Errorf("tilted back, the middle moves from %v to %v", here, at)
	}
}
