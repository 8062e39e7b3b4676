package fit

import (
	"errors"
	"math"

	"sightpost/gaze/frame"
	"sightpost/mount"
)

// Tolerance is how far one setting may be off, all others as set, before the result no
// longer works as [Check] has it: the values joined to the set value by values at which
// every posture that must work tracks with the margin wished for, the screen stays
// within the ranges wished for and away from the face, nothing comes too near to what is
// to be kept clear or to the floor, and all bears the load.
type Tolerance struct {
	Joint mount.Joint
	// Set is the value to which the joint is set: mm, or radians for a turn.
	Set float64
	// MarginMM is the least margin of the postures that must work at Set.
	MarginMM float64
	// Low and High are the two ends. Without tolerance, when the result does not work,
	// both are at Set.
	Low, High ToleranceEnd
	// Why is what keeps the result from working, so that there is no tolerance;
	// empty when there is.
	Why *Reason
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
// Whatever may give out is followed in steps in which it cannot, with the mount sagging
// as it does at every place, so that an interval never runs across a dip: see [Bound].
// The error wraps [ErrJob] when r has no mount or does not belong to job.
func Tolerances(job *Job, r *Result) ([]Tolerance, error) {
	_, s, err := setBench(job, r)
	if err != nil {
		return nil, err
	}
	out := make([]Tolerance, len(s.moving))
	for i, j := range s.moving {
		out[i] = Tolerance{Joint: j, Set: s.set[i], MarginMM: r.MarginMM()}
	}
	if !r.Works {
		f := &r.Postures[r.LimitingPosture]
		for i := range out {
			out[i].fail(Bound{Condition: f.Limiting(), Posture: r.LimitingPosture}, &r.Reasons[0])
		}
		return out, nil
	}
	failed := make([]error, len(out))
	inBlocks(len(out), 1, 0, nil, func() func(block, from, to int) {
		b, s, err := setBench(job, r) // one serves one goroutine
		return func(_, i, _ int) {
			if failed[i] = err; err == nil {
				failed[i] = out[i].find(b, s, i)
			}
		}
	})
	if err := errors.Join(failed...); err != nil {
		return nil, err
	}
	return out, nil
}

// fail empties the tolerance of a setting of a result that does not work.
func (t *Tolerance) fail(b Bound, why *Reason) {
	b.At = t.Set
	t.Low = ToleranceEnd{Bound: b, Readable: t.Set}
	t.High, t.Why = t.Low, why
}

// find fills in both ends of the setting with the given place.
func (t *Tolerance) find(b *problem, s *setMount, setting int) error {
	w, err := b.wander(s, setting)
	if err != nil {
		return err
	}
	if failed, bound, err := w.fails(t.Set); failed || err != nil {
		t.fail(bound, &Reason{Kind: MarginShort, Posture: bound.Posture, Condition: bound.Condition, Is: t.MarginMM})
		return err
	}
	return errors.Join(t.Low.find(w, t.Joint.Low), t.High.find(w, t.Joint.High))
}

// find fills in the end toward limit.
func (e *ToleranceEnd) find(w *wandering, limit float64) error {
	if w.joint.Indexed {
		if err := e.findStop(w, limit); err != nil {
			return err
		}
	} else {
		var err error
		if e.Bound, err = w.first(limit); err != nil {
			return err
		}
		e.Readable = readableBefore(w.joint, w.set[w.setting], e.At)
	}
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
	set, j := w.set[w.setting], w.joint
	e.Bound, e.Readable = Bound{At: set, Limit: true, Posture: -1}, set
	for at := set; ; {
		next := j.Round(at + math.Copysign(j.Step, limit-set))
		if (next-at)*(limit-set) <= 0 || math.Abs(next-at) < j.Step/2 {
			return nil // the last stop
		}
		failed, bound, err := w.fails(next)
		if err != nil {
			return err
		}
		if failed {
			bound.At = at
			e.Bound = bound
			return nil
		}
		at = next
		e.At, e.Readable = at, at
	}
}
