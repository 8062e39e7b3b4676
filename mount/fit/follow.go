package fit

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
)

// Bound is where the margin runs out when one number changes and all others
// stay: a setting in [Tolerance], a part of a posture in [PostureCurve].
type Bound struct {
	// At is the last value with a margin that is not negative: mm where the
	// number is a length, radians where it is an angle.
	At float64
	// Limit says that the margin holds to the end of the range that was looked
	// at. Otherwise Condition fails next.
	Limit     bool
	Condition gaze.Condition
	// Posture is the place in the job's postures where Condition fails; -1 with
	// Limit.
	Posture int
}

// String says in plain words what ends the range.
func (b Bound) String() string {
	if b.Limit {
		return "limit of its range"
	}
	return b.Condition.String()
}

// path is one number that moves either the screen or the person: it turns
// one of them about an axis, or slides it along one, that stands still for both.
type path struct {
	judge *gaze.Judge
	// turns says that the number is an angle; otherwise it is a length.
	turns bool
	// at returns the screen and the stances when the number is v. The slice may
	// be reused by the next call.
	at func(v float64) (frame.Pose, []gaze.Stance)
	// arcs are the gaze limits at the corners, for the bound on their bending
	arcs [4]arc
	// speed bounds how fast an eye moves against the screen and a corner against
	// the head (mm for each unit of the number)
	speed float64
}

// arc is the surface on which the chord from the tracker to a corner is seen
// under the gaze limit: an arc of circle turned about the chord. Screen axes.
type arc struct {
	half, chord r3.Vec  // the chord's middle and unit direction
	centre      float64 // how far the circle's centre is from the chord (mm)
}

// newPath returns the path of a number that is now v.
func newPath(job *Job, judge *gaze.Judge, turns bool, at func(float64) (frame.Pose, []gaze.Stance), v float64) *path {
	p := &path{judge: judge, turns: turns, at: at}
	tracker := job.Device.Tracker.Place()
	sin, cos := math.Sincos(job.Device.Tracker.GazeLimit.Radians())
	var corners [4]r3.Vec
	for i, c := range [4]gaze.Corner{gaze.TopLeft, gaze.TopRight, gaze.BottomLeft, gaze.BottomRight} {
		corners[i] = job.Device.Screen.Used.Corner(c)
		chord := r3.Sub(corners[i], tracker)
		length := r3.Norm(chord)
		p.arcs[i] = arc{half: r3.Scale(0.5, r3.Add(corners[i], tracker)), chord: r3.Vec{X: 1}, centre: length * cos / (2 * sin)}
		if length > 0 {
			p.arcs[i].chord = r3.Scale(1/length, chord)
		}
	}
	p.speed = p.fastest(v, corners)
	return p
}

// fastest returns the greatest speed of an eye against the screen and of a
// corner against the head. Each keeps it all along the path: one body turns
// about an axis, or slides along a direction, that is fixed in both, so that a
// point runs on a circle about the axis or on a straight line. A turn by one
// radian moves it by a chord of 2 sin ½ times its distance from the axis, which
// is its speed.
func (p *path) fastest(v float64, corners [4]r3.Vec) float64 {
	screen, now := p.at(v)
	was := slices.Clone(now)
	moved, then := p.at(v + 1)
	chord := 0.0
	for i := range was {
		for e := range was[i].Eyes {
			chord = max(chord, r3.Norm(r3.Sub(screen.ApplyInverse(was[i].Eyes[e]), moved.ApplyInverse(then[i].Eyes[e]))))
		}
		for _, c := range corners {
			chord = max(chord, r3.Norm(r3.Sub(was[i].Head.ApplyInverse(screen.Apply(c)), then[i].Head.ApplyInverse(moved.Apply(c)))))
		}
	}
	if p.turns {
		return chord / (2 * math.Sin(0.5))
	}
	return chord
}

// margin returns the least margin over the stances when the number is v, and
// whose it is.
func (p *path) margin(v float64) (mm float64, c gaze.Condition, stance int) {
	screen, stances := p.at(v)
	return p.judge.Worst(screen, stances)
}

// nearArc returns the least distance of an eye from where the bending of a
// surface of equal angle has no bound: its circle of centres, and its axis.
func (p *path) nearArc(screen frame.Pose, st *gaze.Stance) float64 {
	least := math.Inf(1)
	for _, eye := range st.Eyes {
		at := screen.ApplyInverse(eye)
		for i := range p.arcs {
			k := &p.arcs[i]
			from := r3.Sub(at, k.half)
			u := r3.Dot(from, k.chord)
			rho := r3.Norm(r3.Sub(from, r3.Scale(u, k.chord)))
			least = min(least, rho, math.Hypot(u, rho-k.centre))
		}
	}
	return least
}

// safe returns how far the number may change from v, where the margin is mm,
// with certainty that the margin stays positive.
//
// A room is a signed distance, whose gradient n is a unit vector, less the
// support of the movement ellipsoid along n. With V the speed of eye against
// screen (or corner against head), Ω the speed at which n turns against the
// ellipsoid (1 for a turn, 0 for a slide) and w the longest semi-axis, the first
// part changes by V at most and the second by w |dn/dv|. For a plane
// |dn/dv| <= Ω. A surface of equal angle bends by at most 1/r at a distance r
// from its circle of centres and from its axis, so within r/2 of where the eye is
// now |dn/dv| <= Ω + 2V/r. The margin, the least of the rooms (or the greater of
// two leasts, when either eye is enough), changes no faster:
//
//	|dm/dv| <= V (1 + 2w/r) + Ω w
func (p *path) safe(v, mm float64) float64 {
	rate, reach := p.speed, math.Inf(1)
	screen, stances := p.at(v)
	for i := range stances {
		m := stances[i].MovementMM
		w := max(math.Abs(m.X), math.Abs(m.Y), math.Abs(m.Z))
		if w == 0 {
			continue
		}
		r := p.nearArc(screen, &stances[i])
		bound := p.speed * (1 + 2*w/r)
		if p.turns {
			bound += w
		}
		rate, reach = max(rate, bound), min(reach, r/2)
	}
	step := math.Inf(1)
	if rate > 0 {
		step = mm / rate
	}
	if p.speed > 0 {
		step = min(step, reach/p.speed)
	}
	return step
}

const (
	// nothingMM is what counts as no margin left: a thousand roundings of a
	// length of a metre, and a thousandth of a thousandth of what can be measured.
	nothingMM = 1e-9
	// nudge (mm or radians) starts a path at which there is no margin to begin with.
	nudge = 1e-6
	// mostSteps ends a path along which the margin hardly falls: too early, if at
	// all, never too late.
	mostSteps = 200_000
)

// follow changes the number from v toward limit, in steps that the margin at
// hand allows, and returns where the margin first runs out. So it cannot pass
// over a dip, however narrow. The margin at v must not be negative. The posture
// is the place among the path's stances.
func (p *path) follow(v, limit float64) Bound {
	mm, c, stance := p.margin(v)
	way := math.Copysign(1, limit-v)
	if !(mm > nothingMM) {
		start := v + way*min(nudge, math.Abs(limit-v))
		if mm, c, stance = p.margin(start); !(mm > nothingMM) {
			return Bound{At: v, Condition: c, Posture: stance}
		}
		v = start
	}
	for range mostSteps {
		step := p.safe(v, mm)
		if step >= math.Abs(limit-v) {
			return Bound{At: limit, Limit: true, Posture: -1}
		}
		next := v + way*step
		if next == v {
			break
		}
		v = next
		if mm, c, stance = p.margin(v); !(mm > nothingMM) {
			break
		}
	}
	return Bound{At: v, Condition: c, Posture: stance}
}

// rateMM and rateTurn are how far the margin is followed for its rate: what a hand
// is off without noticing.
const (
	rateMM   = 10.0
	rateTurn = 5 * frame.Degree
)

const (
	// mostRounds ends the search for an end that does not settle.
	mostRounds = 8
	// sameEnd is how near two ends must be to be one (mm or radians).
	sameEnd = 1e-7
)

// followSag returns where the margin runs out from one value toward limit when a
// mount sags by itself as the number changes. pathAt returns the path with the sag
// held fast as it is at a value; it is one and the same if that makes no difference.
//
// With the sag held fast, the screen runs on a circle or a line and [path.follow] is
// sure of its end. The sag there then gives a better end, and so on: each time the
// error shrinks by the part that the sag has in the motion, a few percent. Between
// the two ends of the way the sag is taken as at the far one. It changes by as much as
// it does from one to the other, which is by how much the margin on the way may be
// less than was thought.
func followSag(pathAt func(v float64) (*path, error), from, limit float64) (Bound, error) {
	p, err := pathAt(from)
	if err != nil {
		return Bound{}, err
	}
	bound := p.follow(from, limit)
	for range mostRounds {
		next, err := pathAt(bound.At)
		if err != nil || next == p {
			return bound, err
		}
		if mm, _, _ := next.margin(from); !(mm > nothingMM) {
			return bound, nil // too little to tell
		}
		was := bound.At
		bound = next.follow(from, limit)
		if math.Abs(bound.At-was) <= sameEnd {
			break
		}
	}
	return bound, nil
}
