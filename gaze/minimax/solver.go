package minimax

import (
	"errors"
	"math"
	"slices"
)

// Functions evaluates a problem's functions at x. It fills f with the values of
// the minimax functions, then of the constraints, then of the costs and, when
// grad is not nil, grad with their gradients, one row of len(x) entries for each
// value. It must not keep or change x.
type Functions func(x, f, grad []float64)

// Problem is a minimax problem in len(Lower) variables.
type Problem struct {
	// Terms is the number of functions whose least is maximized, at least one.
	// Limits is the number of constraints h >= 0 that follow them, and Rates has
	// one rate, zero or more, for each cost c that follows those.
	Terms, Limits int
	Rates         []float64
	Functions     Functions
	// Floor, unless it is nil, is what every function must reach, as a constraint.
	Floor *float64
	// Lower and Upper bound the variables; both must be finite.
	Lower, Upper []float64
	// Unit is a change of each variable that matters about as much as one of the
	// others; the first trust region is so wide. It must be positive.
	Unit []float64
}

// Options adjust [Solver.Maximize]. The zero value is usable.
type Options struct {
	// Tolerance is the rise of the score below which the search stops. Zero means
	// 1e-6.
	Tolerance float64
	// Steps bounds the linear programs solved. Zero means 200.
	Steps int
	// Penalty is the cost of one unit by which a constraint is missed. It must be
	// larger than any score that missing it can win. Zero means 1000.
	Penalty float64
}

// Solution is where [Solver.Maximize] ended.
type Solution struct {
	// X is the best point. It is the caller's to keep.
	X []float64
	// Score is the least of the functions less the costs at X.
	Score float64
	// Missed is the largest amount by which a constraint or the floor is missed, zero
	// when all are met.
	Missed float64
	// Steps is the number of linear programs solved, Converged whether the search
	// stopped because no further rise was in sight.
	Steps     int
	Converged bool
}

// ErrProblem marks a problem that cannot be searched: lengths that do not agree,
// bounds that cross, functions that are not finite at the start.
var ErrProblem = errors.New("minimax: not a problem that can be searched")

// Solver holds the memory of a search, so that repeated searches allocate almost
// nothing. The zero value is ready to use; one Solver serves one goroutine.
type Solver struct {
	lp           program
	x, trial     []float64
	first        []float64 // the trial before its correction
	f, fTrial    []float64
	grad         []float64 // one row of len(x) for each function
	bent         []float64 // values that put the tangents through those of a trial
	swing        []float64 // see swingOf
	least        int       // the function that is least at x
	penalty, now float64
}

// Maximize searches from start, which is first brought within the bounds, and
// returns the best point met. It finds the highest point of the hill it starts
// on; callers try several starts.
func (s *Solver) Maximize(p Problem, start []float64, opt Options) (Solution, error) {
	if err := s.begin(p, start, &opt); err != nil {
		return Solution{}, err
	}
	sol := Solution{}
	size := 1.0 // of the trust region, in units
	for sol.Steps < opt.Steps {
		sol.Steps++
		foretold, ok := s.step(p, size, s.f)
		if !ok || foretold <= opt.Tolerance {
			sol.Converged = ok
			break
		}
		rise := s.merit(p, s.trial, s.fTrial, nil) - s.now
		if !(rise > 0.9*foretold) {
			rise = s.correct(p, size, rise)
		}
		switch ratio := rise / foretold; {
		case ratio > 0.75:
			size = min(2*size, 4)
		case !(ratio > 0.25):
			size *= 0.3
		}
		if rise > 0 {
			s.x, s.trial = s.trial, s.x
			s.now = s.merit(p, s.x, s.f, s.grad)
		}
		if size < 1e-10 {
			sol.Converged = true
			break
		}
	}
	sol.X = append([]float64(nil), s.x...)
	sol.Score, sol.Missed = p.Score(s.f)
	return sol, nil
}

// begin checks the problem, sizes the buffers and evaluates the start.
func (s *Solver) begin(p Problem, start []float64, opt *Options) error {
	n := len(p.Lower)
	if n == 0 || p.Functions == nil || len(p.Upper) != n || len(p.Unit) != n || len(start) != n || p.Terms < 1 || p.Limits < 0 ||
		slices.ContainsFunc(p.Rates, func(r float64) bool { return !(r >= 0) }) {
		return ErrProblem
	}
	if opt.Tolerance == 0 {
		opt.Tolerance = 1e-6
	}
	if opt.Steps == 0 {
		opt.Steps = 200
	}
	if opt.Penalty == 0 {
		opt.Penalty = 1000
	}
	s.penalty = opt.Penalty
	m := p.Terms + p.Limits + len(p.Rates)
	s.x, s.trial, s.first = resized(s.x, n), resized(s.trial, n), resized(s.first, n)
	s.f, s.fTrial, s.grad = resized(s.f, m), resized(s.fTrial, m), resized(s.grad, m*n)
	s.bent, s.swing = resized(s.bent, m), resized(s.swing, m)
	for k := range n {
		if !(p.Lower[k] <= p.Upper[k]) || math.IsInf(p.Upper[k]-p.Lower[k], 0) || !(p.Unit[k] > 0) {
			return ErrProblem
		}
		s.x[k] = min(max(start[k], p.Lower[k]), p.Upper[k])
	}
	s.now = s.merit(p, s.x, s.f, s.grad)
	if math.IsNaN(s.now) || math.IsInf(s.now, 0) {
		return ErrProblem
	}
	return nil
}

// Score returns the least function less the costs, and the largest missed limit or floor,
// of values in the order of [Functions].
func (p *Problem) Score(f []float64) (score, missed float64) {
	score = math.Inf(1)
	for _, v := range f[:p.Terms] {
		score = min(score, v) // lets NaN through, so that it is seen
	}
	if p.Floor != nil {
		missed = max(0, *p.Floor-score)
	}
	costs := p.Terms + p.Limits
	for _, v := range f[p.Terms:costs] {
		missed = max(missed, -v)
	}
	for k, rate := range p.Rates {
		score -= rate * math.Abs(f[costs+k])
	}
	return score, missed
}

// merit evaluates the functions at x and returns the score less the penalty.
func (s *Solver) merit(p Problem, x, f, grad []float64) float64 {
	p.Functions(x, f, grad)
	score, missed := p.Score(f)
	return score - s.penalty*missed
}

// correct tries to better a trial whose rise fell short of what was foretold, and
// returns the better rise.
//
// Along a kink or a constraint that is curved, the tangents lead off to one side
// however short the step, and the search would creep. The second program has the
// same slopes but goes through the values found at the trial, which brings its
// vertex back to the kink.
//
// Reference: R. Fletcher, "Second order corrections for non-differentiable
// optimization", Lecture Notes in Mathematics 912 (1982) 85-114, from memory.
func (s *Solver) correct(p Problem, size, rise float64) float64 {
	n := len(s.x)
	for i := range s.bent {
		s.bent[i] = s.fTrial[i]
		for k, g := range s.grad[i*n : (i+1)*n] {
			s.bent[i] -= g * (s.trial[k] - s.x[k])
		}
	}
	s.first, s.trial = s.trial, s.first
	if _, ok := s.step(p, size, s.bent); ok {
		if again := s.merit(p, s.trial, s.fTrial, nil) - s.now; again > rise {
			return again
		}
	}
	s.first, s.trial = s.trial, s.first
	return rise
}

// step solves the linear program about s.x within size units, puts its vertex
// into s.trial and returns the rise of the merit that it foretells. Its functions
// have the slopes at s.x and the values at.
//
// Its variables are the n changes, the least function t, the size of each cost
// and, when there are constraints or a floor, the amount missed.
func (s *Solver) step(p Problem, size float64, at []float64) (foretold float64, ok bool) {
	n := len(s.x)
	t, vars := n, n+1+len(p.Rates)
	if p.constrained() {
		vars++
	}
	lp := &s.lp
	lp.reset(vars)
	lp.c[t] = 1
	s.addFunctions(p, size, at)
	s.addCosts(p, at)
	s.addBox(p, size)
	if !lp.solve() {
		return 0, false
	}
	value := 0.0
	for i, c := range lp.c {
		value += c * lp.x[i]
	}
	for k := range n {
		s.trial[k] = min(max(s.x[k]+lp.x[k], p.Lower[k]), p.Upper[k])
	}
	return value - s.now, true
}

// constrained reports whether anything can be missed.
func (p *Problem) constrained() bool { return p.Limits > 0 || p.Floor != nil }

// addFunctions adds the rows t - grad·d <= f, -grad·d - v <= f - floor and
// -grad·d - v <= h, and puts the least of the first, with the row v >= 0, into the first
// basis. Functions that cannot become the least one, or be missed, within the trust
// region are left out: most of them.
func (s *Solver) addFunctions(p Problem, size float64, at []float64) {
	lp, n := &s.lp, len(s.x)
	s.least = 0
	ceiling := math.Inf(1)
	for i, v := range at[:p.Terms] {
		s.swing[i] = s.swingOf(p, i, size)
		ceiling = min(ceiling, v+s.swing[i])
		if v < at[s.least] {
			s.least = i
		}
	}
	for i, v := range at[:p.Terms] {
		if v-s.swing[i] >= ceiling && i != s.least {
			continue
		}
		if i == s.least {
			lp.basis[n] = len(lp.b)
		}
		s.tangent(i, at[i])[n] = 1
	}
	if !p.constrained() {
		return
	}
	missed := lp.n - 1
	if p.Floor != nil {
		for i, v := range at[:p.Terms] {
			if over := v - *p.Floor; over < s.swing[i] {
				s.tangent(i, over)[missed] = -1
			}
		}
	}
	for i := p.Terms; i < p.Terms+p.Limits; i++ {
		s.tangent(i, at[i])[missed] = -1
	}
	lp.c[missed] = -s.penalty
	lp.basis[missed] = len(lp.b)
	lp.row(0)[missed] = -1
}

// swingOf returns by how much the tangent of function i can change within the
// trust region.
func (s *Solver) swingOf(p Problem, i int, size float64) float64 {
	n, swing := len(s.x), 0.0
	for k, g := range s.grad[i*n : (i+1)*n] {
		swing += math.Abs(g) * size * p.Unit[k]
	}
	return swing
}

// tangent adds the row -grad·d <= f of function i and returns it.
func (s *Solver) tangent(i int, f float64) []float64 {
	n := len(s.x)
	row := s.lp.row(f)
	for k, g := range s.grad[i*n : (i+1)*n] {
		row[k] = -g
	}
	return row
}

// addCosts adds the rows ±(c + grad·d) - cost <= 0 and puts the one that counts
// at d = 0 into the first basis.
func (s *Solver) addCosts(p Problem, at []float64) {
	lp, n := &s.lp, len(s.x)
	for i, rate := range p.Rates {
		cost, from := n+1+i, p.Terms+p.Limits+i
		off := at[from]
		lp.c[cost] = -rate
		lp.basis[cost] = len(lp.b)
		if off < 0 {
			lp.basis[cost]++
		}
		for _, sign := range [2]float64{1, -1} {
			row := lp.row(-sign * off)
			for k, g := range s.grad[from*n : (from+1)*n] {
				row[k] = sign * g
			}
			row[cost] = -1
		}
	}
}

// addBox adds the rows that keep every change within the trust region and the
// bounds, and puts for each variable the side into the first basis that makes
// all multipliers non-negative: the side toward which the least function less
// the costs rises.
func (s *Solver) addBox(p Problem, size float64) {
	lp, n := &s.lp, len(s.x)
	for k := range n {
		rise := s.grad[s.least*n+k]
		for i, rate := range p.Rates {
			rise -= rate * lp.a[lp.basis[n+1+i]*lp.n+k]
		}
		lp.basis[k] = len(lp.b)
		if rise < 0 {
			lp.basis[k]++
		}
		lp.row(min(size*p.Unit[k], p.Upper[k]-s.x[k]))[k] = 1
		lp.row(min(size*p.Unit[k], s.x[k]-p.Lower[k]))[k] = -1
	}
}
