package mount

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Forward returns carrierFromScreen with every joint at its setting. Errors are those
// of [Chain.Accepts], and of a chain that gives no finite pose.
//
// Reference: K. M. Lynch and F. C. Park, Modern Robotics (2017), ch. 4, whose
// fixed poses are kept as separate factors here.
func (c Chain) Forward(s Settings) (frame.Pose, error) {
	frames, err := c.Frames(s)
	if err != nil {
		return frame.Pose{}, err
	}
	return frames[len(frames)-1], nil
}

// Frames returns, for every joint, carrierFromMoved: the frame after the joint's
// motion. The last entry, one more than there are joints, is carrierFromScreen.
// Errors are those of [Chain.Forward].
func (c Chain) Frames(s Settings) ([]frame.Pose, error) {
	if err := c.Accepts(s); err != nil {
		return nil, err
	}
	frames := c.AppendFrames(make([]frame.Pose, 0, len(c.Joints)+1), s)
	if !frames[len(frames)-1].IsFinite() {
		return nil, errNotFinite
	}
	return frames, nil
}

// AppendFrames appends to dst what [Chain.Frames] returns, and returns it. Nothing is
// checked: settings must be as many as the joints that move. It does not allocate while
// dst has capacity.
func (c Chain) AppendFrames(dst []frame.Pose, s Settings) []frame.Pose {
	at, still := frame.Identity(), frame.Identity()
	setting := 0
	for i := range c.Joints {
		j := &c.Joints[i]
		if j.Origin != still {
			at = at.Mul(j.Origin)
		}
		switch j.Motion {
		case Slide:
			at.At = at.Apply(r3.Scale(s[setting], j.Axis))
			setting++
		case Turn:
			at.Rot = at.Rot.Mul(frame.About(j.Axis, frame.Angle(s[setting])))
			setting++
		case Fixed:
		}
		dst = append(dst, at)
	}
	return append(dst, at.Mul(c.Tip))
}

// errNotFinite reports a chain whose numbers are too large or not numbers.
var errNotFinite = errors.New("mount: the chain gives no finite pose; see Chain.Check")

// Accepts returns nil for settings that the chain can have. Otherwise the error wraps
// [ErrCount], or is a [*LimitError], or says which setting is not a number; several come
// joined. Of settings that it can have, a limit may be missed by rounding.
func (c Chain) Accepts(s Settings) error { return accepts(c.Joints, s) }

func accepts(joints []Joint, s Settings) error {
	var problems []error
	n := 0
	for i := range joints {
		j := &joints[i]
		if j.Motion == Fixed {
			continue
		}
		if n < len(s) {
			if err := settingProblem(j, s[n]); err != nil {
				problems = append(problems, err)
			}
		}
		n++
	}
	switch {
	case len(s) != n:
		return fmt.Errorf("%w: got %d, the chain has %d joints that move", ErrCount, len(s), n)
	case len(problems) == 1:
		return problems[0]
	}
	return errors.Join(problems...)
}

// settingProblem says what is wrong with a setting of a joint.
func settingProblem(j *Joint, v float64) error {
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return fmt.Errorf("mount: joint %q: setting %v is not a finite number", j.Name, v)
	case !j.within(v):
		return &LimitError{Joint: *j, Value: v}
	}
	return nil
}

// within reports whether v is inside the limits of j, allowing limitSlack.
func (j Joint) within(v float64) bool { return v >= j.Low-limitSlack && v <= j.High+limitSlack }
