package record_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"sightpost/cmd/sightpost/internal/record"
)

// smallDisk mounts a disk of the given size, or skips the test where that is not
// allowed.
func smallDisk(t *testing.T, size string) string {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size="+size); err != nil {
		t.Skipf("no disk can be mounted: %v", err)
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(dir, 0); err != nil {
			t.Error(err)
		}
	})
	return dir
}

// TestDiskFull files until the disk is full: what is there stays whole, nothing of
// the last is left, and once there is room again it is filed.
func TestDiskFull(t *testing.T) {
	dir := smallDisk(t, "256k")
	f, err := record.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := sample("bench-1", "2026-11-25")
	r.Case += strings.Repeat("# long\n", 10_000) // 90 kB in the file: the third is cut in the middle
	for range 2 {
		file(t, f, r)
	}
	before := contents(t, dir)
	_, err = f.File(t.Context(), r)
	if !errors.Is(err, syscall.ENOSPC) || !strings.Contains(err.Error(), "nothing was filed") || !strings.Contains(err.Error(), filepath.Join(dir, "bench-1")) {
		t.Errorf("got %v", err)
	}
	if after := contents(t, dir); after != before {
		t.Error("the records are not as they were")
	}
	if err := os.Remove(f.Path("bench-1", record.Name{Day: "2026-11-25", Nth: 2})); err != nil {
		t.Fatal(err)
	}
	file(t, f, r)
}

// TestReadOnly files on a disk that can only be read.
func TestReadOnly(t *testing.T) {
	dir := smallDisk(t, "256k")
	f, err := record.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	n := file(t, f, sample("bench-1", "2026-11-25"))
	if err := syscall.Mount("tmpfs", dir, "tmpfs", syscall.MS_REMOUNT|syscall.MS_RDONLY, "size=256k"); err != nil {
		t.Fatal(err)
	}
	for _, code := range []string{"bench-1", "bench-2"} {
		_, err := f.File(t.Context(), sample(code, "2026-11-26"))
		if !errors.Is(err, syscall.EROFS) || !strings.Contains(err.Error(), filepath.Join(dir, code)) {
			t.Errorf("%s: got %v", code, err)
		}
	}
	if r, err := f.Read("bench-1", n); err != nil || r.Edited {
		t.Errorf("reading there: %v", err)
	}
}
