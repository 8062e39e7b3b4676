package fit

import (
	"fmt"
	"math/rand/v2"
	"slices"
)

// SimOptions adjust [Simulate]. Zero values stand for the defaults given.
type SimOptions struct {
	// Draws is how many times the errors are drawn; zero means 100,000.
	Draws int
	// Seed chooses the draws: the same seed gives the same result to the bit, on
	// any number of workers.
	Seed uint64
	// Workers is how many draws are worked on at the same time; zero means as many
	// as there are processors.
	Workers int
	// Progress, when not nil, hears how many draws are done. Its calls never
	// overlap, but come from other goroutines.
	Progress func(done int)
	// Stopped, when not nil, is asked every now and then, from any goroutine, whether
	// to give up; what it returns is then the error.
	Stopped func() error
}

// Simulation is how a case fares when everything that was measured and set is a
// little off.
type Simulation struct {
	Draws int
	// Postures fare in the order of the job.
	Postures []Tally
	// Together is how those fare that must work, all of them with the same errors.
	Together Tally
}

// Tally is what many draws came to.
type Tally struct {
	// Tracks is the share of draws with a margin that is not negative: the tracker
	// works, wherever the head is within its usual movement.
	Tracks Proportion
	// Margin is that of the posture, or the least where several count together.
	Margin Distribution
}

const (
	defaultDraws = 100_000
	// mostDraws keeps the margins of all draws within some hundred megabytes.
	mostDraws = 10_000_000
	simBlock  = 1024
)

// Simulate draws errors of everything that was measured and set, and reports how
// often the postures of job still track with the mount set as r has it.
//
// Draws come in blocks, each with a generator of its own that is seeded with
// the seed and the block's number. The error names the spread that cannot be meant, or
// wraps [ErrJob].
func Simulate(job *Job, r *Result, s Uncertainty, opt SimOptions) (Simulation, error) {
	if opt.Draws == 0 {
		opt.Draws = defaultDraws
	}
	if opt.Draws < 1 || opt.Draws > mostDraws {
		return Simulation{}, fmt.Errorf("fit: %d draws: need 1 to %d", opt.Draws, mostDraws)
	}
	plan, err := newErrorPlan(job, r, s)
	if err != nil {
		return Simulation{}, err
	}
	if err := plan.asRead(); err != nil {
		return Simulation{}, err
	}
	n := len(plan.own)
	margins := make([][]float64, n+1) // the last is for all together
	for i := range margins {
		margins[i] = make([]float64, opt.Draws)
	}
	inBlocks(opt.Draws, simBlock, opt.Workers, opt.Progress, func() func(block, from, to int) {
		t, e, source := plan.truth(), make([]float64, plan.slots), rand.NewPCG(0, 0)
		rng := rand.New(source)
		return func(block, from, to int) {
			if ended(opt.Stopped) != nil {
				return
			}
			source.Seed(opt.Seed, uint64(block))
			for k := from; k < to; k++ {
				plan.draw(rng, e)
				margins[n][k] = t.judge(e)
				for i, mm := range t.margins {
					margins[i][k] = mm
				}
			}
		}
	})
	if err := ended(opt.Stopped); err != nil {
		return Simulation{}, err
	}
	return tallies(margins)
}

// tallies describes the margins of every posture and, last, of all together.
func tallies(margins [][]float64) (Simulation, error) {
	sim := Simulation{Draws: len(margins[0])}
	for _, mm := range margins {
		d, err := newDistribution(mm) // sorts mm
		if err != nil {
			return Simulation{}, err
		}
		lost, _ := slices.BinarySearch(mm, 0)
		share, err := NewProportion(len(mm)-lost, len(mm))
		if err != nil {
			return Simulation{}, err
		}
		sim.Postures = append(sim.Postures, Tally{Tracks: share, Margin: d})
	}
	last := len(sim.Postures) - 1
	sim.Together = sim.Postures[last]
	sim.Postures = sim.Postures[:last]
	return sim, nil
}
