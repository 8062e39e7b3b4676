// Package fit brings the person and the mount together: it is the one place that
// knows both where the screen should be and what the mount can do.
//
// A [Job] is one case, checked and in one system of units. [Solve] finds the
// target pose, the settings that reach it and their readable rounding; [Check]
// goes the other way, from settings as found to the margin in every
// posture. Both end in a [Result], and every figure in it is that of the settings
// a person can read off the mount, and of the screen as the mount sags with it in
// each posture: see [Solve]. From there [Tolerances] follows each setting to where
// something gives out, [Simulate] and [Shares] simulate all errors together,
// [CurvePosture] shows which postures the screen still serves, [Refit] finds the
// least work that restores the margin when the person sits differently, and [Match]
// ranks kits.
//
// Lengths are in mm, angles in radians where they are settings and [frame.Angle]
// elsewhere. Carrier axes are those of gaze: the axes of the untilted chair,
// carried along by whatever holds the mount.
package fit
