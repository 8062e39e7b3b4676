package fit

import (
	"fmt"

	"sightpost/gaze"
)

// Bound is where something gives out when one number changes and all others stay: a
// setting in [Tolerance], a part of a posture in [PostureCurve].
type Bound struct {
	// At is the last value at which nothing has given out: mm where the number is a
	// length, radians where it is an angle.
	At float64
	// Limit says that nothing gives out up to the end of the range that was looked
	// at. Otherwise End and what it is about give out next.
	Limit bool
	End   End
	// Condition is the one of tracking that gives out, for EndTracking and EndMargin.
	Condition gaze.Condition
	// Part is what fails, for the others: "housing" or a part of the mount, a joint that
	// slips, or a variable of the screen's aim. Space is the space that it comes too near
	// to, for EndGap.
	Part, Space string
	// Posture is the place in the job's postures where it gives out; -1 with Limit.
	Posture int
}

// End is the kind of thing that ends a range.
type End int

// The kinds of [End].
const (
	EndTracking End = iota // the tracker's margin becomes negative
	EndMargin              // less margin is left than is wished for
	EndAim                 // the screen's aim leaves a range wished for
	EndFace                // the housing comes too near to the eyes
	EndGap                 // something comes too near to a space to keep clear
	EndFloor               // the mount reaches the floor
	EndTube                // a tube is too weak
	EndJoint               // a joint slips
	EndPart                // a part is overloaded
	EndSoft                // the mount is too soft
)

// String says in plain words what ends the range.
func (b Bound) String() string {
	if b.Limit {
		return "limit of its range"
	}
	switch b.End {
	case EndTracking:
		return b.Condition.String()
	case EndMargin:
		return fmt.Sprintf("less room is left than wished for: %s", b.Condition)
	default:
		return b.Words()
	}
}

// Words says in a few words what ends the range when that is no condition of tracking;
// "" when it is one, or the range's limit.
func (b Bound) Words() string {
	if b.Limit {
		return ""
	}
	switch b.End {
	case EndAim:
		return "the screen's " + b.Part + " leaves the range wished for"
	case EndFace:
		return "housing too near to the eyes"
	case EndGap:
		return b.Part + " too near to " + b.Space
	case EndFloor:
		return b.Part + " reaches the floor"
	case EndTube:
		return "tube of the " + b.Part + " too weak"
	case EndJoint:
		return b.Part + " slips"
	case EndPart:
		return b.Part + " overloaded"
	case EndSoft:
		return "the mount is too soft"
	case EndTracking, EndMargin:
	}
	return ""
}
