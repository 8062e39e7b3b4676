package minimax_test

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"sightpost/gaze/minimax"
)

// widest returns the variable with the greatest half-width.
func widest(_, half []float64) int {
	at := 0
	for k, h := range half {
		if h > half[at] {
			at = k
		}
	}
	return at
}

// interval is a term's values within a box.
type interval struct{ low, high float64 }

func (i interval) squared() interval {
	a, b := i.low*i.low, i.high*i.high
	if i.low < 0 && i.high > 0 {
		return interval{0, max(a, b)}
	}
	return interval{min(a, b), max(a, b)}
}

// negative Branin, and a bound of it from the bounds of its terms.
const (
	braninB = 5.1 / (4 * math.Pi * math.Pi)
	braninC = 5 / math.Pi
	braninT = 1 / (8 * math.Pi)
)

func branin(x []float64) float64 {
	q := x[1] - braninB*x[0]*x[0] + braninC*x[0] - 6
	return -(q*q + 10*(1-braninT)*math.Cos(x[0]) + 10)
}

func aboveBranin(mid, half []float64, rows *minimax.Rows) float64 {
	x1, x2 := interval{mid[0] - half[0], mid[0] + half[0]}, interval{mid[1] - half[1], mid[1] + half[1]}
	s := x1.squared()
	q := interval{x2.low - braninB*s.high + braninC*x1.low - 6, x2.high - braninB*s.low + braninC*x1.high - 6}.squared()
	lowCos := math.Cos(mid[0]) - half[0] // a cosine changes by no more than its angle
	bound := -(q.low + 10*(1-braninT)*max(-1, lowCos) + 10)
	rows.Least(bound, []float64{0, 0})
	return math.Inf(1)
}

// hartman is the Hartman function of three variables, and a bound of it: each of its
// terms is greatest at the point of the box nearest to its center.
func hartman(x []float64) float64 {
	return hartmanOver(x, []float64{0, 0, 0})
}

func hartmanOver(mid, half []float64) float64 {
	alpha := [4]float64{1, 1.2, 3, 3.2}
	a := [4][3]float64{{3, 10, 30}, {0.1, 10, 35}, {3, 10, 30}, {0.1, 10, 35}}
	p := [4][3]float64{{0.3689, 0.1170, 0.2673}, {0.4699, 0.4387, 0.7470}, {0.1091, 0.8732, 0.5547}, {0.03815, 0.5743, 0.8828}}
	sum := 0.0
	for i := range alpha {
		e := 0.0
		for k := range mid {
			d := max(0, math.Abs(mid[k]-p[i][k])-half[k])
			e += a[i][k] * d * d
		}
		sum += alpha[i] * math.Exp(-e)
	}
	return sum
}

// TestBranchMeetsPublishedOptima: L. C. W. Dixon and G. P. Szegő, "The global optimization
// problem: an introduction", Towards Global Optimization 2, North-Holland 1978: Branin and
// Hartman 3. Formulas and optima are from memory.
func TestBranchMeetsPublishedOptima(t *testing.T) {
	for _, row := range []struct {
		name      string
		low, high []float64
		value     func([]float64) float64
		above     func(mid, half []float64, rows *minimax.Rows) float64
		want, gap float64
	}{
		{"Branin", []float64{-5, 0}, []float64{10, 15}, branin, aboveBranin, -0.397887, 1e-3},
		{
			"Hartman 3",
			[]float64{0, 0, 0},
			[]float64{1, 1, 1},
			hartman,
			func(mid, half []float64, _ *minimax.Rows) float64 { return hartmanOver(mid, half) }, 3.86278, 1e-2,
		},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := minimax.Branch{
				Lower: row.low, Upper: row.high, Above: row.above, Split: widest, Value: row.value,
				Enough: math.Inf(1), Gap: row.gap, Boxes: 1e6,
			}
			found := b.Maximize(t.Context(), math.Inf(-1))
			if found.Value > row.want+1e-5 || found.Value < row.want-row.gap || found.Bound < row.want-1e-5 || found.Bound > found.Value+row.gap+1e-5 {
				t.Errorf("%d boxes: best %v, bound %v; published %v", found.Boxes, found.Value, found.Bound, row.want)
			}
		})
	}
}

// TestBranchTakesLinearRowsWhole: where the rows are the functions themselves, the first
// box is the answer: the least of x and 1 - x, with x kept above 0.7.
func TestBranchTakesLinearRowsWhole(t *testing.T) {
	b := minimax.Branch{
		Lower: []float64{0}, Upper: []float64{1}, Split: widest, Enough: math.Inf(1), Gap: 1e-5, Boxes: 100,
		Above: func(mid, _ []float64, rows *minimax.Rows) float64 {
			rows.Least(mid[0], []float64{1})
			rows.Least(1-mid[0], []float64{-1})
			rows.Keep(mid[0]-0.7, []float64{1})
			return math.Inf(1)
		},
		Value: func(x []float64) float64 {
			if x[0] < 0.7-1e-9 {
				return math.Inf(-1)
			}
			return min(x[0], 1-x[0])
		},
	}
	found := b.Maximize(t.Context(), math.Inf(-1))
	if found.Boxes != 1 || math.Abs(found.Bound-0.3) > 1e-5 || math.Abs(found.Value-0.3) > 1e-9 {
		t.Errorf("%d boxes, best %v at %v, bound %v; want 0.3 at 0.7 at once", found.Boxes, found.Value, found.X, found.Bound)
	}
	ended, end := context.WithCancel(t.Context())
	end()
	b.Above = func([]float64, []float64, *minimax.Rows) float64 { return 5 }
	if found := b.Maximize(ended, math.Inf(-1)); found.Boxes != 1 || found.Bound < 5 {
		t.Errorf("ended at once: %d boxes, bound %v; want 1 and at least 5", found.Boxes, found.Bound)
	}
}

// TestBranchBoundsWhatACutLeaves: the least of linear rows, some of which cut a little off
// one side of the box, is never above the bound. One box is the answer, and the greatest
// value is found again on a fine grid.
func TestBranchBoundsWhatACutLeaves(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 9))
	cut := 0
	for trial := range 300 {
		var rows [4][3]float64 // value and slopes
		for i := range rows {
			rows[i] = [3]float64{rng.Float64(), 2*rng.Float64() - 1, 2*rng.Float64() - 1}
		}
		least := func(x []float64) float64 {
			v := math.Inf(1)
			for _, r := range rows {
				v = min(v, r[0]+r[1]*x[0]+r[2]*x[1])
			}
			return v
		}
		const steps = 100
		best := math.Inf(-1)
		for i := range steps + 1 {
			for k := range steps + 1 {
				best = max(best, least([]float64{2*float64(i)/steps - 1, 2*float64(k)/steps - 1}))
			}
		}
		known := best - 0.6*rng.Float64()
		b := minimax.Branch{
			Lower: []float64{-1, -1}, Upper: []float64{1, 1}, Split: widest, Enough: math.Inf(1), Gap: 1e-5, Boxes: 1,
			Above: func(mid, half []float64, out *minimax.Rows) float64 {
				if half[0] < 1 || half[1] < 1 {
					cut++
				}
				for _, r := range rows {
					out.Least(r[0]+r[1]*mid[0]+r[2]*mid[1], []float64{r[1], r[2]})
				}
				return math.Inf(1)
			},
			Value: func([]float64) float64 { return math.Inf(-1) },
		}
		if found := b.Maximize(t.Context(), known); found.Bound < best {
			t.Errorf("trial %d: bound %v, but %v is reached", trial, found.Bound, best)
		}
	}
	if cut == 0 {
		t.Error("nothing was cut: the test tries too little")
	}
}
