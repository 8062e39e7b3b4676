package fit_test

import (
	"context"
	"errors"
	"runtime"
	"testing"
	"time"

	"sightpost/mount/fit"
	"sightpost/testdata/trials"
)

// TestSolveEndsWithItsContext: work that is canceled, anywhere along it, soon ends, with the
// error of the context, and leaves no goroutine behind. How soon is counted in what it still
// allocates: a busy machine is late for its own reasons.
func TestSolveEndsWithItsContext(t *testing.T) {
	places := trials.Of(6, 20) // all along the work
	const soon = 0.7           // of all that a whole solve allocates
	for name, job := range map[string]*fit.Job{"adult": adult(), "knee in the way": kneeInTheWay(), "out of reach": shortPost()} {
		began, from := time.Now(), allocated()
		if _, err := fit.Solve(t.Context(), job); err != nil {
			t.Fatal(err)
		}
		whole, all := time.Since(began), allocated()-from
		before := runtime.NumGoroutine()
		for k := range places {
			after := whole * time.Duration(k) / time.Duration(places)
			ctx, cancel := context.WithTimeout(t.Context(), after)
			canceled := make(chan float64, 1)
			context.AfterFunc(ctx, func() { canceled <- allocated() })
			_, err := fit.Solve(ctx, job)
			end := allocated()
			cancel()
			if late := (end - <-canceled) / all; late > soon {
				t.Errorf("%s, canceled after %v of %v: does %.2f of the work after that", name, after, whole, late)
			}
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

// allocated returns how many things have been allocated so far.
func allocated() float64 {
	var now runtime.MemStats
	runtime.ReadMemStats(&now)
	return float64(now.Mallocs)
}
