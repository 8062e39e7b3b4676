package tube_test

import (
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount"
	"sightpost/mount/tube"
)

// Beyond the last tube nothing bends: what leads from the last joint to the screen
// leads from its loaded frame to the loaded screen.
func TestFramesLeadToTheScreen(t *testing.T) {
	each(t, func(t *testing.T, _ *rand.Rand, c mount.Chain, s mount.Settings, gravity r3.Vec) {
		t.Helper()
		m, err := tube.NewModel(c)
		if err != nil {
			t.Fatal(err)
		}
		sag, err := m.Screen(s, gravity)
		if err != nil {
			t.Fatal(err)
		}
		unloaded, err := c.Forward(s)
		if err != nil {
			t.Fatal(err)
		}
		frames := m.Frames(nil)
		if len(frames) != len(c.Joints) {
			t.Fatalf("%d frames of %d joints", len(frames), len(c.Joints))
		}
		want := sag.Pose(unloaded.At).Mul(unloaded)
		got := frames[len(frames)-1].Mul(c.Tip)
		// Small turns are added up as vectors: what differs is of their second order.
		const secondOrderMM = 0.05
		if off := r3.Norm(r3.Sub(got.At, want.At)); off > secondOrderMM || got.Rot.Inverse().Mul(want.Rot).Angle().Degrees() > 1e-6 {
			t.Errorf("screen at %v by the last joint, at %v by its sag: %v mm", got.At, want.At, off)
		}
	})
}
