package gaze

import (
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Sitting is how the person sat when measured, in chair axes.
type Sitting struct {
	SeatTilt frame.Angle
	// BackAngle is the angle between seat and back support.
	BackAngle frame.Angle
	// EyesMM is the point midway between the eyes (mm).
	EyesMM r3.Vec
	Head   Head
}

// Chair is where the seat turns: the points are given with the chair untilted.
type Chair struct{ TiltPivotMM, BackHingeMM r3.Vec }

// Posture is one way of sitting in which the screen is wanted.
type Posture struct {
	Name string
	// MustWork says that the tracker must see the eyes. In other postures how it fares
	// is only of interest.
	MustWork bool
	SeatTilt frame.Angle
	// BackAngle is the angle between seat and back support.
	BackAngle frame.Angle
	// SlumpMM is how far trunk and head have slid down along the back support.
	SlumpMM float64
	// Head is read against the trunk, whose axes are the chair axes in the measured
	// sitting; with HeadPlumb against the chair axes, as in [Sitting].
	Head      Head
	HeadPlumb bool
	// EyesMM, when not nil, is the measured point midway between the eyes in
	// chair axes: it wins over the prediction.
	EyesMM *r3.Vec
}

// seatAxis is the axis about which seat and back support turn back: a turn back
// lifts the front, which is a negative turn about left.
var seatAxis = r3.Vec{Y: -1}

// SeatPose returns where the tilted seat is: the pose that carries points of
// the untilted seat to chair axes. Seat, back support, person and whatever the
// seat carries turn together about the tilt pivot.
func (c Chair) SeatPose(tilt frame.Angle) frame.Pose {
	return frame.RotateAround(c.TiltPivotMM, tilt, seatAxis)
}

// TrunkPose returns the pose that carries the trunk from where it was measured
// to where p has it, in chair axes: tilt about the pivot, recline about the back
// support's hinge, and a slide down along the back support.
//
// With S(t) the seat at tilt t, H the turn about the hinge by the change of back
// angle and D the slide along the back support,
//
//	trunk = S(t) · D · H · S(t measured)⁻¹
func (c Chair) TrunkPose(measured Sitting, p Posture) frame.Pose {
	return c.trunk(c.SeatPose(p.SeatTilt), &measured, &p)
}

// trunk is [Chair.TrunkPose] with the seat where p has it.
func (c Chair) trunk(seat frame.Pose, measured *Sitting, p *Posture) frame.Pose {
	recline := frame.RotateAround(c.BackHingeMM, p.BackAngle-measured.BackAngle, seatAxis)
	sin, cos := frame.Sincos(p.BackAngle)
	slide := frame.Translate(r3.Scale(-p.SlumpMM, r3.Vec{X: cos, Z: sin}))
	return seat.Mul(slide).Mul(recline).Mul(c.SeatPose(measured.SeatTilt).Inverse())
}

// HeadPose returns the pose of the head in chair axes for posture p; its origin
// is midway between the eyes.
//
// The neck point is found from the measured eyes, is carried by the trunk, and
// the head turns about it. Eyes measured in p win over the prediction.
func (c Chair) HeadPose(person Person, measured Sitting, p Posture) frame.Pose {
	return c.head(c.SeatPose(p.SeatTilt), person.NeckToEyesMM, &measured, &p)
}

// head is [Chair.HeadPose] with the seat where p has it.
func (c Chair) head(seat frame.Pose, neckToEyes r3.Vec, measured *Sitting, p *Posture) frame.Pose {
	trunk, turn := c.trunk(seat, measured, p), p.Head.Turn()
	if p.HeadPlumb {
		turn = trunk.Rot.Inverse().Mul(turn)
	}
	neck := r3.Sub(measured.EyesMM, measured.Head.Turn().Apply(neckToEyes))
	head := trunk.Mul(frame.Pose{Rot: turn, At: r3.Add(neck, turn.Apply(neckToEyes))})
	if p.HeadPlumb {
		head.Rot = p.Head.Turn() // to the last digit
	}
	if p.EyesMM != nil {
		head.At = *p.EyesMM
	}
	return head
}

// OnTrunk returns, as [Posture.Head] has them, the angles of a head read against the
// back support: at zero the head is in line with it.
func (s Sitting) OnTrunk(h Head) Head {
	const upright = 90 * frame.Degree
	return HeadOf(frame.About(seatAxis, s.SeatTilt+s.BackAngle-upright).Mul(h.Turn()))
}

// AsMeasured returns the posture in which the person was measured.
func (s Sitting) AsMeasured(name string) Posture {
	return Posture{Name: name, SeatTilt: s.SeatTilt, BackAngle: s.BackAngle, Head: s.Head}
}
