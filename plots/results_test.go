package plots_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"sightpost/mount/fit/tolerance"
	"sightpost/mount/fit/variation"
	"sightpost/plots"
	"sightpost/plots/units"
)

// TestToleranceErrors spoils tolerances in one way each.
func TestToleranceErrors(t *testing.T) {
	r := sample(t)
	for _, tt := range []struct {
		name  string
		spoil func(all []tolerance.Tolerance)
		want  string
	}{
		{"set value not a number", func(a []tolerance.Tolerance) { a[0].Set = math.NaN() }, `"post height": the tolerance is not finite`},
		{"endless", func(a []tolerance.Tolerance) { a[1].High.At = math.Inf(1) }, "not finite"},
		{"limit not a number", func(a []tolerance.Tolerance) { a[2].Joint.Low = math.NaN() }, "not finite"},
		{"ends swapped", func(a []tolerance.Tolerance) {
			a[3].Low, a[3].High = a[3].High, a[3].Low
		}, "not about the set value"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			all := sampleTolerances(t, r)
			tt.spoil(all)
			_, err := plots.Tolerances(all, sampleWords(all, units.MM), plots.Options{})
			wantFigureError(t, err, tt.want)
		})
	}
	_, err := plots.Tolerances(nil, nil, plots.Options{})
	wantFigureError(t, err, "0 settings")
	_, err = plots.Tolerances(sampleTolerances(t, r), nil, plots.Options{})
	wantFigureError(t, err, "with words for 0")
}

func wantFigureError(t *testing.T, err error, want string) {
	t.Helper()
	if !errors.Is(err, plots.ErrFigure) || !strings.Contains(err.Error(), want) {
		t.Errorf("error %v, want ErrFigure with %q", err, want)
	}
}

// TestTolerancesInWords reads the words beside the bars, and of settings without a tolerance
// why they have none.
func TestTolerancesInWords(t *testing.T) {
	r := sample(t)
	all := sampleTolerances(t, r)
	f, err := plots.Tolerances(all, sampleWords(all, units.MM), plots.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"post height, set 335 mm, limits 270 mm to 600 mm; ", "left eye leaves the tracking volume at the bottom", "400 mm; limit of its range",
		"slides, off by (mm)", "turns, off by (°)",
	} {
		if !strings.Contains(written(t, f), want) {
			t.Errorf("the figure has no %q: %s", want, written(t, f))
		}
	}
	r.Job.Device.Tracker.FarMM = 520
	all = sampleTolerances(t, r)
	if f, err = plots.Tolerances(all, sampleWords(all, units.MM), plots.Options{}); err != nil {
		t.Fatal(err)
	}
	if got := strings.Count(written(t, f), "does not work as it is set:; right eye too far"); got != len(all) {
		t.Errorf("%d of %d settings are said to have no tolerance: %s", got, len(all), written(t, f))
	}
}

// TestPostureErrors spoils curves in one way each.
func TestPostureErrors(t *testing.T) {
	r := sample(t)
	for _, tt := range []struct {
		name  string
		spoil func(c []tolerance.PostureCurve) []tolerance.PostureCurve
		want  string
	}{
		{"none", func([]tolerance.PostureCurve) []tolerance.PostureCurve { return nil }, "0 curves"},
		{"too many", func(c []tolerance.PostureCurve) []tolerance.PostureCurve { return append(append(c, c...), c...) }, "18 curves"},
		{"two postures", func(c []tolerance.PostureCurve) []tolerance.PostureCurve { c[1].Posture.Name = "rested"; return c }, `"upright" and "rested"`},
		{"a single point", func(c []tolerance.PostureCurve) []tolerance.PostureCurve {
			c[0].AsCarried.Points, c[0].OtherCarrier.Points = c[0].AsCarried.Points[:1], nil
			return c
		}, "seat tilt (°) from"},
		{"margin not a number", func(c []tolerance.PostureCurve) []tolerance.PostureCurve {
			c[0].OtherCarrier.Points[2].MarginMM = math.NaN()
			return c
		}, "not finite"},
		{"place not a number", func(c []tolerance.PostureCurve) []tolerance.PostureCurve {
			c[0].AsCarried.Points[2].At = math.Inf(1)
			return c
		}, "not finite"},
		{"out of order", func(c []tolerance.PostureCurve) []tolerance.PostureCurve { c[2].AsCarried.Points[2].At = -1; return c }, "out of order"},
		{"no present value", func(c []tolerance.PostureCurve) []tolerance.PostureCurve { c[2].Present = math.NaN(); return c }, "slump (mm) from NaN to NaN"},
		{"no end", func(c []tolerance.PostureCurve) []tolerance.PostureCurve {
			c[2].AsCarried.High.At = math.NaN()
			return c
		}, "range that works"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := plots.Postures(tt.spoil(sampleCurves(t, r)), plots.Options{})
			wantFigureError(t, err, tt.want)
		})
	}
}

// TestCarrierMatters compares what is said of seat tilt, which parts the seat
// from the base, with what is said of the head, which does not.
func TestCarrierMatters(t *testing.T) {
	r := sample(t)
	f, err := plots.Postures(sampleCurves(t, r), plots.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"now 0°; on the seat: works throughout; on the base: works from -6° to 11.5°; seat tilt (°)",
		"now 0°; on seat or base:; works from -",
	} {
		if !strings.Contains(written(t, f), want) {
			t.Errorf("the description has no %q: %s", want, written(t, f))
		}
	}
}

// TestDistributionErrors spoils a tally in one way each.
func TestDistributionErrors(t *testing.T) {
	for _, tt := range []struct {
		name  string
		spoil func(tally *variation.Tally)
		want  string
	}{
		{"no bins", func(y *variation.Tally) { y.Margin.Bins = nil }, "no simulations"},
		{"empty bins", func(y *variation.Tally) { y.Margin.Bins = []variation.Bin{{LowMM: 1, HighMM: 2}} }, "no simulations"},
		{"nothing counted", func(y *variation.Tally) { y.Tracks = variation.Proportion{} }, "no simulations"},
		{"negative count", func(y *variation.Tally) { y.Margin.Bins[1].Count = -1 }, "a bin from -20 to -10 mm with -1 simulations"},
		{"falling bins", func(y *variation.Tally) { y.Margin.Bins[0], y.Margin.Bins[1] = y.Margin.Bins[1], y.Margin.Bins[0] }, "a bin from"},
		{"edge not a number", func(y *variation.Tally) { y.Margin.Bins[8].HighMM = math.NaN() }, "a bin from"},
		{"endless edge", func(y *variation.Tally) { y.Margin.Bins[8].HighMM = math.Inf(1) }, "not finite"},
		{"share not a number", func(y *variation.Tally) { y.Tracks.Low = math.NaN() }, "not finite"},
		{"median not a number", func(y *variation.Tally) { y.Margin.P50MM = math.NaN() }, "not finite"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			tally := sampleTally(t)
			tt.spoil(&tally)
			_, err := plots.Distribution(tally, plots.Options{})
			wantFigureError(t, err, tt.want)
		})
	}
}

// TestDistributionInWords reads the share: 340 of 400 is 85 of 100; Wilson's interval of that
// follows from the formula by hand, 81.17 to 88.17 %. Of a margin that 5 % have below zero
// nothing is promised.
func TestDistributionInWords(t *testing.T) {
	tally := sampleTally(t)
	const digits = 5e-5 // of the percentages by hand
	if got := tally.Tracks; math.Abs(got.Low-0.8117) > digits || math.Abs(got.High-0.8817) > digits {
		t.Errorf("interval %v to %v", got.Low, got.High)
	}
	f, err := plots.Distribution(tally, plots.Options{Posture: "tilted_back"})
	if err != nil {
		t.Fatal(err)
	}
	const want = "still tracks in 85 of 100 simulated set-ups; margin (mm);"
	if got := written(t, f); !strings.HasPrefix(got, want) || !strings.Contains(got, "5% < -12") {
		t.Errorf("written are %q, want %q first", got, want)
	}
	if !strings.HasSuffix(f.Title, `posture "tilted back"`) {
		t.Errorf("title %q", f.Title)
	}
}

// TestAssessmentErrors leaves something out.
func TestAssessmentErrors(t *testing.T) {
	before, after := sampleAssessments(t)
	_, err := plots.Assessments(plots.Assessment{}, after, plots.Side, plots.Options{})
	wantFigureError(t, err, "no result")
	_, err = plots.Assessments(before, plots.Assessment{}, plots.Side, plots.Options{})
	wantFigureError(t, err, "no result")
	_, err = plots.Assessments(before, after, plots.Side, plots.Options{Posture: "prone"})
	wantFigureError(t, err, `"prone"`)
	before.Result.Job.Postures[0].Name = "seated"
	_, err = plots.Assessments(before, after, plots.Side, plots.Options{})
	wantFigureError(t, err, `"upright"`)
}

// TestAssessmentsInWords reads how far eyes and screen have moved: the eyes by
// (25, -30, -50) mm, whose length is 63.4 mm.
func TestAssessmentsInWords(t *testing.T) {
	before, after := sampleAssessments(t)
	for _, tt := range []struct {
		after plots.Assessment
		want  []string
	}{
		{after, []string{"eyes moved 63 mm", "before: first visit, 2026-03-02", "after: second visit, 2026-05-04", "eyes, before 1180", "eyes 1130"}},
		{before, []string{"eyes moved 0 mm", "screen middle moved 0 mm"}},
	} {
		f, err := plots.Assessments(before, tt.after, plots.Side, plots.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, want := range tt.want {
			if !strings.Contains(written(t, f), want) {
				t.Errorf("the figure has no %q: %s", want, written(t, f))
			}
		}
	}
}
