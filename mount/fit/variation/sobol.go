package variation

import (
	"context"
	"math"
	"math/rand/v2"

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

// sobolIndex is the share of a group in the function's variance.
type sobolIndex struct {
	first, firstSE float64
	total, totalSE float64
}

// sobolRows is how many rows share a random generator and are left out together for the
// standard errors.
const sobolRows = 128

// sobolSums are the sums over some rows of two samples, f at A and g at B.
type sobolSums struct {
	rows, sum, squares float64 // of f and g
	groups             []groupSums
}

// groupSums are those of h, f at A with the numbers of the group from B.
type groupSums struct{ cross, diff, square float64 } // Σ g(h-f), Σ(h-f), Σ(h-f)²

func (s *sobolSums) add(t *sobolSums, sign float64) {
	s.rows += sign * t.rows
	s.sum += sign * t.sum
	s.squares += sign * t.squares
	for i := range s.groups {
		s.groups[i].cross += sign * t.groups[i].cross
		s.groups[i].diff += sign * t.groups[i].diff
		s.groups[i].square += sign * t.groups[i].square
	}
}

// moments returns the mean and the variance of the function.
func (s *sobolSums) moments() (mean, variance float64) {
	mean = s.sum / (2 * s.rows)
	return mean, max(0, s.squares/(2*s.rows)-mean*mean)
}

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
func (s *sobolSums) index(i int) (first, total float64) {
	mean, variance := s.moments()
	if !(variance > 0) {
		return 0, 0
	}
	g := &s.groups[i]
	return (g.cross - mean*g.diff) / s.rows / variance, g.square / (2 * s.rows) / variance
}

// sobol returns the shares of all groups, and the function's standard deviation.
// It draws two independent samples A and B of the given number of rows, a
// multiple of sobolRows, and evaluates the function at each row of A, of B, and of A
// with the numbers of one group from B: rows × (groups + 2) evaluations.
//
// The standard errors are those of the jackknife that leaves out one block of
// rows at a time; it needs no second sample and no further draws.
func (m *sobolModel) sobol(ctx context.Context, rows int, opt Options) (shares []sobolIndex, sd float64, err error) {
	blocks := make([]sobolSums, rows/sobolRows)
	_, value := m.start()
	origin := value(make([]float64, m.numbers))
	err = parallel.Blocks(ctx, rows, sobolRows, opt.Workers, opt.Progress, func() func(block, from, to int) {
		work := m.worker(opt.Seed, origin)
		return func(block, from, to int) { blocks[block] = work(block, to-from) }
	})
	if err != nil {
		return nil, 0, err
	}
	all := m.sums()
	for i := range blocks { // always in the same order
		all.add(&blocks[i], 1)
	}
	shares = make([]sobolIndex, len(m.groups))
	for i := range shares {
		shares[i].first, shares[i].total = all.index(i)
	}
	m.jackknife(&all, blocks, shares)
	_, variance := all.moments()
	return shares, math.Sqrt(variance), nil
}

func (m *sobolModel) sums() sobolSums { return sobolSums{groups: make([]groupSums, len(m.groups))} }

// worker returns the work on one block of rows. The value at the origin is taken
// off all others, lest the squares cancel in the variance.
func (m *sobolModel) worker(seed uint64, origin float64) func(block, rows int) sobolSums {
	draw, value := m.start()
	a, b, mixed := make([]float64, m.numbers), make([]float64, m.numbers), make([]float64, m.numbers)
	source := rand.NewPCG(0, 0)
	rng := rand.New(source)
	return func(block, rows int) sobolSums {
		source.Seed(seed, uint64(block))
		s := m.sums()
		for range rows {
			draw(rng, a)
			draw(rng, b)
			f, g := value(a)-origin, value(b)-origin
			s.rows++
			s.sum += f + g
			s.squares += f*f + g*g
			copy(mixed, a)
			for i, group := range m.groups {
				for _, k := range group {
					mixed[k] = b[k]
				}
				d := value(mixed) - origin - f
				s.groups[i].cross += g * d
				s.groups[i].diff += d
				s.groups[i].square += d * d
				for _, k := range group {
					mixed[k] = a[k]
				}
			}
		}
		return s
	}
}

// jackknife fills in the standard errors: with θ_j the estimate without block j
// of n, SE² = (n-1)/n Σ (θ_j - mean θ)².
//
// Reference: B. Efron and C. Stein, "The jackknife estimate of variance", Ann.
// Stat. 9, 1981, 586-596, from memory.
func (m *sobolModel) jackknife(all *sobolSums, blocks []sobolSums, shares []sobolIndex) {
	n := float64(len(blocks))
	first, total := make([]varianceSums, len(shares)), make([]varianceSums, len(shares))
	for j := range blocks {
		all.add(&blocks[j], -1)
		for i := range shares {
			f, t := all.index(i)
			first[i].add(f - shares[i].first) // differences, lest the squares cancel
			total[i].add(t - shares[i].total)
		}
		all.add(&blocks[j], 1)
	}
	for i := range shares {
		shares[i].firstSE = math.Sqrt((n - 1) * first[i].variance(n))
		shares[i].totalSE = math.Sqrt((n - 1) * total[i].variance(n))
	}
}

// varianceSums are the sums for a variance.
type varianceSums struct{ sum, squares float64 }

func (s *varianceSums) add(v float64) {
	s.sum += v
	s.squares += v * v
}

func (s *varianceSums) variance(n float64) float64 {
	mean := s.sum / n
	return max(0, s.squares/n-mean*mean)
}
