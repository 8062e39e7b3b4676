// Package fit brings the person and the mount together: it is the one package that
// knows both where the screen should be and what the mount can do.
//
// A [Job] is one case, checked and in one system of units. [Solve] finds the target pose,
// the settings that reach it (the back-solve, inverse kinematics) and the nearest readable
// settings; [Check] goes the other way, from settings as found to the margin in every
// posture. Both return a [Result], whose numbers are those of the readable settings and of
// the screen as the mount sags in each posture: see [Solve].
//
// What else can be asked of a result has a package of its own: tolerance, variation,
// refit. Package match ranks kits.
//
// Lengths are in mm, angles in radians where they are settings and [frame.Angle]
// elsewhere. Carrier axes are those of gaze: the axes of the untilted chair, carried
// along by whatever holds the mount.
package fit
