package record_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/disk"
	"sightpost/cmd/sightpost/internal/record"
)

// TestTake takes records and their marks over, and nothing that would stand in their way.
func TestTake(t *testing.T) {
	from := t.TempDir()
	f := open(t, from)
	n := file(t, f, sample("bench-1", "2026-10-14"))
	const note = "- \"left\": 5 % # &a *b\n\ttwo lines: {x}, |\n"
	if err := f.Mark(t.Context(), "bench-1", n, record.Mark{Withdrawn: true, Note: note}); err != nil {
		t.Fatal(err)
	}
	good, err := f.Files("bench-1")
	if err != nil || len(good) != 2 {
		t.Fatalf("%d files, %v", len(good), err)
	}
	const mark = "bench-1/2026-10-14.mark.yaml"
	for what, files := range map[string][]disk.File{
		"a mark of nothing":      {good[1]},
		"a mark of another":      {good[0], {Name: "bench-1/2026-10-15.mark.yaml", Text: good[1].Text}},
		"a mark with no day":     {good[0], {Name: "bench-1/x.mark.yaml", Text: good[1].Text}},
		"what is no mark":        {good[0], {Name: mark, Text: []byte("\x00")}},
		"a mark of other keys":   {good[0], {Name: mark, Text: []byte("a: b\n")}},
		"a mark of other values": {good[0], {Name: mark, Text: []byte("withdrawn: {}\n")}},
		"a large mark":           {good[0], {Name: mark, Text: []byte("note: " + strings.Repeat("x", 3<<20) + "\n")}},
		"another file":           {good[0], {Name: "bench-1/run.exe"}},
		"another code":           {good[0], {Name: "bench-2/2026-10-14.yaml", Text: good[0].Text}},
		"what is no record":      {{Name: good[0].Name, Text: good[1].Text}},
		"another day":            {{Name: "bench-1/2026-10-15.yaml", Text: good[0].Text}},
	} {
		to := t.TempDir()
		if _, err := open(t, to).Take(t.Context(), "bench-1", files); err == nil {
			t.Errorf("%s: taken", what)
		}
		if got := contents(t, to); got != contents(t, t.TempDir()) {
			t.Errorf("%s: left %s", what, got)
		}
	}
	to := t.TempDir()
	other := open(t, to)
	for _, want := range []int{1, 0} {
		if got, err := other.Take(t.Context(), "bench-1", good); got != want || err != nil {
			t.Errorf("took %d, %v, want %d", got, err, want)
		}
	}
	if r, err := other.Read("bench-1", n); err != nil || !r.Withdrawn || r.Note != note || r.Edited {
		t.Errorf("read %+v, %v", r, err)
	}
	put(t, filepath.Join(to, mark), "x")
	if _, err := other.Read("bench-1", n); err == nil || !strings.Contains(err.Error(), filepath.FromSlash(mark)+": ") {
		t.Errorf("a broken mark: %v", err)
	}
	for _, file := range good {
		here := filepath.Join(from, file.Name)
		if err := os.Rename(here, here+".moved"); err != nil {
			t.Fatal(err)
		}
		link(t, here+".moved", here)
		if _, err := f.Files("bench-1"); !errors.Is(err, disk.ErrLink) {
			t.Errorf("%s is a link: %v", file.Name, err)
		}
		if err := os.Rename(here+".moved", here); err != nil {
			t.Fatal(err)
		}
	}
	if err := f.Mark(t.Context(), "bench-1", n, record.Mark{Note: strings.Repeat("x", 3<<20)}); err == nil {
		t.Error("a note is written that cannot be read")
	}
}
