package record

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
)

// TestNoLinks files on a disk that knows no links, as many memory sticks do.
func TestNoLinks(t *testing.T) {
	dir := t.TempDir()
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	w := writer{dir: root, link: func(string, string) error { return errors.ErrUnsupported }}
	for _, want := range []string{"2026-11-25", "2026-11-25-2"} {
		n, err := w.write("2026-11-25", []byte(want))
		if err != nil || n.String() != want {
			t.Fatalf("%s, %v; want %s", n, err, want)
		}
	}
	for _, want := range []string{"2026-11-25", "2026-11-25-2"} {
		if text, err := os.ReadFile(filepath.Join(dir, want+ending)); err != nil || string(text) != want {
			t.Errorf("%s holds %q, %v", want, text, err)
		}
	}
	if entries, err := os.ReadDir(dir); err != nil || len(entries) != 2 {
		t.Errorf("%d files, %v; want 2", len(entries), err)
	}
}

// TestLostName lets the name be taken between the look for it and the link.
func TestLostName(t *testing.T) {
	dir := t.TempDir()
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	raced := false
	w := writer{dir: root, link: func(from, to string) error {
		if !raced {
			raced = true
			if err := os.WriteFile(filepath.Join(dir, to), []byte("theirs"), 0o644); err != nil {
				t.Error(err)
			}
		}
		return root.Link(from, to)
	}}
	n, err := w.write("2026-11-25", []byte("ours"))
	if err != nil || n.Nth != 2 {
		t.Fatalf("%s, %v", n, err)
	}
	if text, err := os.ReadFile(filepath.Join(dir, "2026-11-25.yaml")); err != nil || string(text) != "theirs" {
		t.Errorf("now it holds %q, %v", text, err)
	}
}
