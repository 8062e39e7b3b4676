package gaze

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Carrier is what holds the screen: it says whether the screen tilts with the
// seat. The zero value is the seat.
type Carrier int

// The choices of [Carrier]. Whatever is on the base frame, the floor, a
// table or a bed stays where it is when the seat tilts.
const (
	Seat Carrier = iota
	Base
)

// Pose returns chairFromCarrier at a seat tilt. Carrier axes are the chair axes
// of the untilted chair, carried along.
func (c Carrier) Pose(chair Chair, tilt frame.Angle) frame.Pose {
	if c == Seat {
		return chair.SeatPose(tilt)
	}
	return frame.Identity()
}

// PostureInCarrier is a posture as seen from whatever carries the screen: in carrier axes
// the screen stands still and the person moves from posture to posture, so that
// one screen pose is judged in every posture.
type PostureInCarrier struct {
	Posture Posture
	// Carrier is chairFromCarrier in this posture.
	Carrier frame.Pose
	// Head is carrierFromHead; its origin is midway between the eyes.
	Head frame.Pose
	// Eyes are the pupils in carrier axes (mm), by [Eye].
	Eyes [2]r3.Vec
	// Seat turns seat axes to carrier axes: the axes of the movement ellipsoid.
	Seat frame.Rotation
	// MovementMM are the ellipsoid's semi-axes (mm).
	MovementMM r3.Vec
	// Rest is where the eyes rest, in head axes.
	Rest GazeDirection
}

// Scene is everything about the person that a screen's pose is judged by.
type Scene struct {
	Person   Person
	Chair    Chair
	Measured Sitting
	Carrier  Carrier
	// RestDistanceMM is the distance for which the resting gaze is looked up
	// when it was not measured (mm).
	RestDistanceMM float64
}

// InCarrier returns posture p as seen from the carrier of the screen.
func (s Scene) InCarrier(p Posture) PostureInCarrier {
	seat, chairFromCarrier := s.Chair.SeatPose(p.SeatTilt), frame.Identity()
	if s.Carrier == Seat {
		chairFromCarrier = seat
	}
	carrierFromChair := chairFromCarrier.Inverse()
	chairFromHead := s.Chair.head(seat, s.Person.NeckToEyesMM, &s.Measured, &p)
	head := carrierFromChair.Mul(chairFromHead)
	half := r3.Scale(s.Person.PupilSpacingMM/2, head.Rot.Y)
	st := PostureInCarrier{
		Posture:    p,
		Carrier:    chairFromCarrier,
		Head:       head,
		Eyes:       [2]r3.Vec{r3.Add(head.At, half), r3.Sub(head.At, half)},
		Seat:       carrierFromChair.Rot.Mul(seat.Rot),
		MovementMM: s.Person.MovementMM,
	}
	if s.Person.RestGaze != nil {
		st.Rest = *s.Person.RestGaze
	} else {
		st.Rest = GazeDirection{Down: RestGazeDown(chairFromHead.Rot, s.RestDistanceMM)}
	}
	return st
}

// Moved returns the posture with the head moved by v (mm, carrier axes).
func (st PostureInCarrier) Moved(v r3.Vec) PostureInCarrier {
	st.Head.At = r3.Add(st.Head.At, v)
	for i := range st.Eyes {
		st.Eyes[i] = r3.Add(st.Eyes[i], v)
	}
	return st
}

// Support returns how far the movement ellipsoid reaches along the direction n
// (unit, carrier axes): the greatest n·v over its points v (mm).
func (st *PostureInCarrier) Support(n r3.Vec) float64 {
	a := st.Seat.ApplyInverse(n)
	return math.Sqrt(sq(st.MovementMM.X*a.X) + sq(st.MovementMM.Y*a.Y) + sq(st.MovementMM.Z*a.Z))
}

// supportPoint returns the point of the ellipsoid furthest along n: the gradient
// of Support, given its value.
func (st *PostureInCarrier) supportPoint(n r3.Vec, support float64) r3.Vec {
	if support == 0 {
		return r3.Vec{}
	}
	a := st.Seat.ApplyInverse(n)
	m := st.MovementMM
	return st.Seat.Apply(r3.Vec{X: m.X * m.X * a.X / support, Y: m.Y * m.Y * a.Y / support, Z: m.Z * m.Z * a.Z / support})
}

func sq(v float64) float64 { return v * v }
