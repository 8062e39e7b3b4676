package plots_test

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"

	"sightpost/plots"
)

// contactColumns is how many drawings stand in a row of a contact sheet.
const contactColumns = 8

// drawings returns the keys of all drawings that differ: those of a posture are the
// same as those of the measured sitting.
func drawings() []string {
	return slices.DeleteFunc(plots.Measured(), func(key string) bool {
		return strings.HasPrefix(key, "postures.") && key != "postures.slump"
	})
}

// contact draws all drawings of measures on c, in the order of their keys.
func contact(t *testing.T, c vg.Canvas, height vg.Length) {
	t.Helper()
	for i, key := range drawings() {
		f, ok := plots.Measure(key)
		if !ok {
			t.Fatalf("%s has no drawing", key)
		}
		c.Push()
		c.Translate(vg.Point{
			X: f.Size.Width * vg.Length(i%contactColumns),
			Y: height - f.Size.Height*vg.Length(i/contactColumns+1),
		})
		f.DrawOn(c)
		c.Pop()
	}
}

// contactSize returns the size of a contact sheet of all measures.
func contactSize() (w, h vg.Length) {
	rows := (len(drawings()) + contactColumns - 1) / contactColumns
	return 120 * contactColumns, 90 * vg.Length(rows)
}

// TestMeasuresGolden compares all drawings of measures on one sheet with the one
// that was looked at. SIGHTPOST_CONTACT names a file for a picture of it.
func TestMeasuresGolden(t *testing.T) {
	w, h := contactSize()
	svg := vgsvg.New(w, h)
	contact(t, svg, h)
	var got bytes.Buffer
	if _, err := svg.WriteTo(&got); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join("testdata", "measures.svg")
	if *update {
		if err := os.WriteFile(path, got.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got.Bytes(), want) {
		t.Errorf("the drawings differ from %s; run with -update and look at them", path)
	}
	if name := os.Getenv("SIGHTPOST_CONTACT"); name != "" {
		img := vgimg.PngCanvas{Canvas: vgimg.NewWith(vgimg.UseWH(w, h), vgimg.UseDPI(120))}
		contact(t, img, h)
		var picture bytes.Buffer
		if _, err := img.WriteTo(&picture); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, picture.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// TestMeasuresSpeak checks that every drawing says in words of its own what its
// arrow shows, is of one small size, and can be written.
func TestMeasuresSpeak(t *testing.T) {
	said := make(map[string]string)
	for _, key := range drawings() {
		f, ok := plots.Measure(key)
		if !ok {
			t.Fatalf("%s has no drawing", key)
		}
		if other := said[f.Title]; other != "" || len(f.Title) < 15 {
			t.Errorf("%s is titled %q, as is %q", key, f.Title, other)
		}
		said[f.Title] = key
		if !strings.Contains(f.Desc, f.Title) || !strings.Contains(f.Desc, "not to scale") || len(f.Desc) < 60 {
			t.Errorf("%s is described as %q", key, f.Desc)
		}
		if f.Size != (plots.Size{Width: 120, Height: 90}) {
			t.Errorf("%s is %v large", key, f.Size)
		}
		var svg bytes.Buffer
		if err := plots.WriteInlineSVG(&svg, f, "m"); err != nil {
			t.Errorf("%s: %v", key, err)
		}
		if n := svg.Len(); n > 15000 || strings.Contains(svg.String(), "NaN") {
			t.Errorf("%s: %d bytes of SVG, or a number that is none", key, n)
		}
	}
}

// TestMeasuresDiffer checks that no two drawings show the same lines: titles aside,
// every measure is seen to be another.
func TestMeasuresDiffer(t *testing.T) {
	same := make(map[string]string)
	for _, key := range drawings() {
		f, ok := plots.Measure(key)
		if !ok {
			t.Fatalf("%s has no drawing", key)
		}
		svg := vgsvg.New(f.Size.Width, f.Size.Height)
		f.DrawOn(svg)
		var drawn bytes.Buffer
		if _, err := svg.WriteTo(&drawn); err != nil {
			t.Fatal(err)
		}
		if other := same[drawn.String()]; other != "" {
			t.Errorf("%s is drawn as %s is", key, other)
		}
		same[drawn.String()] = key
	}
}

// TestMeasureKeys looks up drawings by the keys of entries of postures and lists.
func TestMeasureKeys(t *testing.T) {
	for key, same := range map[string]string{
		"postures.3.head.flexion":          "measured.head.flexion",
		"postures[0].seat_tilt":            "measured.seat_tilt",
		"postures.0.slump":                 "postures.slump",
		"keep_clear.12.capsule.from.up":    "keep_clear.capsule.from.up",
		"keep_clear[1].box.middle.forward": "keep_clear.box.middle.forward",
	} {
		got, ok := plots.Measure(key)
		want, wanted := plots.Measure(same)
		if !ok || !wanted || got.Title != want.Title {
			t.Errorf("%s: %q (%v), want that of %s: %q", key, got.Title, ok, same, want.Title)
		}
	}
	for _, key := range []string{"", "label", "postures.0.name", "measured", "measured.eyes", "..", "0"} {
		if f, ok := plots.Measure(key); ok {
			t.Errorf("%q has the drawing %q", key, f.Title)
		}
	}
}
