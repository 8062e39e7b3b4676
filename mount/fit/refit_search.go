package fit

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"sightpost/gaze/minimax"
	"sightpost/mount"
)

// outcome is the best that a set of settings can do.
type outcome struct {
	set      subset
	settings mount.Settings
	worth    worth
}

const (
	// climbTolerance ends a climb when less is to be had (mm). What comes within
	// nearMM of the wanted margin is searched once more, and to fineTolerance.
	climbTolerance, fineTolerance = 0.1, 0.001
	nearMM                        = 20
	// nearMissMM is how little may be missed of what is to be kept for the finer
	// search to be worth its while.
	nearMissMM = 2
	climbSteps = 40
	// startsTaken is how many scattered settings are climbed from at every stop.
	startsTaken = 5
	// apart is how far those must lie from each other, in units of the search.
	apart = 1.5
)

// climbing returns the options of a climb.
func climbing() minimax.Options { return minimax.Options{Tolerance: climbTolerance, Steps: climbSteps} }

// glance returns what a set of settings can give as far as climbs from the given
// settings tell, at the stops where these are. It ends as soon as that is enough.
func (r *refitting) glance(set subset, known ...mount.Settings) (outcome, error) {
	p := r.partial(set, false)
	best := outcome{set: set, worth: worth{marginMM: math.Inf(-1)}}
	for _, s := range known {
		start := p.part(s)
		p.bindAt(start)
		if err := p.climb(&best, [][]float64{start}, climbing()); err != nil {
			return best, err
		}
		if r.restores(best.worth) {
			if err := p.own(&best); err != nil || r.restores(best.worth) {
				return best, err
			}
		}
	}
	return best, nil
}

// best returns the best margin that a set of settings can give, and ends as soon
// as that is enough. The search starts at every stop from the given settings,
// then from the best of many that are scattered over the ranges, and from more of
// them when not much is missing.
func (r *refitting) best(set subset, known ...mount.Settings) (outcome, error) {
	p := r.partial(set, false)
	best, err := r.glance(set, known...)
	if err != nil || r.restores(best.worth) {
		return best, err
	}
	var given [][]float64
	for _, s := range known {
		given = append(given, p.part(s))
	}
	for round := range 2 {
		for _, stops := range p.stops() {
			p.bind(stops)
			starts := slices.Concat(given, p.scatter(round))
			if err := p.climb(&best, starts, climbing()); err != nil {
				return best, err
			}
			if r.restores(best.worth) {
				if err := p.own(&best); err != nil || r.restores(best.worth) {
					return best, err
				}
			}
		}
		if best.worth.merit() < r.wantedMM-nearMM {
			if !r.nearMiss(best.worth) {
				return best, p.own(&best)
			}
			break
		}
		given = nil
	}
	if err := p.polish(&best); err != nil {
		return best, err
	}
	return best, p.own(&best)
}

// polish climbs on from the best to the very top.
func (p *partial) polish(best *outcome) error {
	start := p.part(best.settings)
	p.bindAt(start)
	return p.climb(best, [][]float64{start}, minimax.Options{Tolerance: fineTolerance})
}

// climb climbs from the given starts and keeps the best end in best.
func (p *partial) climb(best *outcome, starts [][]float64, opt minimax.Options) error {
	for _, start := range starts {
		sol, err := p.all.solver.Maximise(p.problem, start, opt)
		if err != nil {
			return fmt.Errorf("%w: %w", ErrJob, err)
		}
		s := slices.Clone(p.whole(sol.X))
		if w := p.worth(s); w.merit() > best.worth.merit() {
			best.settings, best.worth = s, w
		}
		if p.restores(best.worth) && !p.scored {
			return nil
		}
	}
	return nil
}

// part returns the free settings out of all.
func (p *partial) part(s mount.Settings) []float64 {
	x := make([]float64, len(p.free))
	for k, i := range p.free {
		x[k] = p.moving[i].Clamp(s[i])
	}
	return x
}

// stops returns every combination of positions of the free settings with stops,
// NaN for the others, the one at which the mount stands first.
func (p *partial) stops() [][]float64 {
	none := make([]float64, len(p.free))
	for k := range none {
		none[k] = math.NaN()
	}
	out := [][]float64{none}
	for k, i := range p.free {
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

// bind narrows the bounds of the settings with stops to the given positions.
func (p *partial) bind(stops []float64) {
	for k, i := range p.free {
		p.problem.Lower[k], p.problem.Upper[k] = p.moving[i].Low, p.moving[i].High
		if !math.IsNaN(stops[k]) {
			p.problem.Lower[k], p.problem.Upper[k] = stops[k], stops[k]
		}
	}
}

// bindAt narrows the bounds of the settings with stops to those nearest to x.
func (p *partial) bindAt(x []float64) {
	stops := make([]float64, len(x))
	for k, i := range p.free {
		stops[k] = math.NaN()
		if p.moving[i].Indexed {
			stops[k] = p.moving[i].Round(x[k])
		}
	}
	p.bind(stops)
}

// scatter returns the best few, apart from each other, of many settings spread
// evenly over the bounds. One or two settings are so covered more finely than a
// hill of the margin is wide.
func (p *partial) scatter(round int) [][]float64 {
	points := 64 << min(len(p.free)-1, 2)
	all := make([]outcome, 0, points)
	for n := round * points; n < (round+1)*points; n++ {
		x := make([]float64, len(p.free))
		for k := range x {
			// the fractional parts of n·√prime spread evenly and the same each time
			_, part := math.Modf((float64(n) + 0.5) * math.Sqrt(primes[k%len(primes)]))
			x[k] = p.problem.Lower[k] + part*(p.problem.Upper[k]-p.problem.Lower[k])
		}
		all = append(all, outcome{settings: x, worth: p.screenWorth(p.whole(x))})
	}
	slices.SortStableFunc(all, func(a, b outcome) int { return cmp.Compare(b.worth.merit(), a.worth.merit()) })
	var out [][]float64
	for _, o := range all {
		if len(out) < startsTaken && p.farFrom(out, o.settings) {
			out = append(out, o.settings)
		}
	}
	return out
}

// farFrom reports whether x lies apart from all of others.
func (p *partial) farFrom(others [][]float64, x []float64) bool {
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

// bestScore returns the settings of a set with the best score among those that
// give the wanted margin, starting from one that does and from those as they
// stand.
func (r *refitting) bestScore(o outcome) (outcome, error) {
	p := r.partial(o.set, true)
	start := p.part(o.settings)
	p.bindAt(start)
	best := outcome{set: o.set, settings: o.settings, worth: o.worth}
	for _, from := range [][]float64{start, p.part(r.from)} {
		sol, err := r.all.solver.Maximise(p.problem, from, minimax.Options{Tolerance: climbTolerance / 10})
		if err != nil {
			return best, fmt.Errorf("%w: %w", ErrJob, err)
		}
		s := slices.Clone(p.whole(sol.X))
		if w := r.worth(s); r.nearly(w) && w.score > best.worth.score {
			best.settings, best.worth = s, w
		}
	}
	return best, nil
}

// nearly reports whether settings are good enough but for the last of a search.
func (r *refitting) nearly(w worth) bool {
	return w.missedMM == 0 && w.marginMM >= r.wantedMM-fineTolerance
}
