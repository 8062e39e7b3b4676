package casefile_test

import (
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/mount/fit"
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
			if len(c.Warnings)+len(c.Unlikely) > 0 {
				t.Errorf("warnings: %q, unlikely: %+v", c.Warnings, c.Unlikely)
			}
			if !strings.Contains(c.Note, "Invented") || !strings.Contains(c.KitNote, "Invented") {
				t.Errorf("notes %q and %q do not say that case and kit are invented", c.Note, c.KitNote)
			}
		})
	}
}

// TestOffsetKitCarriesWhatItIsRatedFor: the shipped mount holds a screen of 3 kg, the
// load that mounts of two tubes are commonly rated for (common practice, no source); one
// heavier than its own rating is refused with the reason.
func TestOffsetKitCarriesWhatItIsRatedFor(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(shipped, "cases/tilt-two-postures.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		mass  string
		works bool
	}{
		{"3 kg", true},
		{"3.6 kg", false},
	} {
		t.Run(c.mass, func(t *testing.T) {
			heavy := strings.Replace(string(text), "mass: 1.7 kg", "mass: "+c.mass, 1)
			read, err := casefile.Read("case", strings.NewReader(heavy), beside(filepath.Join(shipped, "cases")))
			if err != nil {
				t.Fatal(err)
			}
			r, err := fit.Solve(t.Context(), &read.Job)
			if err != nil {
				t.Fatal(err)
			}
			overloaded := slices.ContainsFunc(r.Reasons, func(why fit.Reason) bool {
				return why.Kind == fit.PartOverloaded && why.Part == "arm" && why.Limit == 3.9 && why.Is > why.Limit
			})
			if r.Works != c.works || overloaded == c.works {
				t.Errorf("works: %t, why: %+v", r.Works, r.Reasons)
			}
		})
	}
}

// TestInventedCasesFail: two cases were made up to fail, each for its own reason.
func TestInventedCasesFail(t *testing.T) {
	for name, want := range map[string]fit.Reason{
		"knee-in-the-way":   {Kind: fit.TooClose, Part: "post", Zone: "left knee"},
		"heavy-on-long-arm": {Kind: fit.JointSlips, Part: "elbow.elevation"},
	} {
		t.Run(name, func(t *testing.T) {
			r, err := fit.Solve(t.Context(), &readCase(t, filepath.Join(shipped, "cases", name+".yaml")).Job)
			if err != nil {
				t.Fatal(err)
			}
			if r.Works || !slices.ContainsFunc(r.Reasons, func(why fit.Reason) bool {
				return why.Kind == want.Kind && why.Part == want.Part && why.Zone == want.Zone
			}) {
				t.Errorf("works: %t, why: %+v, want %+v", r.Works, r.Reasons, want)
			}
		})
	}
}

// TestDriverSeesLess: the driver's screen hides floor ahead of both eyes.
func TestDriverSeesLess(t *testing.T) {
	r, err := fit.Solve(t.Context(), &readCase(t, filepath.Join(shipped, "cases/driver.yaml")).Job)
	if err != nil {
		t.Fatal(err)
	}
	if ahead := r.Postures[0].Ahead; !r.Works || ahead == nil || !ahead.Both.Hides {
		t.Errorf("works: %t, %+v, ahead %+v", r.Works, r.Reasons, ahead)
	}
}
