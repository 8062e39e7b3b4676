package casefile_test

import (
	"bytes"
	"errors"
	"flag"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/plots/units"
)

//go:generate go test . -update

var update = flag.Bool("update", false, "rewrite the golden messages")

// starterKit opens the starter's kit under its name, and no other file.
func starterKit(kit string) (io.ReadCloser, error) {
	_, text := casefile.Starter(units.MM)
	if kit != "kit.yaml" {
		return nil, fs.ErrNotExist
	}
	return io.NopCloser(bytes.NewReader(text)), nil
}

// TestProblems compares the messages for every file in testdata/bad with the text
// beside it; with -update it writes them again.
func TestProblems(t *testing.T) {
	paths, err := filepath.Glob("testdata/bad/*.yaml")
	if err != nil || len(paths) == 0 {
		t.Fatalf("no bad files: %v", err)
	}
	for _, path := range paths {
		name := filepath.Base(path)
		t.Run(name, func(t *testing.T) {
			text, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			golden(t, strings.TrimSuffix(path, ".yaml")+".txt", problemsOf(t, name, text)+"\n")
		})
	}
}

// TestPlacesWithOtherEndsOfLines: a file says the same of its problems, at the same
// places, whichever system's editor wrote it.
func TestPlacesWithOtherEndsOfLines(t *testing.T) {
	paths, err := filepath.Glob("testdata/bad/*.yaml")
	if err != nil || len(paths) == 0 {
		t.Fatalf("no bad files: %v", err)
	}
	for _, path := range paths {
		name := filepath.Base(path)
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		want := problemsOf(t, name, text)
		for end, by := range map[string]string{"CRLF": "\r\n", "CR": "\r"} {
			other := bytes.ReplaceAll(text, []byte("\n"), []byte(by))
			if diff := cmp.Diff(want, problemsOf(t, name, other)); diff != "" {
				t.Errorf("%s with %s (-LF +%s):\n%s", name, end, end, diff)
			}
		}
	}
}

// TestFarLimitAlone: what is wrong beside the far limit is told although the near limit
// cannot be read, and not of limits that are out of order.
func TestFarLimitAlone(t *testing.T) {
	caseText, _ := casefile.Starter(units.MM)
	text := strings.Replace(string(caseText), "  # face_clearance: 200 mm ", "  face_clearance: 800 mm ", 1)
	const tooFar = "preferences.face_clearance: found \"800 mm\", expected less than the tracker's far limit, 750 mm"
	for near, told := range map[string]bool{"500 mm": true, "5 stone": true, "900 mm": false} {
		bad := strings.Replace(text, "  near: 500 mm", "  near: "+near, 1)
		if got := problemsOf(t, "case.yaml", []byte(bad)); strings.Contains(got, tooFar) != told {
			t.Errorf("near %s: %s", near, got)
		}
	}
}

// problemsOf reads a bad case or kit and returns what is wrong with it.
func problemsOf(t *testing.T, name string, text []byte) string {
	t.Helper()
	var err error
	if strings.HasSuffix(name, ".kit.yaml") {
		_, err = casefile.ReadKit(name, bytes.NewReader(text))
	} else {
		_, err = casefile.Read(name, bytes.NewReader(text), starterKit)
	}
	var problems casefile.Errors
	if !errors.As(err, &problems) {
		t.Fatalf("%s: Read = %v, want Errors", name, err)
	}
	return err.Error()
}

func golden(t *testing.T, path, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("messages differ from %s (-want +got):\n%s", path, diff)
	}
}
