package fit

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/space"
	"sightpost/mount/tube"
)

// setMount is a mount as it is set, made ready for changing one setting at a
// time. It holds a buffer: one serves one goroutine.
type setMount struct {
	compiled *mount.Compiled
	moving   []mount.Joint
	set      mount.Settings
	sagging  *sagging
	runs     []run // of the tubes, as set
}

// setBench lays out a job together with the mount as a result has it set.
func setBench(job *Job, r *Result) (*problem, *setMount, error) {
	if r == nil || r.Set == nil {
		return nil, nil, fmt.Errorf("%w: there is no mount whose settings could be off", ErrJob)
	}
	return matched(job, r)
}

// matched lays out a job, sagging as the mount of a result does where that has it
// set, and makes sure that the result is one of the job. Without a mount there is no
// setMount.
func matched(job *Job, r *Result) (*problem, *setMount, error) {
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
	if s.runs, err = s.measureRuns(); err != nil {
		return nil, nil, err
	}
	sags, err := s.sagging.at(s.set)
	if err != nil {
		return nil, nil, err
	}
	return b.sagged(sags), s, nil
}

// wandering is one setting that moves away from where it is set, the others as set.
type wandering struct {
	*problem
	*setMount
	setting int
	joint   mount.Joint
	at      mount.Settings // with the setting as it is looked at
	here    tube.Load      // as last looked at
	drift   drift
	margins *path

	// place is that of the joint in the chain, and line what it moves along or about, in
	// carrier axes and without sag. What it moves is farthest from the line by reachMM:
	// of what each joint of the chain carries and, last, of the housing; 0 of what stays.
	place   int
	line    space.Path
	reachMM []float64
	// middleMM is how far the middle of the screen is from the line.
	middleMM float64
	piping   *tubeGeometry
	faces    []*gaze.FaceDistance // of the postures that must work
}

// wander returns the setting with the given place ready to move.
func (b *problem) wander(s *setMount, setting int) (*wandering, error) {
	w := &wandering{problem: b, setMount: s, setting: setting, joint: s.moving[setting], at: slices.Clone(s.set)}
	var err error
	if w.piping, err = newPiping(s.sagging.chain); err != nil {
		return nil, err
	}
	if w.drift, err = w.measure(); err != nil {
		return nil, err
	}
	w.reaches()
	for _, i := range b.must {
		w.faces = append(w.faces, gaze.NewFaceDistance(b.job.Device, b.stances[i:i+1], b.job.Preferences.FaceMM))
	}
	w.margins, err = w.path()
	return w, err
}

// reaches fills in what moves, and how far it is from the line of the joint.
func (w *wandering) reaches() {
	chain := w.sagging.chain
	w.place = movingPlaces(chain)[w.setting]
	tubes := w.piping.at(w.set)
	moved := w.piping.frames[w.place]
	w.line = space.Path{Through: moved.At, Along: moved.Rot.Apply(w.joint.Axis), Slides: w.joint.Motion == mount.Slide}
	w.reachMM = make([]float64, len(chain.Joints)+1)
	for i := range tubes {
		if t := &tubes[i]; t.carrier >= w.place {
			w.reachMM[t.carrier] = max(w.reachMM[t.carrier], t.shape.ReachMM(w.line.Through, w.line.Along))
		}
	}
	screen := w.compiled.Pose(w.set)
	w.reachMM[len(chain.Joints)] = w.housing.Moved(screen).ReachMM(w.line.Through, w.line.Along)
	w.middleMM = r3.Norm(r3.Cross(r3.Sub(screen.At, w.line.Through), w.line.Along))
}

// to brings the mount to where the setting is v and returns the poses by which the
// screen then sags in every posture.
func (w *wandering) to(v float64) ([]frame.Pose, error) {
	w.at[w.setting] = v
	return w.sagging.at(w.at)
}

// path returns the path of the setting before the postures that must work, as
// [problem.sagged] sees them.
func (w *wandering) path() (*path, error) {
	stances := make([]gaze.PostureInCarrier, len(w.must))
	turns := w.joint.Motion == mount.Turn
	still := func(v float64) (frame.Pose, []gaze.PostureInCarrier, error) {
		w.at[w.setting] = v
		return w.compiled.Pose(w.at), w.request.Postures, nil
	}
	p, err := newPath(w.job, &w.request.Judge, turns, still, w.set[w.setting])
	if err != nil {
		return nil, err
	}
	p.postures, p.sag = w.must, w.drift.screen
	p.at = func(v float64) (frame.Pose, []gaze.PostureInCarrier, error) {
		sags, err := w.to(v)
		if err != nil {
			return frame.Pose{}, nil, err
		}
		for k, i := range w.must {
			stances[k] = against(w.stances[i], sags[i])
		}
		return w.compiled.Pose(w.at), stances, nil
	}
	return p, nil
}

// guards returns what must not give out, that which gives out first most often first:
// each is looked after only as far as those before it last.
func (w *wandering) guards() []guard {
	return []guard{w.margins, aimGuard{w}, faceGuard{w}, strengthGuard{w}, spaceGuard{w}}
}

// first returns what gives out first on the way from where the setting is to a limit.
func (w *wandering) first(limit float64) (Bound, error) {
	bound := Bound{At: limit, Limit: true, Posture: -1}
	for _, g := range w.guards() {
		b, err := advance(g, w.set[w.setting], bound.At)
		if err != nil {
			return b, err
		}
		if !b.Limit {
			bound = b
		}
	}
	return bound, nil
}

// fails returns whether something has given out where the setting is v, and what.
func (w *wandering) fails(v float64) (bool, Bound, error) {
	for _, g := range w.guards() {
		l, err := g.look(v, 0)
		if err != nil || !(l.left >= 0) {
			return true, l.at(v), err
		}
	}
	return false, Bound{}, nil
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
func (w *wandering) rate(end float64) (float64, error) {
	from, reach := w.set[w.setting], rateMM
	if w.joint.Motion == mount.Turn {
		reach = rateTurn.Radians()
	}
	if reach = min(reach, math.Abs(end-from)); reach == 0 {
		return 0, nil
	}
	here, _, err := w.margins.margin(from)
	if err != nil {
		return 0, err
	}
	there, _, err := w.margins.margin(from + math.Copysign(reach, end-from))
	return (there - here) / reach, err
}
