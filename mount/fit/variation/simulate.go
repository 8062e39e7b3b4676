package variation

import (
	"cmp"
	"context"
	"fmt"
	"math/rand/v2"
	"slices"

	"sightpost/mount/fit"
	"sightpost/mount/fit/internal/parallel"
)

// Options adjust [Simulate] and [Shares]. The zero value is usable.
type Options struct {
	// Size is how many simulations there are; zero means 100,000. For [Shares] it is the
	// size of each of its two samples, rounded up to a multiple of 128; zero means 4096.
	Size int
	// Seed selects the random errors: the same seed gives the same result to the bit, on
	// any number of workers.
	Seed uint64
	// Workers is how many goroutines work at the same time; zero means as many as there
	// are processors.
	Workers int
	// Progress, when not nil, is told how much of Size is done. Its calls never overlap,
	// but come from other goroutines.
	Progress func(done int)
}

// size returns Size, or the default for zero.
func (o Options) size(otherwise, least, most int) (int, error) {
	n := o.Size
	if n == 0 {
		n = otherwise
	}
	if n < least || n > most {
		return 0, fmt.Errorf("variation: %d simulations: need %d to %d", n, least, most)
	}
	return n, nil
}

// Simulations is what the simulations of a result came to.
type Simulations struct {
	Count int
	// Postures are in the order of the job.
	Postures []Tally
	// Together is for all postures that must work, with the same errors in each.
	Together Tally
}

// Tally is what the simulations of one posture, or of several together, came to.
type Tally struct {
	// Tracks is the share of simulations with a margin that is not negative: the tracker
	// works, wherever the head is within its usual movement.
	Tracks Proportion
	// Margin is that of the posture, or the least of several.
	Margin Distribution
}

const (
	defaultSimulations = 100_000
	// mostSimulations keeps the margins of all simulations within some hundred megabytes.
	mostSimulations = 10_000_000
	simBlock        = 1024
)

// Simulate draws errors of everything that was measured and set, and reports how often the
// postures of r's job still track with the mount set as r has it.
//
// Simulations come in blocks, each with a random generator of its own that is seeded with
// the seed and the block's number. The error names the uncertainty that is invalid, wraps
// [fit.ErrJob], or is that of ctx.
func Simulate(ctx context.Context, r *fit.Result, budget Budget, opt Options) (Simulations, error) {
	count, err := opt.size(defaultSimulations, 1, mostSimulations)
	if err != nil {
		return Simulations{}, err
	}
	plan, err := newErrorPlan(r, budget)
	if err != nil {
		return Simulations{}, err
	}
	n := len(plan.own)
	margins := make([][]float64, n+1) // the last is for all together
	for i := range margins {
		margins[i] = make([]float64, count)
	}
	err = parallel.Blocks(ctx, count, simBlock, opt.Workers, opt.Progress, func() func(block, from, to int) {
		t, e, source := plan.truth(), make([]float64, plan.slots), rand.NewPCG(0, 0)
		rng := rand.New(source)
		return func(block, from, to int) {
			source.Seed(opt.Seed, uint64(block))
			for k := from; k < to; k++ {
				plan.draw(rng, e)
				margins[n][k] = t.leastMargin(e)
				for i, mm := range t.margins {
					margins[i][k] = mm
				}
			}
		}
	})
	if err != nil {
		return Simulations{}, err
	}
	return tallies(ctx, margins, opt.Workers)
}

// tallies describes the margins of every posture and, last, of all together.
func tallies(ctx context.Context, margins [][]float64, workers int) (Simulations, error) {
	all, failed := make([]Tally, len(margins)), make([]error, len(margins))
	err := parallel.Blocks(ctx, len(margins), 1, workers, nil, func() func(i, from, to int) {
		return func(i, _, _ int) { all[i], failed[i] = newTally(margins[i]) }
	})
	if err = cmp.Or(append(failed, err)...); err != nil {
		return Simulations{}, err
	}
	last := len(all) - 1
	return Simulations{Count: len(margins[0]), Postures: all[:last], Together: all[last]}, nil
}

// newTally sorts the margins and describes them.
func newTally(margins []float64) (Tally, error) {
	d, err := newDistribution(margins)
	if err != nil {
		return Tally{}, err
	}
	lost, _ := slices.BinarySearch(margins, 0)
	share, err := NewProportion(len(margins)-lost, len(margins))
	return Tally{Tracks: share, Margin: d}, err
}
