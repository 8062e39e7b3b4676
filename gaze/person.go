package gaze

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Eye is one of the two eyes, by the person's own side.
type Eye int

// The two eyes, in the order in which results list them.
const (
	LeftEye Eye = iota
	RightEye
)

// String returns "left eye" or "right eye".
func (e Eye) String() string {
	if e == RightEye {
		return "right eye"
	}
	return "left eye"
}

// EyesUsed says which eyes the tracker needs. The zero value is both.
type EyesUsed int

// The choices of [EyesUsed]. With Either, one eye is enough, whichever has more
// margin.
const (
	Both EyesUsed = iota
	LeftOnly
	RightOnly
	Either
)

// Needed returns the eyes that u is about.
func (u EyesUsed) Needed() []Eye {
	switch u {
	case LeftOnly:
		return bothEyes[:1]
	case RightOnly:
		return bothEyes[1:]
	default:
		return bothEyes[:]
	}
}

var bothEyes = [2]Eye{LeftEye, RightEye}

// Person is what belongs to the person rather than to how they sit.
type Person struct {
	// PupilSpacingMM is the distance between the pupils (mm).
	PupilSpacingMM float64
	// NeckToEyesMM leads from the point about which the head turns to the point
	// midway between the eyes, in head axes (mm).
	NeckToEyesMM r3.Vec
	Eyes         EyesUsed
	// RestGaze is where the eyes rest; nil means [RestGazeDown].
	RestGaze  *GazeDirection
	GazeRange GazeRange
	// Glasses are nil for who wears none.
	Glasses *Glasses
	// MovementMM are the semi-axes of the ellipsoid in which the head is seen to
	// move about a posture, forward, left and up in the axes of the seat (mm).
	MovementMM r3.Vec
}

// GazeDirection is a direction of looking in head axes: down from the plane
// through forward and left, left from straight ahead.
type GazeDirection struct{ Down, Left frame.Angle }

// GazeRange is how far the eyes turn in the head, each limit in its own plane:
// azimuth = atan2(left, forward), elevation = atan2(up, forward).
type GazeRange struct{ Left, Right, Up, Down frame.Angle }

// Head is the attitude of the head. The turns are applied in the order
// rotation about up, then flexion about the turned left axis, then lateral
// flexion about the turned forward axis.
type Head struct {
	// Rotation is positive to the left, Flexion positive chin down, and
	// LateralFlexion positive toward the left shoulder.
	Rotation, Flexion, LateralFlexion frame.Angle
}

// Turn returns the rotation that takes head axes to the axes in which the
// angles are read.
//
// Lateral flexion toward the left shoulder lowers the left side, a negative turn
// about forward by the right-hand rule.
func (h Head) Turn() frame.Rotation {
	sinR, cosR := frame.Sincos(h.Rotation)
	sinF, cosF := frame.Sincos(h.Flexion)
	sinL, cosL := frame.Sincos(-h.LateralFlexion)
	left, up := r3.Vec{X: -sinR, Y: cosR}, r3.Vec{X: cosR * sinF, Y: sinR * sinF, Z: cosF}
	return frame.Rotation{
		X: r3.Vec{X: cosR * cosF, Y: sinR * cosF, Z: -sinF},
		Y: frame.Blend(left, up, cosL, sinL), Z: frame.Blend(left, up, -sinL, cosL),
	}
}

// HeadOf returns the angles of a turn, the inverse of [Head.Turn]: flexion within ±90°,
// and no lateral flexion at these ends, where it is one with rotation.
func HeadOf(turn frame.Rotation) Head {
	const vertical = 1e-9
	h := Head{Flexion: frame.Angle(math.Atan2(-turn.X.Z, math.Hypot(turn.X.X, turn.X.Y)))}
	if math.Hypot(turn.X.X, turn.X.Y) < vertical {
		h.Rotation = frame.Angle(math.Atan2(-turn.Y.X, turn.Y.Y))
		return h
	}
	h.Rotation = frame.Angle(math.Atan2(turn.X.Y, turn.X.X))
	h.LateralFlexion = frame.Angle(math.Atan2(-turn.Y.Z, turn.Z.Z))
	return h
}
