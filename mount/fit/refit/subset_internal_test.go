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
		for _, c := range byEffort(unitsOf(moving)) {
			if c.effort != effort(c.set) || c.units != c.set.size() {
				t.Fatalf("set %b has effort %v, said to be %v of %d units", c.set, effort(c.set), c.effort, c.units)
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

// TestBallIsOneUnit: the three settings of a ball are loosened at once, for the greatest of their
// efforts.
func TestBallIsOneUnit(t *testing.T) {
	moving := make([]mount.Joint, 5)
	for i, effort := range []float64{2, 0, 1, 3, 1} {
		moving[i].Effort = effort
	}
	moving[2].Stiffness.AnyAxis = true
	units := unitsOf(moving)
	if want := []unit{{0b10000, 1}, {0b00001, 2}, {0b01110, 3}}; !slices.Equal(units, want) {
		t.Errorf("units %v, want %v", units, want)
	}
	for set, want := range map[subset]float64{0: 0, 0b00010: 3, 0b01110: 3, 0b01001: 5, 0b11111: 6} {
		if got := effortOf(units, set); got != want {
			t.Errorf("set %b costs %v, want %v", set, got, want)
		}
	}
}
