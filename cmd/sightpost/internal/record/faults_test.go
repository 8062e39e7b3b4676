package record_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/disk"
	"sightpost/cmd/sightpost/internal/record"
)

// TestFaults lets every call that changes the disk fail in turn, alone and, as if killed, with
// all that follow, while a first and a second record of a day are filed and one is marked: a
// record is whole or not there, and never there after an error.
func TestFaults(t *testing.T) {
	points := 0
	for _, killed := range []bool{false, true} {
		for nth := 1; ; nth++ {
			dir := t.TempDir()
			f := open(t, dir)
			calls := 0
			disk.Fail(func(string) error {
				if calls++; calls == nth || killed && calls > nth {
					return errors.New("broken")
				}
				return nil
			})
			var filed []record.Name
			for range 2 {
				if n, err := f.File(t.Context(), sample("bench-1", "2026-11-25")); err == nil {
					filed = append(filed, n)
				}
			}
			note := "as filed"
			for _, n := range filed[:min(1, len(filed))] {
				if r, err := f.Read("bench-1", n); err == nil {
					note = r.Note
				}
				if f.Mark(t.Context(), "bench-1", n, record.Mark{Note: "marked"}) == nil {
					note = "marked"
				}
			}
			disk.Fail(nil)
			if calls < nth {
				break
			}
			points++
			what := fmt.Sprintf("call %d, killed %v", nth, killed)
			names, err := f.Names("bench-1")
			if err != nil && !errors.Is(err, disk.ErrNone) || len(names) != len(filed) && !killed {
				t.Errorf("%s: %v, filed %v: %v", what, names, filed, err)
			}
			for i, n := range names {
				r, err := f.Read("bench-1", n)
				if err != nil || r.Edited || i == 0 && len(filed) > 0 && r.Note != note {
					t.Errorf("%s: %s: %v", what, n, err)
				}
			}
			file(t, f, sample("bench-1", "2026-11-26"))
			if strings.Contains(contents(t, dir), "unfinished") {
				t.Errorf("%s: something is left over", what)
			}
		}
	}
	if points < 30 {
		t.Errorf("%d faults, want 30", points)
	}
}

// TestTakeKilled kills at every call one that takes records over: the next takes them all, and
// what a later writer sweeps is none of them.
func TestTakeKilled(t *testing.T) {
	from := open(t, t.TempDir())
	for _, day := range []record.Day{"2026-10-14", "2026-10-15"} {
		file(t, from, sample("bench-1", day))
	}
	files, err := from.Files("bench-1")
	if err != nil {
		t.Fatal(err)
	}
	for nth := 1; ; nth++ {
		dir := t.TempDir()
		to := open(t, dir)
		calls := 0
		disk.Fail(func(string) error {
			if calls++; calls >= nth {
				return errors.New("killed")
			}
			return nil
		})
		_, _ = to.Take(t.Context(), "bench-1", files) // it is killed
		disk.Fail(nil)
		if calls < nth {
			break
		}
		if _, err := to.Take(t.Context(), "bench-1", files); err != nil {
			t.Errorf("call %d: %v", nth, err)
		}
		file(t, to, sample("bench-1", "2026-11-25"))
		if names, err := to.Names("bench-1"); len(names) != len(files)+1 {
			t.Errorf("call %d: %v, %v", nth, names, err)
		}
	}
}
