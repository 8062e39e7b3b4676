package mount_test

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount"
)

// TestFixedAtIsTheScreens: where a screen is fixed belongs to the screen and is the
// same on either side of the chair, while the plate's own offset is mirrored.
func TestFixedAtIsTheScreens(t *testing.T) {
	const tolMM = 1e-9 // rounding
	kit := mount.Kit{Name: "invented", Parts: []mount.Part{
		mount.Clamp{Name: "clamp"},
		mount.Plate{Name: "plate", Faces: mount.FacesBack, OffsetMM: r3.Vec{X: 5, Z: 40}, FixedAtMM: r3.Vec{X: 30, Y: 10}},
	}}
	for side, want := range map[mount.Side]r3.Vec{mount.OnLeft: {X: 5}, mount.OnRight: {X: -5}} {
		y := 300.0
		if side == mount.OnRight {
			y = -y
		}
		c, err := kit.Chain(mount.Mounting{ClampMM: r3.Vec{X: 400, Y: y, Z: 500}, Side: side})
		if err != nil {
			t.Fatal(err)
		}
		pose, err := c.Forward(nil)
		if err != nil {
			t.Fatal(err)
		}
		// from the clamp, past the plate, to where the screen is fixed
		at := pose.Apply(r3.Vec{X: 30, Y: 10})
		got := pose.Rot.ApplyInverse(r3.Sub(at, r3.Vec{X: 400, Y: y, Z: 500}))
		if r3.Norm(r3.Sub(got, r3.Vec{X: want.X, Z: 40})) > tolMM {
			t.Errorf("side %v: the screen is fixed at %v from the clamp in screen axes, want x %v, z 40", side, got, want.X)
		}
	}
}
