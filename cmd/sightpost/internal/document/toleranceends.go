package document

import (
	"sightpost/mount/fit"
	"sightpost/mount/fit/tolerance"
)

// endWords says in a few words what ends a range.
func endWords(b tolerance.Bound) string {
	if b.Limit {
		return "limit of its range"
	}
	switch b.Kind {
	case fit.NotTracking:
		return b.Condition.String()
	case fit.MarginShort:
		return "less margin than wanted: " + b.Condition.String()
	case fit.OutOfRange:
		return "the screen's " + b.Variable.String() + " leaves the range wished for"
	case fit.FaceTooClose:
		return "housing too near to the eyes"
	case fit.TooClose:
		return b.Part + " too near to " + b.Zone
	case fit.BelowFloor:
		return b.Part + " reaches the floor"
	case fit.TubeYields:
		return "tube of the " + b.Part + " too weak"
	case fit.JointSlips:
		return b.Part + " slips"
	case fit.PartOverloaded:
		return b.Part + " overloaded"
	case fit.TooSoft:
		return "the mount is too soft"
	case fit.DeviceTooHeavy:
		return "the device is too heavy for the mount"
	}
	return ""
}
