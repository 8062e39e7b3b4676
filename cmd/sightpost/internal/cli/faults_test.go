package cli_test

import (
	"errors"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"sightpost/cmd/sightpost/internal/cli"
	"sightpost/cmd/sightpost/internal/disk"
	"sightpost/testdata/trials"
)

// TestFaults lets every call that changes the disk fail in turn, alone and, as if killed, with
// all that follow, in every command that writes, into a new folder and over what is there: the
// files of a folder are all old or all new; after a kill there may be fewer, but never old ones
// beside new ones, nor the last of them without the others.
func TestFaults(t *testing.T) {
	const bench = "testdata/bench/"
	second := filepath.Join(t.TempDir(), "second.yaml")
	text, err := os.ReadFile(bench + "case.yaml")
	if err != nil {
		t.Fatal(err)
	}
	kit, err := filepath.Abs(bench + "kit.yaml")
	if err == nil {
		err = os.WriteFile(second, []byte(strings.Replace(string(text), "kit.yaml", kit, 1)), 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
	type row struct {
		args  []string // the folder follows
		every int      // so many calls one of them fails
	}
	rows := []row{
		{[]string{"new"}, trials.Of(3, 1)},
		{[]string{"new", "--guide"}, trials.Of(3, 1)},
		{[]string{"draw", bench + "kit.yaml", "--out"}, trials.Of(4, 1)},
	}
	if trials.Long() {
		rows = append(rows, row{[]string{"solve", bench + "case.yaml", "--out"}, 5}, row{[]string{"solve", bench + "case.yaml", second, "--out"}, 15})
	}
	points := 0
	for _, row := range rows {
		clean := filepath.Join(t.TempDir(), "clean")
		if code, calls := written(t, append(row.args, clean), 0, false); code != 0 || calls == 0 {
			t.Fatalf("%v: exit code %d after %d calls", row.args, code, calls)
		}
		whole := folders(t, clean)
		for _, over := range []bool{false, true} {
			for _, killed := range []bool{false, true} {
				for nth := 1; ; nth += row.every {
					out := filepath.Join(t.TempDir(), "out")
					args := append(slices.Clone(row.args), out)
					if over {
						args = append(args, "--force")
						old(t, out, whole)
					}
					code, calls := written(t, args, nth, killed)
					if calls < nth {
						break
					}
					points++
					now := folders(t, out)
					for folder, names := range whole {
						err := torn(now[folder], names, over, killed)
						if r, open := os.OpenRoot(filepath.Join(out, folder)); err == nil && open == nil {
							disk.Sweep(r, 0)
							_ = r.Close()
							err = torn(folders(t, out)[folder], names, over, false)
						}
						if err == nil && code == 0 && slices.Contains(slices.Collect(maps.Values(now[folder])), "old") || code == 0 && len(now[folder]) != len(names) {
							err = errors.New("exit code 0, but not all is new")
						}
						if err != nil {
							t.Errorf("%v, call %d, over others %v, killed %v: %s: %v", row.args, nth, over, killed, folder, err)
						}
					}
				}
			}
		}
	}
	if least := trials.Of(16, 200); points < least {
		t.Errorf("%d faults, want %d", points, least)
	}
}

// written runs a command of which the nth call that changes the disk fails and, if it is
// killed, all that follow; none if nth is 0. It returns the exit code and the number of calls.
func written(t *testing.T, args []string, nth int, killed bool) (code, calls int) {
	t.Helper()
	var n atomic.Int64
	disk.Fail(func(string) error {
		if at := int(n.Add(1)); at == nth || killed && at > nth && nth > 0 {
			return errors.New("broken")
		}
		return nil
	})
	defer disk.Fail(nil)
	code = cli.Run(t.Context(), args, cli.Streams{Out: io.Discard, Err: io.Discard})
	return code, int(n.Load())
}

// folders returns what the files of each folder below dir hold, "old" or "new".
func folders(t *testing.T, dir string) map[string]map[string]string {
	t.Helper()
	all := map[string]map[string]string{}
	err := filepath.WalkDir(dir, func(path string, e os.DirEntry, err error) error {
		if err != nil || e.IsDir() || strings.HasPrefix(path, filepath.Join(dir, ".un")) || strings.Contains(path, "/.un") {
			return err
		}
		text, err := os.ReadFile(path)
		folder, _ := filepath.Rel(dir, filepath.Dir(path))
		if all[folder] == nil {
			all[folder] = map[string]string{}
		}
		all[folder][e.Name()] = "new"
		if string(text) == "old" {
			all[folder][e.Name()] = "old"
		}
		return err
	})
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		t.Fatal(err)
	}
	return all
}

// old fills a folder with old files of those names.
func old(t *testing.T, dir string, whole map[string]map[string]string) {
	t.Helper()
	for folder, names := range whole {
		if err := os.MkdirAll(filepath.Join(dir, folder), 0o700); err != nil {
			t.Fatal(err)
		}
		for name := range names {
			if err := os.WriteFile(filepath.Join(dir, folder, name), []byte("old"), 0o600); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// torn returns an error unless the files of a folder are as they were or all new, or are
// fewer of one sort after a kill.
func torn(now, whole map[string]string, over, killed bool) error {
	olds, news := 0, 0
	for _, is := range now {
		if is == "old" {
			olds++
		} else {
			news++
		}
	}
	_, last := now["result.json"]
	switch before := map[bool]int{true: len(whole)}[over]; {
	case olds > 0 && news > 0:
		return errors.New("old ones stand beside new ones")
	case last && olds+news < len(whole):
		return errors.New("the last is there without the others")
	case !killed && news != len(whole) && (news > 0 || olds != before):
		return errors.New("some are gone")
	}
	return nil
}
