package fit

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
)

// PostureSweep asks for a [PostureCurve].
type PostureSweep struct {
	// Posture is the name of the posture around which one number changes; empty
	// means the leading one.
	Posture  string
	Variable PostureVariable
	// Low and High are the ends of what is looked at: mm for slump, else radians.
	Low, High float64
	// Points is how many points the curve has, ends included; zero means 101.
	Points int
}

// PostureCurve is the margin against one number of a posture.
type PostureCurve struct {
	Variable PostureVariable
	// Posture is the one around which the number changes, Present the number's
	// value in it.
	Posture gaze.Posture
	Present float64
	// AsCarried is with the screen on what carries it, OtherCarrier with the
	// screen in the same place before the same posture, but on the other: the
	// base instead of the seat, or the seat instead of the base.
	AsCarried, OtherCarrier CarriedCurve
}

// CarriedCurve is a curve for one carrier of the screen.
type CarriedCurve struct {
	Carrier gaze.Carrier
	Points  []CurvePoint
	// Works says that the margin is not negative at the present value. Low and
	// High are then the ends of the values joined to it by values with a margin
	// that is not negative, within what was looked at. Otherwise both are at the
	// present value and name what fails there.
	Works     bool
	Low, High Bound
}

// CurvePoint is a point of a curve.
type CurvePoint struct {
	// At is in mm for slump, else in radians.
	At       float64
	MarginMM float64
	// Condition has the least room.
	Condition gaze.Condition
}

const (
	defaultPoints = 101
	mostPoints    = 100_000
	// widestMM and widestTurn bound what can be looked at.
	widestMM   = 2000.0
	widestTurn = 2 * math.Pi
)

// CurvePosture returns the margin of one posture against one of its numbers, with the
// screen as r has it. A mount on the seat sags as it does at each tilt; on the other
// carrier the screen is taken to stand where it is. A posture in which the eyes were measured is taken as
// measured, and the others are predicted from it.
//
// The error wraps [ErrJob], or says what of the sweep cannot be done.
func CurvePosture(job *Job, r *Result, s PostureSweep) (PostureCurve, error) {
	b, set, err := matched(job, r)
	if err != nil {
		return PostureCurve{}, err
	}
	if s.Points == 0 {
		s.Points = defaultPoints
	}
	at, err := s.posture(job)
	if err != nil {
		return PostureCurve{}, err
	}
	if err := s.check(job.Postures[at]); err != nil {
		return PostureCurve{}, err
	}
	scene, posture := around(job.Scene, job.Postures[at])
	present := s.Variable.Of(posture)
	c := PostureCurve{Variable: s.Variable, Posture: job.Postures[at], Present: present}
	inChair := r.Postures[at].Screen
	for i, out := range []*CarriedCurve{&c.AsCarried, &c.OtherCarrier} {
		sw := sweeping{b: b, scene: scene, at: at, posture: posture, variable: s.Variable, mount: set, unloaded: r.Screen}
		if i == 1 {
			scene.Carrier = other(scene.Carrier)
			sw.scene, sw.mount = scene, nil
		}
		sw.screen = scene.Carrier.Pose(scene.Chair, posture.SeatTilt).Inverse().Mul(inChair)
		if err := sw.fill(out, s); err != nil {
			return PostureCurve{}, err
		}
	}
	return c, nil
}

func other(c gaze.Carrier) gaze.Carrier {
	if c == gaze.Seat {
		return gaze.Base
	}
	return gaze.Seat
}

// posture returns the place of the posture asked for.
func (s PostureSweep) posture(job *Job) (int, error) {
	if s.Posture == "" {
		return job.Leading(), nil
	}
	for i := range job.Postures {
		if job.Postures[i].Name == s.Posture {
			return i, nil
		}
	}
	return 0, fmt.Errorf("fit: no posture is called %q", s.Posture)
}

// check reports a sweep that cannot be done around posture p.
func (s PostureSweep) check(p gaze.Posture) error {
	if !s.Variable.known() {
		return fmt.Errorf("fit: there is no %v", s.Variable)
	}
	widest, show, unit := widestMM, 1.0, "mm"
	if s.Variable.Turns() {
		widest, show, unit = widestTurn, 1/frame.Degree.Radians(), "°"
	}
	if !(s.Low >= -widest && s.Low < s.High && s.High <= widest) {
		return fmt.Errorf("fit: %v from %.4g%s to %.4g%s: need a rising range within ±%.4g%s",
			s.Variable, s.Low*show, unit, s.High*show, unit, widest*show, unit)
	}
	if now := s.Variable.Of(p); !(now >= s.Low && now <= s.High) {
		return fmt.Errorf("fit: %v from %.4g%s to %.4g%s leaves out %.4g%s of posture %q; widen the range",
			s.Variable, s.Low*show, unit, s.High*show, unit, now*show, unit, p.Name)
	}
	if s.Points < 2 || s.Points > mostPoints {
		return fmt.Errorf("fit: %d points of a curve: need 2 to %d", s.Points, mostPoints)
	}
	return nil
}

// around returns the scene and posture from which postures near p are
// predicted. Where the eyes were measured in p, p becomes the measured sitting;
// what they had slid down by then is part of where they were.
func around(s gaze.Scene, p gaze.Posture) (gaze.Scene, gaze.Posture) {
	if p.EyesMM == nil {
		return s, p
	}
	s.Measured = gaze.Sitting{SeatTilt: p.SeatTilt, BackAngle: p.BackAngle, EyesMM: *p.EyesMM, Head: p.Head}
	sin, cos := math.Sincos(p.BackAngle.Radians())
	up := s.Chair.SeatPose(p.SeatTilt).Rot.Apply(r3.Vec{X: cos, Z: sin}) // along the back support
	s.Measured.EyesMM = r3.Add(s.Measured.EyesMM, r3.Scale(p.SlumpMM, up))
	p.EyesMM = nil
	return s, p
}

// sweeping changes one number of a posture.
type sweeping struct {
	b        *problem
	scene    gaze.Scene
	at       int // place of the posture in the job's
	posture  gaze.Posture
	variable PostureVariable
	screen   frame.Pose // in the axes of the scene's carrier, at the present value
	mount    *setMount  // nil when the screen stands still
	unloaded frame.Pose // the screen without its sag
}

// path returns the path of the number.
func (sw *sweeping) path() (*path, error) {
	present := sw.variable.Of(sw.posture)
	stances := make([]gaze.PostureInCarrier, 1)
	seated := func(v float64) []gaze.PostureInCarrier {
		stances[0] = sw.scene.InCarrier(sw.variable.In(sw.posture, v))
		return stances
	}
	still := func(v float64) (frame.Pose, []gaze.PostureInCarrier, error) { return sw.screen, seated(v), nil }
	p, err := newPath(sw.b.job, &sw.b.request.Judge, sw.variable.Turns(), still, present)
	if err != nil {
		return nil, err
	}
	p.wantedMM, p.postures = 0, []int{sw.at}
	if sw.mount == nil || sw.variable != SeatTilt || sw.scene.Carrier != gaze.Seat {
		return p, nil
	}
	p.sag, err = sw.sagRate()
	p.at = func(v float64) (frame.Pose, []gaze.PostureInCarrier, error) {
		stances := seated(v)
		_, sag, err := sw.mount.sagging.under(sw.mount.set, r3.Scale(gravity, down(&stances[0])))
		return sag.Mul(sw.unloaded), stances, err
	}
	return p, err
}

// sagRate bounds how fast the sag changes with the tilt of the seat. It is linear in
// gravity, which a tilt turns as fast in the axes of what is tilted. A linear map
// stretches no vector by more than the root of what it makes of the three unit vectors,
// squared and added up.
func (sw *sweeping) sagRate() (sagRate, error) {
	var shift, turn float64
	for _, axis := range [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		sag, _, err := sw.mount.sagging.under(sw.mount.set, r3.Scale(gravity, axis))
		if err != nil {
			return sagRate{}, err
		}
		shift += r3.Norm2(sag.ShiftMM)
		turn += r3.Norm2(sag.Turn)
	}
	return sagRate{math.Sqrt(shift), math.Sqrt(turn)}, nil
}

// fill computes the curve.
func (sw *sweeping) fill(out *CarriedCurve, s PostureSweep) error {
	out.Carrier = sw.scene.Carrier
	p, err := sw.path()
	if err != nil {
		return err
	}
	for _, v := range floats.Span(make([]float64, s.Points), s.Low, s.High) {
		mm, b, err := p.margin(v)
		if err != nil {
			return err
		}
		if math.IsNaN(mm) || math.IsInf(mm, 0) {
			return fmt.Errorf("%w: the margin is not a number", ErrJob)
		}
		out.Points = append(out.Points, CurvePoint{At: v, MarginMM: mm, Condition: b.Condition})
	}
	mm, b, err := p.margin(p.from)
	if err != nil {
		return err
	}
	out.Works, out.Low, out.High = mm >= 0, b, b
	if !out.Works {
		return nil
	}
	if out.Low, err = advance(p, p.from, s.Low); err != nil {
		return err
	}
	out.High, err = advance(p, p.from, s.High)
	return err
}
