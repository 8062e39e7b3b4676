package refit

import (
	"cmp"
	"math/bits"
	"slices"

	"sightpost/mount"
)

// subset is a set of settings: bit i is setting i.
type subset uint32

// maxSettings is how many settings can be compared: a million sets of as many take a
// fraction of a second to sort. No mount that anybody carries has more.
const maxSettings = 20

func (s subset) with(i int) subset    { return s | 1<<i }
func (s subset) within(t subset) bool { return s&^t == 0 }
func (s subset) size() int            { return bits.OnesCount32(uint32(s)) }
func (s subset) members() (out []int) {
	for ; s != 0; s &= s - 1 {
		out = append(out, bits.TrailingZeros32(uint32(s)))
	}
	return out
}

// costed is a set of settings with the sum of their efforts.
type costed struct {
	set    subset
	effort float64
}

// byEffort returns every set of settings but the empty one, those of the least effort
// first, then the smallest, then those of the easiest settings.
func byEffort(moving []mount.Joint) []costed {
	all := make([]costed, 1, 1<<len(moving))
	for _, i := range easiestFirst(moving) { // one order, so that equal sets of efforts have equal sums
		for _, c := range all {
			all = append(all, costed{c.set.with(i), c.effort + moving[i].Effort})
		}
	}
	all = all[1:]
	slices.SortStableFunc(all, func(a, b costed) int {
		return cmp.Or(cmp.Compare(a.effort, b.effort), cmp.Compare(a.set.size(), b.set.size()))
	})
	return all
}

// easiestFirst returns the places of the settings by effort.
func easiestFirst(moving []mount.Joint) []int {
	var out []int
	for i := range moving {
		out = append(out, i)
	}
	slices.SortStableFunc(out, func(a, b int) int { return cmp.Compare(moving[a].Effort, moving[b].Effort) })
	return out
}
