package mount

import (
	"cmp"
	"errors"
	"fmt"
	"iter"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Options adjust [Solver.Solve] and [Solver.Prefer]. The zero value of every field
// is usable and its default is stated here.
type Options struct {
	// Starts is how many starts are tried with every combination of stops, at most 513. Zero
	// means 512 for Solve, which ends at the first that succeeds, and 24 for Prefer, which
	// compares all of them.
	Starts int
	// Lever weighs the load's lever arm in Prefer: the cost, for every joint that
	// turns, of a horizontal distance of 100 mm between joint and screen; it grows
	// with the square of the distance. Zero means no cost.
	Lever float64
	// Allowed, if not nil, says whether settings are acceptable (say, clear of the
	// knees). It must neither keep nor change the settings it is given.
	Allowed func(Settings) bool
}

func (o Options) allows(s Settings) bool { return o.Allowed == nil || o.Allowed(s) }

// ErrUnreached reports that no start came within the tolerance: 0.05 mm, a turn by 0.01°
// counting as much.
var ErrUnreached = errors.New("mount: target not reached")

// ErrNotAllowed reports that the target was reached, but only with settings that
// Options.Allowed refused.
var ErrNotAllowed = errors.New("mount: target reached only with settings that are not allowed")

// Solution is the outcome of a search.
type Solution struct {
	Settings Settings
	Cost     float64 // what Prefer minimizes, at Settings; without the lever arm for Solve
}

// Solver solves for one chain again and again with the same buffers. It is not for
// use by several goroutines at once; make one for each.
type Solver struct {
	moving []Joint
	*search
	stops  [][]float64 // of every setting, nearest to preferred first; nil without stops
	combos int         // of stops
	combo  int         // of stops that the search is bound to

	spots []spot  // from which descents start, made at the first need
	tried float64 // the squared residual of the last that one started from

	entry, back []float64 // scratch of Prefer
	known       []float64 // the minima of Prefer so far, one x after another
}

// Solver returns a solver for c, or what [Chain.Check] reports.
func (c Chain) Solver() (*Solver, error) {
	k, err := c.Compile()
	if err != nil {
		return nil, err
	}
	s := &Solver{moving: c.Moving(), combos: 1}
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
	n := len(s.moving)
	s.entry, s.back = make([]float64, n), make([]float64, n)
	return s, nil
}

// Limit has setting i stay from low to high from now on, which must be within the limits of
// its joint. Descents start where they started before, brought within the limits.
func (s *Solver) Limit(i int, low, high float64) {
	s.moving[i].Low, s.moving[i].High = low, high
}

// Solve searches for settings within their limits that bring the screen to
// target, carrierFromScreen. It tries several starts, those whose pose is nearest, with
// every combination of stops, and returns the first that succeeds. The
// error is [ErrUnreached] when none did; the Solution then still holds the
// nearest settings found. Several settings often reach the same pose: see [Solver.Prefer].
func (s *Solver) Solve(target frame.Pose, opt Options) (Solution, error) {
	if err := s.prepare(target, opt); err != nil {
		return Solution{}, err
	}
	opt.Starts = cmp.Or(opt.Starts, spotCount)
	return s.try(nil, opt, false)
}

// mostDescents bounds the descents from all starts with every combination of stops.
const mostDescents = 2400

// descents yields where to start, first from the given x if it is not nil, with every
// combination of stops.
func (s *Solver) descents(given []float64, starts int) iter.Seq2[[]float64, int] {
	return func(yield func(from []float64, combo int) bool) {
		s.tried = -1
		from := given
		for i := range min(min(starts, mostDescents)*s.combos, mostDescents) {
			if i%s.combos == 0 && (i > 0 || given == nil) {
				from = s.next()
			}
			if from == nil || !yield(from, i%s.combos) {
				return
			}
		}
	}
}

// spot is where settings x put the screen.
type spot struct {
	pose frame.Pose
	x    []float64
}

// spotCount is how many settings are known from which a descent may start. Of 64,000 random
// targets on sixteen chains, half of them with a quarter of the settings at a limit, the
// hardest needed the 400 nearest, and one in twelve more than the nearest.
const spotCount = 512

// next returns the spot that is next nearest to the target; nil after the last.
func (s *Solver) next() (x []float64) {
	if s.spots == nil {
		s.spread()
	}
	nearest := math.Inf(1)
	for i := range s.spots {
		p := &s.spots[i]
		f := r3.Norm2(r3.Sub(s.target.At, p.pose.At)) / (metre * metre)
		if f >= nearest {
			continue
		}
		f += turnWeight * turnWeight * (3 - trace(&s.target.Rot, &p.pose.Rot))
		if f < nearest && f > s.tried {
			nearest, x = f, p.x
		}
	}
	s.tried = nearest
	return x
}

// spread makes the spots: the preferred settings, and others at random, the same ones every
// time.
func (s *Solver) spread() {
	random := rand.New(rand.NewPCG(1, 2))
	s.spots = make([]spot, spotCount)
	free := make([]float64, spotCount*len(s.moving))
	for k := range s.spots {
		p := &s.spots[k]
		p.x, free = free[:len(s.moving):len(s.moving)], free[len(s.moving):]
		for i, j := range s.moving {
			s.natural[i] = j.Low + random.Float64()*(j.High-j.Low)
			if k == 0 {
				s.natural[i] = j.Clamp(j.Preferred)
			}
			p.x[i] = s.natural[i] / s.unit[i]
		}
		p.pose = s.k.Pose(s.natural)
	}
}

// try descends from where [Solver.descents] says, and returns the first allowed solution or,
// if follow, the cheapest to which any leads. Where none is allowed, it returns the first that
// is refused, and where none reaches the target, the nearest.
func (s *Solver) try(given []float64, opt Options, follow bool) (best Solution, err error) {
	nearest := math.Inf(1)
	err = ErrUnreached
	for from, combo := range s.descents(given, opt.Starts) {
		if err == nil && s.stopsCost(combo) >= best.Cost {
			continue // whatever the other settings, this one costs more
		}
		off := s.attempt(from, combo)
		reached := off <= reachedSquared
		if errors.Is(err, ErrUnreached) && (reached || off < nearest) {
			best, nearest = s.solution(), off
			if reached {
				err = ErrNotAllowed
			}
		}
		switch {
		case !reached:
		case follow:
			if s.follow(opt) && (err != nil || s.cost() < best.Cost) {
				best, err = s.solution(), nil
			}
		case opt.allows(s.settings()):
			return s.solution(), nil
		}
	}
	return best, err
}

// Prefer is [Solver.Prefer] for a single target.
func (c Chain) Prefer(target frame.Pose, start Settings, opt Options) (Solution, error) {
	s, err := c.Solver()
	if err != nil {
		return Solution{}, err
	}
	return s.Prefer(target, start, opt)
}

// prepare checks the target and the options, and points the search at the target.
func (s *Solver) prepare(target frame.Pose, opt Options) error {
	if !soundPose(target) {
		return errors.New("mount: target is not a pose within 100 m")
	}
	if !(opt.Lever >= 0) || math.IsInf(opt.Lever, 1) || opt.Starts < 0 {
		return fmt.Errorf("mount: options: lever %v and %d starts must be 0 (the default) or more", opt.Lever, opt.Starts)
	}
	s.target = target
	return nil
}

// iterations bounds the steps of one descent. It goes on until it is within about
// 0.001 mm, and has reached the target within the tolerance.
const (
	iterations     = 60
	reachedSquared = 5e-5 * 5e-5 // m²
)

// attempt makes one descent from the given x with the given combination of stops, and
// returns the squared residual it ends with.
func (s *Solver) attempt(from []float64, combo int) float64 {
	s.bound(combo, true)
	for i, v := range from {
		s.x[i] = min(max(v, s.low[i]), s.high[i])
	}
	f := s.descend(iterations)
	s.unwrap()
	return f
}

// limits returns the limits of setting i in units of the search: twice the stop of
// the given combination, where it has stops.
func (s *Solver) limits(i, combo int) (low, high float64) {
	for k := range i {
		combo /= max(len(s.stops[k]), 1)
	}
	j, unit := s.moving[i], s.unit[i]
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
		s.low[i], s.high[i] = low, high
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
		v := j.Preferred + math.Remainder(s.x[i]-j.Preferred, 2*math.Pi)
		if v < j.Low {
			v += 2 * math.Pi
		} else if v > j.High {
			v -= 2 * math.Pi
		}
		s.x[i] = j.Clamp(v)
	}
}

// settings returns x in mm and radians, in the search's own buffer.
func (s *search) settings() Settings {
	for i, v := range s.x {
		s.natural[i] = v * s.unit[i]
	}
	return s.natural
}

// solution describes the search's x.
func (s *Solver) solution() Solution {
	sol := Solution{Settings: slices.Clone(s.settings()), Cost: s.cost()}
	for i, j := range s.moving {
		sol.Settings[i] = j.Clamp(sol.Settings[i]) // mm from m may miss a limit by one bit
	}
	return sol
}
