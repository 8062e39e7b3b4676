package body

import (
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
)

// Seat is where a seat is and how large the person in it is.
type Seat struct {
	// HeightMM is the height of the seat's top above the floor at the junction with the
	// back support, with the seat level.
	HeightMM float64
	// Measured takes points of the level seat to chair axes, as the seat was tilted when
	// the person was measured.
	Measured frame.Pose
	// Part is the size of the person relative to an adult, 1 for an adult.
	Part float64

	scene gaze.Scene
}

// leastAdultMM is the height of the eyes above the seat, along the back support,
// below which a person is taken to be smaller than an adult in all dimensions, in
// proportion. The 5th percentile of women is 698 mm (Gordon et al.,
// NATICK/TR-15/007, 2014); the rest allows for slumping and leaning, a choice of this
// tool.
const leastAdultMM = 560

// leastPart bounds how small a person is taken to be.
const leastPart = 0.4

// SeatOf returns the seat of a scene: its height at the junction with the back support
// (mm), and the axis about which it tilts (chair axes, mm).
func SeatOf(scene gaze.Scene, heightMM float64, pivotMM r3.Vec) Seat {
	s := Seat{scene: scene, HeightMM: heightMM, Part: 1}
	s.Measured = frame.RotateAround(pivotMM, scene.Measured.SeatTilt, r3.Vec{Y: -1})
	if eyes := s.AlongBackMM(scene.Measured.EyesMM); eyes < leastAdultMM {
		s.Part = max(eyes/leastAdultMM, leastPart)
	}
	return s
}

// BackInChair returns the axes of the back support as measured, in chair axes: x forward
// of it, z along it, the origin at the junction.
func (s Seat) BackInChair() frame.Pose {
	return s.Measured.Mul(frame.Pose{
		Rot: frame.About(r3.Vec{Y: -1}, s.scene.Measured.BackAngle-frame.Degree*90),
		At:  s.JunctionMM(),
	})
}

// JunctionMM returns the junction with the back support, with the seat level.
func (s Seat) JunctionMM() r3.Vec { return r3.Vec{Z: s.HeightMM} }

// AlongBackMM returns how far up along the back support a point in chair axes is.
func (s Seat) AlongBackMM(at r3.Vec) float64 { return s.BackInChair().Inverse().Apply(at).Z }

// InSeat returns the pose that takes points of the level seat to the axes of
// [gaze.Seat], in which the seat carries them.
func (s Seat) InSeat() frame.Pose {
	return gaze.Seat.Pose(s.scene.Chair, s.scene.Measured.SeatTilt).Inverse().Mul(s.Measured)
}
