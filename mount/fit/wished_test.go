package fit_test

import (
	"slices"
	"strings"
	"testing"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
)

// TestScreenOnItsSide: a screen that is rolled beyond the range wished for does not
// work, however well the tracker sees the eyes.
func TestScreenOnItsSide(t *testing.T) {
	job := adult()
	rolled := slices.Clone(solve(t, job).Set.Settings)
	rolled[8] = -45 * degree
	r := checked(t, job, rolled)
	const why = `in posture "upright", outside the range wished for, -30° to 30°`
	if r.MarginMM() < 0 || r.Works || len(r.Why) != 1 || !strings.HasPrefix(r.Why[0], "the screen's roll is -4") || !strings.HasSuffix(r.Why[0], why) {
		t.Errorf("margin %v, works %v: %q", r.MarginMM(), r.Works, r.Why)
	}
	// what is out of its range is brought back
	plan, err := fit.Refit(job, 0, rolled, fit.RefitOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if !plan.Needed || !plan.Restored || !plan.After.Works || len(plan.Changes) != 1 || plan.Changes[0].Joint.Name != "joint.roll" {
		t.Errorf("needed %v, restored %v, works then %v (%q), changes %+v", plan.Needed, plan.Restored, plan.After.Works, plan.After.Why, plan.Changes)
	}
}

// TestRangesAreMetAsReadingsAllow: an aim may miss either end of its range by what
// cannot be read, and by no more.
func TestRangesAreMetAsReadingsAllow(t *testing.T) {
	r := solve(t, adult())
	turns := func(at func(*gaze.Aim) *frame.Angle) func(*gaze.Aim, float64) {
		return func(x *gaze.Aim, by float64) { *at(x) += frame.Angle(by) * frame.Degree }
	}
	for _, tt := range []struct {
		name  string
		slack float64 // degrees, mm
		move  func(x *gaze.Aim, by float64)
		same  func(to, from *gaze.Aim)
	}{
		{"gaze to the left", 0.5, turns(func(x *gaze.Aim) *frame.Angle { return &x.Left }), func(to, from *gaze.Aim) { to.Left = from.Left }},
		{"gaze down", 0.5, turns(func(x *gaze.Aim) *frame.Angle { return &x.Down }), func(to, from *gaze.Aim) { to.Down = from.Down }},
		{"distance", 2.5, func(x *gaze.Aim, by float64) { x.DistanceMM += by }, func(to, from *gaze.Aim) { to.DistanceMM = from.DistanceMM }},
		{"turn up", 0.5, turns(func(x *gaze.Aim) *frame.Angle { return &x.FacingUp }), func(to, from *gaze.Aim) { to.FacingUp = from.FacingUp }},
		{"turn to the right", 0.5, turns(func(x *gaze.Aim) *frame.Angle { return &x.FacingRight }), func(to, from *gaze.Aim) { to.FacingRight = from.FacingRight }},
		{"roll", 0.5, turns(func(x *gaze.Aim) *frame.Angle { return &x.Roll }), func(to, from *gaze.Aim) { to.Roll = from.Roll }},
	} {
		for _, part := range []float64{0.9, 1.1} {
			for _, low := range []bool{true, false} {
				job := adult()
				end, by := &job.Preferences.Ranges.High, -part*tt.slack
				if low {
					end, by = &job.Preferences.Ranges.Low, part*tt.slack
				}
				tt.same(end, &r.Postures[0].Aim)
				tt.move(end, by)
				got := checked(t, job, r.Set.Settings)
				if got.Works != (part < 1) || !got.Works && !strings.HasPrefix(got.Why[0], "the screen's "+tt.name+" is ") {
					t.Errorf("%s, %v of the slack beyond its range, low %v: works %v, %q", tt.name, part, low, got.Works, got.Why)
				}
			}
		}
	}
}
