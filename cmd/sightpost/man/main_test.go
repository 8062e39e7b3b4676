package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestPages(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "man1")
	if err := pages([]string{folder}); err != nil {
		t.Fatal(err)
	}
	for name, has := range map[string]string{
		"sightpost.1":             "sightpost-solve(1)",
		"sightpost-solve.1":       "--prove",
		"sightpost-record-file.1": "--settings",
	} {
		if text, err := os.ReadFile(filepath.Join(folder, name)); err != nil || !strings.Contains(string(text), has) {
			t.Errorf("%s has no %s (%v)", name, has, err)
		}
	}
	if err := pages(nil); err == nil {
		t.Error("pages were written into no folder")
	}
}
