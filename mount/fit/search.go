package fit

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/gaze/minimax"
	"sightpost/mount"
	"sightpost/mount/fit/internal/parallel"
	"sightpost/mount/space"
)

// searchSettings returns the settings with the best score within their limits:
// the search for the target pose with the settings as its variables. It is what
// is left when the target is out of reach, or cannot be reached without touching
// the keep-clear zones. near is where the search for the target came nearest.
func (t *mountingSolver) searchSettings(ctx context.Context, near mount.Settings) (mount.Settings, error) {
	if len(t.chain().Moving()) == 0 {
		return mount.Settings{}, nil // nothing can be set
	}
	for {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		s, err := newSettingSearch(t.problem, t.chain())
		if err != nil {
			return nil, err
		}
		best, stops, err := s.coarse(ctx, near)
		if err != nil {
			return nil, err
		}
		s.fix(stops)
		best, err = s.solver.Maximise(s.problem, best.X, minimax.Options{Tolerance: 0.001})
		if err != nil || !t.watchAt(best.X) {
			return best.X, err
		}
		near = best.X
	}
}

// polish goes on from settings found with the sag a little different, at the stops
// where they are.
func (t *mountingSolver) polish(ctx context.Context, from mount.Settings) (mount.Settings, error) {
	if len(from) == 0 {
		return mount.Settings{}, nil // nothing can be set
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	s, err := newSettingSearch(t.problem, t.chain())
	if err != nil {
		return nil, err
	}
	stops := make([]float64, len(from))
	for k, j := range s.moving {
		stops[k] = math.NaN()
		if j.Indexed {
			stops[k] = from[k]
		}
	}
	s.fix(stops)
	best, err := s.solver.Maximise(s.problem, from, minimax.Options{Tolerance: 0.001})
	return best.X, err
}

// coarse climbs a little from every start at every combination of stops, then from the
// best places so reached until little more is to be had, and returns the best and its
// stops.
func (s *settingSearch) coarse(ctx context.Context, near mount.Settings) (best minimax.Solution, at []float64, err error) {
	var all []climb
	starts := s.starts(near)
	for _, stops := range s.stops() {
		for _, start := range starts {
			all = append(all, climb{minimax.Solution{X: start}, stops})
		}
	}
	if all, err = s.climbs(ctx, all, minimax.Options{Tolerance: 0.1, Steps: firstSteps}); err != nil {
		return best, nil, err
	}
	slices.SortStableFunc(all, func(a, b climb) int { return cmp.Compare(b.merit(), a.merit()) })
	if all, err = s.climbs(ctx, all[:min(len(all), goneOn)], minimax.Options{Tolerance: 0.1, Steps: 40}); err != nil {
		return best, nil, err
	}
	merit := math.Inf(-1)
	for _, c := range all {
		if c.merit() > merit {
			best, at, merit = c.Solution, c.stops, c.merit()
		}
	}
	return best, at, nil
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
			out[i].Solution, failed[i] = own.solver.Maximise(own.problem, from[i].X, opt)
		}
	})
	return out, errors.Join(failed...)
}

// again returns the same search for another goroutine.
func (s *settingSearch) again() (*settingSearch, error) {
	own := *s.b
	own.scorer = gaze.NewScorer(own.request)
	return newSettingSearch(&own, s.chain)
}

const (
	// firstSteps tell which climbs lead anywhere; goneOn is how many of them are gone
	// on with.
	firstSteps = 10
	goneOn     = 6
)

// climb is where a climb has come to, at some stops.
type climb struct {
	minimax.Solution
	stops []float64
}

func (c *climb) merit() float64 { return c.Score - brokenWeight*c.Missed }

// settingSearch is the minimax problem over the settings of a chain.
type settingSearch struct {
	b        *problem
	chain    mount.Chain
	moving   []mount.Joint
	compiled *mount.Compiled
	rates    []mount.Rate
	problem  minimax.Problem
	solver   minimax.Solver
	geometry *tubeGeometry
	tails    []tail
}

func newSettingSearch(b *problem, chain mount.Chain) (*settingSearch, error) {
	compiled, err := chain.Compile()
	if err != nil {
		return nil, err
	}
	s := &settingSearch{b: b, chain: chain, moving: chain.Moving(), compiled: compiled}
	s.rates = make([]mount.Rate, len(s.moving))
	if s.geometry, err = newTubeGeometry(chain); err != nil {
		return nil, err
	}
	s.tails = s.geometry.tails()
	s.problem = minimax.Problem{
		Terms:     b.scorer.Terms(),
		Limits:    b.scorer.Limits() + s.tubeLimits(),
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

// tubeLimits returns how many limits the tubes have: one for each zone to be kept
// clear and, if a tube sticks out behind what holds it, the floor.
func (s *settingSearch) tubeLimits() int { return len(s.b.keeps) + min(len(s.tails), 1) }

// evaluate computes the score's functions at settings x, and the limits of the
// tubes after those of the score.
func (s *settingSearch) evaluate(x, f, grad []float64) {
	n := len(x)
	pose := s.compiled.PoseAndRates(x, s.rates)
	slopes := s.b.scorer.At(pose)
	first := s.problem.Terms + s.b.scorer.Limits()
	keeps := len(s.b.keeps)
	for i := range slopes {
		at := i
		if i >= first {
			at += s.tubeLimits() // costs come after all limits
		}
		f[at] = slopes[i].MM
		if grad == nil {
			continue
		}
		for k := range s.rates {
			grad[at*n+k] = r3.Dot(slopes[i].Shift, s.rates[k].Move) + r3.Dot(slopes[i].Turn, s.rates[k].Turn)
		}
	}
	if keeps > 0 {
		s.evaluateTubes(x, f[first:first+keeps], grad, first)
	}
	if len(s.tails) > 0 {
		var row []float64
		if grad != nil {
			row = grad[(first+keeps)*n : (first+keeps+1)*n]
		}
		f[first+keeps] = s.evaluateFloor(x, row)
	}
}

// evaluateFloor returns how high above the floor the lowest free end of a tube is
// in the postures in which the mount stands (mm), and how that changes with each setting.
func (s *settingSearch) evaluateFloor(x mount.Settings, row []float64) float64 {
	s.geometry.place(x)
	frames := s.geometry.frames
	least, low := math.Inf(1), space.Clearance{}
	carrier := -1
	for _, i := range s.b.asSet {
		chairFromCarrier := s.b.postures[i].Carrier
		for _, t := range s.tails {
			at := frames[t.carrier].Apply(t.at)
			if z := chairFromCarrier.Apply(at).Z; z < least {
				least, carrier = z, t.carrier
				low = space.Clearance{On: at, Toward: chairFromCarrier.Rot.ApplyInverse(r3.Vec{Z: 1})}
			}
		}
	}
	if row != nil {
		s.moveTube(low, carrier, row)
	}
	return least - s.b.floorSagMM
}

// evaluateTubes computes the margin of the tubes to each keep-clear zone.
// Its gradient is that of the nearest point, which moves with every setting
// between the carrier and the tube.
func (s *settingSearch) evaluateTubes(x mount.Settings, rooms, grad []float64, first int) {
	tubes := s.geometry.at(x)
	n := len(x)
	for k := range rooms {
		mm, gap, carrier := tubeMargin(tubes, &s.b.keeps[k])
		rooms[k] = mm
		if grad != nil {
			s.moveTube(gap, carrier, grad[(first+k)*n:(first+k+1)*n])
		}
	}
}

// moveTube fills in how a gap changes with each setting: by the motion, along the
// gap, of its point on the tube that the joint at place carrier carries.
func (s *settingSearch) moveTube(gap space.Clearance, carrier int, row []float64) {
	clear(row)
	frames, setting := s.geometry.frames, 0
	for place, j := range s.chain.Joints[:carrier+1] {
		if j.Motion == mount.Fixed {
			continue
		}
		move := frames[place].Rot.Apply(j.Axis)
		if j.Motion == mount.Turn {
			move = r3.Cross(move, r3.Sub(gap.On, frames[place].At))
		}
		row[setting] = r3.Dot(gap.Toward, move)
		setting++
	}
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
