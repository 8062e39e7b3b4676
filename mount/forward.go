package mount

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Forward returns carrierFromScreen with every joint at its setting. The error
// wraps [ErrCount], or is a [*LimitError], or says which setting is not a number;
// several limit errors come joined.
//
// Reference: K. M. Lynch and F. C. Park, Modern Robotics (2017), ch. 4, whose
// fixed poses are kept as separate factors here.
func (c Chain) Forward(s Settings) (frame.Pose, error) {
	if err := accepts(c.Moving(), s); err != nil {
		return frame.Pose{}, err
	}
	at := frame.Identity()
	i := 0
	for _, j := range c.Joints {
		at = at.Mul(j.Origin)
		if j.Motion != Fixed {
			at = at.Mul(j.motion(s[i]))
			i++
		}
	}
	at = at.Mul(c.Tip)
	if !at.IsFinite() {
		return frame.Pose{}, errNotFinite
	}
	return at, nil
}

// errNotFinite reports a chain whose numbers are too large or not numbers.
var errNotFinite = errors.New("mount: the chain gives no finite pose; see Chain.Check")

// motion returns the pose of a moving joint's motion at setting v.
func (j Joint) motion(v float64) frame.Pose {
	if j.Motion == Slide {
		return frame.Translate(r3.Scale(v, j.Axis))
	}
	return frame.Rotate(frame.Angle(v), j.Axis)
}

// accepts reports what is wrong with s for the joints that move: the count, a value
// that is not finite, values outside their limits.
func accepts(moving []Joint, s Settings) error {
	if len(s) != len(moving) {
		return fmt.Errorf("%w: got %d, the chain has %d joints that move", ErrCount, len(s), len(moving))
	}
	var problems []error
	for i, j := range moving {
		switch v := s[i]; {
		case math.IsNaN(v) || math.IsInf(v, 0):
			problems = append(problems, fmt.Errorf("mount: joint %q: setting %v is not a finite number", j.Name, v))
		case !j.within(v):
			problems = append(problems, &LimitError{Joint: j, Value: v})
		}
	}
	if len(problems) == 1 {
		return problems[0]
	}
	return errors.Join(problems...)
}

// within reports whether v is inside the limits of j, allowing limitSlack.
func (j Joint) within(v float64) bool { return v >= j.Low-limitSlack && v <= j.High+limitSlack }

// Frames returns, for every joint, carrierFromMoved: the frame after the joint's
// motion. The last entry, one more than there are joints, is carrierFromScreen.
// Errors are those of [Chain.Forward].
func (c Chain) Frames(s Settings) ([]frame.Pose, error) {
	if _, err := c.Forward(s); err != nil {
		return nil, err
	}
	frames := make([]frame.Pose, 0, len(c.Joints)+1)
	at := frame.Identity()
	i := 0
	for _, j := range c.Joints {
		at = at.Mul(j.Origin)
		if j.Motion != Fixed {
			at = at.Mul(j.motion(s[i]))
			i++
		}
		frames = append(frames, at)
	}
	return append(frames, at.Mul(c.Tip)), nil
}

// Jacobian returns carrierFromScreen and, for every setting, the motion of the
// screen for each unit of it. Errors are those of [Chain.Forward] and
// [Chain.Check]. Inner loops use [Compiled.PoseAndRates].
func (c Chain) Jacobian(s Settings) (frame.Pose, []Rate, error) {
	if err := accepts(c.Moving(), s); err != nil {
		return frame.Pose{}, nil, err
	}
	k, err := c.Compile()
	if err != nil {
		return frame.Pose{}, nil, err
	}
	rates := make([]Rate, len(s))
	pose := k.PoseAndRates(s, rates)
	return pose, rates, nil
}
