package refit

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"testing"

	"sightpost/mount"
)

// TestByEffortHoldsEverySetInOrder draws efforts in halves, so that sums are exact and
// ties common.
func TestByEffortHoldsEverySetInOrder(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	for range 30 {
		moving := make([]mount.Joint, 1+rng.IntN(8))
		for i := range moving {
			moving[i].Effort = float64(rng.IntN(5)) / 2
		}
		effort := func(s subset) (sum float64) {
			for _, i := range s.members() {
				sum += moving[i].Effort
			}
			return sum
		}
		var all []subset
		for _, c := range byEffort(moving) {
			if c.effort != effort(c.set) {
				t.Fatalf("set %b has effort %v, said to be %v", c.set, effort(c.set), c.effort)
			}
			all = append(all, c.set)
		}
		if !slices.IsSortedFunc(all, func(a, b subset) int {
			return cmp.Or(cmp.Compare(effort(a), effort(b)), cmp.Compare(a.size(), b.size()))
		}) {
			t.Errorf("sets of %v are not in order", moving)
		}
		slices.Sort(all)
		if n := len(slices.Compact(all)); n != 1<<len(moving)-1 {
			t.Errorf("%d sets of %d settings, want %d", n, len(moving), 1<<len(moving)-1)
		}
	}
}
