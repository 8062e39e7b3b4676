package variation_test

import (
	"testing"

	"sightpost/mount/fit"
	"sightpost/mount/fit/internal/fittest"
)

const degree = fittest.Degree

// sameMM is for one number computed in two ways: doubles on lengths of 1e3 mm.
const sameMM = 1e-6

// The invented jobs by short names.
var adult, tilted, stiff = fittest.Adult, fittest.Tilted, fittest.Stiff

func solve(t *testing.T, job *fit.Job) *fit.Result {
	t.Helper()
	r, err := fit.Solve(t.Context(), job)
	if err != nil {
		t.Fatalf("Solve: %v", err)
	}
	return r
}
