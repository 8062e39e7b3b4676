package tolerance

import (
	"context"
	"fmt"
	"math"
	"strconv"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
)

// PostureSweep asks for a [PostureCurve].
type PostureSweep struct {
	// Posture is the name of the posture around which one number changes; empty
	// means the leading one.
	Posture  string
	Variable PostureVariable
	// Low and High are the ends of what is looked at: mm for slump, else radians.
	Low, High float64
	// Points is how many points the curve has, ends included.
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
	Points  []Sample
	// Works says that the margin is not negative at the present value. Low and
	// High are then the ends of the values joined to it by values with a margin
	// that is not negative, within what was looked at. Otherwise both are at the
	// present value and name what fails there.
	Works     bool
	Low, High Bound
}

const (
	mostPoints = 100_000
	// farthestMM and farthestTurn bound what can be looked at.
	farthestMM   = 2000.0
	farthestTurn = 2 * math.Pi
)

// CurvePosture returns the margin of one posture against one of its numbers, with the
// screen as r has it. A mount on the seat sags as it does at each tilt; on the other
// carrier the screen is taken to stay where it is. A posture in which eyes or head were
// measured is taken as measured, and the others are predicted from it.
//
// The ends are found as those of settings are, in steps of half a degree or 1 mm.
//
// The error wraps [fit.ErrJob], says what of the sweep cannot be done, or is that of ctx.
func CurvePosture(ctx context.Context, r *fit.Result, s PostureSweep) (PostureCurve, error) {
	if err := fit.CheckResult(r); err != nil {
		return PostureCurve{}, err
	}
	job := r.Job
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
	sw := sweeping{judge: gaze.NewJudge(job.Device, scene.Person), at: at, posture: posture, variable: s.Variable}
	if r.Set != nil && s.Variable == SeatTilt && scene.Carrier == gaze.Seat {
		if sw.mount, err = fit.NewSetMount(r); err != nil {
			return PostureCurve{}, err
		}
	}
	inChair := r.Postures[at].Screen
	for _, out := range []*CarriedCurve{&c.AsCarried, &c.OtherCarrier} {
		sw.scene = scene
		sw.screen = scene.Carrier.Pose(scene.Chair, posture.SeatTilt).Inverse().Mul(inChair)
		if err := sw.fill(ctx, out, s); err != nil {
			return PostureCurve{}, err
		}
		scene.Carrier, sw.mount = other(scene.Carrier), nil
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
func (s PostureSweep) posture(job *fit.Job) (int, error) {
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
	widest, show, unit := farthestMM, 1.0, "mm"
	if s.Variable.Turns() {
		widest, show, unit = farthestTurn, 1/frame.Degree.Radians(), "°"
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
// predicted. Where eyes or head were measured in p, p becomes the measured sitting;
// what they had slid down by then is part of where they were.
func around(s gaze.Scene, p gaze.Posture) (gaze.Scene, gaze.Posture) {
	if p.EyesMM == nil && !p.HeadPlumb {
		return s, p
	}
	head := s.Chair.HeadPose(s.Person, s.Measured, p)
	p.Head, p.HeadPlumb = gaze.HeadOf(head.Rot), false
	s.Measured = gaze.Sitting{SeatTilt: p.SeatTilt, BackAngle: p.BackAngle, EyesMM: head.At, Head: p.Head}
	sin, cos := math.Sincos(p.BackAngle.Radians())
	up := s.Chair.SeatPose(p.SeatTilt).Rot.Apply(r3.Vec{X: cos, Z: sin}) // along the back support
	s.Measured.EyesMM = r3.Add(s.Measured.EyesMM, r3.Scale(p.SlumpMM, up))
	p.EyesMM = nil
	return s, p
}

// sweeping changes one number of a posture.
type sweeping struct {
	judge    gaze.Judge
	scene    gaze.Scene
	at       int // place of the posture in the job's
	posture  gaze.Posture
	variable PostureVariable
	screen   frame.Pose    // in the axes of the scene's carrier, at the present value
	mount    *fit.SetMount // nil when the screen stays there
}

// margin returns the margin when the number is v, and the limiting condition.
func (sw *sweeping) margin(v float64) (float64, gaze.Condition, error) {
	st, screen := sw.scene.InCarrier(sw.variable.In(sw.posture, v)), sw.screen
	if sw.mount != nil {
		var err error
		if screen, err = sw.mount.ScreenUnder(st.Carrier.Rot.ApplyInverse(r3.Vec{Z: -1})); err != nil {
			return 0, gaze.Condition{}, err
		}
	}
	mm, c := sw.judge.Margin(screen, &st)
	return mm, c, nil
}

func (sw *sweeping) failure(v float64) (fit.Reason, bool, error) {
	mm, c, err := sw.margin(v)
	return fit.Reason{Condition: c, Posture: sw.at}, !(mm >= 0), err
}

func (sw *sweeping) spare(v float64) (float64, error) {
	mm, _, err := sw.margin(v)
	return mm, err
}

// fill computes the curve.
func (sw *sweeping) fill(ctx context.Context, out *CarriedCurve, s PostureSweep) error {
	out.Carrier = sw.scene.Carrier
	for _, v := range floats.Span(make([]float64, s.Points), s.Low, s.High) {
		mm, c, err := sw.margin(v)
		if err != nil {
			return err
		}
		if math.IsNaN(mm) || math.IsInf(mm, 0) {
			return fmt.Errorf("%w: the margin is not a number", fit.ErrJob)
		}
		out.Points = append(out.Points, Sample{At: v, MarginMM: mm, Limiting: c})
	}
	present := sw.variable.Of(sw.posture)
	failure, fails, err := sw.failure(present)
	if err != nil {
		return err
	}
	out.Works, out.Low = !fails, Bound{At: present, Reason: failure}
	if out.High = out.Low; fails {
		return nil
	}
	step := strideMM
	if sw.variable.Turns() {
		step = strideTurn.Radians()
	}
	w := walker{failure: sw.failure, spare: sw.spare, works: func(v float64) (bool, error) {
		_, fails, err := sw.failure(v)
		return !fails, err
	}}
	if out.Low, err = w.walk(ctx, present, s.Low, present, step); err != nil {
		return err
	}
	out.High, err = w.walk(ctx, present, s.High, present, step)
	return err
}

// PostureVariable is one number of a posture.
type PostureVariable int

// The numbers of a posture that [CurvePosture] can change.
const (
	SeatTilt PostureVariable = iota
	BackAngle
	Slump
	HeadFlexion
	HeadRotation
	HeadLateralFlexion
)

// PostureVariables returns all of them.
func PostureVariables() []PostureVariable {
	return []PostureVariable{SeatTilt, BackAngle, Slump, HeadFlexion, HeadRotation, HeadLateralFlexion}
}

// String returns the variable in words.
func (v PostureVariable) String() string {
	if !v.known() {
		return "posture variable " + strconv.Itoa(int(v))
	}
	return [...]string{"seat tilt", "back angle", "slump", "head flexion", "head rotation", "head lateral flexion"}[v]
}

func (v PostureVariable) known() bool { return v >= SeatTilt && v <= HeadLateralFlexion }

// Turns reports whether v is an angle (radians) rather than a length (mm).
func (v PostureVariable) Turns() bool { return v != Slump }

// Of returns the variable's value in p: mm for slump, else radians.
func (v PostureVariable) Of(p gaze.Posture) float64 {
	if v == Slump {
		return p.SlumpMM
	}
	return v.angle(&p).Radians()
}

// In returns p with the variable at value: mm for slump, else radians.
func (v PostureVariable) In(p gaze.Posture, value float64) gaze.Posture {
	if v == Slump {
		p.SlumpMM = value
	} else {
		*v.angle(&p) = frame.Angle(value)
	}
	return p
}

// angle returns where the variable is in p, but for slump.
func (v PostureVariable) angle(p *gaze.Posture) *frame.Angle {
	return [...]*frame.Angle{
		SeatTilt: &p.SeatTilt, BackAngle: &p.BackAngle,
		HeadFlexion: &p.Head.Flexion, HeadRotation: &p.Head.Rotation, HeadLateralFlexion: &p.Head.LateralFlexion,
	}[v]
}
