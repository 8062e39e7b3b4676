package variation

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat"
)

// ishigami is f = sin x1 + 7 sin² x2 + 0.1 x3⁴ sin x1, every x uniform within ±π.
func ishigami(groups ...[]int) *sobolModel {
	return &sobolModel{groups: groups, numbers: 3, start: func() (func(*rand.Rand, []float64), func([]float64) float64) {
		draw := func(rng *rand.Rand, x []float64) {
			for i := range x {
				x[i] = Uncertainty{Kind: Uniform, Size: math.Pi}.draw(rng)
			}
		}
		value := func(x []float64) float64 {
			s := math.Sin(x[1])
			return math.Sin(x[0])*(1+0.1*math.Pow(x[2], 4)) + 7*s*s
		}
		return draw, value
	}}
}

// TestIshigami compares with the closed form of T. Ishigami and T. Homma, "An
// importance quantification technique in uncertainty analysis for computer
// models", Proc. ISUMA 1990, 398-403 (from memory): V = a²/8 + bπ⁴/5 + b²π⁸/18 +
// 1/2, V1 = (1 + bπ⁴/5)²/2, V2 = a²/8, V3 = 0, V13 = 8 b²π⁸/225.
func TestIshigami(t *testing.T) {
	const (
		rows     = 1 << 16
		standard = 4.0 // standard errors: a chance of 6e-5 for each of the six
	)
	m := ishigami([]int{0}, []int{1}, []int{2})
	got, sd, _ := m.sobol(t.Context(), rows, Options{Seed: 1})
	if want := math.Sqrt(13.844587940719254); math.Abs(sd-want) > 0.02 {
		t.Errorf("standard deviation %v, want %v", sd, want)
	}
	for i, want := range []struct{ first, total float64 }{
		{0.31390519114781146, 0.5575888552099592},
		{0.4424111447900409, 0.4424111447900409},
		{0, 0.24368366406214773},
	} {
		g := got[i]
		if !(math.Abs(g.First-want.first) < standard*g.FirstSE && math.Abs(g.Total-want.total) < standard*g.TotalSE) {
			t.Errorf("x%d: first %.4f ± %.4f, want %.4f; total %.4f ± %.4f, want %.4f",
				i+1, g.First, g.FirstSE, want.first, g.Total, g.TotalSE, want.total)
		}
		if !(g.FirstSE < 0.01 && g.TotalSE < 0.01) {
			t.Errorf("x%d: standard errors %.4f and %.4f tell nothing", i+1, g.FirstSE, g.TotalSE)
		}
	}
}

// TestSobolGroups: taken together, x1 and x3 explain what x2 does not, first and
// total alike, since x2 acts on its own.
func TestSobolGroups(t *testing.T) {
	got, _, _ := ishigami([]int{0, 2}, []int{1}).sobol(t.Context(), 1<<15, Options{Seed: 2})
	const want = 0.5575888552099592
	if g := got[0]; math.Abs(g.First-want) > 4*g.FirstSE || math.Abs(g.Total-want) > 4*g.TotalSE {
		t.Errorf("x1 with x3: first %.4f ± %.4f, total %.4f ± %.4f, want %.4f", g.First, g.FirstSE, g.Total, g.TotalSE, want)
	}
}

// TestSobolStandardErrors compares the jackknife with the scatter of many seeds.
func TestSobolStandardErrors(t *testing.T) {
	const seeds = 60 // a standard deviation of 60 is good to a tenth
	var first, total []float64
	var claimed [2]float64
	for seed := range uint64(seeds) {
		got, _, _ := ishigami([]int{0}).sobol(t.Context(), 4096, Options{Seed: seed + 10})
		first = append(first, got[0].First)
		total = append(total, got[0].Total)
		claimed[0] += got[0].FirstSE / seeds
		claimed[1] += got[0].TotalSE / seeds
	}
	for i, got := range []float64{stat.PopStdDev(first, nil), stat.PopStdDev(total, nil)} {
		if ratio := claimed[i] / got; ratio < 0.7 || ratio > 1.4 {
			t.Errorf("standard error %v claimed, %v found", claimed[i], got)
		}
	}
}

func TestSobolOfAConstant(t *testing.T) {
	m := ishigami([]int{0})
	m.start = func() (func(*rand.Rand, []float64), func([]float64) float64) {
		return func(*rand.Rand, []float64) {}, func([]float64) float64 { return 3 }
	}
	got, sd, _ := m.sobol(t.Context(), 1024, Options{})
	if sd != 0 || got[0] != (ErrorShare{}) {
		t.Errorf("a constant: standard deviation %v, %+v; want zeros", sd, got[0])
	}
}

// TestSpreadMoments: mean 0; variance s² of a normal, h²/3 of a uniform; fourth
// moment 3 s⁴ and h⁴/5.
func TestSpreadMoments(t *testing.T) {
	const n = 1 << 20
	for _, row := range []struct {
		name                 string
		spread               Uncertainty
		second, fourth, most float64
	}{
		{"normal", Uncertainty{Normal, 5}, 25, 3 * 625, 5 * 7},
		{"uniform", Uncertainty{Uniform, 5}, 25.0 / 3, 625.0 / 5, 5},
	} {
		t.Run(row.name, func(t *testing.T) {
			rng := rand.New(rand.NewPCG(3, 4))
			var m [5]float64
			most := 0.0
			for range n {
				v := row.spread.draw(rng)
				most = max(most, math.Abs(v))
				for k, p := 1, v; k <= 4; k, p = k+1, p*v {
					m[k] += p / n
				}
			}
			// Five standard errors of the mean; the others are held to 1 %, which is
			// more than three of theirs.
			if math.Abs(m[1]) > 5*math.Sqrt(row.second/n) || math.Abs(m[2]/row.second-1) > 0.01 || math.Abs(m[4]/row.fourth-1) > 0.015 || most > row.most {
				t.Errorf("moments %v, largest %v; want 0, %v, 0, %v, up to %v", m[1:], most, row.second, row.fourth, row.most)
			}
		})
	}
}
