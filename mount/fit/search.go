package fit

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"

	"sightpost/gaze"
	"sightpost/gaze/minimax"
	"sightpost/mount"
	"sightpost/mount/fit/internal/parallel"
)

// searchSettings returns the settings with the best score within their limits of those
// that work, or else those with the greatest margin: the search for the target pose with
// the settings as its variables. It is what is left when the target is out of reach, or
// cannot be reached without touching the keep-clear zones. near is where the search for
// the target came nearest.
func (t *mountingSolver) searchSettings(ctx context.Context, near mount.Settings) (mount.Settings, error) {
	for {
		if *t.climbs > mostClimbs || t.quick && *t.climbs > mostClimbs/7 {
			return t.polish(ctx, near)
		}
		t.set.Forced = false
		best, err := t.workingFirst(ctx, func(s *settingSearch) (mount.Settings, error) {
			best, err := s.coarse(ctx, near)
			*t.climbs += len(s.ends)
			if err != nil {
				return nil, err
			}
			return s.climb(best.X, best.stops)
		})
		if err != nil || !t.watchAt(best) {
			return best, err
		}
		near = best
	}
}

// mostClimbs bounds the climbs from everywhere for one place of the clamp: after as many,
// a search goes on from the settings found so far. Usual jobs need a quarter. A variant
// of a job gets a seventh, and no more starts.
const mostClimbs = 160

// polish goes on from settings found with the sag a little different, at the stops
// where they are.
func (t *mountingSolver) polish(ctx context.Context, from mount.Settings) (mount.Settings, error) {
	return t.workingFirst(ctx, func(s *settingSearch) (mount.Settings, error) { return s.climb(from, s.stopsAt(from)) })
}

// workingFirst searches for the best score. Where that does not work, it searches for the
// greatest margin and, from settings that work, for the best score of those that do.
func (t *mountingSolver) workingFirst(ctx context.Context, search func(*settingSearch) (mount.Settings, error)) (mount.Settings, error) {
	if len(t.chain().Moving()) == 0 {
		return mount.Settings{}, nil // nothing can be set
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	s, err := newSettingSearch(t.problem, t.chain())
	if err != nil {
		return nil, err
	}
	best, forced, err := s.workingFirst(search)
	if err != nil {
		return nil, err
	}
	t.set.Forced = t.set.Forced || forced
	return s.leastCost(best)
}

// workingFirst is the same, whatever the settings cost, and says whether comfort gave way.
func (s *settingSearch) workingFirst(search func(*settingSearch) (mount.Settings, error)) (_ mount.Settings, forced bool, _ error) {
	best, err := search(s)
	if err != nil || s.works(best) {
		return best, false, err
	}
	rates := s.problem.Rates
	s.problem.Rates = gaze.TieBreak(rates)
	widest, err := search(s)
	if err != nil || !s.works(widest) {
		return widest, false, err
	}
	floor := s.b.request.RequiredMM
	s.problem.Rates, s.problem.Floor = rates, &floor
	works := minimax.Solution{X: widest}
	for _, from := range [2]mount.Settings{widest, best} {
		sol, err := s.comfort(from)
		if err != nil {
			return nil, false, err
		}
		if s.works(sol.X) && (works.Steps == 0 || sol.Score > works.Score+clearMM) {
			works = sol
		}
	}
	return works.X, true, nil
}

// comfort climbs to the best score at the stops of given settings.
func (s *settingSearch) comfort(from mount.Settings) (minimax.Solution, error) {
	s.fix(s.stopsAt(from))
	return s.solver.Maximize(s.problem, from, minimax.Options{Tolerance: 0.001, Penalty: 1000 * max(1, slices.Max(s.problem.Rates))})
}

// climb climbs to the very top at some stops.
func (s *settingSearch) climb(from mount.Settings, stops []float64) (mount.Settings, error) {
	s.fix(stops)
	best, err := s.solver.Maximize(s.problem, from, minimax.Options{Tolerance: 0.001})
	return best.X, err
}

// stopsAt returns the positions of the settings that have stops; others are NaN.
func (s *settingSearch) stopsAt(at mount.Settings) []float64 {
	stops := make([]float64, len(at))
	for k, j := range s.moving {
		stops[k] = math.NaN()
		if j.Indexed {
			stops[k] = at[k]
		}
	}
	return stops
}

// coarse climbs a little from every start at every combination of stops, then from the
// best places so reached until little more is gained, and returns the best. Settings
// with too many stops are climbed with as if they had none, and then bound, one after the
// other, to the stops on either side. Asked again, for something else, it goes on from the
// places reached the first time, and from more.
func (s *settingSearch) coarse(ctx context.Context, near mount.Settings) (best climb, err error) {
	combos, loose := s.stops()
	goOn, starts := goneOn, s.starts(near)
	if s.ends != nil {
		goOn, starts = 2*goneOn, s.spread(5, 4+max(1, moreStarts/len(combos)))
		if s.b.quick {
			starts = nil
		}
		for i := range s.ends {
			end := &s.ends[i]
			end.Score, end.Missed = s.worth(end.X)
		}
	}
	var first []climb
	for _, stops := range combos {
		for _, start := range starts {
			first = append(first, climb{minimax.Solution{X: start}, stops})
		}
	}
	if first, err = s.climbs(ctx, first, minimax.Options{Tolerance: 0.1, Steps: firstSteps}); err != nil {
		return best, err
	}
	s.ends = append(s.ends, first...)
	all := slices.Clone(s.ends)
	slices.SortStableFunc(all, bestFirst)
	all = all[:min(len(all), goOn)]
	if all, err = s.climbs(ctx, all, minimax.Options{Tolerance: 0.1, Steps: 40}); err != nil {
		return best, err
	}
	for _, k := range loose {
		var bound []climb
		for _, c := range all {
			below, above := s.moving[k].Neighbors(c.X[k])
			for _, stop := range slices.Compact([]float64{below, above}) {
				at := climb{c.Solution, slices.Clone(c.stops)}
				at.stops[k] = stop
				bound = append(bound, at)
			}
		}
		if all, err = s.climbs(ctx, bound, minimax.Options{Tolerance: 0.1, Steps: 40}); err != nil {
			return best, err
		}
	}
	return slices.MinFunc(all, bestFirst), nil
}

// climbs goes on with each of several climbs, on as many processors as there are.
func (s *settingSearch) climbs(ctx context.Context, from []climb, opt minimax.Options) ([]climb, error) {
	out, failed := make([]climb, len(from)), make([]error, len(from))
	_ = parallel.Blocks(context.Background(), len(from), 1, 0, nil, func() func(block, from, to int) {
		own, err := s.again()
		return func(_, i, _ int) {
			if failed[i] = err; err == nil {
				failed[i] = ctx.Err()
			}
			if failed[i] != nil {
				return
			}
			own.fix(from[i].stops)
			out[i].stops = from[i].stops
			out[i].Solution, failed[i] = own.solver.Maximize(own.problem, from[i].X, opt)
		}
	})
	return out, errors.Join(failed...)
}

// again returns the same search for another goroutine.
func (s *settingSearch) again() (*settingSearch, error) {
	b := *s.b
	b.scorer = gaze.NewScorer(b.request)
	own, err := newSettingSearch(&b, s.chain)
	if err == nil {
		own.problem.Rates = s.problem.Rates
	}
	return own, err
}

const (
	// firstSteps tell which climbs lead anywhere; goneOn is how many of them are gone
	// on with.
	firstSteps = 10
	goneOn     = 6
	// moreStarts are made where the first come to nothing that works: with 24, all of 60
	// mounts of testdata/reference/scripts/feasible.py come to their greatest margin, with
	// 12 all but one, with none all but 13.
	moreStarts = 36
)

// climb is where a climb has come to, at some stops.
type climb struct {
	minimax.Solution
	stops []float64
}

func (c *climb) merit() float64 { return c.Score - BrokenWeight*c.Missed }

// bestFirst orders climbs by their merit; those that are as good stay in their order.
func bestFirst(a, b climb) int { return compareClear(b.merit(), a.merit()) }

// clearMM is by how much scores must differ to count as different in a search: what differs
// by less may differ by rounding, otherwise on another processor.
const clearMM = 1e-3

// compareClear compares scores in steps of clearMM.
func compareClear(a, b float64) int { return cmp.Compare(math.Round(a/clearMM), math.Round(b/clearMM)) }

// starts returns the settings from which the search begins: the nearest to the
// target, the preferred ones, and mixtures spread over the ranges.
func (s *settingSearch) starts(near mount.Settings) [][]float64 {
	var out [][]float64
	if len(near) == len(s.moving) {
		out = append(out, near)
	}
	out = append(out, s.chain.Preferred())
	return append(out, s.spread(1, 4)...)
}

// spread returns mixtures spread over the ranges, the same each time.
func (s *settingSearch) spread(from, to int) [][]float64 {
	var out [][]float64
	for i := from; i <= to; i++ {
		spread := make([]float64, len(s.moving))
		for k, j := range s.moving {
			spread[k] = Spread(float64(i), k, j.Low, j.High)
		}
		out = append(out, spread)
	}
	return out
}

var primes = [...]float64{2, 3, 5, 7, 11, 13, 17, 19, 23, 29}

// Spread returns the value between low and high of variable k of the nth of many points
// that lie evenly, and the same each time: the fractional part of n·√prime of the way.
func Spread(n float64, k int, low, high float64) float64 {
	_, part := math.Modf(n * math.Sqrt(primes[k%len(primes)]))
	return low + part*(high-low)
}

// mostCombos is how many combinations of stops are climbed at one by one.
const mostCombos = 24

// stops returns every combination of positions of the settings that have stops, others
// being NaN, and the settings left loose, those with the most stops, because there would
// be too many combinations.
func (s *settingSearch) stops() (combos [][]float64, loose []int) {
	free := make([]float64, len(s.moving))
	var stopped []int
	count := 1
	for k, j := range s.moving {
		free[k] = math.NaN()
		if n := len(j.Stops()); n > 0 {
			stopped, count = append(stopped, k), count*n
		}
	}
	slices.SortStableFunc(stopped, func(a, b int) int {
		return cmp.Compare(len(s.moving[b].Stops()), len(s.moving[a].Stops()))
	})
	for count > mostCombos {
		count /= len(s.moving[stopped[0]].Stops())
		loose, stopped = append(loose, stopped[0]), stopped[1:]
	}
	combos = [][]float64{free}
	for _, k := range stopped {
		var more [][]float64
		for _, base := range combos {
			for _, at := range s.moving[k].Stops() {
				next := slices.Clone(base)
				next[k] = at
				more = append(more, next)
			}
		}
		combos = more
	}
	return combos, loose
}

// fix narrows the bounds of the settings with stops to the given positions.
func (s *settingSearch) fix(stops []float64) {
	for k, j := range s.moving {
		s.problem.Lower[k], s.problem.Upper[k] = j.Low, j.High
		if !math.IsNaN(stops[k]) {
			s.problem.Lower[k], s.problem.Upper[k] = stops[k], stops[k]
		}
	}
}
