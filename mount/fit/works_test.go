package fit_test

import (
	"slices"
	"testing"

	"sightpost/mount/fit"
	"sightpost/mount/fit/internal/fittest"
	"sightpost/testdata/trials"
)

// TestWorksAgreesWithCheck compares the quick verdicts with the whole one, at settings near
// those found, of which some work, and over the whole range, where much else than the margin
// fails and a mount sags most.
func TestWorksAgreesWithCheck(t *testing.T) {
	works, fails, bears, breaks := 0, 0, 0, 0
	for trial := range uint64(trials.Of(5, 200)) {
		c := fittest.NewClinic(91, trial)
		job := c.Job()
		if job.Mount == nil {
			continue
		}
		job.Mount.Kit.RatedKG = 0
		r := fittest.Solve(t, job)
		if r.Set == nil {
			continue
		}
		if trial%2 == 0 { // just above what is required
			job.Passage.GroundMM = max(r.Ground.MM-5, 0)
			var err error
			if r, err = fit.Check(t.Context(), job, r.Set.Mounting, r.Set.Settings); err != nil {
				t.Fatal(err)
			}
		}
		m, err := fit.NewSetMount(r)
		if err != nil {
			t.Fatal(err)
		}
		moving := m.Moving()
		for try := range 40 {
			s, off := m.Settings(), c.In(0, 0.05)
			if try%2 == 0 {
				off = 1
			}
			for i, j := range moving {
				s[i] = j.Clamp(s[i] + c.In(-off, off)*(j.High-j.Low))
			}
			whole, err := m.Check(s)
			if err != nil {
				t.Fatal(err)
			}
			quick, err := m.Works(s)
			if err != nil || quick != whole.Works {
				t.Errorf("trial %d: works %v (%v), by Check %v: %v", trial, quick, err, whole.Works, whole.Reasons)
			}
			why, failed, err := m.Fails(s)
			if err != nil || failed == whole.Works || failed && why.Kind != whole.Reasons[0].Kind {
				t.Errorf("trial %d: fails %v by %v (%v), by Check %v", trial, failed, why.Kind, err, whole.Reasons)
			}
			short := slices.ContainsFunc(whole.Reasons, func(r fit.Reason) bool { return r.Kind > fit.MarginShort })
			if ok, err := m.Bears(s); err != nil || ok == short {
				t.Errorf("trial %d: bears its load and is clear %v (%v), by Check %v", trial, ok, err, whole.Reasons)
			}
			if short {
				breaks++
			} else {
				bears++
			}
			if quick {
				works++
			} else {
				fails++
			}
		}
	}
	if min(works, fails, bears, breaks) < 10 {
		t.Errorf("%d settings work and %d do not, %d but for the margin and %d not: too few to show anything", works, fails, bears, breaks)
	}
}
