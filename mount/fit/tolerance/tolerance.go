package tolerance

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/internal/parallel"
)

// Tolerance is how far one setting may be off, all others as set, before the result no
// longer works as [fit.Check] has it: until a posture that must work has less margin
// than is required, the screen leaves a range of the preferences, something is too near to
// a keep-clear zone, to the face or to the floor, or cannot bear its load.
type Tolerance struct {
	Joint mount.Joint
	// Set is the value to which the joint is set: mm, or radians for a turn.
	Set float64
	// MarginMM is the least margin of the postures that must work at Set.
	MarginMM float64
	// Low and High are the two ends.
	Low, High End
	// Why is what keeps the result from working, so that there is no tolerance and both
	// ends are at Set; nil when there is one.
	Why *fit.Reason
}

// End is one end of a tolerance.
type End struct {
	// Bound is the exact end and what ends it.
	Bound
	// Ball says that the end is where the ball before the plate ends, not the joint.
	Ball bool
	// Readable is the last value that a person can read off the joint before the
	// end, or the joint's own limit. It is Set when no readable value lies between.
	Readable float64
	// Rate is the mean change of the margin (mm) for each mm or radian by which the
	// setting moves from Set toward this end, over the next 10 mm or 5° or up to
	// the end, whichever comes first; 0 where it cannot move. A good setting sits
	// at a kink, where the slope itself may hold for less than can be read.
	Rate float64
}

// RatePerReading returns Rate for each mm of a slide and each degree of a turn:
// the units in which settings are read.
func (t Tolerance) RatePerReading(e End) float64 {
	if t.Joint.Motion == mount.Turn {
		return e.Rate * frame.Degree.Radians()
	}
	return e.Rate
}

// Of returns the tolerance of every setting of r, in the order of [mount.Chain.Moving].
// For an indexed joint, which can be nowhere but at its stops, the stops next to one
// another count and both forms of an end are stops.
//
// Each setting is moved outward from one readable value to another, 10 mm or 2° on at the
// most, and the mount judged there as it sags, until something fails; the end is then
// found between the last two. So a tolerance runs across no failure wider than that.
//
// The error wraps [fit.ErrJob], also when r has no mount, or is that of ctx.
func Of(ctx context.Context, r *fit.Result) ([]Tolerance, error) {
	m, err := fit.NewSetMount(r)
	if err != nil {
		return nil, err
	}
	set := m.Settings()
	out := make([]Tolerance, len(set))
	for i, j := range m.Moving() {
		out[i] = Tolerance{Joint: j, Set: set[i], MarginMM: r.MarginMM()}
	}
	why, fails, err := m.Fails(set)
	switch {
	case err != nil:
		return nil, err
	case !r.Works:
		why = r.Reasons[0]
		fallthrough
	case fails:
		for i := range out {
			none := End{Bound: Bound{At: set[i], Reason: why}, Readable: set[i]}
			out[i].Low, out[i].High, out[i].Why = none, none, &why
		}
		return out, nil
	}
	return out, eachSetting(ctx, r, func(m *fit.SetMount, i int) error {
		at, t := m.Settings(), &out[i]
		return t.ends(ctx, &setting{mount: m, joint: t.Joint, set: t.Set, at: at, put: func(v float64) error {
			at[i] = v
			return nil
		}}, t.Joint.Low, t.Joint.High)
	})
}

// eachSetting does what is to be done for every setting of r, with a mount for each goroutine.
func eachSetting(ctx context.Context, r *fit.Result, do func(m *fit.SetMount, setting int) error) error {
	failed := make([]error, len(r.Set.Settings))
	err := parallel.Blocks(ctx, len(failed), 1, 0, nil, func() func(i, _, _ int) {
		m, err := fit.NewSetMount(r)
		return func(i, _, _ int) {
			if failed[i] = err; err == nil {
				failed[i] = do(m, i)
			}
		}
	})
	return cmp.Or(err, errors.Join(failed...))
}

// ends fills in both ends by moving s, no further than low and high.
func (t *Tolerance) ends(ctx context.Context, s *setting, low, high float64) error {
	s.walker = walker{failure: s.failure, works: s.works, spare: s.spare}
	return errors.Join(s.end(ctx, &t.Low, low), s.end(ctx, &t.High, high))
}

// setting is one setting that is moved, the others as set.
type setting struct {
	walker
	mount *fit.SetMount
	joint mount.Joint
	set   float64
	at    mount.Settings        // as it is judged
	put   func(v float64) error // puts it into at
}

func (s *setting) failure(v float64) (fit.Reason, bool, error) {
	if err := s.put(v); err != nil {
		return fit.Reason{}, false, err
	}
	return s.mount.Fails(s.at)
}

func (s *setting) works(v float64) (bool, error) {
	if err := s.put(v); err != nil {
		return false, err
	}
	return s.mount.Works(s.at)
}

func (s *setting) margin(v float64) (float64, error) {
	if err := s.put(v); err != nil {
		return 0, err
	}
	mm, _, err := s.mount.Margin(s.at)
	return mm, err
}

func (s *setting) spare(v float64) (float64, error) {
	mm, err := s.margin(v)
	return s.mount.Spare(mm), err
}

// end fills in the end toward limit.
func (s *setting) end(ctx context.Context, e *End, limit float64) error {
	if s.joint.Indexed {
		if err := s.stops(ctx, e, limit); err != nil {
			return err
		}
	} else {
		var err error
		if e.Bound, err = s.walk(ctx, s.set, limit, s.joint.Round(s.set), stride(s.joint)); err != nil {
			return err
		}
		if e.Readable = e.At; e.At != s.joint.Low && e.At != s.joint.High { // which are felt
			e.Readable = readableBefore(s.joint, s.set, e.At)
		}
	}
	var err error
	e.Rate, err = s.rate(e.At)
	return err
}

// strideMM and strideTurn are how far apart a number is looked at, at the most.
const (
	strideMM   = 10.0
	strideTurn = 2 * frame.Degree
)

// stride returns how far apart a joint is looked at: as many readable steps as go into the
// widest stride, or a whole part of one that is wider.
func stride(j mount.Joint) float64 {
	widest := strideMM
	if j.Motion == mount.Turn {
		widest = strideTurn.Radians()
	}
	const slack = 1e-9 // for rounding
	if j.Step > widest {
		return j.Step / math.Ceil(j.Step/widest-slack)
	}
	return j.Step * math.Floor(widest/j.Step+slack)
}

// readableBefore returns the last readable value between set and end.
func readableBefore(j mount.Joint, set, end float64) float64 {
	below, above := j.Neighbors(end)
	slack := 1e-6 * j.Step // Neighbors may miss by a rounding
	if end > set && below > set && below <= end+slack {
		return below
	}
	if end < set && above < set && above >= end-slack {
		return above
	}
	return set
}

// stops fills in the end toward limit among the stops of an indexed joint.
func (s *setting) stops(ctx context.Context, e *End, limit float64) error {
	e.Bound, e.Readable = Bound{At: s.set, Limit: true, Reason: fit.Reason{Posture: -1}}, s.set
	for at := s.set; ctx.Err() == nil; {
		next := s.joint.Round(at + math.Copysign(s.joint.Step, limit-s.set))
		const slack = 1e-6 // of a step, for rounding
		if beyond := (next - limit) * math.Copysign(1, limit-s.set); (next-at)*(limit-s.set) <= 0 ||
			math.Abs(next-at) < s.joint.Step/2 || beyond > slack*s.joint.Step {
			return nil // the last stop
		}
		failure, fails, err := s.failure(next)
		if err != nil {
			return err
		}
		if fails {
			e.Limit, e.Reason = false, failure
			return nil
		}
		at = next
		e.At, e.Readable = at, at
	}
	return ctx.Err()
}

// rateMM and rateTurn are how far the margin is followed for its rate: what a hand
// is off without noticing.
const (
	rateMM   = 10.0
	rateTurn = 5 * frame.Degree
)

// rate returns the mean change of the margin for each unit (mm or radian) that the
// setting moves toward end, over rateMM or rateTurn at the most; 0 when it is at the
// end.
func (s *setting) rate(end float64) (float64, error) {
	reach := rateMM
	if s.joint.Motion == mount.Turn {
		reach = rateTurn.Radians()
	}
	if reach = min(reach, math.Abs(end-s.set)); reach == 0 {
		return 0, nil
	}
	here, err := s.margin(s.set)
	if err != nil {
		return 0, err
	}
	there, err := s.margin(s.set + math.Copysign(reach, end-s.set))
	return (there - here) / reach, err
}

// Told returns the tolerances that [Of] returned as people set and read a mount: with a
// ball, tilt, rotation and roll of the plate stand in the place of the ball's three settings,
// see [mount.Chain.Told], and count as set when another setting is off. The limits of the
// joint of each of the three are those that the ball allows.
func Told(ctx context.Context, r *fit.Result, all []Tolerance) ([]Tolerance, error) {
	ball := r.Set.Chain.LastBall()
	if ball < 0 {
		return all, nil
	}
	all = slices.Clone(all)
	at := r.Attitude().Angles()
	for i, j := range r.Set.Chain.Told()[ball : ball+3] {
		t := &all[ball+i]
		t.Joint, t.Set = j, at[i]
		t.Low.At, t.Low.Readable, t.High.At, t.High.Readable = at[i], at[i], at[i], at[i]
	}
	return all, eachSetting(ctx, r, func(m *fit.SetMount, i int) error {
		return all[i].told(ctx, m, i, ball, at)
	})
}

// told fills in both ends of the setting with the given place, with the plate turned by
// the angles at wherever it is not one of these.
func (t *Tolerance) told(ctx context.Context, m *fit.SetMount, place, ball int, at [3]float64) error {
	s := &setting{mount: m, joint: t.Joint, set: t.Set}
	s.put = func(v float64) (err error) {
		set, angles := m.Settings(), at
		if i := place - ball; i >= 0 && i < len(angles) {
			angles[i] = v
		} else {
			set[place] = v
		}
		s.at, err = m.TurnPlate(set, mount.AttitudeAt(angles))
		return err
	}
	low, high := s.farthest(t.Joint.Low), s.farthest(t.Joint.High)
	if t.Joint.Stiffness.AnyAxis {
		t.Joint.Low, t.Joint.High = low, high
		s.joint = t.Joint
	}
	if t.Why != nil {
		return ctx.Err()
	}
	err := t.ends(ctx, s, low, high)
	t.Low.Ball, t.High.Ball = t.Low.Limit && low != t.Joint.Low, t.High.Limit && high != t.Joint.High
	return err
}

// farthest returns how far the setting goes from where it is toward limit before the ball
// ends.
func (s *setting) farthest(limit float64) float64 {
	step := stride(s.joint)
	if s.joint.Indexed {
		step = s.joint.Step
	}
	good, bad := s.set, s.set
	for ; good != limit; good = bad {
		bad = good + math.Copysign(min(step, math.Abs(limit-good)), limit-good)
		if s.put(bad) != nil {
			break
		}
	}
	for !s.joint.Indexed && math.Abs(bad-good) > within {
		if mid := (good + bad) / 2; s.put(mid) == nil {
			good = mid
		} else {
			bad = mid
		}
	}
	return good
}
