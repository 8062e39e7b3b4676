package plots

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
)

// TestArrowsOfAPlateAreAsItIsRead turns a plate a little about the axis of each arrow: what
// an inclinometer and a square read of it grows by that, and the other two stay.
func TestArrowsOfAPlateAreAsItIsRead(t *testing.T) {
	const little, same = 1e-5, 1e-8                                                        // radians
	plate := frame.Rotation{X: frame.NoTurn().Y, Y: frame.NoTurn().Z, Z: frame.NoTurn().X} // faces ahead
	plate = frame.About(plate.X, 0.2).Mul(frame.About(frame.NoTurn().Z, 2.6)).Mul(plate)
	before := mount.AttitudeOf(plate).Angles()
	for i, what := range []string{"tilt", "rotation"} {
		axis := plateAxis(mount.Joint{Name: "ball." + what}, plate)
		after := mount.AttitudeOf(frame.About(axis, little).Mul(plate)).Angles()
		for k := range after {
			want := 0.0
			if k == i {
				want = little
			}
			if got := after[k] - before[k]; math.Abs(got-want) > same {
				t.Errorf("%s: angle %d grows by %g, want %g", what, k, got, want)
			}
		}
	}
	rolled := frame.About(plateAxis(mount.Joint{Name: "ball.roll"}, plate), little).Mul(plate)
	if after := mount.AttitudeOf(rolled).Angles(); after[2] <= before[2] {
		t.Errorf("roll goes from %g to %g", before[2], after[2])
	}
}

// TestDisplaySeenFromItsFront: from the person's right, the display of a screen turned to the
// right is seen, one that faces straight back is an edge, and one turned to the left is hidden.
func TestDisplaySeenFromItsFront(t *testing.T) {
	s := &scene{plane: views[Side].plane}
	for turned, want := range map[frame.Angle]bool{-8: true, 0: true, 0.3: true, 2: false, 8: false} {
		sin, cos := math.Sincos((turned * frame.Degree).Radians())
		pose := frame.Pose{Rot: frame.Rotation{Z: r3.Vec{X: -cos, Y: sin}}}
		if s.faces(pose) != want {
			t.Errorf("turned %v° to the left it is seen: %v", float64(turned), !want)
		}
	}
}
