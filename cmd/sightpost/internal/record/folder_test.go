package record_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/gofrs/flock"

	"sightpost/cmd/sightpost/internal/disk"
	"sightpost/cmd/sightpost/internal/record"
)

func TestCheckCode(t *testing.T) {
	for _, code := range []string{"bench-1", "A.b_c", "0", "common", "com", strings.Repeat("x", 64)} {
		if err := record.CheckCode(code); err != nil {
			t.Errorf("%q: %v", code, err)
		}
	}
	for _, code := range []string{
		"", ".", "..", ".hidden", "dot.", "a/b", `a\b`, "../a", "a b", "a\x00b", "a\nb", "Ünal", "a:b",
		"con", "NUL.txt", "com1", "LPT9.x", strings.Repeat("x", 65),
	} {
		if err := record.CheckCode(code); err == nil {
			t.Errorf("%q was taken", code)
		}
	}
}

func TestDays(t *testing.T) {
	d := record.Day("2026-12-30")
	if got := d.After(3); got != "2027-01-02" {
		t.Errorf("three days after %s: %s", d, got)
	}
	if got := d.DaysUntil("2027-01-02"); got != 3 {
		t.Errorf("days from %s to 2027-01-02: %d", d, got)
	}
	if got := record.Day("2028-02-28").DaysUntil("2028-03-01"); got != 2 {
		t.Errorf("2028 is a leap year: %d days", got)
	}
}

// TestDayDoubts: a day that is hardly that of an assessment is doubted.
func TestDayDoubts(t *testing.T) {
	for day, doubted := range map[record.Day]bool{"2026-11-25": false, "2026-11-26": true, "2019-01-01": false, "1926-11-25": true} {
		if got := day.Doubt("2026-11-25"); (got != "") != doubted {
			t.Errorf("%s: %q", day, got)
		}
	}
}

// TestFile files records on several days and twice on one, and reads them back.
func TestFile(t *testing.T) {
	dir := t.TempDir()
	f := open(t, dir)
	for _, day := range []record.Day{"2026-11-25", "2026-10-14", "2026-11-25", "2026-11-25"} {
		file(t, f, sample("bench-1", day))
	}
	names, err := f.Names("bench-1")
	if err != nil {
		t.Fatal(err)
	}
	if got, want := fmt.Sprint(names), "[2026-10-14 2026-11-25 2026-11-25-2 2026-11-25-3]"; got != want {
		t.Errorf("names %s, want %s", got, want)
	}
	for _, n := range names {
		r, err := f.Read("bench-1", n)
		if err != nil {
			t.Fatal(err)
		}
		if r.Edited || r.Day != n.Day || r.Name != n.String() || r.Case != sample("bench-1", n.Day).Case {
			t.Errorf("%s: read %+v", n, r)
		}
	}
	if n, err := f.Find("bench-1", record.Latest); err != nil || n.String() != "2026-11-25-3" {
		t.Errorf("latest is %s, %v", n, err)
	}
	if _, err := f.Find("bench-1", "2026-11-24"); !errors.Is(err, disk.ErrNone) {
		t.Errorf("an absent one: %v", err)
	}
	if _, err := f.Find("bench-1", "yesterday"); err == nil {
		t.Error("yesterday was found")
	}
	if left := leftovers(t, filepath.Join(dir, "bench-1")); len(left) > 0 {
		t.Errorf("left behind: %q", left)
	}
	codes, err := f.Codes()
	if err != nil || !slices.Equal(codes, []string{"bench-1"}) {
		t.Errorf("codes %q, %v", codes, err)
	}
}

// TestSeveralWriters files from many at once: every record gets a name of its own,
// and none is lost.
func TestSeveralWriters(t *testing.T) {
	const writers, each = 8, 5
	dir := t.TempDir()
	var group sync.WaitGroup
	for w := range writers {
		group.Go(func() {
			f, err := record.Open(dir)
			if err != nil {
				t.Error(err)
				return
			}
			defer f.Close()
			f.LockWait = time.Minute // the disk may be slow; waiting is not what is tested
			for i := range each {
				r := sample("bench-1", "2026-11-25")
				r.Note = fmt.Sprintf("writer %d, record %d\n", w, i)
				if _, err := f.File(t.Context(), r); err != nil {
					t.Error(err)
				}
			}
		})
	}
	group.Wait()
	f := open(t, dir)
	names, err := f.Names("bench-1")
	if err != nil {
		t.Fatal(err)
	}
	notes := make(map[string]bool)
	for _, n := range names {
		r, err := f.Read("bench-1", n)
		if err != nil {
			t.Fatal(err)
		}
		notes[r.Note] = true
	}
	if len(notes) != writers*each || len(names) != writers*each {
		t.Errorf("%d records with %d notes, want %d", len(names), len(notes), writers*each)
	}
}

// TestBusy holds the lock as another process would.
func TestBusy(t *testing.T) {
	dir := t.TempDir()
	f := open(t, dir)
	file(t, f, sample("bench-1", "2026-11-24"))
	before := contents(t, dir)
	lock := flock.New(filepath.Join(dir, "bench-1", ".lock"))
	if ok, err := lock.TryLock(); !ok || err != nil {
		t.Fatal(ok, err)
	}
	f.LockWait = 50 * time.Millisecond
	_, err := f.File(t.Context(), sample("bench-1", "2026-11-25"))
	if !errors.Is(err, disk.ErrBusy) || !strings.Contains(err.Error(), filepath.Join(dir, "bench-1")) {
		t.Errorf("while another writes: %v", err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := f.File(ctx, sample("bench-1", "2026-11-25")); !errors.Is(err, context.Canceled) {
		t.Errorf("when interrupted: %v", err)
	}
	if after := contents(t, dir); after != before {
		t.Errorf("changed: %s\nto %s", before, after)
	}
	if err := lock.Unlock(); err != nil {
		t.Fatal(err)
	}
	file(t, f, sample("bench-1", "2026-11-25"))
}

// TestDayFull files as many records on a day as a day has room for.
func TestDayFull(t *testing.T) {
	dir := t.TempDir()
	f := open(t, dir)
	first := file(t, f, sample("bench-1", "2026-11-25"))
	for nth := 2; nth <= 99; nth++ {
		put(t, f.Path("bench-1", record.Name{Day: first.Day, Nth: nth}), "taken")
	}
	before := contents(t, dir)
	if _, err := f.File(t.Context(), sample("bench-1", first.Day)); err == nil || !strings.Contains(err.Error(), "99") {
		t.Errorf("got %v", err)
	}
	if after := contents(t, dir); after != before {
		t.Error("something changed")
	}
}

// TestPlaces hands Open, File and Read places that are none, and looks that
// nothing inside or outside of the folder changes.
func TestPlaces(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("links need a privilege there")
	}
	dir, outside := t.TempDir(), t.TempDir()
	put(t, filepath.Join(outside, "2026-11-25.yaml"), string(encoded(t, sample("linked", "2026-11-25"))))
	put(t, filepath.Join(dir, "file"), "no folder")
	link(t, outside, filepath.Join(dir, "linked"))
	link(t, dir, filepath.Join(outside, "way-in"))
	for _, sub := range []string{"lock-linked", "record-linked", "odd", "moved", "Bench-1"} {
		if err := os.Mkdir(filepath.Join(dir, sub), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	link(t, filepath.Join(outside, "new"), filepath.Join(dir, "lock-linked", ".lock"))
	link(t, filepath.Join(outside, "2026-11-25.yaml"), filepath.Join(dir, "record-linked", "2026-11-25.yaml"))
	if err := os.Mkdir(filepath.Join(dir, "odd", "2026-11-25.yaml"), 0o755); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(dir, "moved", "2026-11-25.yaml"), string(encoded(t, sample("bench-2", "2026-11-25"))))
	inside, without := contents(t, dir), contents(t, outside)

	for path, says := range map[string]string{
		filepath.Join(dir, "absent"):   "no such file or folder",
		filepath.Join(dir, "file"):     "is not a folder",
		filepath.Join(dir, "file/sub"): "not a directory",
	} {
		if _, err := record.Open(path); err == nil || !strings.Contains(err.Error(), says) || !strings.Contains(err.Error(), path) {
			t.Errorf("open %s: %v", path, err)
		}
	}
	f := open(t, filepath.Join(outside, "way-in")) // the folder itself may be a link
	for code, says := range map[string]string{
		"linked": "is a link", "file": "is a file", "lock-linked": ".lock: is a link", "bench-1": "the code Bench-1 already exists",
	} {
		if _, err := f.File(t.Context(), sample(code, "2026-11-25")); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("file under %s: %v", code, err)
		}
	}
	day := record.Name{Day: "2026-11-25", Nth: 1}
	for code, says := range map[string]string{
		"linked": "is a link", "record-linked": "2026-11-25.yaml: is a link", "odd": "is a folder",
		"moved": "was moved or renamed", "absent": "no such file", "../" + filepath.Base(outside): "code",
	} {
		if _, err := f.Read(code, day); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("read %s: %v", code, err)
		}
	}
	if now := contents(t, dir); now != inside {
		t.Errorf("the folder changed from\n%s\nto\n%s", inside, now)
	}
	if now := contents(t, outside); now != without {
		t.Errorf("outside changed from\n%s\nto\n%s", without, now)
	}
}

// TestNeverOverwrites lays a file where the record would go, behind the writer's
// back: it is left as it is, and the record goes beside it.
func TestNeverOverwrites(t *testing.T) {
	dir := t.TempDir()
	f := open(t, dir)
	if err := os.Mkdir(filepath.Join(dir, "bench-1"), 0o755); err != nil {
		t.Fatal(err)
	}
	theirs := f.Path("bench-1", record.Name{Day: "2026-11-25", Nth: 1})
	put(t, theirs, "theirs")
	if n := file(t, f, sample("bench-1", "2026-11-25")); n.Nth != 2 {
		t.Errorf("filed as %s", n)
	}
	if text, err := os.ReadFile(theirs); err != nil || string(text) != "theirs" {
		t.Errorf("now it holds %q, %v", text, err)
	}
}

// contents returns every path below dir with what it holds, but for locks.
func contents(t *testing.T, dir string) string {
	t.Helper()
	var b strings.Builder
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.Name() == ".lock" && d.Type().IsRegular() {
			return err
		}
		fmt.Fprintf(&b, "%s %s", strings.TrimPrefix(path, dir), d.Type())
		if d.Type().IsRegular() {
			text, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			fmt.Fprintf(&b, " %q", text)
		}
		b.WriteString("\n")
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func put(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func link(t *testing.T, to, path string) {
	t.Helper()
	if err := os.Symlink(to, path); err != nil {
		t.Fatal(err)
	}
}
