package plots_test

import (
	"bytes"
	"errors"
	"math"
	"strings"
	"testing"

	"sightpost/gaze/frame"
	"sightpost/plots"
)

// TestView3DFromEverywhere draws the sample from all round, edge on and from
// below, with its mount and without.
func TestView3DFromEverywhere(t *testing.T) {
	r := sample(t)
	bare := *r
	bare.Set = nil
	for azimuth := -180.0; azimuth <= 180; azimuth += 45 {
		for elevation := -90.0; elevation <= 90; elevation += 45 {
			view := plots.Turned{Azimuth: frame.Angle(azimuth * degree), Elevation: frame.Angle(elevation * degree)}
			f, err := plots.View3D(r, view, plots.Options{})
			if err != nil {
				t.Fatalf("%v: %v", view, err)
			}
			var svg bytes.Buffer
			if err := plots.WriteInlineSVG(&svg, f, ""); err != nil {
				t.Fatalf("%v: %v", view, err)
			}
			if strings.Contains(svg.String(), "NaN") || strings.Contains(svg.String(), "Inf") {
				t.Errorf("%v: a number is none", view)
			}
			if _, err := plots.View3D(&bare, view, plots.Options{Compact: true}); err != nil {
				t.Fatalf("%v, without a mount: %v", view, err)
			}
		}
	}
}

// TestView3DSpeaks checks that the description has what the figure shows.
func TestView3DSpeaks(t *testing.T) {
	r := sample(t)
	f, err := plots.View3D(r, plots.Turned{Azimuth: -140 * frame.Degree, Elevation: -5 * frame.Degree}, plots.Options{Label: "bench-07"})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"eyes", "600 mm", "clamp", "elbow", "tracker (triangle) and tracking volume", "axes, 200 mm each",
	} {
		if !strings.Contains(written(t, f), want) {
			t.Errorf("%q is not in %q", want, written(t, f))
		}
	}
	if !strings.HasPrefix(f.Title, "bench-07: 3-D view from ahead, 140° to the person's right, 5° below level") {
		t.Errorf("title %q", f.Title)
	}
}

// TestTurnedWords names directions of view.
func TestTurnedWords(t *testing.T) {
	for want, view := range map[string]plots.Turned{
		"from ahead, 0° to the person's left, 0° above level":    {},
		"from ahead, 90° to the person's right, 0° above level":  {Azimuth: 270 * frame.Degree},
		"from ahead, 90° to the person's left, 90° above level":  {Azimuth: 90 * frame.Degree, Elevation: 90 * frame.Degree},
		"from ahead, 1° to the person's left, 0° above level":    {Azimuth: 0.6 * frame.Degree, Elevation: 0.4 * frame.Degree},
		"from ahead, 20° to the person's right, 15° below level": {Azimuth: -20 * frame.Degree, Elevation: -15 * frame.Degree},
	} {
		if got := view.String(); got != want {
			t.Errorf("%v, %v: %q, want %q", view.Azimuth.Degrees(), view.Elevation.Degrees(), got, want)
		}
	}
}

// TestView3DErrors asks for views that are none.
func TestView3DErrors(t *testing.T) {
	r := sample(t)
	job := r.Job
	for _, view := range []plots.Turned{{Azimuth: frame.Angle(math.NaN())}, {Elevation: frame.Angle(math.Inf(1))}} {
		if _, err := plots.View3D(r, view, plots.Options{}); !errors.Is(err, plots.ErrFigure) {
			t.Errorf("%v: error %v, want ErrFigure", view, err)
		}
	}
	if _, err := plots.View3D(nil, plots.Turned{}, plots.Options{}); !errors.Is(err, plots.ErrFigure) {
		t.Errorf("of nothing: error %v, want ErrFigure", err)
	}
	job.Device.Screen.HousingMM.X = math.NaN()
	if _, err := plots.View3D(r, plots.Turned{}, plots.Options{}); !errors.Is(err, plots.ErrFigure) {
		t.Errorf("of a housing without size: error %v, want ErrFigure", err)
	}
}

func BenchmarkView3D(b *testing.B) {
	r := sample(b)
	for b.Loop() {
		if _, err := plots.View3D(r, plots.TurnedTo(r), plots.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
