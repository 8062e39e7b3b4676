package variation

import (
	"math"
	"testing"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/internal/fittest"
)

// The margin with tilt, rotation and roll of a plate on a ball off, and a setting before it
// too, is that of a check at the settings that turn the plate so. Without sag both are exact.
func TestPlateErrors(t *testing.T) {
	job := fittest.Stiff(fittest.Adult())
	parts := job.Mount.Kit.Parts
	parts[len(parts)-2] = mount.Ball{Name: "ball", Cone: 80 * frame.Degree, StemMM: 40}
	r := fittest.Solve(t, job)
	p, err := newErrorPlan(r, DefaultBudget(r))
	if err != nil {
		t.Fatal(err)
	}
	m, err := fit.NewSetMount(r)
	if err != nil {
		t.Fatal(err)
	}
	first := r.Set.Chain.LastBall()
	for _, off := range [][4]float64{{}, {3, 0, 0, 0}, {0, -4, 0, 0}, {0, 0, 5, 0}, {2, -3, 4, -2}} {
		e, set, at := make([]float64, p.slots), m.Settings(), r.Attitude().Angles()
		for i := range at {
			e[MeasureCount+first+i] = off[i] * fittest.Degree
			at[i] += off[i] * fittest.Degree
		}
		e[MeasureCount+first-2] = off[3] * fittest.Degree // the elevation, before the arm
		set[first-2] += off[3] * fittest.Degree
		if set, err = m.TurnPlate(set, mount.AttitudeAt(at)); err != nil {
			t.Fatal(err)
		}
		want, err := fit.Check(t.Context(), job, r.Set.Mounting, set)
		if err != nil {
			t.Fatal(err)
		}
		if got := p.truth().leastMargin(e); math.Abs(got-want.MarginMM()) > 1e-6 {
			t.Errorf("off by %v: margin %v mm, a check has %v mm", off, got, want.MarginMM())
		}
	}
}
