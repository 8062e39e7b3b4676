package document_test

import (
	"context"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/mount/fit"
	"sightpost/mount/fit/tolerance"
	"sightpost/plots/units"
	"sightpost/testdata/trials"
)

// readShipped reads a shipped case.
func readShipped(t *testing.T, file string) *casefile.Case {
	t.Helper()
	src, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = src.Close() }()
	c, err := casefile.Read(file, src, func(kit string) (io.ReadCloser, error) {
		return os.Open(filepath.Join(filepath.Dir(file), kit))
	})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// TestToleranceWords reads what is written beside drawn tolerances: the same values as in the
// settings, and why a case that does not work has none.
func TestToleranceWords(t *testing.T) {
	for file, want := range map[string][3][]string{
		"upright-adult.yaml": {
			{"post height", "set 326 mm", "limits 130 mm to 675 mm"},
			{"290 mm", "post too near the floor"},
			{"453 mm", "left eye leaves the tracking volume at the bottom"},
		},
		"heavy-on-long-arm.yaml": {
			{"post height", "set 554 mm", "limits 130 mm to 745 mm"}, nil, {"does not work as it is set:", "elbow elevation slips"},
		},
	} {
		r, err := fit.Solve(t.Context(), &readShipped(t, "../../../../testdata/cases/"+file).Job)
		if err != nil {
			t.Fatal(err)
		}
		all, err := tolerance.Of(t.Context(), r)
		if err != nil {
			t.Fatal(err)
		}
		height := slices.IndexFunc(all, func(tol tolerance.Tolerance) bool { return tol.Joint.Name == "post.height" })
		var got [3][]string
		got[0], got[1], got[2] = document.ToleranceWords(r, all[height], units.MM)
		for i := range got {
			if !slices.Equal(got[i], want[i]) {
				t.Errorf("%s: %q, want %q", file, got[i], want[i])
			}
		}
	}
}

// TestShippedTolerances: every shipped case that works still does wherever one setting
// is within its tolerance, and no longer does just beyond, up to what the joint allows.
// Without SIGHTPOST_LONG every fourth case is tried.
func TestShippedTolerances(t *testing.T) {
	files, err := filepath.Glob("../../../../testdata/cases/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no cases: %v", err)
	}
	for i, file := range files {
		if i%trials.Of(4, 1) > 0 {
			continue
		}
		t.Run(filepath.Base(file), func(t *testing.T) {
			t.Parallel()
			job := &readShipped(t, file).Job
			r, err := fit.Solve(t.Context(), job)
			if err != nil {
				t.Fatal(err)
			}
			all, err := tolerance.Of(context.Background(), r)
			if err != nil {
				t.Fatal(err)
			}
			for i, tol := range all {
				if none := tol.Why != nil; none == r.Works {
					t.Errorf("%s: works %v, but why not: %+v", tol.Joint.Name, r.Works, tol.Why)
				}
				if r.Works {
					holds(t, tol, func(v float64) *fit.Result { return checkWith(t, r, i, v) })
				}
			}
		})
	}
}

// checkWith checks a result with one setting changed.
func checkWith(t *testing.T, r *fit.Result, setting int, v float64) *fit.Result {
	t.Helper()
	job := r.Job
	s := slices.Clone(r.Set.Settings)
	s[setting] = v
	c, err := fit.Check(t.Context(), job, r.Set.Mounting, s)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// holds compares a tolerance with what a check finds.
func holds(t *testing.T, tol tolerance.Tolerance, check func(v float64) *fit.Result) {
	t.Helper()
	const beyond = 0.01 // of a step of the joint: far less than can be read
	j, rng := tol.Joint, rand.New(rand.NewPCG(41, 1))
	inside := []float64{tol.Low.At, tol.High.At, tol.Low.Readable, tol.High.Readable}
	for range trials.Of(5, 25) { // places in each of some hundred intervals
		v := tol.Low.At + rng.Float64()*(tol.High.At-tol.Low.At)
		if j.Indexed {
			v = j.Round(v)
		}
		inside = append(inside, v)
	}
	for _, v := range inside {
		if c := check(v); !c.Works {
			t.Errorf("%s does not work at %v, from %v to %v: %+v", j.Name, v, tol.Low.At, tol.High.At, c.Reasons)
		}
	}
	for side, e := range map[float64]tolerance.End{-1: tol.Low, 1: tol.High} {
		v := e.At + side*beyond*j.Step
		if j.Indexed {
			v = e.At + side*j.Step
		}
		if e.Limit || v < j.Low || v > j.High {
			continue
		}
		if check(v).Works {
			t.Errorf("%s works at %v, beyond its end at %v: %v", j.Name, v, e.At, e)
		}
	}
}
