package variation

import (
	"context"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"

	"sightpost/mount/fit/internal/parallel"
)

// sobolModel is a function of many independent random numbers, in groups.
type sobolModel struct {
	groups  [][]int // the numbers of each group
	numbers int
	// start returns what one goroutine needs: draw fills in all numbers, value
	// returns the function's value at them.
	start func() (draw func(rng *rand.Rand, x []float64), value func(x []float64) float64)
}

// sobolRows is how many rows share a random generator and are left out together for the
// standard errors.
const sobolRows = 128

// sobolSums are sums over some rows of two samples, f at A and g at B: the number of rows,
// Σ(f+g) and Σ(f²+g²), then for each group, with h for f at A with the numbers of the group
// from B, Σ g(h-f), Σ(h-f) and Σ(h-f)².
type sobolSums []float64

// moments returns the mean and the variance of the function.
func (s sobolSums) moments() (mean, variance float64) {
	mean = s[1] / (2 * s[0])
	return mean, max(0, s[2]/(2*s[0])-mean*mean)
}

// group returns the sums of group i.
func (s sobolSums) group(i int) []float64 { return s[3+3*i:][:3] }

// index returns both shares of group i; zero when the function does not vary.
//
// First, with the mean taken off g, which leaves the expectation as it is and
// lowers the scatter: V_i = mean of (g - μ)(h - f). Reference: A. Saltelli and
// others, "Variance based sensitivity analysis of model output. Design and
// estimator for the total sensitivity index", Comput. Phys. Commun. 181, 2010,
// 259-270, table 2 (b), from memory.
//
// Total: mean of (f - h)²/2. Reference: M. J. W. Jansen, "Analysis of variance
// designs for model output", Comput. Phys. Commun. 117, 1999, 35-43, from memory.
func (s sobolSums) index(i int) (first, total float64) {
	mean, variance := s.moments()
	if !(variance > 0) {
		return 0, 0
	}
	g := s.group(i)
	return (g[0] - mean*g[1]) / s[0] / variance, g[2] / (2 * s[0]) / variance
}

// sobol returns the shares of all groups, and the function's standard deviation.
// It draws two independent samples A and B of the given number of rows, a
// multiple of sobolRows, and evaluates the function at each row of A, of B, and of A
// with the numbers of one group from B: rows × (groups + 2) evaluations.
func (m *sobolModel) sobol(ctx context.Context, rows int, opt Options) (shares []ErrorShare, sd float64, err error) {
	blocks := make([]sobolSums, rows/sobolRows)
	_, value := m.start()
	origin := value(make([]float64, m.numbers))
	err = parallel.Blocks(ctx, rows, sobolRows, opt.Workers, opt.Progress, func() func(block, from, to int) {
		work := m.worker(opt.Seed, origin)
		return func(block, _, _ int) { blocks[block] = work(block) }
	})
	if err != nil {
		return nil, 0, err
	}
	all := make(sobolSums, 3+3*len(m.groups))
	for _, b := range blocks { // always in the same order
		floats.Add(all, b)
	}
	_, variance := all.moments()
	return all.shares(blocks), math.Sqrt(variance), nil
}

// worker returns the work on one block of rows. The value at the origin is taken
// off all others, so that the squares do not cancel in the variance.
func (m *sobolModel) worker(seed uint64, origin float64) func(block int) sobolSums {
	draw, value := m.start()
	a, b, mixed := make([]float64, m.numbers), make([]float64, m.numbers), make([]float64, m.numbers)
	source := rand.NewPCG(0, 0)
	rng := rand.New(source)
	return func(block int) sobolSums {
		source.Seed(seed, uint64(block))
		s := make(sobolSums, 3+3*len(m.groups))
		for range sobolRows {
			draw(rng, a)
			draw(rng, b)
			f, g := value(a)-origin, value(b)-origin
			floats.Add(s[:3], []float64{1, f + g, f*f + g*g})
			copy(mixed, a)
			for i, group := range m.groups {
				for _, k := range group {
					mixed[k] = b[k]
				}
				d := value(mixed) - origin - f
				floats.Add(s.group(i), []float64{g * d, d, d * d})
				for _, k := range group {
					mixed[k] = a[k]
				}
			}
		}
		return s
	}
}

// shares returns the shares of all groups. The standard errors are those of the jackknife
// that leaves out one block of rows at a time: with θ_j the estimate without block j of n,
// SE² = (n-1)/n Σ (θ_j - mean θ)². It needs no second sample and no further draws.
//
// Reference: B. Efron and C. Stein, "The jackknife estimate of variance", Ann.
// Stat. 9, 1981, 586-596, from memory.
func (s sobolSums) shares(blocks []sobolSums) []ErrorShare {
	out := make([]ErrorShare, len(s)/3-1)
	first, total, less := make([]float64, len(blocks)), make([]float64, len(blocks)), make(sobolSums, len(s))
	spread := float64(len(blocks) - 1)
	for i := range out {
		for j, block := range blocks {
			floats.SubTo(less, s, block)
			first[j], total[j] = less.index(i)
		}
		out[i].First, out[i].Total = s.index(i)
		out[i].FirstSE = math.Sqrt(spread * stat.PopVariance(first, nil))
		out[i].TotalSE = math.Sqrt(spread * stat.PopVariance(total, nil))
	}
	return out
}
