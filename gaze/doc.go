// Package gaze answers where the screen should be: from a person, how they sit,
// a tracker and a screen it finds the margin of a screen's pose, the target pose
// and the region in which the head may move.
//
// The story runs through the files in this order: a [Person] sits in a
// [Sitting] that was measured; [Posture] values are predicted from it
// (posture.go) and seen from whatever carries the screen as a [PostureInCarrier]
// (posture.go); a [Device] has conditions to be met at each eye (condition.go,
// frustum.go, gaze_limit.go, gaze_range.go) whose least signed distance is the margin
// (margin.go); [Place] looks for the pose with the best score (place.go). With the
// screen in place, [Device.Targets] says what can be selected on it, [Device.Ahead]
// what it hides of the way ahead, and [Glasses.Lenses] where the tracker's light
// comes back.
//
// Lengths are in mm, angles are [frame.Angle]. Chair axes: x forward, y to the
// person's left, z up, the origin on the floor below the junction of seat and
// back support of the untilted chair. Screen axes: x right and y up as the
// viewer sees them, z toward the viewer, the origin in the middle of the display
// area. Head axes: x forward, y left, z up, the origin midway between the eyes.
package gaze
