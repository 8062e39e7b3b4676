package main_test

import (
	"encoding/json"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"sightpost/testdata/trials"
)

// result is what these tests read of the object.
type result struct {
	Works    bool
	MarginMM float64 `json:"margin_mm"`
	Mount    struct {
		Side     string
		Settings []struct {
			Name, Unit  string
			Value, Step float64
			Told        struct{ Name string } `json:"as_read"`
			Tolerance   ends
			// ToldTolerance is there with a ball: of the setting as told.
			ToldTolerance *ends `json:"tolerance_as_read"`
		}
	}
}

type ends struct {
	From, To end
	None     string
}

type end struct {
	Value   float64
	Posture string
}

// someCases returns shipped cases: two of the most different mounts, or in the long tests all.
func someCases() []string {
	if trials.Long() {
		return slices.Collect(maps.Keys(exitCodes))
	}
	return []string{"child", "bed-rail"}
}

// settingsOf returns what solve finds for a case, and a file with its settings.
func settingsOf(t *testing.T, file string) (r result, csv string) {
	t.Helper()
	_, solved, stderr := run(t, "solve", file, "--json")
	if err := json.Unmarshal([]byte(solved), &r); err != nil {
		t.Fatalf("%v: %s", err, stderr)
	}
	csv = filepath.Join(t.TempDir(), "settings.csv")
	if code, _, stderr := run(t, "export", file, "--as", "csv", "-o", csv); code == 2 {
		t.Fatal(stderr)
	}
	return r, csv
}

// TestSettingsPutBack solves shipped cases, puts their settings back through check as a
// person would, from the CSV, and expects the same margin.
func TestSettingsPutBack(t *testing.T) {
	for _, name := range append(someCases(), "kit-too-short") {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			file := filepath.Join(cases, name+".yaml")
			a, csv := settingsOf(t, file)
			var b result
			code, checked, stderr := run(t, "check", file, "--settings", csv, "--side", a.Mount.Side, "--json")
			if want := exitCodes[name]; code != want {
				t.Errorf("check: exit code %d, want %d: %s", code, want, stderr)
			}
			if err := json.Unmarshal([]byte(checked), &b); err != nil {
				t.Fatal(err)
			}
			// degrees are written with all their digits, and read back from them
			const same = 1e-9
			if a.Works != b.Works || math.Abs(a.MarginMM-b.MarginMM) > same {
				t.Errorf("solve: works %v, margin %.12g mm; check: %v, %.12g mm", a.Works, a.MarginMM, b.Works, b.MarginMM)
			}
		})
	}
}

// TestTolerancesHold sets the settings of shipped cases, one of three or in the long tests
// all, to either end of the printed tolerance, where all must work, and one step that can be
// read off further, where something must not.
func TestTolerancesHold(t *testing.T) {
	ends, tried := 0, someCases()
	for _, name := range tried {
		file := filepath.Join(cases, name+".yaml")
		r, csv := settingsOf(t, file)
		worksAt := func(name string, v float64, unit string) bool {
			t.Helper()
			set := name + "=" + strconv.FormatFloat(v, 'f', 9, 64) + unit
			_, text, stderr := run(t, "check", file, "--settings", csv, "--side", r.Mount.Side, "--set", set, "--json")
			var at result
			if err := json.Unmarshal([]byte(text), &at); err != nil {
				t.Fatalf("%s: check --set %s: %v: %s", file, set, err, stderr)
			}
			return at.Works
		}
		for i, s := range r.Mount.Settings {
			if i%trials.Of(3, 1) > 0 || s.Tolerance.None != "" {
				continue
			}
			if s.ToldTolerance != nil {
				s.Name, s.Tolerance = s.Told.Name, *s.ToldTolerance
			}
			for way, e := range map[float64]end{-1: s.Tolerance.From, 1: s.Tolerance.To} {
				if !worksAt(s.Name, e.Value, s.Unit) {
					t.Errorf("%s: %s does not work at the end of its tolerance, %v %s", file, s.Name, e.Value, s.Unit)
				}
				if e.Posture == "" {
					continue // the range of the setting ends there
				}
				ends++
				if worksAt(s.Name, e.Value+way*s.Step, s.Unit) {
					t.Errorf("%s: %s works still a step beyond %v %s", file, s.Name, e.Value, s.Unit)
				}
			}
		}
	}
	if ends < trials.Of(2, 5)*len(tried) { // of some ten a case, or a third: else nothing was tried
		t.Errorf("only %d ends of tolerances were passed", ends)
	}
}

// TestVaryTakesSpreadsFromCase: larger errors in the case make fewer draws track.
func TestVaryTakesSpreadsFromCase(t *testing.T) {
	shipped, err := os.ReadFile(cases + "/child.yaml")
	if err != nil {
		t.Fatal(err)
	}
	folder, err := filepath.Abs(kits)
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Replace(string(shipped), "../kits", filepath.ToSlash(folder), 1)
	still := text + "uncertainty: {eyes: {forward: {normal: 0}, left: {normal: 0}, up: {normal: 0}}}\n"
	shaky := text + "uncertainty: {eyes: {forward: {normal: 60 mm}}}\n"
	tracks := func(text string) float64 {
		file := filepath.Join(t.TempDir(), "case.yaml")
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		_, out, stderr := run(t, "vary", file, "--simulations", "200", "--json")
		var v struct{ Together struct{ Tracks float64 } }
		if err := json.Unmarshal([]byte(out), &v); err != nil {
			t.Fatalf("%v: %s", err, stderr)
		}
		return v.Together.Tracks
	}
	if calm, wild := tracks(still), tracks(shaky); !(wild < calm) {
		t.Errorf("tracks in %v of draws with eyes 60 mm off, in %v with exact eyes", wild, calm)
	}
}
