package fit

import (
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
// interval never runs across a dip: see [Bound]. The error wraps [ErrJob] when r
// has no mount or does not belong to job.
func Tolerances(job *Job, r *Result) ([]Tolerance, error) {
	b, s, err := setBench(job, r)
	if err != nil {
		return nil, err
	}
	var out []Tolerance
	for i, j := range r.Set.Chain.Moving() {
		t := Tolerance{Joint: j, Set: r.Set.Settings[i]}
		p := s.path(b, i)
		mm, c, stance := p.margin(t.Set)
		if math.IsNaN(mm) || math.IsInf(mm, 0) {
			return nil, fmt.Errorf("%w: the margin is not a number", ErrJob)
		}
		t.MarginMM = mm
		if mm < 0 {
			t.fail(c, b.must[stance], b.stances[b.must[stance]].Posture.Name)
		} else {
			t.Low.find(p, j, t.Set, j.Low)
			t.High.find(p, j, t.Set, j.High)
			t.Low.name(b.must)
			t.High.name(b.must)
			t.Low.Rate, t.High.Rate = p.rate(t.Set, t.Low.At, j.Motion), p.rate(t.Set, t.High.At, j.Motion)
		}
		out = append(out, t)
	}
	return out, nil
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
func (e *ToleranceEnd) find(p *path, j mount.Joint, set, limit float64) {
	if j.Indexed {
		e.findStop(p, j, set, limit)
		return
	}
	e.Bound = p.follow(set, limit)
	e.Readable = set
	below, above := j.Neighbours(e.At)
	slack := 1e-6 * j.Step // Neighbours may miss by a rounding
	if limit > set && below > set && below <= e.At+slack {
		e.Readable = below
	}
	if limit < set && above < set && above >= e.At-slack {
		e.Readable = above
	}
}

// findStop fills in the end toward limit among the stops of an indexed joint.
func (e *ToleranceEnd) findStop(p *path, j mount.Joint, set, limit float64) {
	e.Bound, e.Readable = Bound{At: set, Limit: true, Posture: -1}, set
	for at := set; ; {
		next := j.Round(at + math.Copysign(j.Step, limit-set))
		if (next-at)*(limit-set) <= 0 || math.Abs(next-at) < j.Step/2 {
			return // the last stop
		}
		mm, c, stance := p.margin(next)
		if !(mm >= 0) {
			e.Limit, e.Condition, e.Posture = false, c, stance
			return
		}
		at = next
		e.At, e.Readable = at, at
	}
}

// setMount is a mount as it is set, made ready for changing one setting at a
// time. It holds a buffer: one serves one goroutine.
type setMount struct {
	compiled *mount.Compiled
	moving   []mount.Joint
	set      mount.Settings
}

// setBench lays out a job together with the mount as a result has it set.
func setBench(job *Job, r *Result) (*bench, *setMount, error) {
	if r == nil || r.Set == nil {
		return nil, nil, fmt.Errorf("%w: there is no mount whose settings could be off", ErrJob)
	}
	b, err := matched(job, r)
	if err != nil {
		return nil, nil, err
	}
	s, err := newSetMount(r.Set)
	return b, s, err
}

// matched lays out a job and makes sure that a result is one of it.
func matched(job *Job, r *Result) (*bench, error) {
	b, err := newBench(job)
	if err != nil {
		return nil, err
	}
	if r == nil || len(r.Postures) != len(job.Postures) {
		return nil, fmt.Errorf("%w: the result is not one of this job: their postures differ in number", ErrJob)
	}
	return b, nil
}

func newSetMount(set *Set) (*setMount, error) {
	compiled, err := set.Chain.Compile()
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrJob, err)
	}
	s := &setMount{compiled: compiled, moving: set.Chain.Moving(), set: append(mount.Settings(nil), set.Settings...)}
	if len(s.set) != len(s.moving) {
		return nil, fmt.Errorf("%w: %w: got %d, the mount has %d", ErrJob, mount.ErrCount, len(s.set), len(s.moving))
	}
	return s, nil
}

// path returns the path of setting i, the others as set.
func (s *setMount) path(b *bench, i int) *path {
	set := append(mount.Settings(nil), s.set...)
	at := func(v float64) (frame.Pose, []gaze.Stance) {
		set[i] = v
		return s.compiled.Pose(set), b.request.Stances
	}
	return newPath(b.job, &b.request.Judge, s.moving[i].Motion == mount.Turn, at, s.set[i])
}
