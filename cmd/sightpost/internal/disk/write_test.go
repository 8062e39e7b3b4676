package disk_test

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"sightpost/cmd/sightpost/internal/disk"
)

// root opens a folder for a test.
func root(t *testing.T, dir string) *os.Root {
	t.Helper()
	r, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { r.Close() })
	return r
}

// held returns what the files of a folder hold, but for what a killed writer leaves.
func held(t *testing.T, dir string) map[string]string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]string{}
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), ".unfinished-") {
			continue
		}
		text, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		files[e.Name()] = string(text)
	}
	return files
}

// fault sets what happens at every call that changes the disk, for one test.
func fault(t *testing.T, at func(call string) error) {
	t.Helper()
	disk.Fail(at)
	t.Cleanup(func() { disk.Fail(nil) })
}

// TestFaults lets every call fail in turn, alone and, as if killed, with all that follow, while
// files of a folder are written: alone or several, new ones and in place of others. After one
// failure the folder is as it was; after a kill every file is as it was or as it was to be,
// none of before stands beside one of after, and the last is never there without the others.
func TestFaults(t *testing.T) {
	broken := errors.New("broken")
	points := 0
	for _, names := range [][]string{{"a"}, {"a", "b"}, {"a", "b", "c", "d", "e"}} {
		for _, replaced := range []int{0, 1, len(names)} { // so many of them are there before
			for _, killed := range []bool{false, true} {
				for nth := 1; ; nth++ {
					dir := t.TempDir()
					before := map[string]string{"other": "stays"}
					var files []disk.File
					after := maps.Clone(before)
					for i, name := range names {
						if i < replaced {
							before[name] = "old"
						}
						after[name] = "new"
						files = append(files, disk.File{Name: name, Text: []byte("new"), Mode: 0o600, Replace: replaced > 0})
					}
					for name, text := range before {
						if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
							t.Fatal(err)
						}
					}
					calls, called := 0, ""
					fault(t, func(call string) error {
						if calls++; calls == nth || killed && calls > nth {
							called = call
							return broken
						}
						return nil
					})
					err := disk.Write(root(t, dir), files...)
					disk.Fail(nil)
					now := held(t, dir)
					if calls < nth { // all calls have failed in turn
						if err != nil || !maps.Equal(now, after) {
							t.Fatalf("%v, %d replaced: %v, %v", names, replaced, err, now)
						}
						break
					}
					points++
					what := fmt.Sprintf("%v, %d replaced, call %d (%s), killed %v: now %v", names, replaced, nth, called, killed, now)
					var at *fs.PathError
					switch {
					case err == nil && maps.Equal(now, after): // where no link can be made, a name can be given
					case !errors.As(err, &at), strings.Contains(at.Path, "unfinished"):
						t.Errorf("%s: %v", what, err)
					case !killed && !maps.Equal(now, before):
						t.Errorf("%s: not as it was", what)
					}
					olds, news := 0, 0
					for _, name := range names {
						switch now[name] {
						case "old":
							olds++
						case "new":
							news++
						case "":
						default:
							t.Errorf("%s: torn", what)
						}
					}
					last := names[len(names)-1]
					switch {
					case now["other"] != "stays", olds > 0 && news > 0, len(names) == 1 && len(now) < len(before):
						t.Errorf("%s: neither as it was nor as it was to be", what)
					case now[last] == "new" && news < len(names), now[last] == "old" && olds < replaced:
						t.Errorf("%s: the last is there without the others", what)
					}
					disk.Sweep(root(t, dir), 0)
					if entries, _ := os.ReadDir(dir); len(entries) != len(now) {
						t.Errorf("%s: something is left over", what)
					}
				}
			}
		}
	}
	if points < 200 {
		t.Errorf("%d faults, want 200", points)
	}
}

// TestNoLinks writes on a disk that knows no links, as many memory sticks do.
func TestNoLinks(t *testing.T) {
	dir := t.TempDir()
	fault(t, func(call string) error {
		if call == "link" {
			return errors.ErrUnsupported
		}
		return nil
	})
	r := root(t, dir)
	if err := disk.Write(r, disk.File{Name: "a", Text: []byte("first"), Mode: 0o600}); err != nil {
		t.Fatal(err)
	}
	if err := disk.Write(r, disk.File{Name: "a", Text: []byte("second"), Mode: 0o600}); !errors.Is(err, fs.ErrExist) {
		t.Errorf("got %v", err)
	}
	if now := held(t, dir); now["a"] != "first" || len(now) != 1 {
		t.Error(now)
	}
}

// TestLostName lets the name be taken between the look for it and the link.
func TestLostName(t *testing.T) {
	dir := t.TempDir()
	fault(t, func(call string) error {
		if call == "link" {
			return os.WriteFile(filepath.Join(dir, "a"), []byte("theirs"), 0o600)
		}
		return nil
	})
	if err := disk.Write(root(t, dir), disk.File{Name: "a", Text: []byte("ours"), Mode: 0o600}); !errors.Is(err, fs.ErrExist) {
		t.Errorf("got %v", err)
	}
	if now := held(t, dir); now["a"] != "theirs" || len(now) != 1 {
		t.Error(now)
	}
}

// TestNotAFile: what is no file is never replaced.
func TestNotAFile(t *testing.T) {
	dir := t.TempDir()
	r := root(t, dir)
	if err := r.Mkdir("b", 0o700); err != nil {
		t.Fatal(err)
	}
	all := []disk.File{{Name: "a", Mode: 0o600, Replace: true}, {Name: "b", Mode: 0o600, Replace: true}}
	for _, files := range [][]disk.File{all, all[1:]} {
		if err := disk.Write(r, files...); err == nil {
			t.Error("a folder was replaced")
		}
	}
	if entries, err := os.ReadDir(dir); err != nil || len(entries) != 1 {
		t.Error(entries, err)
	}
}

// TestSweepAge: what another may still be writing stays.
func TestSweepAge(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, ".unfinished-x")
	if err := os.WriteFile(name, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	disk.Sweep(root(t, dir), time.Hour)
	if _, err := os.Stat(name); err != nil {
		t.Error(err)
	}
	disk.Sweep(root(t, dir), 0)
	if _, err := os.Stat(name); err == nil {
		t.Error("it is still there")
	}
}
