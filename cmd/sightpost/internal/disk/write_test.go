package disk_test

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"sightpost/cmd/sightpost/internal/disk"
	"sightpost/testdata/trials"
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

// held returns what the files in a folder hold, but for what a killed writer leaves.
func held(t *testing.T, dir string) map[string]string {
	t.Helper()
	files, in := map[string]string{}, os.DirFS(dir)
	err := fs.WalkDir(in, ".", func(name string, e fs.DirEntry, err error) error {
		switch left := strings.HasPrefix(e.Name(), ".un"); {
		case left && e.IsDir():
			return fs.SkipDir
		case err != nil || left || e.IsDir():
			return err
		}
		text, err := fs.ReadFile(in, name)
		files[name] = string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// fault sets what happens at every call that changes the disk, for one test.
func fault(t *testing.T, at func(call string) error) {
	t.Helper()
	disk.Fail(at)
	t.Cleanup(func() { disk.Fail(nil) })
}

// ways are how calls fail from the nth on: alone, with all that follow as if killed, or with
// some of those that undo it.
var ways = map[string]func(call, nth int) bool{
	"alone":            func(call, nth int) bool { return call == nth },
	"killed":           func(call, nth int) bool { return call >= nth },
	"every second":     func(call, nth int) bool { return call >= nth && (call-nth)%2 == 0 },
	"and the one next": func(call, nth int) bool { return call == nth || call == nth+1 },
	"and one soon":     func(call, nth int) bool { return call == nth || call == nth+4 },
}

// TestFaults lets every call fail in turn, in several ways, while files are written, in a folder
// and in one within it: alone or several, new ones and in place of others, where links can be made
// and where not. After one failure the folder is as it was. After a kill every file is whole, none
// of before stands beside one of after, and the last is never there without the others; the next
// Sweep makes the folder as it was or as it was to be, wherever it is killed itself the first time.
func TestFaults(t *testing.T) {
	points := 0
	for _, names := range [][]string{{"a"}, {"a", "in/b"}} {
		for _, replaced := range slices.Compact([]int{0, 1, len(names)}) { // so many of them are there before
			for way, fails := range ways {
				for _, links := range []bool{true, false} {
					if !links && way != "alone" && way != "killed" {
						continue
					}
					first := 1 // of every second call in the quick tests, of the others in another way
					if !trials.Long() {
						first += len(way) % 2
					}
					for nth := first; faulted(t, names, replaced, way, fails, links, nth); nth += trials.Of(2, 1) {
						points++
					}
				}
			}
		}
	}
	if least := trials.Of(200, 400); points < least {
		t.Errorf("%d faults, want %d", points, least)
	}
}

// faulted writes files while the nth call fails, and reports whether there was one.
func faulted(t *testing.T, names []string, replaced int, way string, fails func(call, nth int) bool, links bool, nth int) bool {
	t.Helper()
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
	if err := os.Mkdir(filepath.Join(dir, "in"), 0o700); err != nil {
		t.Fatal(err)
	}
	for name, text := range before {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	calls, called := 0, ""
	fault(t, func(call string) error {
		if calls++; fails(calls, nth) {
			if calls == nth {
				called = call
			}
			return errors.New("broken")
		}
		if call == "link" && !links {
			return errors.ErrUnsupported
		}
		return nil
	})
	err := disk.Write(root(t, dir), files...)
	disk.Fail(nil)
	now := held(t, dir)
	what := fmt.Sprintf("%v, %d replaced, links %v, call %d (%s), %s: now %v", names, replaced, links, nth, called, way, now)
	var at *fs.PathError
	switch {
	case err == nil && maps.Equal(now, after): // what failed was done in another way, or is to be tidied
	case !errors.As(err, &at), strings.Contains(at.Path, "unfinished"):
		t.Errorf("%s: %v", what, err)
	case way == "alone" && !maps.Equal(now, before):
		t.Errorf("%s: not as it was", what)
	}
	if left, _ := filepath.Glob(filepath.Join(dir, ".undo-*")); len(left) > 0 && !maps.Equal(now, before) &&
		!strings.Contains(err.Error(), filepath.Base(left[0])) {
		t.Errorf("%s: %v does not say where the old ones are", what, err)
	}
	olds, news := count(now, "old"), count(now, "new")
	last := names[len(names)-1]
	switch {
	case now["other"] != "stays", olds > 0 && news > 0, olds+news+1 != len(now):
		t.Errorf("%s: neither as it was nor as it was to be", what)
	case now[last] == "new" && news < len(names), now[last] == "old" && olds < replaced:
		t.Errorf("%s: the last is there without the others", what)
	}
	whole := maps.Equal(now, after)
	swept := 0
	disk.Fail(func(string) error {
		if swept++; swept > nth%7 {
			return errors.New("killed again")
		}
		return nil
	})
	disk.Sweep(root(t, dir), 0)
	disk.Fail(nil)
	disk.Sweep(root(t, dir), 0)
	if now = held(t, dir); !maps.Equal(now, before) && !maps.Equal(now, after) {
		t.Errorf("%s: swept to %v", what, now)
	} else if whole && !maps.Equal(now, after) {
		t.Errorf("%s: whole, it was put back", what)
	}
	if left, _ := filepath.Glob(filepath.Join(dir, ".un*")); len(left) > 0 {
		t.Errorf("%s: %q is left over", what, left)
	}
	return calls >= nth
}

// count returns how many files hold a text.
func count(files map[string]string, text string) (n int) {
	for _, is := range files {
		if is == text {
			n++
		}
	}
	return n
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

// TestTaken: a name that another writer takes while several are given theirs stays with that.
func TestTaken(t *testing.T) {
	dir := t.TempDir()
	r := root(t, dir)
	files := []disk.File{{Name: "a", Replace: true}, {Name: "b", Replace: true}}
	for i := range files {
		files[i].Mode, files[i].Text = 0o600, []byte("old")
		if err := disk.Write(r, files[i]); err != nil {
			t.Fatal(err)
		}
		files[i].Text = []byte("new")
	}
	links := 0
	fault(t, func(call string) error {
		if call == "link" {
			if links++; links == 2 {
				return os.WriteFile(filepath.Join(dir, "b"), []byte("theirs"), 0o600)
			}
		}
		return nil
	})
	if err := disk.Write(r, files...); !errors.Is(err, fs.ErrExist) {
		t.Errorf("got %v", err)
	}
	if now := held(t, dir); now["a"] != "old" || now["b"] != "theirs" {
		t.Error(now)
	}
}

// TestSweptWhileWriting: a writer whose stage another sweeps fails or is done, and loses nothing.
func TestSweptWhileWriting(t *testing.T) {
	for nth := 1; ; nth++ {
		dir := t.TempDir()
		r := root(t, dir)
		var files []disk.File
		for _, name := range []string{"a", "b", "c"} {
			if err := os.WriteFile(filepath.Join(dir, name), []byte("old"), 0o600); err != nil {
				t.Fatal(err)
			}
			files = append(files, disk.File{Name: name, Text: []byte("new"), Mode: 0o600, Replace: true})
		}
		calls := 0
		fault(t, func(string) error {
			if calls++; calls == nth {
				disk.Sweep(r, time.Hour)
			}
			return nil
		})
		err := disk.Write(r, files...)
		disk.Fail(nil)
		if calls < nth {
			break
		}
		disk.Sweep(r, 0)
		if now := held(t, dir); count(now, "old") != 3 && count(now, "new") != 3 || err == nil && now["c"] != "new" {
			t.Errorf("call %d: %v, now %v", nth, err, now)
		}
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
