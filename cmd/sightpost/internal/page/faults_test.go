package page_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"

	"sightpost/cmd/sightpost/internal/disk"
	"sightpost/testdata/trials"
)

// TestFaults lets every call that changes the disk fail in turn, alone and, as if killed, with
// all that follow, while a case and its kit are saved, as new files and in place of others: both
// are saved or none is, and the page says so.
func TestFaults(t *testing.T) {
	const saved = "Saved case.yaml in the folder."
	folder := t.TempDir()
	w := serve(t, folder)
	fresh := w.act(fields{}, "example").whole()
	fresh["name"] = "case.yaml"
	points := 0
	for _, over := range []bool{false, true} {
		for _, killed := range []bool{false, true} {
			for nth := 1; ; nth += trials.Of(6, 1) {
				reset(t, folder, over)
				f, action := fresh, "save"
				if over {
					p := w.act(f, "save")
					f, action = p.whole(), "replace"
					f["name"], f["replaced"], f["over"] = "case.yaml", "case.yaml", "case.yaml"
					f["over"] = p.value("over")
				}
				var calls atomic.Int64
				disk.Fail(func(string) error {
					if at := int(calls.Add(1)); at == nth || killed && at > nth {
						return errors.New("broken")
					}
					return nil
				})
				notice := w.act(f, action).notice()
				disk.Fail(nil)
				if int(calls.Load()) < nth {
					break
				}
				points++
				kit, one := held(t, folder, "kit.yaml"), held(t, folder, "case.yaml")
				r, err := os.OpenRoot(folder)
				if err != nil {
					t.Fatal(err)
				}
				disk.Sweep(r, 0) // as the next server does
				_ = r.Close()
				kitThen, oneThen := held(t, folder, "kit.yaml"), held(t, folder, "case.yaml")
				before := map[bool]string{true: "old"}[over]
				switch {
				case notice == saved && (kit != "new" || one != "new"),
					notice != saved && !killed && (kit != before || one != before),
					kit == "torn", one == "torn", kit == "old" && one == "new", kit == "new" && one == "old",
					kitThen != oneThen, kitThen != before && kitThen != "new":
					t.Errorf("call %d, over others %v, killed %v: %q, but the kit is %q and the case %q", nth, over, killed, notice, kit, one)
				}
			}
		}
	}
	if least := trials.Of(6, 20); points < least {
		t.Errorf("%d faults, want %d", points, least)
	}
}

// reset leaves an old case and kit in a folder, or neither.
func reset(t *testing.T, folder string, there bool) {
	t.Helper()
	for _, name := range []string{"kit.yaml", "case.yaml"} {
		_ = os.Remove(filepath.Join(folder, name))
		if there {
			write(t, folder, name, "old")
		}
	}
}

// held says whether a file is old, new, torn or "", if it is not there.
func held(t *testing.T, folder, name string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(folder, name))
	switch {
	case errors.Is(err, os.ErrNotExist):
		return ""
	case err != nil:
		t.Fatal(err)
	case string(text) == "old":
		return "old"
	case strings.HasSuffix(string(text), "\n"):
		return "new"
	}
	return "torn"
}
