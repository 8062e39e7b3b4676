package plots_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"sightpost/mount/fit/tolerance"
	"sightpost/mount/fit/variation"
	"sightpost/plots"
)

// TestToleranceErrors spoils tolerances in one way each.
func TestToleranceErrors(t *testing.T) {
	r := sample(t)
	job := r.Job
	for _, tt := range []struct {
		name  string
		spoil func(all []tolerance.Tolerance)
		want  string
	}{
		{"set value not a number", func(a []tolerance.Tolerance) { a[0].Set = math.NaN() }, `"post height": a value is not finite`},
		{"endless", func(a []tolerance.Tolerance) { a[1].High.At = math.Inf(1) }, "not finite"},
		{"readable not a number", func(a []tolerance.Tolerance) { a[2].Low.Readable = math.NaN() }, "not finite"},
		{"limit not a number", func(a []tolerance.Tolerance) { a[2].Joint.Low = math.NaN() }, "not finite"},
		{"ends swapped", func(a []tolerance.Tolerance) {
			a[3].Low, a[3].High = a[3].High, a[3].Low
		}, "not about the set value"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			all := sampleTolerances(t, r)
			tt.spoil(all)
			_, err := plots.Tolerances(all, job, endedBy, plots.Options{})
			wantFigureError(t, err, tt.want)
		})
	}
	_, err := plots.Tolerances(nil, job, endedBy, plots.Options{})
	wantFigureError(t, err, "no settings")
	_, err = plots.Tolerances(sampleTolerances(t, r), nil, endedBy, plots.Options{})
	wantFigureError(t, err, "no settings")
}

func wantFigureError(t *testing.T, err error, want string) {
	t.Helper()
	if !errors.Is(err, plots.ErrFigure) || !strings.Contains(err.Error(), want) {
		t.Errorf("error %v, want ErrFigure with %q", err, want)
	}
}

// TestTolerancesInWords reads the values of the description: readable ones, with
// what ends them, and none where the sample does not work as it is set.
func TestTolerancesInWords(t *testing.T) {
	r := sample(t)
	job := r.Job
	all := sampleTolerances(t, r)
	f, err := plots.Tolerances(all, job, endedBy, plots.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"post height, set 335 mm: from 335 mm (as set), post below the floor, posture \"upright\", to ",
		"arm extension, set 395 mm: from ", " to 400 mm (+5), limit of the setting.", "too far, posture \"rested\"",
	} {
		if !strings.Contains(f.Desc, want) {
			t.Errorf("the description has no %q: %s", want, f.Desc)
		}
	}
	job.Device.Tracker.FarMM = 520
	f, err = plots.Tolerances(sampleTolerances(t, r), job, endedBy, plots.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Count(f.Desc, "does not work as it is set: right eye too far"); got != len(all) {
		t.Errorf("%d of %d settings are said to have no tolerance: %s", got, len(all), f.Desc)
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
			c[0].AsCarried.Points = c[0].AsCarried.Points[:1]
			return c
		}, "seat tilt: 1 samples of the margin"},
		{"margin not a number", func(c []tolerance.PostureCurve) []tolerance.PostureCurve {
			c[0].OtherCarrier.Points[2].MarginMM = math.NaN()
			return c
		}, "not finite"},
		{"place not a number", func(c []tolerance.PostureCurve) []tolerance.PostureCurve {
			c[0].AsCarried.Points[2].At = math.Inf(1)
			return c
		}, "not finite"},
		{"out of order", func(c []tolerance.PostureCurve) []tolerance.PostureCurve { c[2].AsCarried.Points[2].At = -1; return c }, "out of order"},
		{"no present value", func(c []tolerance.PostureCurve) []tolerance.PostureCurve { c[2].Present = math.NaN(); return c }, "present value"},
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
		"seat tilt, now 0°: on the seat, works all along; on the base, works from -6° to 11.5°.",
		"head rotation, now 0°: works from -", "on seat and base alike",
	} {
		if !strings.Contains(f.Desc, want) {
			t.Errorf("the description has no %q: %s", want, f.Desc)
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

// TestDistributionInWords reads the share with Wilson's interval: 340 of 400 is
// 85%, and the interval follows from the formula by hand, 81.17 to 88.17 %.
func TestDistributionInWords(t *testing.T) {
	f, err := plots.Distribution(sampleTally(t), plots.Options{Posture: "tilted_back"})
	if err != nil {
		t.Fatal(err)
	}
	const want = "works in 85% of 400 simulations (95% interval 81.17% to 88.17%). Margins of the simulations: 5% below -12 mm"
	if !strings.HasPrefix(f.Desc, want) {
		t.Errorf("description %q, want %q first", f.Desc, want)
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
	before.Result.Postures[2].MarginMM = math.NaN()
	_, err = plots.Assessments(before, after, plots.Side, plots.Options{})
	wantFigureError(t, err, `"asleep": the margin is not finite`)
	before.Result.Job.Postures[0].Name = "seated"
	_, err = plots.Assessments(before, after, plots.Side, plots.Options{})
	wantFigureError(t, err, `"upright"`)
}

// TestAssessmentsInWords reads what is said to have changed: the eyes by
// (25, -30, -50) mm, whose length is 63.4 mm, and some of the settings.
func TestAssessmentsInWords(t *testing.T) {
	before, after := sampleAssessments(t)
	f, err := plots.Assessments(before, after, plots.Side, plots.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"Eyes moved 63 mm: 25 forward, 30 right, 50 down.", "Post height: 335 mm to 300 mm.", "Joint tilt: 27° to 33°.",
	} {
		if !strings.Contains(f.Desc, want) {
			t.Errorf("the description has no %q: %s", want, f.Desc)
		}
	}
	if strings.Contains(f.Desc, "Elbow pan") {
		t.Errorf("a setting that did not change is named: %s", f.Desc)
	}
	f, err = plots.Assessments(before, before, plots.Side, plots.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(f.Desc, "Eyes moved 0 mm. Screen moved 0 mm.") || strings.Contains(f.Desc, "Post height") {
		t.Errorf("nothing changed, but: %s", f.Desc)
	}
}
