package refit

import (
	"testing"

	"sightpost/mount/fit"
)

// TestRequiredWithoutMarginBefore: a mount that left no margin before is not taken as what
// to come back to, whatever the case prefers.
func TestRequiredWithoutMarginBefore(t *testing.T) {
	for _, preferred := range []float64{0, 30} {
		job := &fit.Job{Preferences: fit.Preferences{MarginMM: preferred}}
		before := &fit.Result{Postures: []fit.PostureResult{{MarginMM: -1}}}
		if got, from := (Options{Before: before}).required(job); got != preferred || from != FromCase {
			t.Errorf("%v mm preferred: %v from %v", preferred, got, from)
		}
	}
}
