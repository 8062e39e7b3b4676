package fit_test

import (
	"context"
	"errors"
	"runtime"
	"testing"
	"time"

	"sightpost/mount/fit"
)

// TestSolveEndsWithItsContext: work that is canceled, anywhere along it, ends with the error of
// the context, and leaves no goroutine behind.
func TestSolveEndsWithItsContext(t *testing.T) {
	const places = 20 // all along the work
	for name, job := range map[string]*fit.Job{"adult": adult(), "knee in the way": kneeInTheWay(), "out of reach": shortPost()} {
		began := time.Now()
		if _, err := fit.Solve(t.Context(), job); err != nil {
			t.Fatal(err)
		}
		whole := time.Since(began)
		before := runtime.NumGoroutine()
		for k := range places {
			after := whole * time.Duration(k) / places
			ctx, cancel := context.WithTimeout(t.Context(), after)
			_, err := fit.Solve(ctx, job)
			cancel()
			if !errors.Is(err, context.DeadlineExceeded) && (k == 0 || err != nil) {
				t.Errorf("%s, canceled after %v of %v: error %v", name, after, whole, err)
			}
			for range 100 { // one that has done its work may take a moment to be gone
				if runtime.NumGoroutine() <= before {
					break
				}
				time.Sleep(time.Millisecond)
			}
			if n := runtime.NumGoroutine(); n > before {
				t.Errorf("%s, canceled after %v: %d goroutines, %d before", name, after, n, before)
			}
		}
	}
}
