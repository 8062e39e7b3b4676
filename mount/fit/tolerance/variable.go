package tolerance

import (
	"strconv"

	"sightpost/gaze"
	"sightpost/gaze/frame"
)

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
	switch v {
	case SeatTilt:
		return p.SeatTilt.Radians()
	case BackAngle:
		return p.BackAngle.Radians()
	case Slump:
		return p.SlumpMM
	case HeadFlexion:
		return p.Head.Flexion.Radians()
	case HeadRotation:
		return p.Head.Rotation.Radians()
	default:
		return p.Head.LateralFlexion.Radians()
	}
}

// In returns p with the variable at value: mm for slump, else radians.
func (v PostureVariable) In(p gaze.Posture, value float64) gaze.Posture {
	a := frame.Angle(value)
	switch v {
	case SeatTilt:
		p.SeatTilt = a
	case BackAngle:
		p.BackAngle = a
	case Slump:
		p.SlumpMM = value
	case HeadFlexion:
		p.Head.Flexion = a
	case HeadRotation:
		p.Head.Rotation = a
	default:
		p.Head.LateralFlexion = a
	}
	return p
}
