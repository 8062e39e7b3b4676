package fit

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/gaze/minimax"
	"sightpost/mount"
	"sightpost/mount/space"
)

// searchSettings returns the settings with the best score within their limits:
// the search for the target pose with the settings as its variables. It is what
// is left when the target is out of reach, or cannot be reached without touching
// what is to be kept clear. near is where the search for the target came nearest.
func (b *bench) searchSettings(chain mount.Chain, near mount.Settings) (mount.Settings, error) {
	s, err := newSettingSearch(b, chain)
	if err != nil {
		return nil, err
	}
	best, stops, err := s.coarse(near)
	if err != nil {
		return nil, err
	}
	s.fix(stops)
	best, err = s.solver.Maximise(s.problem, best.X, minimax.Options{Tolerance: 0.001})
	return best.X, err
}

// coarse climbs from every start at every combination of stops until little more
// is to be had, and returns the best and its stops.
func (s *settingSearch) coarse(near mount.Settings) (best minimax.Solution, at []float64, err error) {
	merit := math.Inf(-1)
	starts := s.starts(near)
	for _, stops := range s.stops() {
		s.fix(stops)
		for _, start := range starts {
			sol, err := s.solver.Maximise(s.problem, start, minimax.Options{Tolerance: 0.1, Steps: 40})
			if err != nil {
				return best, nil, err
			}
			if m := sol.Score - brokenWeight*sol.Missed; m > merit {
				best, at, merit = sol, stops, m
			}
		}
	}
	return best, at, nil
}

// settingSearch is the minimax problem over the settings of a chain.
type settingSearch struct {
	b        *bench
	chain    mount.Chain
	moving   []mount.Joint
	compiled *mount.Compiled
	rates    []mount.Rate
	problem  minimax.Problem
	solver   minimax.Solver
	tubes    []tubeShape
	shifted  mount.Settings
}

func newSettingSearch(b *bench, chain mount.Chain) (*settingSearch, error) {
	compiled, err := chain.Compile()
	if err != nil {
		return nil, err
	}
	s := &settingSearch{b: b, chain: chain, moving: chain.Moving(), compiled: compiled}
	s.rates = make([]mount.Rate, len(s.moving))
	s.shifted = make(mount.Settings, len(s.moving))
	s.problem = minimax.Problem{
		Terms:     b.scorer.Terms(),
		Limits:    b.scorer.Limits() + len(b.keeps),
		Rates:     b.scorer.Rates(),
		Functions: s.evaluate,
	}
	for _, j := range s.moving {
		s.problem.Lower = append(s.problem.Lower, j.Low)
		s.problem.Upper = append(s.problem.Upper, j.High)
		unit := 40.0 // mm
		if j.Motion == mount.Turn {
			unit = 0.15 // rad; as much at the end of a 300 mm arm
		}
		s.problem.Unit = append(s.problem.Unit, unit)
	}
	return s, nil
}

// evaluate computes the score's functions at settings x, and the room of the
// tubes to each space to be kept clear after the score's limits.
func (s *settingSearch) evaluate(x, f, grad []float64) {
	n := len(x)
	pose := s.compiled.PoseAndRates(x, s.rates)
	slopes := s.b.scorer.At(pose)
	first := s.problem.Terms + s.b.scorer.Limits()
	keeps := len(s.b.keeps)
	for i := range slopes {
		at := i
		if i >= first {
			at += keeps // costs come after all limits
		}
		f[at] = slopes[i].MM
		if grad == nil {
			continue
		}
		for k := range s.rates {
			grad[at*n+k] = r3.Dot(slopes[i].Shift, s.rates[k].Move) + r3.Dot(slopes[i].Turn, s.rates[k].Turn)
		}
	}
	for k := range s.b.keeps {
		f[first+k] = s.tubeRoomAt(x, k)
		if grad != nil {
			s.tubeGradient(x, k, grad[(first+k)*n:(first+k+1)*n])
		}
	}
}

// tubeRoomAt returns the room of the tubes to space k at settings x (mm).
func (s *settingSearch) tubeRoomAt(x mount.Settings, k int) float64 {
	var err error
	if s.tubes, err = tubeShapes(s.tubes[:0], s.chain, x); err != nil {
		return math.Inf(-1)
	}
	return tubeRoom(s.tubes, &s.b.keeps[k])
}

// tubeGradient fills in how the room of the tubes changes with each setting, by
// differences: which piece of which tube is nearest changes along the way. The
// steps stay within the limits.
func (s *settingSearch) tubeGradient(x mount.Settings, k int, row []float64) {
	copy(s.shifted, x)
	for i, j := range s.moving {
		h := 1e-4 * s.problem.Unit[i]
		up, down := min(x[i]+h, j.High), max(x[i]-h, j.Low)
		row[i] = 0
		if up > down {
			s.shifted[i] = up
			high := s.tubeRoomAt(s.shifted, k)
			s.shifted[i] = down
			row[i] = (high - s.tubeRoomAt(s.shifted, k)) / (up - down)
		}
		s.shifted[i] = x[i]
	}
}

// tubeRoom returns the least gap of the tubes to a space less the gap wanted
// (mm). Tubes that start inside the space because they are clamped there count
// like any other: a space drawn through its own clamp cannot be kept clear.
func tubeRoom(tubes []tubeShape, p *placed) float64 {
	least := math.Inf(1)
	for _, t := range tubes {
		least = min(least, space.Between(t.shape, p.shape).MM)
	}
	if math.IsInf(least, 1) {
		return 0 // a mount without tubes touches nothing
	}
	return least - p.keep.GapMM
}

// starts returns the settings from which the search begins: the nearest to the
// target, the preferred ones, and mixtures spread over the ranges.
func (s *settingSearch) starts(near mount.Settings) [][]float64 {
	var out [][]float64
	if len(near) == len(s.moving) {
		out = append(out, near)
	}
	out = append(out, s.chain.Preferred())
	for i := 1; i <= 4; i++ {
		spread := make([]float64, len(s.moving))
		for k, j := range s.moving {
			// the fractional parts of i·√prime spread evenly and the same each time
			_, part := math.Modf(float64(i) * math.Sqrt(primes[k%len(primes)]))
			spread[k] = j.Low + part*(j.High-j.Low)
		}
		out = append(out, spread)
	}
	return out
}

var primes = [...]float64{2, 3, 5, 7, 11, 13, 17, 19, 23, 29}

// stops returns every combination of positions of the settings that have stops;
// others are NaN.
func (s *settingSearch) stops() [][]float64 {
	free := make([]float64, len(s.moving))
	for k := range free {
		free[k] = math.NaN()
	}
	out := [][]float64{free}
	for k, j := range s.moving {
		positions := j.Stops()
		if len(positions) == 0 {
			continue
		}
		var more [][]float64
		for _, base := range out {
			for _, at := range positions {
				next := slices.Clone(base)
				next[k] = at
				more = append(more, next)
			}
		}
		out = more
	}
	return out
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

// turnOr returns value as an angle for a turn and as a length for a slide.
func turnOr(m mount.Motion, value float64) (mm float64, a frame.Angle) {
	if m == mount.Turn {
		return 0, frame.Angle(value)
	}
	return value, 0
}
