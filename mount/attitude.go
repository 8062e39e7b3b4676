package mount

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Attitude is how the plate, and the screen on it, is turned, as square and inclinometer
// show it. Zero is upright, level and facing straight back.
type Attitude struct {
	// Tilt is what an inclinometer on the glass shows, held square to the lower edge:
	// positive with the top back, beyond 90° with the top lower than the bottom.
	Tilt frame.Angle
	// Rotation is the direction of the lower edge as a square shows it from above,
	// positive toward the person's left.
	Rotation frame.Angle
	// Roll is what an inclinometer on the lower edge shows: positive with the viewer's
	// right end up, within 90° either way.
	Roll frame.Angle
}

// facesBack is chairFromScreen of a screen that is upright, level and faces straight back.
var facesBack = frame.Rotation{X: r3.Vec{Y: -1}, Y: r3.Vec{Z: 1}, Z: r3.Vec{X: -1}}

// Matrix returns chairFromScreen: turned about the vertical, then about the normal, then
// about the lower edge.
func (a Attitude) Matrix() frame.Rotation {
	return frame.About(r3.Vec{Z: 1}, -a.Rotation).Mul(facesBack).
		Mul(frame.About(r3.Vec{Z: 1}, a.Roll)).Mul(frame.About(r3.Vec{X: 1}, -a.Tilt))
}

// AttitudeOf returns the attitude that r, chairFromScreen, stands for: the inverse of
// [Attitude.Matrix]. With the lower edge upright only tilt and rotation together count,
// and tilt is then taken as zero.
//
// The heights of the screen's axes are sin(roll), cos(roll) cos(tilt), cos(roll) sin(tilt):
// the vertical as an inclinometer fixed to the plate feels it.
func AttitudeOf(r frame.Rotation) Attitude {
	level := math.Hypot(r.X.X, r.X.Y)
	a := Attitude{Roll: frame.Angle(math.Atan2(r.X.Z, level))}
	if level < 1e-9 {
		a.Rotation = frame.Angle(math.Atan2(r.Z.Y, -r.Z.X))
		return a
	}
	a.Rotation = frame.Angle(math.Atan2(-r.X.X, -r.X.Y))
	a.Tilt = frame.Angle(math.Atan2(r.Z.Z, r.Y.Z))
	return a
}

// LastBall returns the place among the settings of the first of the three of the chain's
// last ball; -1 if it has none.
func (c Chain) LastBall() int {
	last, place := -1, 0
	for i := range c.Joints {
		if j := &c.Joints[i]; j.Motion != Fixed {
			if j.Stiffness.AnyAxis { // the second of the three
				last = place - 1
			}
			place++
		}
	}
	return last
}

// Told returns the joints that move as a person sets and reads them: those of
// [Chain.Moving], with tilt, rotation and roll of the plate, as an [Attitude] has them, in
// the place of the three of the last ball. These three alone hold AnyAxis.
func (c Chain) Told() []Joint {
	told := c.Moving()
	first := c.LastBall()
	if first < 0 {
		return told
	}
	tip, most := told[first+1], [...]float64{math.Pi, math.Pi, math.Pi / 2}
	for i, what := range [...]string{"tilt", "rotation", "roll"} {
		told[first+i] = Joint{
			Name: tip.Part() + "." + what, Motion: Turn, Step: tip.Step, Effort: told[first+i].Effort,
			Low: -most[i], High: most[i], Stiffness: JointStiffness{AnyAxis: true},
		}
	}
	return told
}

// Angles returns tilt, rotation and roll in the order of [Chain.Told], and AttitudeAt is the
// inverse.
func (a Attitude) Angles() [3]float64 {
	return [3]float64{a.Tilt.Radians(), a.Rotation.Radians(), a.Roll.Radians()}
}

// AttitudeAt returns the attitude with tilt, rotation and roll, in radians.
func AttitudeAt(angles [3]float64) Attitude {
	return Attitude{Tilt: frame.Angle(angles[0]), Rotation: frame.Angle(angles[1]), Roll: frame.Angle(angles[2])}
}

// TipError reports a plate that cannot be turned as it should by its ball.
type TipError struct {
	Part string
	// Tip is by how much the plate would be tipped from the stem, and Cone how far it can
	// be; both are zero if it is turned on the stem further than it can be.
	Tip, Cone frame.Angle
}

// Error says how far the plate would be tipped, and how far it can be.
func (e *TipError) Error() string {
	if e.Cone == 0 {
		return fmt.Sprintf("the %s does not turn the plate so far on its stem", e.Part)
	}
	return fmt.Sprintf("the plate would be tipped %.1f° from the stem of the %s, which allows %.1f°", e.Tip.Degrees(), e.Part, e.Cone.Degrees())
}

// TurnBall returns settings s with those of the last ball such that the screen is turned by
// rot, carrierFromScreen, whatever the other settings. The error is a [*TipError], with the
// nearest that the ball can do, or that of a chain without a ball or of settings of the
// wrong number.
func (c Chain) TurnBall(s Settings, rot frame.Rotation) (Settings, error) {
	b, err := c.BallAt(s)
	if err != nil {
		return nil, err
	}
	return b.Turn(s, rot)
}

// BallAt is the last ball of a chain with all other settings as they are.
type BallAt struct {
	first             int // of its settings
	toward, tip, spin *Joint
	before, after     frame.Rotation // of what carries it, and of the screen on it
}

// BallAt returns the last ball with the other settings as in s.
func (c Chain) BallAt(s Settings) (BallAt, error) {
	var few struct { // more than most chains have, kept off the heap: this is called a thousand times for a mount
		places [24]int
		frames [24]frame.Pose
		set    [24]float64
	}
	first, places := c.LastBall(), c.appendMovingPlaces(few.places[:0])
	if first < 0 || len(s) != len(places) {
		return BallAt{}, fmt.Errorf("%w, or it has no ball", ErrCount)
	}
	zero := append(few.set[:0], s...)
	clear(zero[first : first+3])
	frames := c.AppendFrames(few.frames[:0], zero)
	spin := places[first+2]
	return BallAt{
		first: first, toward: &c.Joints[places[first]], tip: &c.Joints[places[first+1]], spin: &c.Joints[spin],
		before: frames[places[first]].Rot, after: frames[spin].Rot.Inverse().Mul(frames[len(frames)-1].Rot),
	}, nil
}

// Turn is [Chain.TurnBall] for settings whose others are those of b.
func (b *BallAt) Turn(s Settings, rot frame.Rotation) (Settings, error) {
	if b.tip == nil || len(s) < b.first+3 {
		return nil, ErrCount
	}
	s = slices.Clone(s)
	ball, toward, tip, spin := s[b.first:b.first+3], b.toward, b.tip, b.spin
	turn := b.before.Inverse().Mul(rot).Mul(b.after.Inverse())
	// turn = About(x, toward) About(-y, tip) About(x, spin), where a mirror reverses x: so
	// it takes x to (cos tip, -sin toward sin tip, cos toward sin tip).
	sense := math.Copysign(1, toward.Axis.X)
	ball[1] = math.Atan2(math.Hypot(turn.X.Y, turn.X.Z), turn.X.X)
	ball[0] = sense * math.Atan2(-turn.X.Y, turn.X.Z)
	if ball[1] < 1e-12 { // then only the sum of the other two counts
		ball[0], ball[1] = 0, 0
	}
	tipped := frame.About(toward.Axis, frame.Angle(ball[0])).Mul(frame.About(tip.Axis, frame.Angle(ball[1])))
	rest := tipped.Inverse().Mul(turn)
	ball[2] = sense * math.Atan2(rest.Y.Z, rest.Y.Y)
	if ball[1] == 0 {
		whole := ball[2]
		ball[2] = spin.Clamp(whole)
		ball[0] = float64(frame.Angle(whole - ball[2]).Wrapped())
	}
	for _, whole := range [...]float64{-2 * math.Pi, 2 * math.Pi} {
		if !spin.within(ball[2]) && spin.within(ball[2]+whole) {
			ball[2] += whole
		}
	}
	var err error
	switch {
	case !tip.within(ball[1]):
		err = &TipError{Part: tip.Part(), Tip: frame.Angle(ball[1]), Cone: frame.Angle(tip.High)}
	case !spin.within(ball[2]):
		err = &TipError{Part: tip.Part()}
	}
	for i, j := range [3]*Joint{toward, tip, spin} {
		ball[i] = j.Clamp(ball[i])
	}
	return s, err
}
