package plots_test

import (
	"bytes"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount/fit"
	"sightpost/plots"
)

// TestSeated draws people of whom more or less is known: the whole person wherever it is
// known where the seat is, and what they sit in by its name.
func TestSeated(t *testing.T) {
	for _, tt := range []struct {
		name   string
		change func(*fit.Job)
		shown  string
		never  string
	}{
		{"hinge alone", func(*fit.Job) {}, "chair, schematic", "bed, schematic"},
		{"seat alone", func(j *fit.Job) {
			j.Scene.Chair.BackHingeMM = r3.Vec{}
			j.Seated = fit.Seated{JunctionMM: r3.Vec{Z: 495}, Part: 0.8}
		}, "chair, schematic", "bed, schematic"},
		{"neither", func(j *fit.Job) { j.Scene.Chair.BackHingeMM = r3.Vec{} }, "person, schematic", "chair, schematic"},
		{"bed", func(j *fit.Job) { j.Passage.Bed = true }, "bed, schematic", "chair, schematic"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r := sample(t)
			job := r.Job
			tt.change(job)
			f, err := plots.View3D(r, plots.TurnedTo(r), plots.Options{})
			if err != nil {
				t.Fatal(err)
			}
			var svg bytes.Buffer
			if err := plots.WriteSVG(&svg, f); err != nil {
				t.Fatal(err)
			}
			if !strings.Contains(svg.String(), tt.shown) || strings.Contains(svg.String(), tt.never) {
				t.Errorf("the key has no %q, or has %q", tt.shown, tt.never)
			}
		})
	}
}

// TestSmallerPerson: a person of unknown size is drawn as an adult, a smaller one
// smaller.
func TestSmallerPerson(t *testing.T) {
	r := sample(t)
	job := r.Job
	drawn := func(seated fit.Seated) string {
		job.Seated = seated
		f, err := plots.Scene(r, plots.Side, plots.Options{})
		if err != nil {
			t.Fatal(err)
		}
		var svg bytes.Buffer
		if err := plots.WriteSVG(&svg, f); err != nil {
			t.Fatal(err)
		}
		return svg.String()
	}
	junction := job.Scene.Chair.BackHingeMM
	unknown, adult, child := drawn(fit.Seated{}), drawn(fit.Seated{JunctionMM: junction, Part: 1}), drawn(fit.Seated{JunctionMM: junction, Part: 0.5})
	if unknown != adult {
		t.Error("a person of unknown size is drawn otherwise than an adult")
	}
	if adult == child {
		t.Error("a person of half the size is drawn as an adult")
	}
}

// TestKeepClearNames: the key names every keep-clear zone, however many there are,
// on paper of either shape.
func TestKeepClearNames(t *testing.T) {
	r := sample(t)
	job := r.Job
	names := []string{"left armrest", "right armrest", "joystick", "trunk", "face", "left thigh", "right thigh", "tray"}
	tray := job.KeepClear[0]
	job.KeepClear = nil
	for _, name := range names {
		tray.Name = name
		job.KeepClear = append(job.KeepClear, tray)
	}
	for _, size := range []plots.Size{plots.Landscape(), {Width: plots.Landscape().Height, Height: plots.Landscape().Width}} {
		f, err := plots.Scene(r, plots.Side, plots.Options{Size: size})
		if err != nil {
			t.Fatal(err)
		}
		var svg bytes.Buffer
		if err := plots.WriteSVG(&svg, f); err != nil {
			t.Fatal(err)
		}
		for _, name := range names {
			for word := range strings.FieldsSeq(name) { // a line may end within a name
				if !strings.Contains(svg.String(), word) {
					t.Errorf("%v: the key has no %q", size, name)
				}
			}
		}
		if strings.Contains(svg.String(), "…") {
			t.Errorf("%v: something is cut", size)
		}
	}
}
