// Package tolerance says how far one thing may be off, all else unchanged: a setting
// of the mount ([Of]), a number of a posture ([CurvePosture]), the place of the screen
// ([MarginSweep]). In goes a job with its result, out come ranges with what ends them.
// Read [Tolerance] first.
//
// A range is found by walking outward from the present value and judging everything at
// every stride, 10 mm or 2°. Where one fails, the exact end is found between it and the one
// before. A failure narrower than a stride, with working values on both sides, may be
// passed over.
//
// Lengths are in mm, angles in radians where they are settings or numbers of a posture.
package tolerance
