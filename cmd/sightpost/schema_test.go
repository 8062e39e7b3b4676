package main_test

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"sightpost/testdata/trials"
)

// TestObjectsFitTheirSchemas runs every command that computes and holds what --json
// gives against the schema that it names.
func TestObjectsFitTheirSchemas(t *testing.T) {
	names := []string{"child", "tilt-two-postures", "bed-rail", "kit-too-short"}
	for _, name := range names[:trials.Of(1, len(names))] {
		file := filepath.Join(cases, name+".yaml")
		r, csv := settingsOf(t, file)
		kits, err := filepath.Glob(kits + "/two-tube-s*.yaml")
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
			{"vary", append([]string{"vary", file, "--simulations", "20"}, set...)},
			{"refit", append([]string{"refit", file, "--margin", "150mm", "--before", file}, set...)},
			{"match", append([]string{"match", file, "--simulations", "20", "--sides"}, kits...)},
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
	const at = "urn:schema" // and no path: it may hold a space
	if err := c.AddResource(at, parsed(t, text)); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile(at)
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

// TestRecordsFitTheirSchemas files shipped cases twice and holds what is told of
// the records against the published schemas.
func TestRecordsFitTheirSchemas(t *testing.T) {
	names := []string{"child", "tilt-two-postures", "bed-rail", "kit-too-short"}
	for _, name := range names[:trials.Of(1, len(names))] {
		t.Run(name, func(t *testing.T) {
			in := t.TempDir()
			for _, day := range []string{"2026-10-14", "2026-11-25"} {
				if code, _, stderr := run(t, "record", "file", filepath.Join(cases, name+".yaml"), "--in", in, "--code", "bench", "--date", day); code == 2 {
					t.Fatal(stderr)
				}
			}
			for schema, command := range map[string]string{"record": "show", "records": "list", "comparison": "compare"} {
				code, object, stderr := run(t, "record", command, "bench", "--in", in, "--json")
				if code != 0 || stderr != "" {
					t.Fatalf("%s: exit code %d, %s", command, code, stderr)
				}
				if err := published(t, schema).Validate(parsed(t, object)); err != nil {
					t.Errorf("%s: %v", command, err)
				}
			}
		})
	}
}
