package fit_test

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
)

// TestScreenOnItsSide: a screen that is rolled beyond the preferred range does not
// work, however well the tracker sees the eyes.
func TestScreenOnItsSide(t *testing.T) {
	job := adult()
	job.Scene.Person.MovementMM = r3.Vec{}
	rolled := slices.Clone(solve(t, job).Set.Settings)
	rolled[8] = -45 * degree
	r := checked(t, job, rolled)
	if r.MarginMM() < 0 || r.Works || len(r.Reasons) != 1 {
		t.Fatalf("margin %v, works %v: %+v", r.MarginMM(), r.Works, r.Reasons)
	}
	const rounding = 1e-9 // radians, of a conversion from degrees
	why := r.Reasons[0]
	if why.Kind != fit.OutOfRange || why.Variable != fit.Roll || why.Posture != 0 || why.Is > -40*degree || why.Is < -50*degree ||
		math.Abs(why.Low+30*degree) > rounding || math.Abs(why.High-30*degree) > rounding {
		t.Errorf("%+v, want a roll of about -45° outside -30° to 30°", why)
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
		of    fit.AimVariable
		slack float64 // degrees, mm
		move  func(x *gaze.Aim, by float64)
		same  func(to, from *gaze.Aim)
	}{
		{fit.GazeLeft, 0.5, turns(func(x *gaze.Aim) *frame.Angle { return &x.Left }), func(to, from *gaze.Aim) { to.Left = from.Left }},
		{fit.GazeDown, 0.5, turns(func(x *gaze.Aim) *frame.Angle { return &x.Down }), func(to, from *gaze.Aim) { to.Down = from.Down }},
		{fit.Distance, 2.5, func(x *gaze.Aim, by float64) { x.DistanceMM += by }, func(to, from *gaze.Aim) { to.DistanceMM = from.DistanceMM }},
		{fit.FacingUp, 0.5, turns(func(x *gaze.Aim) *frame.Angle { return &x.FacingUp }), func(to, from *gaze.Aim) { to.FacingUp = from.FacingUp }},
		{fit.FacingRight, 0.5, turns(func(x *gaze.Aim) *frame.Angle { return &x.FacingRight }), func(to, from *gaze.Aim) { to.FacingRight = from.FacingRight }},
		{fit.Roll, 0.5, turns(func(x *gaze.Aim) *frame.Angle { return &x.Roll }), func(to, from *gaze.Aim) { to.Roll = from.Roll }},
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
				if got.Works != (part < 1) || !got.Works && (got.Reasons[0].Kind != fit.OutOfRange || got.Reasons[0].Variable != tt.of) {
					t.Errorf("%s, %v of the slack beyond its range, low %v: works %v, %+v", tt.of, part, low, got.Works, got.Reasons)
				}
			}
		}
	}
}
