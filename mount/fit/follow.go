package fit

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
)

// path is one number that moves either the screen or the person: it turns
// one of them about an axis, or slides it along one, that stands still for both.
type path struct {
	judge *gaze.Judge
	// turns says that the number is an angle; otherwise it is a length.
	turns bool
	from  float64 // the number as it is
	// at returns the screen and the stances when the number is v. The slice may
	// be reused by the next call.
	at func(v float64) (frame.Pose, []gaze.PostureInCarrier, error)
	// postures are the places of the stances among the job's postures.
	postures []int
	wantedMM float64 // the margin that is to be left
	// arcs are the gaze limits at the corners, for the bound on their bending
	arcs     [4]arc
	cornerMM float64 // from the screen's middle to the farthest corner
	// speed bounds how fast an eye moves against the screen and a corner against
	// the head (mm for each unit of the number), the sag being as it is at from.
	speed float64
	sag   sagRate

	screen  frame.Pose // as the margin last saw them
	stances []gaze.PostureInCarrier
}

// sagRate bounds how fast the sag of a screen changes with a number: the shift of its
// middle (mm) and its turn (radians) for each unit.
type sagRate struct{ shift, turn float64 }

// arc is the surface on which the chord from the tracker to a corner is seen
// under the gaze limit: an arc of circle turned about the chord. Screen axes.
type arc struct {
	half, chord r3.Vec  // the chord's middle and unit direction
	centre      float64 // how far the circle's centre is from the chord (mm)
}

// newPath returns the path of a number that is now v, with a screen that does not sag or
// whose sag does not change.
func newPath(job *Job, judge *gaze.Judge, turns bool, at func(float64) (frame.Pose, []gaze.PostureInCarrier, error), v float64) (*path, error) {
	p := &path{judge: judge, turns: turns, at: at, from: v, wantedMM: max(job.Preferences.MarginMM, 0)}
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
		p.cornerMM = max(p.cornerMM, r3.Norm(corners[i]))
	}
	var err error
	p.speed, err = p.fastest(corners)
	return p, err
}

// fastest returns the greatest speed of an eye against the screen and of a
// corner against the head. Each keeps it all along the path: one body turns
// about an axis, or slides along a direction, that is fixed in both, so that a
// point runs on a circle about the axis or on a straight line. A turn by one
// radian moves it by a chord of 2 sin ½ times its distance from the axis, which
// is its speed.
func (p *path) fastest(corners [4]r3.Vec) (float64, error) {
	screen, now, err := p.at(p.from)
	if err != nil {
		return 0, err
	}
	was := slices.Clone(now)
	moved, then, err := p.at(p.from + 1)
	if err != nil {
		return 0, err
	}
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
		return chord / (2 * math.Sin(0.5)), nil
	}
	return chord, nil
}

// margin returns the least margin over the stances when the number is v, and what has
// it.
func (p *path) margin(v float64) (float64, Bound, error) {
	screen, stances, err := p.at(v)
	if err != nil {
		return 0, Bound{}, err
	}
	p.screen, p.stances = screen, stances
	mm, c, stance := p.judge.Worst(screen, stances)
	return mm, Bound{At: v, Condition: c, Posture: p.postures[stance]}, nil
}

// look implements [guard].
func (p *path) look(v, _ float64) (slack, error) {
	mm, first, err := p.margin(v)
	if err != nil {
		return slack{}, err
	}
	if p.wantedMM > 0 && mm >= 0 {
		first.End = EndMargin
	}
	left := mm - p.wantedMM
	return slack{left: left, safe: p.safe(v, left), first: first}, nil
}

// nearArc returns the least distance of an eye from where the bending of a
// surface of equal angle has no bound: its circle of centres, and its axis.
func (p *path) nearArc(screen frame.Pose, st *gaze.PostureInCarrier) float64 {
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

// strayMM and strayTurn are how far the bounds on a sagging screen are taken to reach
// from where it is.
const (
	strayMM   = 100
	strayTurn = 0.5
)

// speeds returns bounds of how fast, about where the number is v, an eye moves against
// the screen and a corner against the head (mm for each unit) and of how fast either
// turns against the other, and how far the number may change for them to hold.
//
// A sag whose middle shifts at the rate s and that turns at the rate t moves a point at
// the distance d from the screen's middle by s + t d more. And the point is no longer on
// the circle on which it would be with the sag as it was at first, but off it by so much
// times the change of the number, which a turn makes that much faster.
func (p *path) speeds(v float64, screen frame.Pose, stances []gaze.PostureInCarrier) (speed, spin, reach float64) {
	speed, spin, reach = p.speed, 0, math.Inf(1)
	if p.turns {
		spin = 1
	}
	if p.sag == (sagRate{}) {
		return speed, spin, reach
	}
	far := p.cornerMM
	for i := range stances {
		for _, eye := range stances[i].Eyes {
			far = max(far, r3.Norm(r3.Sub(eye, screen.At)))
		}
	}
	more := p.sag.shift + p.sag.turn*(far+strayMM)
	if p.turns {
		more, reach = more*(1+math.Abs(v-p.from)+strayTurn), strayTurn
	}
	speed += more
	return speed, spin + p.sag.turn, min(reach, strayMM/speed)
}

// safe returns how far the number may change from v, where the margin was just seen and
// mm of it are to spare, with certainty that some stays to spare.
//
// A room is a signed distance, whose gradient n is a unit vector, less the
// support of the movement ellipsoid along n. With V the speed of eye against
// screen (or corner against head), Ω the speed at which n turns against the
// ellipsoid (1 for a turn, 0 for a slide, and what the sag adds) and w the longest
// semi-axis, the first part changes by V at most and the second by w |dn/dv|. For a
// plane |dn/dv| <= Ω. A surface of equal angle bends by at most 1/r at a distance r
// from its circle of centres and from its axis, so within r/2 of where the eye is
// now |dn/dv| <= Ω + 2V/r. The margin, the least of the rooms (or the greater of
// two leasts, when either eye is enough), changes no faster:
//
//	|dm/dv| <= V (1 + 2w/r) + Ω w
func (p *path) safe(v, mm float64) float64 {
	screen, stances := p.screen, p.stances
	speed, spin, reach := p.speeds(v, screen, stances)
	rate := speed
	for i := range stances {
		m := stances[i].MovementMM
		w := max(math.Abs(m.X), math.Abs(m.Y), math.Abs(m.Z))
		if w == 0 {
			continue
		}
		r := p.nearArc(screen, &stances[i])
		rate = max(rate, speed*(1+2*w/r)+spin*w)
		if speed > 0 {
			reach = min(reach, r/2/speed)
		}
	}
	if rate > 0 {
		reach = min(reach, mm/rate)
	}
	return reach
}
