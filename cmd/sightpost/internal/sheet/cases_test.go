package sheet_test

import (
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/sheet"
	"sightpost/mount/fit"
	"sightpost/testdata/trials"
)

// shipped is where the invented cases are that come with the program.
const shipped = "../../../../testdata/cases"

func TestMain(m *testing.M) { trials.Main(m) }

// caseNames returns the names of the shipped cases.
func caseNames(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob(shipped + "/*.yaml")
	if err != nil || len(files) < 5 {
		t.Fatalf("only %d cases in %s (error %v)", len(files), shipped, err)
	}
	names := make([]string, len(files))
	for i, f := range files {
		names[i] = strings.TrimSuffix(filepath.Base(f), ".yaml")
	}
	return names
}

// readCase reads a shipped case.
func readCase(t *testing.T, name string) *casefile.Case {
	t.Helper()
	f, err := os.Open(filepath.Join(shipped, name+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	c, err := casefile.Read(name, f, func(kit string) (io.ReadCloser, error) { return os.Open(filepath.Join(shipped, kit)) })
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// sample is what a sheet is made from, and the report that its document is of.
type sample struct {
	sheet.Source
	Report *document.Report
}

// solvedCases are the samples of shipped cases, by name: each is solved once for all tests.
var solvedCases sync.Map

// shippedCase returns what the sheet of a shipped case is made from.
func shippedCase(t *testing.T, name string) sample {
	t.Helper()
	once, _ := solvedCases.LoadOrStore(name, sync.OnceValue(func() sample { return solved(t, readCase(t, name)) }))
	return once.(func() sample)()
}

// solved returns what the sheet of c is made from.
func solved(t *testing.T, c *casefile.Case) sample {
	t.Helper()
	r, err := fit.Solve(t.Context(), &c.Job)
	if err != nil {
		t.Fatal(err)
	}
	return sourceOf(t, document.Solve, c, r)
}

func sourceOf(t *testing.T, k document.Kind, c *casefile.Case, r *fit.Result) sample {
	t.Helper()
	rep, err := document.New(t.Context(), k, c, r)
	if err != nil {
		t.Fatal(err)
	}
	return sample{sheet.Source{Document: rep.Document(), Result: r, Version: "v0", Checksum: "0123456789ab"}, rep}
}
