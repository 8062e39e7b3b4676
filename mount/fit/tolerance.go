package fit

import (
	"errors"
	"fmt"
	"math"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
)

// Tolerance is how far one setting may be off, all others as set, before a
// posture that must work stops tracking: the values that are joined to the set
// value by values with a margin that is not negative.
//
// Only the margin counts. That a tube comes near what is to be kept clear, or
// that less margin is left than was wished for, ends no tolerance.
type Tolerance struct {
	Joint mount.Joint
	// Set is the value to which the joint is set: mm, or radians for a turn.
	Set float64
	// MarginMM is the least margin of the postures that must work at Set.
	MarginMM float64
	// Low and High are the two ends. Without tolerance, when the margin is
	// negative at Set, both are at Set.
	Low, High ToleranceEnd
	// Why says in plain words why there is no tolerance; empty when there is.
	Why string
}

// ToleranceEnd is one end of a tolerance.
type ToleranceEnd struct {
	// Bound is the exact end and what ends it.
	Bound
	// Readable is the last value that a person can read off the joint before the
	// end. It is Set when no readable value lies between.
	Readable float64
	// Rate is the mean change of the margin (mm) for each mm or radian by which the
	// setting moves from Set toward this end, over the next 10 mm or 5° or up to
	// the end, whichever comes first; 0 where it cannot move. A good setting sits
	// at a kink, where the slope itself may hold for less than can be read.
	Rate float64
}

// RatePerReading returns Rate for each mm of a slide and each degree of a turn:
// the units in which settings are read.
func (t Tolerance) RatePerReading(e ToleranceEnd) float64 {
	if t.Joint.Motion == mount.Turn {
		return e.Rate * frame.Degree.Radians()
	}
	return e.Rate
}

// Tolerances returns the tolerance of every setting of r, in the order of
// [mount.Chain.Moving]. For an indexed joint, which can be nowhere but at its
// stops, the stops next to one another count and both forms of an end are stops.
//
// The margin is followed in steps that it cannot change sign in, so that an
// interval never runs across a dip: see [Bound]. The ends are those of the mount as it
// sags there; on the way the sag is taken as it is at the end, so that a dip that
// is shallower than the difference of the sags may go unseen. The error wraps [ErrJob] when r
// has no mount or does not belong to job.
func Tolerances(job *Job, r *Result) ([]Tolerance, error) {
	if _, _, err := setBench(job, r); err != nil {
		return nil, err
	}
	moving := r.Set.Chain.Moving()
	out, failed := make([]Tolerance, len(moving)), make([]error, len(moving))
	inBlocks(len(moving), 1, 0, nil, func() func(block, from, to int) {
		b, s, err := setBench(job, r) // one serves one goroutine
		return func(_, i, _ int) {
			if failed[i] = err; err == nil {
				out[i], failed[i] = tolerance(&wandering{bench: b, setMount: s, setting: i})
			}
		}
	})
	if err := errors.Join(failed...); err != nil {
		return nil, err
	}
	return out, nil
}

// tolerance returns the tolerance of the setting that wanders.
func tolerance(w *wandering) (Tolerance, error) {
	t := Tolerance{Joint: w.moving[w.setting], Set: w.set[w.setting]}
	mm, c, stance, err := w.margin(t.Set)
	if err != nil {
		return t, err
	}
	if math.IsNaN(mm) || math.IsInf(mm, 0) {
		return t, fmt.Errorf("%w: the margin is not a number", ErrJob)
	}
	t.MarginMM = mm
	if mm < 0 {
		t.fail(c, w.must[stance], w.stances[w.must[stance]].Posture.Name)
		return t, nil
	}
	return t, errors.Join(t.Low.find(w, t.Joint.Low), t.High.find(w, t.Joint.High))
}

// fail empties the tolerance.
func (t *Tolerance) fail(c gaze.Condition, posture int, name string) {
	at := Bound{At: t.Set, Condition: c, Posture: posture}
	t.Low.Bound, t.Low.Readable = at, t.Set
	t.High.Bound, t.High.Readable = at, t.Set
	t.Why = fmt.Sprintf("posture %q does not track as it is set: %s", name, c)
}

// name turns the place among the stances that must work into one among all.
func (e *ToleranceEnd) name(must []int) {
	if e.Posture >= 0 {
		e.Posture = must[e.Posture]
	}
}

// find fills in the end toward limit.
func (e *ToleranceEnd) find(w *wandering, limit float64) error {
	set, j := w.set[w.setting], w.moving[w.setting]
	if j.Indexed {
		if err := e.findStop(w, limit); err != nil {
			return err
		}
	} else {
		var err error
		if e.Bound, err = followSag(w.path, set, limit); err != nil {
			return err
		}
		e.Readable = readableBefore(j, set, e.At)
	}
	e.name(w.must)
	var err error
	e.Rate, err = w.rate(e.At)
	return err
}

// readableBefore returns the last readable value between set and end.
func readableBefore(j mount.Joint, set, end float64) float64 {
	below, above := j.Neighbours(end)
	slack := 1e-6 * j.Step // Neighbours may miss by a rounding
	if end > set && below > set && below <= end+slack {
		return below
	}
	if end < set && above < set && above >= end-slack {
		return above
	}
	return set
}

// findStop fills in the end toward limit among the stops of an indexed joint.
func (e *ToleranceEnd) findStop(w *wandering, limit float64) error {
	set, j := w.set[w.setting], w.moving[w.setting]
	e.Bound, e.Readable = Bound{At: set, Limit: true, Posture: -1}, set
	for at := set; ; {
		next := j.Round(at + math.Copysign(j.Step, limit-set))
		if (next-at)*(limit-set) <= 0 || math.Abs(next-at) < j.Step/2 {
			return nil // the last stop
		}
		mm, c, stance, err := w.margin(next)
		if err != nil {
			return err
		}
		if !(mm >= 0) {
			e.Limit, e.Condition, e.Posture = false, c, stance
			return nil
		}
		at = next
		e.At, e.Readable = at, at
	}
}
