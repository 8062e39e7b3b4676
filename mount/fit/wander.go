package fit

import (
	"fmt"
	"math"
	"slices"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
)

// setMount is a mount as it is set, made ready for changing one setting at a
// time. It holds a buffer: one serves one goroutine.
type setMount struct {
	compiled *mount.Compiled
	moving   []mount.Joint
	set      mount.Settings
	sagging  *sagging
}

// setBench lays out a job together with the mount as a result has it set.
func setBench(job *Job, r *Result) (*bench, *setMount, error) {
	if r == nil || r.Set == nil {
		return nil, nil, fmt.Errorf("%w: there is no mount whose settings could be off", ErrJob)
	}
	return matched(job, r)
}

// matched lays out a job, sagging as the mount of a result does where that has it
// set, and makes sure that the result is one of the job. Without a mount there is no
// setMount.
func matched(job *Job, r *Result) (*bench, *setMount, error) {
	b, err := newBench(job)
	if err != nil {
		return nil, nil, err
	}
	if r == nil || len(r.Postures) != len(job.Postures) {
		return nil, nil, fmt.Errorf("%w: the result is not one of this job: their postures differ in number", ErrJob)
	}
	if r.Set == nil {
		return b, nil, nil
	}
	s := &setMount{moving: r.Set.Chain.Moving(), set: slices.Clone(r.Set.Settings)}
	if s.sagging, err = b.newSagging(r.Set.Chain); err != nil {
		return nil, nil, err
	}
	s.compiled = s.sagging.compiled
	sags, err := s.sagging.at(s.set)
	if err != nil {
		return nil, nil, err
	}
	return b.sagged(sags), s, nil
}

// wandering is one setting that moves away from where it is set, the others as set,
// before the postures that must work.
type wandering struct {
	*bench
	*setMount
	setting int
}

// path returns the path of the setting, the mount sagging all along as it does with
// the setting at v.
func (w *wandering) path(v float64) (*path, error) {
	set := slices.Clone(w.set)
	set[w.setting] = v
	sags, err := w.sagging.at(set)
	if err != nil {
		return nil, err
	}
	stances := make([]gaze.Stance, 0, len(w.must))
	for _, i := range w.must {
		stances = append(stances, against(w.stances[i], sags[i]))
	}
	at := func(v float64) (frame.Pose, []gaze.Stance) {
		set[w.setting] = v
		return w.compiled.Pose(set), stances
	}
	turns := w.moving[w.setting].Motion == mount.Turn
	return newPath(w.job, &w.request.Judge, turns, at, v), nil
}

// margin returns the least margin with the setting at v, the condition and the place
// of its stance, sagging as the mount does there.
func (w *wandering) margin(v float64) (mm float64, c gaze.Condition, stance int, err error) {
	p, err := w.path(v)
	if err != nil {
		return 0, c, 0, err
	}
	mm, c, stance = p.margin(v)
	return mm, c, stance, nil
}

// rate returns the mean change of the margin for each unit (mm or radian) that the
// setting moves toward end, over rateMM or rateTurn at the most; 0 when it is at the
// end.
func (w *wandering) rate(end float64) (float64, error) {
	from, reach := w.set[w.setting], rateMM
	if w.moving[w.setting].Motion == mount.Turn {
		reach = rateTurn.Radians()
	}
	if reach = min(reach, math.Abs(end-from)); reach == 0 {
		return 0, nil
	}
	here, _, _, err := w.margin(from)
	if err != nil {
		return 0, err
	}
	there, _, _, err := w.margin(from + math.Copysign(reach, end-from))
	return (there - here) / reach, err
}
