package gaze

import (
	"math"

	"sightpost/gaze/frame"
)

// PreferredGaze returns how far below the horizontal people like to look at a
// target at the given distance (mm) when trunk and head lean back by recline
// from upright.
//
// Published means are 33° at 0.5 m and 24° at 1 m sitting upright, 23° and 16°
// with trunk and head leaned back by 15°. Between them the value is
// interpolated; distances beyond are held at the nearest published one, and so
// is recline. What is no number gives an angle that is none.
//
// Reference: K. H. E. Kroemer and S. G. Hill, "Preferred line of sight angle",
// Ergonomics 29(9), 1986, 1129-1134, abstract.
func PreferredGaze(distanceMM float64, recline frame.Angle) frame.Angle {
	far := min(max((distanceMM-500)/500, 0), 1)
	back := min(max(recline.Degrees()/publishedRecline, 0), 1)
	upright := 33 + far*(24-33)
	leaned := 23 + far*(16-23)
	return frame.Angle(upright+back*(leaned-upright)) * frame.Degree
}

// publishedRecline is how far (degrees) the people of [PreferredGaze] leaned.
const publishedRecline = 15

// restDown is the resting gaze of an upright head. It is the "normal line of
// sight" of handbooks; D. R. Ankrum (Proc. 13th IEA, 5:35-38, 1997) traces it to
// a handbook of 1963 that gives no data for it, which is why a measured value
// always goes first.
const restDown = 15 * frame.Degree

// RestGazeDown returns how far down in the head the eyes rest, for a head whose
// axes in the margin are given, when nobody has measured it: 15° below the
// horizontal for an upright head, moved by recline as the means of
// [PreferredGaze] move. Beyond the published recline of 15°, and for a head
// that leans forward, the eyes are taken to keep their place in the head.
func RestGazeDown(head frame.Rotation, distanceMM float64) frame.Angle {
	back := frame.Angle(math.Asin(min(max(head.X.Z, -1), 1))) // how far the head looks up
	used := min(max(back, 0), publishedRecline*frame.Degree)
	rise := PreferredGaze(distanceMM, 0) - PreferredGaze(distanceMM, used)
	return restDown + used - rise
}
