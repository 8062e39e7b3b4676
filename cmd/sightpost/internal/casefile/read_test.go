package casefile_test

import (
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/casefile"
)

const shipped = "../../../../testdata"

// beside opens kits by their path as seen from dir.
func beside(dir string) func(string) (io.ReadCloser, error) {
	return func(kit string) (io.ReadCloser, error) { return os.Open(filepath.Join(dir, kit)) }
}

func glob(t testing.TB, pattern string) []string {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join(shipped, pattern))
	if err != nil || len(paths) == 0 {
		t.Fatalf("no files %s: %v", pattern, err)
	}
	return paths
}

func readCase(t testing.TB, path string) *casefile.Case {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	c, err := casefile.Read(filepath.Base(path), f, beside(filepath.Dir(path)))
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestReadShippedCases(t *testing.T) {
	for _, path := range glob(t, "cases/*.yaml") {
		t.Run(filepath.Base(path), func(t *testing.T) {
			c := readCase(t, path)
			if len(c.Warnings) > 0 {
				t.Errorf("warnings: %q", c.Warnings)
			}
			if !strings.Contains(c.Note, "Invented") || !strings.Contains(c.KitNote, "Invented") {
				t.Errorf("notes %q and %q do not say that case and kit are invented", c.Note, c.KitNote)
			}
		})
	}
}
