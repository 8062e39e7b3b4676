package gaze

import (
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Of returns carrierFromScreen after move m of a screen at that pose, before a person
// in posture st: what [Device.Ahead] tries, so that what else the move does can be
// judged. Moves are along the chair's axes, so they differ from posture to posture where
// what carries the screen tilts.
func (m Move) Of(screen frame.Pose, st *PostureInCarrier) frame.Pose {
	left, right := st.Carrier.Apply(st.Eyes[LeftEye]), st.Carrier.Apply(st.Eyes[RightEye])
	v := viewer{middle: r3.Scale(0.5, r3.Add(left, right))}
	return st.Carrier.Inverse().Mul(v.moved(st.Carrier.Mul(screen), m))
}
