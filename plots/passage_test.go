package plots_test

import (
	"cmp"
	"errors"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"

	"sightpost/mount/fit"
	"sightpost/plots"
)

// swung returns the sample with how its mount swings aside about a joint, on a chair
// that is to pass a doorway.
func swung(t testing.TB, about string) *fit.Result {
	t.Helper()
	r := sample(t)
	job := r.Job
	job.Passage = fit.Passage{
		About: about, WidthMM: 660, BehindMM: 300, AheadMM: 915, DoorMM: 815, FloorWidthMM: 760, FloorLengthMM: 1220,
	}
	checked, err := fit.Check(t.Context(), job, 0, r.Set.Settings)
	if err != nil {
		t.Fatal(err)
	}
	if checked.SwingClear == nil {
		t.Fatalf("the sample does not swing clear about %q", about)
	}
	r.SwingClear = checked.SwingClear
	return r
}

// aside draws both figures of a mount that swings clear and returns the first, and what is
// written in both.
func aside(t *testing.T, r *fit.Result, opt plots.Options) (plots.Figure, string) {
	t.Helper()
	f, err := plots.SwingClear(r, opt)
	if err != nil {
		t.Fatal(err)
	}
	passage, err := plots.Passage(r, opt)
	if err != nil {
		t.Fatal(err)
	}
	return f, written(t, f) + "; " + written(t, passage)
}

// TestPassageInWords reads the numbers of the description, and looks for the same on
// the figure.
func TestPassageInWords(t *testing.T) {
	r := swung(t, "post.swing")
	f, words := aside(t, r, plots.Options{Label: "bench-07"})
	j := r.Set.Chain.Moving()[r.SwingClear.Joint]
	for _, want := range []string{
		"in use (ring: post swing)", "in use at 24°", "parked at " + j.Format(r.SwingClear.Parked),
		"doorway, clear width 815 mm", "clear floor space, 760 by 1220 mm",
		"space of chair and mount in use, ", "free to ", "either side of the midline",
	} {
		if !strings.Contains(words, want) {
			t.Errorf("the description has no %q: %s", want, words)
		}
	}
	if !strings.HasPrefix(f.Title, "bench-07: swing clear, from above") || f.Scale == 0 {
		t.Errorf("title %q, scale %d", f.Title, f.Scale)
	}
}

// TestPassageStuck draws a mount that touches something where it is in use: nothing is
// said of a way aside that it does not have.
func TestPassageStuck(t *testing.T) {
	r := swung(t, "post.swing")
	a := *r.SwingClear
	a.Low = fit.SwingEnd{At: a.InUse, Part: "post", Zone: "left_knee"}
	a.High, a.Parked, a.TransferHalfWidthMM = a.Low, a.InUse, 0
	a.Way.Part, a.Way.Zone, a.Way.MM = "post", "left_knee", -36
	for _, tt := range []struct {
		name  string
		spoil func(*fit.SwingClear)
		want  string
	}{
		{"at it", func(*fit.SwingClear) {}, "cannot be moved: post touches left knee"},
		{"no gap known", func(a *fit.SwingClear) { a.Way = fit.SwingClearance{} }, "cannot be moved: post touches left knee"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			stuck := a
			tt.spoil(&stuck)
			r.SwingClear = &stuck
			_, words := aside(t, r, plots.Options{})
			if !strings.Contains(words, tt.want) || !strings.Contains(words, "space of chair and mount in use, ") {
				t.Errorf("the description has no %q, or no space in use: %s", tt.want, words)
			}
			for _, never := range []string{"free to", "least clearance", "parked"} {
				if strings.Contains(words, never) {
					t.Errorf("the description of a mount that cannot be moved has %q: %s", never, words)
				}
			}
		})
	}
}

// TestPassageUnknownChair: a chair of unknown size has no passage, but its mount swings
// clear all the same.
func TestPassageUnknownChair(t *testing.T) {
	r := swung(t, "post.swing")
	job := r.Job
	job.Passage.WidthMM, job.Passage.BehindMM, job.Passage.AheadMM = 0, 0, 0
	if _, err := plots.SwingClear(r, plots.Options{}); err != nil {
		t.Error(err)
	}
	_, err := plots.Passage(r, plots.Options{})
	wantFigureError(t, err, "width of the chair")
}

// TestPassageLayouts draws with more and with less to show, on paper of several sizes.
func TestPassageLayouts(t *testing.T) {
	for _, tt := range []struct {
		name   string
		change func(*fit.Job)
		opt    plots.Options
	}{
		{"all", func(*fit.Job) {}, plots.Options{}},
		{"upright paper", func(*fit.Job) {}, plots.Options{Size: plots.Size{Width: 190 * vg.Millimeter, Height: 277 * vg.Millimeter}}},
		{"no doorway", func(j *fit.Job) { j.Passage.DoorMM = 0 }, plots.Options{}},
		{"no floor", func(j *fit.Job) { j.Passage.FloorWidthMM = 0 }, plots.Options{}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			for _, about := range []string{"post.swing", "elbow.pan", "arm.extension"} {
				r := swung(t, about)
				job := r.Job
				tt.change(job)
				for name, draw := range map[string]func(*fit.Result, plots.Options) (plots.Figure, error){"swing clear": plots.SwingClear, "passage": plots.Passage} {
					f, err := draw(r, tt.opt)
					if err != nil {
						t.Fatal(err)
					}
					size := cmp.Or(tt.opt.Size, plots.Landscape())
					if f.Size.Width > size.Width || f.Size.Height > size.Height {
						t.Errorf("%s about %s: %v is larger than %v", name, about, f.Size, size)
					}
				}
			}
		})
	}
}

func TestPassageErrors(t *testing.T) {
	for _, tt := range []struct {
		name  string
		spoil func(*fit.Result, *fit.Job)
		want  string
	}{
		{"does not swing", func(r *fit.Result, _ *fit.Job) { r.SwingClear = nil }, "does not swing clear"},
		{"no mount", func(r *fit.Result, _ *fit.Job) { r.Set = nil }, "does not swing clear"},
		{"no such joint", func(r *fit.Result, _ *fit.Job) { r.SwingClear.Joint = 99 }, "no joint 99"},
		{"room not a number", func(r *fit.Result, _ *fit.Job) { r.SwingClear.Used.LeftMM = math.NaN() }, "not finite"},
		{"doorway too wide", func(_ *fit.Result, j *fit.Job) { j.Passage.DoorMM = 1e9 }, "more than"},
		{"gap nowhere", func(r *fit.Result, _ *fit.Job) { r.SwingClear.Way.On.X = math.Inf(1) }, "not finite"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r := swung(t, "post.swing")
			job := r.Job
			r.SwingClear.Way.Part, r.SwingClear.Way.Zone = "housing", "tray"
			tt.spoil(r, job)
			_, swing := plots.SwingClear(r, plots.Options{})
			_, passage := plots.Passage(r, plots.Options{})
			wantFigureError(t, errors.Join(swing, passage), tt.want)
		})
	}
	r := swung(t, "post.swing")
	r.SwingClear.Parked = math.NaN()
	if _, err := plots.Passage(r, plots.Options{}); err == nil {
		t.Error("Passage took a rest that is no number")
	}
	if _, err := plots.Passage(nil, plots.Options{}); !errors.Is(err, plots.ErrFigure) {
		t.Errorf("Passage of nothing: error %v", err)
	}
}
