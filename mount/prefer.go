package mount

import (
	"cmp"
	"math"

	"sightpost/gaze/frame"
)

// Prefer searches for the settings that bring the screen to target,
// carrierFromScreen, at the least cost:
//
//	Σ effort ((setting - preferred) / unit)² + Σ over turns lever (distance / 100 mm)²
//
// where the unit is 100 mm for a slide and 15° for a turn, and the distance is the
// horizontal one from the joint that turns to the screen. A mount with more
// settings than the six that a pose needs has whole families of solutions, and
// often several families; each is entered from several starts and followed to its
// cheapest member, and the cheapest of all is returned. The first start is the
// given one, unless start is nil.
//
// Where Options.Allowed refuses the cheapest member, the family is followed only as
// far as it allows. Errors are those of [Solver.Solve], and [ErrCount].
func (s *Solver) Prefer(target frame.Pose, start Settings, opt Options) (Solution, error) {
	if err := s.prepare(target, opt); err != nil {
		return Solution{}, err
	}
	given, err := s.given(start)
	if err != nil {
		return Solution{}, err
	}
	s.lever = opt.Lever
	s.known = s.known[:0]
	defer func() { s.lever = 0 }()
	opt.Starts = cmp.Or(opt.Starts, preferStarts)
	return s.try(given, opt, true)
}

// preferStarts is how many starts Prefer compares. Of 300 random targets on each of eight
// chains, 200 starts came to cheaper settings than 24 once, than 12 five times.
const preferStarts = 24

// given returns the start in units of the search, nil if there is none.
func (s *Solver) given(start Settings) ([]float64, error) {
	if start == nil {
		return nil, nil
	}
	if err := accepts(s.moving, start); err != nil {
		return nil, err
	}
	x := make([]float64, len(start))
	for i, v := range start {
		x[i] = v / s.unit[i]
	}
	return x, nil
}

// stopsCost returns the cost of a combination of stops on its own.
func (s *Solver) stopsCost(combo int) float64 {
	sum := 0.0
	for i := range s.moving {
		if len(s.stops[i]) > 0 {
			stop, _ := s.limits(i, combo)
			d := stop - s.preferred[i]
			sum += s.weight[i] * d * d
		}
	}
	return sum
}

// follow goes from the search's x, which reaches the target, to the cheapest
// settings of its family that are allowed, and reports whether there are any.
func (s *Solver) follow(opt Options) bool {
	s.bound(s.combo, false)
	copy(s.entry, s.x)
	s.minimize(nil)
	if !opt.allows(s.settings()) {
		copy(s.x, s.entry)
		if !opt.allows(s.settings()) {
			return false
		}
		s.minimize(opt.Allowed)
	}
	return true
}

const (
	followSteps  = 80
	followLeast  = 1e-6  // m or rad: a step shorter than this ends the search
	followRepair = 8     // iterations that bring a step back to the target
	sameMinimum  = 0.003 // m or rad: two minima nearer than this are one
	dampCurve    = 30    // curvature of a turn of effort 1, about 2/costTurn²
)

// minimize lowers the cost from the search's x while the screen stays on the
// target: a step of sequential quadratic programming along the settings that keep
// the pose, then a few steps of [search.descend] back onto the target, kept only if the
// cost is lower and allowed, if not nil, allows it.
func (s *Solver) minimize(allowed func(Settings) bool) {
	onTarget := math.Max(s.look(s.x, &s.off), stopSquared)
	least, damping := s.cost(), 0.03
	for range followSteps {
		s.look(s.x, &s.off)
		s.linearize()
		copy(s.back, s.x)
		if s.cheaperStep(damping) < followLeast {
			break
		}
		copy(s.x, s.trial)
		if f := s.descend(followRepair); f <= onTarget {
			if c := s.cost(); c < least && (allowed == nil || allowed(s.settings())) {
				if allowed == nil && s.joinKnown() {
					return
				}
				least = c
				damping /= 5
				continue
			}
		}
		copy(s.x, s.back)
		damping = math.Max(6*damping, 1e-3)
	}
	if allowed == nil {
		s.known = append(s.known, s.x...)
	}
}

// joinKnown moves x to the cheapest settings found before, if it is about to come
// out there, and reports whether it did.
func (s *Solver) joinKnown() bool {
	x := s.x
	for known := s.known; len(known) > 0; known = known[len(x):] {
		near := true
		for i, v := range x {
			near = near && math.Abs(v-known[i]) < sameMinimum
		}
		if near {
			copy(x, known)
			return true
		}
	}
	return false
}

// cheaperStep writes to trial the step to the least cost, whose curvature is damped,
// and returns the size of its largest part.
func (s *Solver) cheaperStep(damping float64) float64 {
	s.differentiate()
	for i := range s.x {
		s.flex[i] = 1 / (s.curve[i] + (damping+1e-3)*dampCurve)
		s.held[i] = s.low[i] == s.high[i]
	}
	s.step(1e-10, true) // where the columns left span fewer than six directions
	largest := 0.0
	for i := range s.x {
		largest = math.Max(largest, math.Abs(s.trial[i]-s.x[i]))
	}
	return largest
}
