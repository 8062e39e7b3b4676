package variation

import (
	"math/rand/v2"

	"sightpost/mount/fit"
)

// OwnSlot returns where reading k of posture i takes its error from.
func OwnSlot(r *fit.Result, i, k int) (int, error) {
	p, err := newErrorPlan(r, Budget{})
	if err != nil {
		return 0, err
	}
	return p.own[i][k], nil
}

// MarginsUnder returns the margin of every posture under the given errors, and
// the least of those that must work.
func MarginsUnder(r *fit.Result, errors map[int]float64) (each []float64, least float64, err error) {
	p, err := newErrorPlan(r, Budget{})
	if err != nil {
		return nil, 0, err
	}
	e := make([]float64, p.slots)
	for slot, v := range errors {
		e[slot] = v
	}
	t := p.truth()
	least = t.leastMargin(e)
	return t.margins, least, nil
}

// DrawAllocations draws errors and judges them once; see [testing.AllocsPerRun].
func DrawAllocations(r *fit.Result, s Budget) (func(), error) {
	p, err := newErrorPlan(r, s)
	if err != nil {
		return nil, err
	}
	rng := rand.New(rand.NewPCG(1, 1))
	t, e := p.truth(), make([]float64, p.slots)
	return func() {
		p.draw(rng, e)
		t.leastMargin(e)
	}, nil
}
