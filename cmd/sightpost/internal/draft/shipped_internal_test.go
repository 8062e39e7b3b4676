package draft

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/casefile"
)

// shipped returns the cases that everything must work with.
func shipped(t testing.TB) map[string]string {
	t.Helper()
	files, err := filepath.Glob("../../../../testdata/cases/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no cases: %v", err)
	}
	all := map[string]string{}
	for _, file := range append(files, "../casefile/starter/mm/case.yaml") {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		all[filepath.Base(file)] = string(text)
	}
	return all
}

// TestShippedCases changes and removes every entry of every shipped case, one at a
// time, and looks at the lines that change.
func TestShippedCases(t *testing.T) {
	form := casefile.Fields()
	for name, text := range shipped(t) {
		t.Run(name, func(t *testing.T) {
			d, err := Read(name, text, &form)
			if err != nil {
				t.Fatal(err)
			}
			if got := d.Text(); got != text {
				t.Fatal("the text does not come back")
			}
			for path, n := range d.nodes {
				if n.kind == word {
					set(t, d, path)
				}
				remove(t, d, path)
			}
		})
	}
}

// set changes one word.
func set(t *testing.T, d Draft, path string) {
	t.Helper()
	next, err := d.Set(path, "7.5 cm")
	if err != nil {
		t.Errorf("%v", err)
		return
	}
	if strings.HasPrefix(d.text[d.nodes[path].from:], "|") { // a block of several lines
		return
	}
	was, is := strings.Split(d.Text(), "\n"), strings.Split(next.Text(), "\n")
	changed := 0
	for i := range was {
		if i >= len(is) || was[i] != is[i] {
			changed++
		}
	}
	if changed != 1 || len(was) != len(is) {
		t.Errorf("%s: %d lines of %d changed", path, changed, len(was))
	}
}

// remove removes one entry.
func remove(t *testing.T, d Draft, path string) {
	t.Helper()
	next, err := d.Remove(path)
	if path == "" {
		if !errors.Is(err, ErrEntry) {
			t.Errorf("the whole was removed: %v", err)
		}
		return
	}
	if err != nil {
		t.Errorf("%v", err)
		return
	}
	was := strings.Split(d.Text(), "\n")
	for _, line := range strings.Split(next.Text(), "\n") {
		if !slices.Contains(was, line) && !strings.ContainsAny(line, "{}") && !strings.Contains(line, "- ") {
			t.Errorf("%s: new line %q", path, line)
		}
	}
}

// FuzzSet checks that a change changes nothing else, whatever the text.
func FuzzSet(f *testing.F) {
	for _, text := range shipped(f) {
		f.Add(text, "measured.eyes.up", "46 in")
		f.Add(text, "postures[2].name", "a: b # c")
	}
	f.Add("a: {b: 1, c: [1, 2]}\nd: >\n  x\n  y\n", "d", "x\ny")
	form := casefile.Fields()
	f.Fuzz(func(t *testing.T, text, path, value string) {
		d, err := Read("fuzz", text, &form)
		if err != nil {
			return
		}
		next, err := d.Set(path, value)
		if err != nil {
			return
		}
		if got, ok := next.Word(path); !ok || got != value {
			t.Errorf("%q reads back as %q, %t", value, got, ok)
		}
		if _, err := next.Remove(path); err != nil && !errors.Is(err, ErrEntry) {
			t.Error(err)
		}
	})
}
