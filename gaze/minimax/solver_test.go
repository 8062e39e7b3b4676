package minimax_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"sightpost/gaze/minimax"
)

// hills is a random problem: concave paraboloids, a disc to stay in, and costs.
type hills struct {
	peak, height, steep []float64 // two, one and one for each hill
	disc                [3]float64
	prefer              [2]float64
}

func randomHills(rng *rand.Rand, n int) hills {
	h := hills{disc: [3]float64{rng.NormFloat64(), rng.NormFloat64(), 0.5 + rng.Float64()}}
	for range n {
		h.peak = append(h.peak, rng.NormFloat64()*2, rng.NormFloat64()*2)
		h.height = append(h.height, rng.NormFloat64())
		h.steep = append(h.steep, 0.1+rng.Float64())
	}
	h.prefer = [2]float64{rng.NormFloat64(), rng.NormFloat64()}
	return h
}

func (h *hills) evaluate(x, f, grad []float64) {
	n := len(h.height)
	if grad != nil {
		clear(grad)
	}
	row := func(i int, value, dx, dy float64) {
		f[i] = value
		if grad != nil {
			grad[2*i], grad[2*i+1] = dx, dy
		}
	}
	for i := range n {
		dx, dy, k := x[0]-h.peak[2*i], x[1]-h.peak[2*i+1], h.steep[i]
		row(i, h.height[i]-k*(dx*dx+dy*dy), -2*k*dx, -2*k*dy)
	}
	dx, dy := x[0]-h.disc[0], x[1]-h.disc[1]
	row(n, h.disc[2]*h.disc[2]-dx*dx-dy*dy, -2*dx, -2*dy)
	row(n+1, x[0]-h.prefer[0], 1, 0)
	row(n+2, x[1]-h.prefer[1], 0, 1)
}

func (h *hills) problem(rates []float64) minimax.Problem {
	return minimax.Problem{
		Terms: len(h.height), Limits: 1, Rates: rates, Functions: h.evaluate,
		Lower: []float64{-4, -4}, Upper: []float64{4, 4}, Unit: []float64{1, 1},
	}
}

// score is the merit at x, minus infinity where the disc is left.
func (h *hills) score(p *minimax.Problem, x, f []float64) float64 {
	p.Functions(x, f, nil)
	n := p.Terms
	if f[n] < 0 || slices.Min(x) < -4 || slices.Max(x) > 4 {
		return math.Inf(-1)
	}
	return slices.Min(f[:n]) - p.Rates[0]*math.Abs(f[n+1]) - p.Rates[1]*math.Abs(f[n+2])
}

// TestAgainstRandomSampling: no random point, drawn ever closer about the best
// one, beats the answer, and the answer keeps bounds and constraint. The
// functions are concave, so that there is one hill only.
func TestAgainstRandomSampling(t *testing.T) {
	const tolerance = 1e-5 // the solver stops when less than 1e-6 is foretold; sampling adds its own
	rng := rand.New(rand.NewPCG(1, 2))
	for trial := range 60 {
		h := randomHills(rng, 1+rng.IntN(8))
		p := h.problem([]float64{rng.Float64(), rng.Float64()})
		var solver minimax.Solver
		start := []float64{rng.NormFloat64() * 10, rng.NormFloat64() * 10} // outside the bounds, as often as not
		sol, err := solver.Maximize(p, start, minimax.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if sol.Missed > 1e-9 || slices.Min(sol.X) < -4 || slices.Max(sol.X) > 4 {
			t.Fatalf("trial %d: %v misses its constraint by %g", trial, sol.X, sol.Missed)
		}
		f := make([]float64, p.Terms+3)
		best, at := math.Inf(-1), []float64{h.disc[0], h.disc[1]}
		for width := 4.0; width > 1e-6; width *= 0.6 {
			center := slices.Clone(at)
			for range 250 {
				x := []float64{center[0] + width*rng.NormFloat64(), center[1] + width*rng.NormFloat64()}
				if v := h.score(&p, x, f); v > best {
					best, at = v, x
				}
			}
		}
		if sol.Score < best-tolerance || sol.Score > best+1e-3 {
			t.Errorf("trial %d: got %.9f at %v, sampling finds %.9f at %v", trial, sol.Score, sol.X, best, at)
		}
	}
}

func TestProblemsThatCannotBeSearched(t *testing.T) {
	constant := func(v float64) minimax.Functions {
		return func(_, f, grad []float64) {
			clear(grad)
			for i := range f {
				f[i] = v
			}
		}
	}
	good := func() minimax.Problem {
		return minimax.Problem{Terms: 1, Functions: constant(1), Lower: []float64{0}, Upper: []float64{1}, Unit: []float64{1}}
	}
	start := []float64{0.5}
	for _, row := range []struct {
		name  string
		spoil func(p *minimax.Problem)
	}{
		{"no variables", func(p *minimax.Problem) { p.Lower = nil }},
		{"bounds of another length", func(p *minimax.Problem) { p.Upper = []float64{1, 2} }},
		{"units of another length", func(p *minimax.Problem) { p.Unit = nil }},
		{"no functions", func(p *minimax.Problem) { p.Terms = 0 }},
		{"fewer than no constraints", func(p *minimax.Problem) { p.Limits = -1 }},
		{"a negative rate", func(p *minimax.Problem) { p.Rates = []float64{-1} }},
		{"a rate that is not a number", func(p *minimax.Problem) { p.Rates = []float64{math.NaN()} }},
		{"crossed bounds", func(p *minimax.Problem) { p.Lower[0] = 2 }},
		{"an infinite bound", func(p *minimax.Problem) { p.Upper[0] = math.Inf(1) }},
		{"a bound that is not a number", func(p *minimax.Problem) { p.Lower[0] = math.NaN() }},
		{"a unit of nothing", func(p *minimax.Problem) { p.Unit[0] = 0 }},
		{"a value that is not a number", func(p *minimax.Problem) { p.Functions = constant(math.NaN()) }},
		{"an infinite value", func(p *minimax.Problem) { p.Functions = constant(math.Inf(1)) }},
	} {
		t.Run(row.name, func(t *testing.T) {
			p := good()
			row.spoil(&p)
			var solver minimax.Solver
			if sol, err := solver.Maximize(p, start, minimax.Options{}); !errors.Is(err, minimax.ErrProblem) {
				t.Errorf("got %+v, %v; want ErrProblem", sol, err)
			}
		})
	}
	var solver minimax.Solver
	if _, err := solver.Maximize(good(), []float64{1, 2}, minimax.Options{}); !errors.Is(err, minimax.ErrProblem) {
		t.Errorf("a start of another length: got %v, want ErrProblem", err)
	}
	if sol, err := solver.Maximize(good(), start, minimax.Options{}); err != nil || sol.Score != 1 || !sol.Converged {
		t.Errorf("a flat function: got %+v, %v", sol, err)
	}
}

// TestFunctionsThatEndInTheMiddle: where a function stops being a number the
// search must turn back, and its answer must still be one.
func TestFunctionsThatEndInTheMiddle(t *testing.T) {
	p := minimax.Problem{
		Terms: 1, Lower: []float64{-10}, Upper: []float64{10}, Unit: []float64{5},
		Functions: func(x, f, grad []float64) {
			f[0] = -math.Sqrt(1-x[0]) - x[0]/4 // NaN beyond 1; greatest at 1
			if grad != nil {
				grad[0] = 0.5/math.Sqrt(1-x[0]) - 0.25
			}
		},
	}
	var solver minimax.Solver
	sol, err := solver.Maximize(p, []float64{-2}, minimax.Options{})
	if err != nil || math.IsNaN(sol.Score) || !(sol.X[0] <= 1) || sol.Score < -math.Sqrt(3)+0.5 {
		t.Errorf("got %+v, %v", sol, err)
	}
}

// TestStepsBoundTheSearch: with too few steps the best point so far comes back,
// and says that it is not the end.
func TestStepsBoundTheSearch(t *testing.T) {
	var solver minimax.Solver
	p := minimize(2, 3, 0, cb2)
	sol, err := solver.Maximize(p, []float64{9, 9}, minimax.Options{Steps: 2})
	if err != nil || sol.Converged || sol.Steps != 2 {
		t.Errorf("got %+v, %v", sol, err)
	}
	f := make([]float64, 3)
	p.Functions([]float64{9, 9}, f, nil)
	if sol.Score < slices.Min(f) {
		t.Errorf("got %g, worse than the start's %g", sol.Score, slices.Min(f))
	}
}

// TestRepeatedSearchesAllocateNothingButTheAnswer: the solver keeps its memory.
func TestRepeatedSearchesAllocateNothingButTheAnswer(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 3))
	h := randomHills(rng, 20)
	p := h.problem([]float64{0.1, 0.1})
	start := []float64{3, -3}
	var solver minimax.Solver
	search := func() {
		if _, err := solver.Maximize(p, start, minimax.Options{}); err != nil {
			t.Fatal(err)
		}
	}
	search()
	if got := testing.AllocsPerRun(20, search); got > 1 {
		t.Errorf("%g allocations, want the answer's one", got)
	}
}

// TestSolverForgets: an answer does not depend on what was solved before.
func TestSolverForgets(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 4))
	var used minimax.Solver
	for range 20 {
		h := randomHills(rng, 1+rng.IntN(20))
		p := h.problem([]float64{0.1, 0.1})
		start := []float64{rng.NormFloat64(), rng.NormFloat64()}
		var fresh minimax.Solver
		want, _ := fresh.Maximize(p, start, minimax.Options{})
		got, _ := used.Maximize(p, start, minimax.Options{})
		if got.Score != want.Score || !slices.Equal(got.X, want.X) {
			t.Fatalf("got %+v, a fresh solver gives %+v", got, want)
		}
	}
}

func BenchmarkMaximize(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 5))
	h := randomHills(rng, 50)
	p := h.problem([]float64{0.1, 0.1})
	start := []float64{3, -3}
	var solver minimax.Solver
	b.ReportAllocs()
	for b.Loop() {
		if _, err := solver.Maximize(p, start, minimax.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
