package mount

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Solver solves for one chain again and again with the same buffers. It is not for
// use by several goroutines at once; make one for each.
type Solver struct {
	moving []Joint
	search *search
	stops  [][]float64 // of every setting, nearest to preferred first; nil without stops
	combos int         // of stops
	random *rand.Rand
	seed   *rand.PCG
	cost   cost
	combo  int // of stops that the search is bound to

	entry, back, flex []float64 // scratch of Prefer
	freed             []bool
	known             []float64 // the minima of Prefer so far, one x after another
}

// Solver returns a solver for c, or what [Chain.Check] reports.
func (c Chain) Solver() (*Solver, error) {
	k, err := c.Compile()
	if err != nil {
		return nil, err
	}
	s := &Solver{moving: c.Moving(), combos: 1, seed: rand.NewPCG(0, 0)}
	s.random = rand.New(s.seed)
	s.search = newSearch(k, s.moving)
	for _, j := range s.moving {
		stops := j.Stops()
		slices.SortStableFunc(stops, func(a, b float64) int {
			return cmp.Compare(math.Abs(a-j.Preferred), math.Abs(b-j.Preferred))
		})
		s.stops = append(s.stops, stops)
		if len(stops) > 0 {
			s.combos *= len(stops)
		}
	}
	s.cost = newCost(s.moving, s.search.unit)
	n := len(s.moving)
	s.entry, s.back, s.flex, s.freed = make([]float64, n), make([]float64, n), make([]float64, n), make([]bool, n)
	return s, nil
}

// Solve searches for settings within their limits that bring the screen to
// target, carrierFromScreen. It tries several starts, the same ones every time,
// with every combination of stops, and returns the first that succeeds. The
// error is [ErrUnreached] when none did; the Solution then still holds the
// nearest settings found, and says which of them sit at a limit. Several
// settings often reach the same pose: see [Solver.Prefer].
func (s *Solver) Solve(target frame.Pose, opt Options) (Solution, error) {
	opt, err := s.prepare(target, opt, solveStarts)
	if err != nil {
		return Solution{}, err
	}
	return s.first(opt)
}

// solveStarts is how many starts Solve tries with every combination of stops; the hardest
// of twelve thousand random targets needed ten. mostDescents bounds the descents of all
// of them together.
const (
	solveStarts  = 100
	mostDescents = 2400
)

// first returns the first allowed solution, or the best there is.
func (s *Solver) first(opt Options) (Solution, error) {
	best, bestOff := Solution{OffMM: math.Inf(1)}, math.Inf(1)
	refused := false // the target was reached, with settings that are not allowed
	for start := range opt.Starts {
		for combo := range s.combos {
			if start*s.combos+combo >= mostDescents {
				break
			}
			off := s.attempt(start, combo, opt.Iterations)
			reached := s.reached(opt)
			allowed := reached && opt.allows(s.search.settings())
			if allowed || reached && !refused || !refused && off < bestOff {
				bestOff = off
				best = s.solution()
			}
			if best.Starts = start + 1; allowed {
				return best, nil
			}
			refused = refused || reached
		}
	}
	if refused {
		return best, ErrNotAllowed
	}
	return best, ErrUnreached
}

// Solve is [Solver.Solve] for a single target.
func (c Chain) Solve(target frame.Pose, opt Options) (Solution, error) {
	s, err := c.Solver()
	if err != nil {
		return Solution{}, err
	}
	return s.Solve(target, opt)
}

// Prefer is [Solver.Prefer] for a single target.
func (c Chain) Prefer(target frame.Pose, start Settings, opt Options) (Solution, error) {
	s, err := c.Solver()
	if err != nil {
		return Solution{}, err
	}
	return s.Prefer(target, start, opt)
}

// prepare checks the target and the options, fills in defaults, and points the
// search at the target.
func (s *Solver) prepare(target frame.Pose, opt Options, starts int) (Options, error) {
	if !soundPose(target) {
		return opt, errors.New("mount: target is not a pose within 100 m")
	}
	for _, v := range []float64{opt.ToleranceMM, opt.Tolerance.Radians(), opt.Lever, float64(opt.Iterations), float64(opt.Starts)} {
		if !(v >= 0) || math.IsInf(v, 1) {
			return opt, fmt.Errorf("mount: options: %v must be 0 (the default) or more", v)
		}
	}
	opt.ToleranceMM = cmp.Or(opt.ToleranceMM, defaultToleranceMM)
	opt.Tolerance = cmp.Or(opt.Tolerance, defaultTolerance)
	opt.Iterations = cmp.Or(opt.Iterations, defaultIterations)
	opt.Starts = cmp.Or(opt.Starts, starts)
	s.search.target = target
	s.seed.Seed(1, 2)
	return opt, nil
}

const (
	defaultToleranceMM = 0.1
	defaultTolerance   = 0.01 * frame.Degree
	defaultIterations  = 60
)

func (o Options) allows(s Settings) bool { return o.Allowed == nil || o.Allowed(s) }

// candidates is how many random settings are looked at to begin one start from
// the nearest: a look costs a tenth of a descent, and four halve the failed ones.
const candidates = 4

// attempt makes one descent with the given combination of stops, and returns the
// squared residual it ends with.
func (s *Solver) attempt(start, combo, iterations int) float64 {
	s.bound(combo, true)
	q, nearest := s.search, math.Inf(1)
	for c := range candidates {
		for i, j := range s.moving {
			low, high := s.limits(i, combo)
			v := low + s.random.Float64()*(high-low)
			if start == 0 && c == 0 {
				v = math.Min(math.Max(j.Preferred/q.unit[i], low), high)
			}
			q.trial[i] = v
		}
		if f := q.look(q.trial, &q.offTrial); f < nearest {
			nearest = f
			copy(q.x, q.trial)
		}
	}
	f := q.descend(iterations)
	s.unwrap()
	return f
}

// attemptFrom makes one descent from x.
func (s *Solver) attemptFrom(x []float64, combo, iterations int) {
	s.bound(combo, true)
	for i, v := range x {
		s.search.x[i] = math.Min(math.Max(v, s.search.low[i]), s.search.high[i])
	}
	s.search.descend(iterations)
	s.unwrap()
}

// limits returns the limits of setting i in units of the search: twice the stop of
// the given combination, where it has stops.
func (s *Solver) limits(i, combo int) (low, high float64) {
	for k := range i {
		combo /= max(len(s.stops[k]), 1)
	}
	j, unit := s.moving[i], s.search.unit[i]
	if n := len(s.stops[i]); n > 0 {
		stop := s.stops[i][combo%n] / unit
		return stop, stop
	}
	return j.Low / unit, j.High / unit
}

// bound sets the limits of the search. If free, a turn that can go all the way
// round has none: it can cross its stop, and unwrap brings it back.
func (s *Solver) bound(combo int, free bool) {
	s.combo = combo
	for i := range s.moving {
		low, high := s.limits(i, combo)
		if free && s.goesRound(i) {
			low, high = math.Inf(-1), math.Inf(1)
		}
		s.search.low[i], s.search.high[i] = low, high
	}
}

// goesRound reports whether setting i is a turn that reaches every angle.
func (s *Solver) goesRound(i int) bool {
	j := s.moving[i]
	return j.Motion == Turn && !j.Indexed && j.High-j.Low >= 2*math.Pi-limitSlack
}

// unwrap moves turns that go all the way round by whole turns into their limits,
// as near to the preferred value as that allows.
func (s *Solver) unwrap() {
	for i, j := range s.moving {
		if !s.goesRound(i) {
			continue
		}
		v := j.Preferred + math.Remainder(s.search.x[i]-j.Preferred, 2*math.Pi)
		if v < j.Low {
			v += 2 * math.Pi
		} else if v > j.High {
			v -= 2 * math.Pi
		}
		s.search.x[i] = j.Clamp(v)
	}
}

// settings returns x in mm and radians, in the search's own buffer.
func (s *search) settings() Settings {
	for i, v := range s.x {
		s.natural[i] = v * s.unit[i]
	}
	return s.natural
}

// reached reports whether the pose at the search's x is within tolerance.
func (s *Solver) reached(opt Options) bool {
	q := s.search
	off := vec6{}
	q.offTarget(q.k.Pose(q.settings()), &off)
	move := math.Sqrt(off[0]*off[0]+off[1]*off[1]+off[2]*off[2]) * metre
	turn := math.Sqrt(off[3]*off[3]+off[4]*off[4]+off[5]*off[5]) / turnWeight
	return move <= opt.ToleranceMM && turn <= opt.Tolerance.Radians()
}

// atLimitSlack is how near to a limit a setting counts as sitting at it, mm or
// radians: far below what can be read, above what the search leaves.
const atLimitSlack = 1e-6

// solution describes the search's x.
func (s *Solver) solution() Solution {
	q := s.search
	sol := Solution{Settings: make(Settings, len(s.moving)), Cost: s.cost.at(q.x)}
	copy(sol.Settings, q.settings())
	for i, j := range s.moving {
		v := j.Clamp(sol.Settings[i]) // mm from m may miss a limit by one bit
		sol.Settings[i] = v
		switch {
		case v >= j.High-atLimitSlack:
			sol.AtLimit = append(sol.AtLimit, AtLimit{Setting: i, Joint: j.Name, High: true})
		case v <= j.Low+atLimitSlack:
			sol.AtLimit = append(sol.AtLimit, AtLimit{Setting: i, Joint: j.Name})
		}
	}
	pose := q.k.Pose(sol.Settings)
	sol.OffMM = r3.Norm(r3.Sub(q.target.At, pose.At))
	sol.Off = q.target.Rot.Mul(pose.Rot.Inverse()).Angle()
	return sol
}
