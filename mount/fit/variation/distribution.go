package variation

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"sightpost/mount/fit"
)

// Distribution is how a margin is distributed over many simulations (mm).
type Distribution struct {
	MeanMM, SDMM float64
	LeastMM      float64
	MostMM       float64
	// P5MM to P95MM are the margins that 5, 25, 50, 75 and 95 % of the simulations stay
	// below.
	P5MM, P25MM, P50MM, P75MM, P95MM float64
	// Bins count the simulations in steps of equal width, in rising order. Zero is always
	// at an edge, so that no bin mixes simulations that track with those that do not.
	Bins []Bin
}

// Bin counts the simulations with a margin from LowMM to below HighMM.
type Bin struct {
	LowMM, HighMM float64
	Count         int
}

// mostBins is how many bins a distribution has at most.
const mostBins = 40

// newDistribution sorts the margins and describes them.
func newDistribution(margins []float64) (Distribution, error) {
	d := Distribution{}
	d.MeanMM, d.SDMM = stat.PopMeanStdDev(margins, nil)
	if math.IsNaN(d.SDMM) || math.IsInf(d.SDMM, 0) {
		return d, fmt.Errorf("%w: with errors as large as these a margin is not a number", fit.ErrJob)
	}
	slices.Sort(margins)
	d.LeastMM, d.MostMM = margins[0], margins[len(margins)-1]
	at := func(p float64) float64 { return stat.Quantile(p, stat.Empirical, margins, nil) }
	d.P5MM, d.P25MM, d.P50MM, d.P75MM, d.P95MM = at(0.05), at(0.25), at(0.5), at(0.75), at(0.95)
	d.Bins = bins(margins)
	return d, nil
}

// bins counts sorted margins in bins of 1, 2 or 5 times a power of ten, wide
// enough for no more than mostBins.
func bins(sorted []float64) []Bin {
	least, most := sorted[0], sorted[len(sorted)-1]
	width := niceAbove(max((most-least)/(mostBins-1), 1e-3))
	first := math.Floor(least / width)
	out := make([]Bin, int(math.Floor(most/width)-first)+1)
	for i := range out {
		out[i] = Bin{LowMM: (first + float64(i)) * width, HighMM: (first + float64(i+1)) * width}
	}
	i := 0
	for _, mm := range sorted {
		for i < len(out)-1 && mm >= out[i].HighMM {
			i++
		}
		out[i].Count++
	}
	return out
}

// niceAbove returns the least of 1, 2 and 5 times a power of ten that is not
// below v, which must be positive.
func niceAbove(v float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(v)))
	for _, m := range [...]float64{1, 2, 5} {
		if m*power >= v {
			return m * power
		}
	}
	return 10 * power
}

// Proportion is a share found by counting, with its 95 % interval.
type Proportion struct {
	Hits, Of int
	// Share is Hits / Of; Low and High are the ends of the interval. All 0 to 1.
	Share, Low, High float64
}

// z95 is the place above which a standard normal number lies with a chance of
// 2.5 %.
const z95 = 1.959963984540054

// NewProportion returns the share of hits among a number of simulations with its 95 %
// score interval. With p = hits/of and z = 1.96 its ends are
//
//	(p + z²/2n ± z √(p(1-p)/n + z²/4n²)) / (1 + z²/n)
//
// It keeps its 95 % also near 0 and 1, where p ± z √(p(1-p)/n) shrinks to a point.
//
// Reference: E. B. Wilson, "Probable inference, the law of succession, and
// statistical inference", J. Amer. Stat. Assoc. 22, 1927, 209-212.
func NewProportion(hits, of int) (Proportion, error) {
	if of < 1 || hits < 0 || hits > of {
		return Proportion{}, fmt.Errorf("variation: a share of %d in %d: need 0 to n hits in n, n at least 1", hits, of)
	}
	n := float64(of)
	p := float64(hits) / n
	const zz = z95 * z95
	middle := p + zz/(2*n)
	half := z95 * math.Sqrt(p*(1-p)/n+zz/(4*n*n))
	share := Proportion{Hits: hits, Of: of, Share: p, Low: (middle - half) / (1 + zz/n), High: (middle + half) / (1 + zz/n)}
	if hits == 0 {
		share.Low = 0
	}
	if hits == of {
		share.High = 1
	}
	return share, nil
}
