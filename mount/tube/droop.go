package tube

import (
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Droop is how far a screen has sagged as the viewer sees it.
type Droop struct {
	DropMM float64 // along gravity
	// Nod is about the screen's right: positive brings the top toward the viewer.
	// Roll is about the normal, positive counterclockwise for the viewer. Turn is
	// about the screen's up, positive brings the viewer's left edge toward them.
	Nod, Roll, Turn frame.Angle
}

// Droop returns how the sag of a screen looks to the viewer, from the pose of the
// screen and gravity in the axes of the sag. Without gravity nothing drops.
//
// About right (x), up (y) and normal (z) of the screen: a turn about x takes y
// toward z, the top toward the viewer; one about y takes z toward x, and -x, the
// left edge, toward z.
func (s Sag) Droop(screen frame.Pose, gravity r3.Vec) Droop {
	t := screen.Rot.ApplyInverse(s.Turn)
	return Droop{
		DropMM: r3.Dot(s.ShiftMM, unitOr0(gravity)),
		Nod:    frame.Angle(t.X), Turn: frame.Angle(t.Y), Roll: frame.Angle(t.Z),
	}
}
