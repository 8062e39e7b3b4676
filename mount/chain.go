package mount

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Settings are the numbers that a mount is set to, one for every joint of its
// chain that moves, in chain order: mm for a slide, radians for a turn. Which of the two
// is said by the [Joint], which compares, rounds and words its values; a single setting is
// passed on beside its joint.
type Settings []float64

// Chain is a serial chain of elementary joints from the carrier to the screen:
//
//	carrierFromScreen = Π (Origin · motion) · Tip
//
// The zero Chain has no joint and no valid tip; build one with [Kit.Chain] or
// fill it in and call [Chain.Check].
type Chain struct {
	Joints []Joint
	Tip    frame.Pose // last joint's moved frame from screen
	Spans  []Span     // the tubes that the joints carry, from the carrier outward
	Masses []Mass     // the masses that the joints carry, without the tubes
	Rated  []Rated    // what each part may carry, from the carrier outward
}

// Mass is a mass that a chain carries.
type Mass struct {
	Part    string
	Carrier int     // index of the joint whose moved frame it sits in; len(Joints): the screen's
	AtMM    r3.Vec  // its center in that frame, mm
	KG      float64 // kg
}

// Rate is the motion of the screen for each unit of one setting (mm or rad).
type Rate struct {
	Move r3.Vec // of the screen's middle, mm per unit, carrier axes
	Turn r3.Vec // of the screen about its middle, radians per unit, carrier axes
}

// ErrCount reports settings that are not as many as the joints that move.
var ErrCount = errors.New("mount: wrong number of settings")

// LimitError reports a setting outside the limits of its joint.
type LimitError struct {
	Joint Joint
	Value float64 // mm or radians
}

// Error names the joint and the limits in the reader's unit.
func (e *LimitError) Error() string {
	show := Joint{Motion: e.Joint.Motion}.Format // with one decimal
	return fmt.Sprintf("mount: joint %q: %s is outside %s to %s", e.Joint.Name,
		show(e.Value), show(e.Joint.Low), show(e.Joint.High))
}

// Moving returns the joints that move, in chain order: the ones that Settings
// belong to.
func (c Chain) Moving() []Joint {
	moving := make([]Joint, 0, len(c.Joints))
	for i := range c.Joints {
		if c.Joints[i].Motion != Fixed {
			moving = append(moving, c.Joints[i])
		}
	}
	return moving
}

// MovingPlaces returns the places of the joints of [Chain.Moving] among all joints.
func (c Chain) MovingPlaces() []int { return c.appendMovingPlaces(make([]int, 0, len(c.Joints))) }

func (c Chain) appendMovingPlaces(dst []int) []int {
	for i := range c.Joints {
		if c.Joints[i].Motion != Fixed {
			dst = append(dst, i)
		}
	}
	return dst
}

// Preferred returns the settings at which every joint is at its preferred value.
func (c Chain) Preferred() Settings {
	var s Settings
	for _, place := range c.MovingPlaces() {
		s = append(s, c.Joints[place].Preferred)
	}
	return s
}
