package fit

import "sightpost/mount"

// BestOf returns the best margin (mm) of a set of settings, the others left
// alone, and by how much (mm) it misses what is to be kept. It lets the tests of
// package fit_test begin the search for it from starts of their own.
func BestOf(job *Job, as *Result, set []int, starts ...mount.Settings) (marginMM, missedMM float64, err error) {
	r, err := newRefitting(job, as)
	if err != nil {
		return 0, 0, err
	}
	var free subset
	for _, i := range set {
		free = free.with(i)
	}
	o, err := r.best(free, append(starts, r.from)...)
	return o.worth.marginMM, o.worth.missedMM, err
}
