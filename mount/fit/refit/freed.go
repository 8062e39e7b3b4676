package refit

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"sightpost/gaze/minimax"
	"sightpost/mount"
	"sightpost/mount/fit"
)

// freed is the minimax problem over a set of settings, the others as found.
type freed struct {
	*searcher
	set     subset
	members []int
	problem minimax.Problem
}

// free returns the problem over a set of settings. Scored, its aim is the score, the
// required margin being a limit; otherwise its aim is the margin.
func (s *searcher) free(set subset, scored bool) *freed {
	p := &freed{searcher: s, set: set, members: set.members()}
	p.problem = minimax.Problem{Terms: s.all.Terms, Limits: s.all.Limits, Functions: p.evaluate}
	if scored {
		p.problem.Floor, p.problem.Rates = &s.requiredMM, s.all.Rates
	}
	for _, i := range p.members {
		p.problem.Lower = append(p.problem.Lower, s.moving[i].Low)
		p.problem.Upper = append(p.problem.Upper, s.moving[i].High)
		p.problem.Unit = append(p.problem.Unit, s.all.Unit[i])
	}
	return p
}

// whole returns all settings, the free ones at x, in a buffer of the searcher.
func (p *freed) whole(x []float64) mount.Settings {
	copy(p.at, p.from)
	for k, i := range p.members {
		p.at[i] = x[k]
	}
	return p.at
}

// part returns the free settings out of all.
func (p *freed) part(s mount.Settings) []float64 {
	x := make([]float64, len(p.members))
	for k, i := range p.members {
		x[k] = p.moving[i].Clamp(s[i])
	}
	return x
}

// evaluate computes the functions at x.
func (p *freed) evaluate(x, f, grad []float64) {
	full := p.grad
	if grad == nil {
		full = nil
	}
	p.all.Functions(p.whole(x), p.f, full)
	copy(f, p.f)
	for at := range grad {
		grad[at] = p.grad[at/len(x)*len(p.moving)+p.members[at%len(x)]]
	}
}

// climb climbs from x.
func (p *freed) climb(x []float64, opt minimax.Options) outcome {
	end := p.none(p.set)
	if p.fails(nil) {
		return end
	}
	sol, err := p.solver.Maximize(p.problem, x, opt)
	if err != nil {
		p.fails(fmt.Errorf("%w: %w", fit.ErrJob, err))
		return end
	}
	copy(end.settings, p.whole(sol.X))
	end.worth = p.worth(end.settings)
	return end
}

// enough climbs from x, keeps the end in best if it is better, and reports whether that
// is enough with its own sag, or the search has failed.
func (p *freed) enough(best *outcome, x []float64) bool {
	next := p.climb(x, minimax.Options{Tolerance: climbTolerance, Steps: climbSteps})
	p.ends = append(p.ends, next)
	if next.worth.merit() > best.worth.merit() {
		*best = next
	}
	if p.restores(best.worth) {
		p.settle(best)
	}
	return p.err != nil || p.restores(best.worth)
}

// polish climbs on from the best to the very top.
func (p *freed) polish(best *outcome) {
	start := p.part(best.settings)
	p.bind(start)
	if next := p.climb(start, minimax.Options{Tolerance: fineTolerance}); next.worth.merit() > best.worth.merit() {
		*best = next
	}
}

// settle judges the best with its own sag and climbs on from there until it is enough.
func (p *freed) settle(best *outcome) {
	for range mostSags {
		if best.worth = p.sagged(best.settings); p.restores(best.worth) {
			break
		}
		p.polish(best)
	}
	p.fails(p.SagAt(p.from))
}

// stops returns every combination of positions of the free settings with stops, the nearest
// to the one as found first. The others are zero.
func (p *freed) stops() [][]float64 {
	out := [][]float64{make([]float64, len(p.members))}
	for k, i := range p.members {
		positions := p.moving[i].Stops()
		slices.SortStableFunc(positions, func(a, b float64) int {
			return cmp.Compare(math.Abs(a-p.from[i]), math.Abs(b-p.from[i]))
		})
		var more [][]float64
		for _, at := range positions {
			for _, base := range out {
				next := slices.Clone(base)
				next[k] = at
				more = append(more, next)
			}
		}
		if more != nil {
			out = more
		}
	}
	return out
}

// bind narrows the bounds of the settings with stops to those nearest to x.
func (p *freed) bind(x []float64) {
	for k, i := range p.members {
		if p.moving[i].Indexed {
			p.problem.Lower[k] = p.moving[i].Round(x[k])
			p.problem.Upper[k] = p.problem.Lower[k]
		}
	}
}

// scatter returns the best few, apart from each other, of many settings spread
// evenly over the bounds. One or two settings are so covered more finely than a
// hill of the margin is wide.
func (p *freed) scatter() [][]float64 {
	type start struct {
		x     []float64
		merit float64
	}
	var all []start
	for n := range scattered << min(len(p.members)-1, 2) {
		x := make([]float64, len(p.members))
		for k := range x {
			x[k] = fit.Spread(float64(n)+0.5, k, p.problem.Lower[k], p.problem.Upper[k])
		}
		marginMM, missedMM := p.Screen(p.whole(x))
		all = append(all, start{x, worth{marginMM: marginMM, missedMM: missedMM}.merit()})
	}
	slices.SortStableFunc(all, func(a, b start) int { return cmp.Compare(b.merit, a.merit) })
	var out [][]float64
	for _, s := range all {
		if len(out) < startsTaken && p.farFrom(out, s.x) {
			out = append(out, s.x)
		}
	}
	return out
}

// farFrom reports whether x lies apart from all of others.
func (p *freed) farFrom(others [][]float64, x []float64) bool {
	for _, o := range others {
		sum := 0.0
		for k := range x {
			d := (x[k] - o[k]) / p.problem.Unit[k]
			sum += d * d
		}
		if sum < apart*apart {
			return false
		}
	}
	return true
}
