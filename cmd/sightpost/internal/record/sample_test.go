package record_test

import (
	"os"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/record"
)

// sample returns an invented record.
func sample(code string, day record.Day) *record.Record {
	return &record.Record{
		Version: record.Version, Tool: "v0.0.0-test", Code: code, Day: day, Kind: document.Check, Side: "left",
		Settings: []record.Setting{{Name: "post.height", Value: 412.5, Unit: "mm"}, {Name: "joint.tilt", Value: -12, Unit: "deg"}},
		Result: record.Result{
			Works: true, MarginMM: 31.25, LimitingPosture: "upright", Limiting: "too far",
			Screen:   record.Screen{Posture: "upright", ForwardMM: 700, UpMM: 1100.5, TiltDeg: 12.125, FromEyesMM: 600},
			Postures: []record.PostureResult{{Posture: "upright", MustWork: true, MarginMM: 31.25, Limiting: "too far"}},
		},
		Note: "Invented.\n",
		Case: "# An invented case: no person.\nlabel: bench-1\n\nnested:\n  - 'a: b' # not read here\n\n",
		Kit:  "  sightpost_kit: 1 # indented from its first line on\n\ttab\n",
	}
}

// encoded returns the file of a record.
func encoded(t testing.TB, r *record.Record) []byte {
	t.Helper()
	text, err := record.Encode(r)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// open opens a folder of records, made for the test.
func open(t testing.TB, path string) *record.Folder {
	t.Helper()
	f, err := record.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := f.Close(); err != nil {
			t.Error(err)
		}
	})
	return f
}

// file files a record and returns its name.
func file(t testing.TB, f *record.Folder, r *record.Record) record.Name {
	t.Helper()
	n, err := f.File(t.Context(), r)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// leftovers returns the files in a folder of a code that are neither records nor
// the lock.
func leftovers(t testing.TB, folder string) []string {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	var left []string
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ".yaml") && e.Name() != ".lock" {
			left = append(left, e.Name())
		}
	}
	return left
}
