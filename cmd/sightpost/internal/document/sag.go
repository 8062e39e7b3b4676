package document

import (
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount/fit"
)

// Sag is how weight moves the screen from where the settings alone would have it.
type Sag struct {
	// How far the middle of the display area sinks.
	DropMM float64 `json:"drop_mm"`
	// How far it moves forward.
	ForwardMM float64 `json:"forward_mm"`
	// How far it moves to the person's left.
	LeftMM float64 `json:"left_mm"`
	// Pitch, the upper edge toward the viewer.
	PitchDeg float64 `json:"pitch_deg"`
	// Roll, counterclockwise as the viewer sees it.
	RollDeg float64 `json:"roll_deg"`
	// Yaw toward the viewer's right.
	YawDeg float64 `json:"yaw_deg"`
	// All of it as a rigid motion in chair axes: applied to the pose that
	// chair_from_carrier and the mount's chain give, which is that without load, it
	// gives the screen of the posture.
	Motion Pose `json:"motion"`
}

// newSag returns how f's screen sags. Small turns add up like vectors, so their
// parts along the screen's axes are the turns about them.
func newSag(f *fit.PostureResult) *Sag {
	shift, turn, axes := f.Sag.ShiftMM, f.Sag.Turn, f.Screen.Rot
	about := func(axis r3.Vec) float64 { return plain(frame.Angle(r3.Dot(turn, axis)).Degrees()) }
	return &Sag{
		DropMM: plain(-shift.Z), ForwardMM: plain(shift.X), LeftMM: plain(shift.Y),
		PitchDeg: about(axes.X), RollDeg: about(axes.Z), YawDeg: about(axes.Y),
		Motion: newPose(f.Sag.Pose(r3.Sub(f.Screen.At, shift))),
	}
}
