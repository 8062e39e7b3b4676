package refit

import (
	"context"

	"sightpost/mount"
	"sightpost/mount/fit"
)

// BestOf returns the best margin (mm) of a set of settings, the others as found, and by
// how much (mm) it misses what must be kept. It lets the tests of package refit_test
// begin the search for it from starts of their own.
func BestOf(ctx context.Context, current *fit.Result, set []int, starts ...mount.Settings) (marginMM, missedMM float64, err error) {
	s, err := newSearcher(ctx, current)
	if err != nil {
		return 0, 0, err
	}
	var free subset
	for _, i := range set {
		free |= 1 << i
	}
	o := s.best(free, append(starts, s.from))
	return o.worth.marginMM, o.worth.missedMM, s.err
}
