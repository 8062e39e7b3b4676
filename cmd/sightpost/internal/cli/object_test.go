package cli_test

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"sightpost/cmd/sightpost/internal/cli"
)

const shipped = "../../../../testdata"

// run runs the program in this process.
func run(t *testing.T, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	var out, err bytes.Buffer
	code = cli.Run(context.Background(), args, cli.Streams{In: strings.NewReader(""), Out: &out, Err: &err})
	return code, out.String(), err.String()
}

// settingsOf returns a file with the settings that solve finds for a case, and the
// side on which it clamps the mount.
func settingsOf(t *testing.T, file string) (csv string, r result) {
	t.Helper()
	_, solved, stderr := run(t, "solve", file, "--json")
	if err := json.Unmarshal([]byte(solved), &r); err != nil {
		t.Fatalf("%v: %s", err, stderr)
	}
	csv = filepath.Join(t.TempDir(), "settings.csv")
	if code, _, stderr := run(t, "export", file, "--as", "csv", "-o", csv); code == 2 {
		t.Fatal(stderr)
	}
	return csv, r
}

// result is what these tests read of the object.
type result struct {
	Works bool `json:"works"`
	Mount struct {
		Side     string
		Settings []struct {
			Name, Unit  string
			Value, Step float64
			Told        struct{ Name string }
			Tolerance   ends
			// ToldTolerance is there with a ball: of the setting as told.
			ToldTolerance *ends `json:"told_tolerance"`
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

// TestObjectsFitTheirSchemas runs every command that computes and holds what --json
// gives against the schema that it names.
func TestObjectsFitTheirSchemas(t *testing.T) {
	names := []string{"base-two-postures", "upright-adult", "kit-too-short"}
	if os.Getenv("SIGHTPOST_LONG") == "" {
		names = names[:1]
	}
	for _, name := range names {
		file := filepath.Join(shipped, "cases", name+".yaml")
		csv, r := settingsOf(t, file)
		kits, err := filepath.Glob(shipped + "/kits/two-tube-s*.yaml")
		if err != nil || len(kits) < 2 {
			t.Fatalf("%d kits, %v", len(kits), err)
		}
		set := []string{"--settings", csv, "--side", r.Mount.Side}
		for _, row := range []struct {
			schema string
			args   []string
		}{
			{"result", []string{"solve", file}},
			{"result", append([]string{"check", file}, set...)},
			{"vary", append([]string{"vary", file, "--simulations", "500"}, set...)},
			{"refit", append([]string{"refit", file, "--margin", "150mm", "--before", file}, set...)},
			{"match", append([]string{"match", file, "--simulations", "500", "--sides"}, kits...)},
		} {
			t.Run(name+"/"+row.args[0], func(t *testing.T) {
				code, text, stderr := run(t, append(row.args, "--json")...)
				if code == 2 {
					t.Fatal(stderr)
				}
				if err := published(t, row.schema).Validate(parsed(t, text)); err != nil {
					t.Error(err)
				}
			})
		}
	}
}

// published returns the schema that the program prints.
func published(t *testing.T, name string) *jsonschema.Schema {
	t.Helper()
	_, text, _ := run(t, "schema", name)
	c := jsonschema.NewCompiler()
	if err := c.AddResource("schema.json", parsed(t, text)); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("schema.json")
	if err != nil {
		t.Fatal(err)
	}
	if s.Validate(map[string]any{}) == nil {
		t.Fatalf("schema %s accepts an empty object", name)
	}
	return s
}

// parsed returns what one JSON object says; anything after it fails the test.
func parsed(t *testing.T, text string) any {
	t.Helper()
	object, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
	if err != nil {
		t.Fatalf("%v in %.200s", err, text)
	}
	return object
}

// TestTolerancesHold sets each setting of every shipped case to either end of its
// printed tolerance, where all must work, and one step that can be read off further,
// where something must not.
func TestTolerancesHold(t *testing.T) {
	files, err := filepath.Glob(shipped + "/cases/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no cases: %v", err)
	}
	if os.Getenv("SIGHTPOST_LONG") == "" {
		files = files[:min(len(files), 3)]
	}
	ends := 0
	for _, file := range files {
		csv, r := settingsOf(t, file)
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
		for _, s := range r.Mount.Settings {
			if s.Tolerance.None != "" {
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
	if ends < 5*len(files) { // of some ten a case: else nothing was tried
		t.Errorf("only %d ends of tolerances were passed", ends)
	}
}

// TestVaryTakesSpreadsFromCase: larger errors in the case make fewer draws track.
func TestVaryTakesSpreadsFromCase(t *testing.T) {
	bench, err := os.ReadFile("testdata/bench/case.yaml")
	if err != nil {
		t.Fatal(err)
	}
	kit, err := filepath.Abs("testdata/bench/kit.yaml")
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Replace(string(bench), "kit: kit.yaml", "kit: "+strconv.Quote(filepath.ToSlash(kit)), 1)
	still := text + "uncertainty: {eyes: {forward: {normal: 0}, left: {normal: 0}, up: {normal: 0}}}\n"
	shaky := text + "uncertainty: {eyes: {forward: {normal: 60 mm}}}\n"
	tracks := func(text string) float64 {
		file := filepath.Join(t.TempDir(), "case.yaml")
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		_, out, stderr := run(t, "vary", file, "--simulations", "2000", "--json")
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
