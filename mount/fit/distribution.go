package fit

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// Distribution is how a margin spreads over many draws (mm).
type Distribution struct {
	MeanMM, SDMM float64
	LeastMM      float64
	MostMM       float64
	// P5 to P95 are the margins that 5, 25, 50, 75 and 95 % of the draws stay
	// below.
	P5MM, P25MM, P50MM, P75MM, P95MM float64
	// Bins count the draws in steps of equal width, in rising order. Zero is always
	// at an edge, so that no bin mixes draws that track with draws that do not.
	Bins []Bin
}

// Bin counts the draws with a margin from LowMM to below HighMM.
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
		return d, fmt.Errorf("%w: with errors as large as these a margin is not a number", ErrJob)
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
