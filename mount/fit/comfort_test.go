package fit_test

import (
	"testing"

	"sightpost/mount/fit"
	"sightpost/mount/fit/internal/fittest"
)

// TestForcedSettings: comfort gives way among the settings for a margin that the more
// comfortable ones do not have, and that is said; where they suffice, nothing is.
func TestForcedSettings(t *testing.T) {
	const requiredMM = 20
	for _, trial := range []uint64{38, 57} {
		solve := func(mm float64) *fit.Result {
			job := fittest.NewClinic(90, trial).Job()
			job.Preferences.MarginMM = mm
			return fittest.Solve(t, job)
		}
		if r := solve(requiredMM); !r.Works || !r.Set.Forced || r.Target.Forced {
			t.Errorf("trial %d: works %v, forced %v, the target %v", trial, r.Works, r.Set.Forced, r.Target.Forced)
		}
		if r := solve(0); !r.Works || r.Set.Forced || r.MarginMM() >= requiredMM {
			t.Errorf("trial %d: works %v with %.1f mm, forced %v", trial, r.Works, r.MarginMM(), r.Set.Forced)
		}
	}
}
