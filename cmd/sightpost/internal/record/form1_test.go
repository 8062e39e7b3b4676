package record_test

import (
	"bytes"
	"math"
	"os"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/record"
	"sightpost/cmd/sightpost/internal/text"
)

// TestFirstFormWorks lists, shows, evaluates again and compares two records of the
// first form, as the program of that form filed them: invented, of a driver.
func TestFirstFormWorks(t *testing.T) {
	folder := t.TempDir()
	if err := os.CopyFS(folder, os.DirFS("testdata/form-1")); err != nil {
		t.Fatal(err)
	}
	f := open(t, folder)
	list, failed := f.List("bench-18")
	if len(failed) > 0 || len(list.Records) != 2 {
		t.Fatalf("listed %v, failed %v", list.Records, failed)
	}
	var both []record.Assessment
	for _, l := range list.Records {
		n, err := record.ParseName(l.Name)
		if err != nil {
			t.Fatal(err)
		}
		r, err := f.Read("bench-18", n)
		if err != nil || r.Edited {
			t.Fatal(err, r.Edited)
		}
		var shown bytes.Buffer
		d, err := answer.Filed(t.Context(), r)
		if err != nil {
			t.Fatal(err)
		}
		if err := text.Write(&shown, d, text.Options{}); err != nil || !strings.Contains(shown.String(), "elbow elevation") {
			t.Errorf("%v: shown as\n%s", err, &shown)
		}
		a, err := answer.Reevaluate(t.Context(), r)
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range r.Result.Postures {
			const rounded = 0.001 // mm, by the file
			if now := a.Result.Postures[i].MarginMM; math.Abs(now-p.MarginMM) > rounded {
				t.Errorf("%s, %s: margin %g mm now, %g mm filed", l.Name, p.Posture, now, p.MarginMM)
			}
		}
		both = append(both, a)
	}
	c, err := record.Compare(t.Context(), both[0], both[1])
	if err != nil {
		t.Fatal(err)
	}
	if len(c.Remarks) > 0 {
		t.Errorf("remarks: %q", c.Remarks)
	}
	told := make(map[string]bool)
	for _, ch := range append(c.Person, c.Things...) {
		told[ch.Key] = true
	}
	for _, key := range []string{"measured.eyes.forward", "measured.eyes.up", "person.gaze_range.left", "preferences.safety_factor"} {
		if !told[key] {
			t.Errorf("the change of %s is not told", key)
		}
	}
}

// TestFirstFormTexts reads a case and a kit in keys of the first form.
func TestFirstFormTexts(t *testing.T) {
	text, err := os.ReadFile("testdata/form-1/bench-18/2026-09-14.yaml")
	if err != nil {
		t.Fatal(err)
	}
	r, err := record.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"  gaze_range: {left: 27 deg,", "grid: {rows: 4, columns: 6, gap: 8 mm}", "    clearance: 30 mm\n", "      rotation: 10 deg\n",
		"name: elbow.elevation, angle: {uniform: 2 deg}}   # a scale", "  safety_factor: 1.6\n", "thighs: {spacing: 180 mm, thickness: 155 mm}",
		"    tilt: 3 deg\n", "glasses: {lens_slant", "display: {", "housing: {", "  shock_factor: 2.5 ",
	} {
		if !strings.Contains(r.Case, want) {
			t.Errorf("the case lacks %q:\n%s", want, r.Case)
		}
	}
	for _, want := range []string{
		"material: aluminum-6082-T6", "extension: {from: 80 mm,", "slip_force: 300 N}", "preferred: 500 mm, slip_force: 400 N}",
		"slip_torque: 30 N m, compliance: 0.02 deg", "      position_slip_force: 400 N", "pan_to_elevation: {ahead", "elevation_to_end: {ahead",
	} {
		if !strings.Contains(r.Kit, want) {
			t.Errorf("the kit lacks %q:\n%s", want, r.Kit)
		}
	}
}
