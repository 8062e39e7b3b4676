package fit_test

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount"
	"sightpost/mount/fit/internal/fittest"
)

// TestArmThroughTheDevice: an arm that ends behind a screen that faces back along it comes
// through its front. One that ends below the housing does not, and nothing is said of a
// plate that nobody has measured. Of ways to reach the target one that does not is taken.
func TestArmThroughTheDevice(t *testing.T) {
	for _, row := range []struct {
		name                    string
		upMM, behindMM, clampMM float64 // clampMM: above the floor
		want                    string
	}{
		{"behind the middle", 0, 60, 590, "arm"},
		{"below the housing", 190, 60, 590, ""},
		{"not measured", 0, 0, 590, ""},
		{"another way past it", -40, 90, 910, ""},
	} {
		for _, side := range []mount.Side{mount.OnLeft, mount.OnRight} {
			job := fittest.Adult()
			last := len(job.Mount.Kit.Parts) - 1
			plate := job.Mount.Kit.Parts[last].(mount.Plate)
			plate.Faces, plate.OffsetMM = mount.FacesBack, r3.Vec{Y: row.upMM, Z: row.behindMM}
			job.Mount.Kit.Parts[last] = plate
			at := &job.Mount.Mountings[0]
			at.ClampMM.Z = row.clampMM
			if side == mount.OnRight {
				at.Side, at.ClampMM.Y = side, -at.ClampMM.Y
			}
			r := fittest.Solve(t, job)
			if got := r.ThroughDevice; !r.Works || got != row.want {
				t.Errorf("%s, %s: works %t, passes through: %q, want %q", row.name, side, r.Works, got, row.want)
			}
		}
	}
}
