package mount

import (
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Tube is a tube that a chain carries.
type Tube struct {
	Part    string
	Carrier int // index of the joint whose moved frame carries the tube
	Slide   int // index of the joint that slides the tube, or -1
	// FromTube places the far end of the tube's near straight ... in the moved frame.
	FromTube frame.Pose
	Shape    Centreline
	Section  Section
	TotalMM  float64
}

// Link is a tube where it is at given settings.
type Link struct {
	Part     string
	LineMM   []r3.Vec   // middle line from near to far end, carrier axes, mm
	Held     int        // index in LineMM of the middle of what holds the tube
	RadiusMM float64    // outside radius, mm
	Start    frame.Pose // carrier from the frame of Curve, at the point held
	Curve    Centreline // the tube from the point held to the far end
	Section  Section
}
