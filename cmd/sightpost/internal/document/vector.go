package document

import (
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Point is a place in chair axes.
type Point struct {
	// Forward of the origin, the way the seated person faces.
	ForwardMM float64 `json:"forward_mm"`
	// To the person's left of the chair's midline.
	LeftMM float64 `json:"left_mm"`
	// Above the floor.
	UpMM float64 `json:"up_mm"`
}

// Direction is a unit vector in chair axes.
type Direction struct {
	// Share of the direction that points forward.
	Forward float64 `json:"forward"`
	// Share that points to the person's left.
	Left float64 `json:"left"`
	// Share that points up.
	Up float64 `json:"up"`
}

// Pose is a rigid transform: the axes and the origin of one frame, written in
// another.
type Pose struct {
	// The origin: x, y, z in mm.
	At [3]float64 `json:"at_mm"`
	// The frame's x axis: first column of the rotation matrix.
	X [3]float64 `json:"x"`
	// The frame's y axis: second column.
	Y [3]float64 `json:"y"`
	// The frame's z axis: third column.
	Z [3]float64 `json:"z"`
}

// ScreenPose is where a screen stands, in chair axes.
type ScreenPose struct {
	// Middle of the display area.
	Middle Point `json:"middle"`
	// The way to the right, as the viewer sees the screen.
	Right Direction `json:"right"`
	// The way to its upper edge.
	Up Direction `json:"up"`
	// The way the screen faces, toward the viewer.
	Normal Direction `json:"normal"`
}

func newPoint(v r3.Vec) Point {
	return Point{ForwardMM: plain(v.X), LeftMM: plain(v.Y), UpMM: plain(v.Z)}
}

func newDirection(v r3.Vec) Direction {
	return Direction{Forward: plain(v.X), Left: plain(v.Y), Up: plain(v.Z)}
}

func newPose(p frame.Pose) Pose {
	return Pose{At: triple(p.At), X: triple(p.Rot.X), Y: triple(p.Rot.Y), Z: triple(p.Rot.Z)}
}

func newScreenPose(p frame.Pose) ScreenPose {
	return ScreenPose{
		Middle: newPoint(p.At),
		Right:  newDirection(p.Rot.X),
		Up:     newDirection(p.Rot.Y),
		Normal: newDirection(p.Rot.Z),
	}
}

func triple(v r3.Vec) [3]float64 { return [3]float64{plain(v.X), plain(v.Y), plain(v.Z)} }
