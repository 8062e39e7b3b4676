package disk_test

import (
	"archive/zip"
	"bytes"
	"errors"
	"io/fs"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"sightpost/cmd/sightpost/internal/disk"
)

// TestZip packs files and takes them apart again.
func TestZip(t *testing.T) {
	files := []disk.File{{Name: "case.yaml", Text: []byte("a"), Mode: 0o640}, {Name: "records/K-31/2026-11-28.yaml", Text: []byte{0, 1}, Mode: 0o640}}
	data, err := disk.Zip(files)
	if err != nil {
		t.Fatal(err)
	}
	got, err := disk.Unzip(data)
	if diff := cmp.Diff(files, got); err != nil || diff != "" {
		t.Errorf("%v %s", err, diff)
	}
}

// TestUnzipHostile: an archive may be made by anyone.
func TestUnzipHostile(t *testing.T) {
	for what, names := range map[string][]string{
		"out of the folder": {"../a.yaml"}, "within, and out": {"a/../../b"}, "absolute": {"/etc/passwd"}, "of a drive": {"C:a.yaml"},
		"the other way round": {`..\a.yaml`}, "a device": {"con.yaml"}, "a device in a folder": {"a/NUL"}, "a control mark": {"a\x07.yaml"},
		"a direction mark": {"a\u202elmay.exe"}, "a period at the end": {"a."}, "twice": {"a.yaml", "A.yaml"}, "no name": {""},
		"hidden": {".bashrc"}, "in a hidden folder": {"a/.git/b"}, "a file and a folder": {"a.yaml/z", "A.yaml"},
	} {
		var all bytes.Buffer
		z := zip.NewWriter(&all)
		for _, name := range names {
			if _, err := z.Create(name); err != nil {
				t.Fatal(err)
			}
		}
		if err := z.Close(); err != nil {
			t.Fatal(err)
		}
		if files, err := disk.Unzip(all.Bytes()); err == nil {
			t.Errorf("%s: taken apart into %v", what, files)
		}
	}
}

// TestUnzipBounded: what is small in an archive may be large.
func TestUnzipBounded(t *testing.T) {
	packed := func(n int, text string, mode fs.FileMode) []byte {
		var all bytes.Buffer
		z := zip.NewWriter(&all)
		for i := range n {
			h := &zip.FileHeader{Name: strings.Repeat("a", i+1), Method: zip.Deflate}
			h.SetMode(mode)
			w, err := z.CreateHeader(h)
			if err == nil {
				_, err = w.Write([]byte(text))
			}
			if err != nil {
				t.Fatal(err)
			}
		}
		if err := z.Close(); err != nil {
			t.Fatal(err)
		}
		return all.Bytes()
	}
	const piece = 8 << 20
	for what, data := range map[string][]byte{"many": packed(1001, "", 0o644), "large together": packed(9, strings.Repeat("x", piece), 0o644)} {
		if _, err := disk.Unzip(data); !errors.Is(err, disk.ErrTooLarge) {
			t.Errorf("%s: %v, want %v", what, err, disk.ErrTooLarge)
		}
	}
	for what, files := range map[string][]disk.File{"many": make([]disk.File, 1001), "large": {{Name: "a", Text: make([]byte, 64<<20+1)}}} {
		if _, err := disk.Zip(files); !errors.Is(err, disk.ErrTooLarge) {
			t.Errorf("%s, packed: %v, want %v", what, err, disk.ErrTooLarge)
		}
	}
	if _, err := disk.Unzip(packed(1, "/etc/passwd", fs.ModeSymlink|0o777)); !errors.Is(err, disk.ErrNotFile) {
		t.Errorf("a link: %v", err)
	}
	if _, err := disk.Unzip([]byte("PK\x03\x04")); err == nil {
		t.Error("cut off, it is taken apart")
	}
}
