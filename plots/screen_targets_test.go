package plots_test

import (
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/mount/fit"
	"sightpost/plots"
)

// TestLitInWords reads what is said of the targets: by hand, cells of the sample's
// 260 mm are (260 - 7·4) / 8 = 29 mm wide.
func TestLitInWords(t *testing.T) {
	for _, tt := range []struct {
		name  string
		spoil func(*fit.Result, *fit.Job)
		want  []string
		not   string
	}{
		{"as it is", func(*fit.Result, *fit.Job) {}, []string{"the most that are large enough: 5 rows of 8", "middle, 27 by 27 mm", "bottom-right, "}, "too small"},
		{"asked and large enough", func(_ *fit.Result, j *fit.Job) { j.Grid = &gaze.Grid{Rows: 3, Columns: 6, GapMM: 4} }, []string{"3 rows of 6 targets, large enough"}, "too small"},
		{"asked and too many", func(_ *fit.Result, j *fit.Job) { j.Grid = &gaze.Grid{Rows: 6, Columns: 10} }, []string{"6 rows of 10 targets, too small"}, "enough"},
		{"errors unknown", func(_ *fit.Result, j *fit.Job) {
			j.Device.Tracker.Accuracy, j.Device.Tracker.Precision = 0, 0
			j.Grid = &gaze.Grid{Rows: 3, Columns: 6}
		}, []string{"3 rows of 6 targets;", "known, so neither is the smallest target"}, "middle,"},
		{"edge-on", func(r *fit.Result, j *fit.Job) {
			eyes := r.Postures[0].Eyes()
			r.Postures[0].Screen.At = r3.Scale(0.5, r3.Add(eyes[0], eyes[1]))
			j.Grid = &gaze.Grid{Rows: 3, Columns: 6}
		}, []string{"3 rows of 6 targets;", "seen edge-on"}, "middle,"},
		{"none fits", func(_ *fit.Result, j *fit.Job) { j.Device.Tracker.Accuracy = 15 * 0.0174 }, []string{"no target of the smallest size fits"}, "enough"},
		{"more than can be drawn", func(_ *fit.Result, j *fit.Job) { j.Grid = &gaze.Grid{Rows: 1 << 30, Columns: 1 << 30} }, []string{"1073741824 rows"}, "enough"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r := sample(t)
			job := r.Job
			tt.spoil(r, job)
			f, err := plots.ScreenTargets(r, plots.Options{})
			if err != nil {
				t.Fatal(err)
			}
			for _, want := range tt.want {
				if !strings.Contains(written(t, f), want) {
					t.Errorf("the description has no %q: %s", want, written(t, f))
				}
			}
			if strings.Contains(written(t, f), tt.not) {
				t.Errorf("the description has %q: %s", tt.not, written(t, f))
			}
		})
	}
}

// TestHiddenFloorInWords reads the numbers of what is hidden, as the way ahead has
// them.
func TestHiddenFloorInWords(t *testing.T) {
	r := sample(t)
	r.Set.Chain.Joints = slices.Clone(r.Set.Chain.Joints)
	r.Set.Chain.Joints[0].Origin.At.Z += 250 // to where its tubes hide something
	f, err := plots.HiddenFloor(r, plots.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"hidden from 2121;", "hidden to 9720;", "left 1989;", "right 1794;", "hidden from both eyes by tubes of the mount",
	} {
		if !strings.Contains(written(t, f), want) {
			t.Errorf("the description has no %q: %s", want, written(t, f))
		}
	}
	r.Postures[0].Screen.At.Z += 2000
	if f, err = plots.HiddenFloor(r, plots.Options{}); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(written(t, f), "hidden from both eyes by the housing") {
		t.Errorf("a screen overhead hides: %s", written(t, f))
	}
}

// TestLookingErrors leaves out what cannot be left out.
func TestLookingErrors(t *testing.T) {
	_, err := plots.ScreenTargets(nil, plots.Options{})
	wantFigureError(t, err, "no result")
	_, err = plots.HiddenFloor(nil, plots.Options{})
	wantFigureError(t, err, "no result")
	r := sample(t)
	_, err = plots.ScreenTargets(r, plots.Options{Posture: "prone"})
	wantFigureError(t, err, `"prone"`)
}
