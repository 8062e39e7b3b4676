// Package mount describes an adjustable tube mount as a serial chain from the
// chair outward, gives the pose of the screen at given settings, and finds the
// settings that bring the screen to a given pose.
//
// # Two descriptions
//
// A [Kit] is what someone owns: a list of parts (clamp, tubes, elbows, plate
// joint, plate) drawn for the person's left side. [Kit.Chain] puts it on a chair
// and yields a [Chain]: a list of elementary joints, each fixed, a slide or a
// turn, whose product is the pose of the screen. Everything that computes works
// on the chain, so anything with joints can be described, with or without a kit.
//
// # Axes
//
// The carrier is what the clamp sits on: seat, base frame, floor or table. Its
// axes are x forward, y to the person's left, z up (see package frame), and its
// origin is the caller's. Poses are right-handed; lengths in mm.
//
// From the clamp outward every part hands on a frame to the next, at zero
// settings with x ahead, y left and z up:
//
//   - A tube that runs up (a post) leaves along z, one that runs ahead (an arm)
//     along x. Where it is bent, the frame is carried along the bend without
//     twist, so z (or x) follows the tube.
//   - Pan turns about z, positive to the left (counterclockwise from above).
//     Elevation and tilt turn about -y: positive lifts what points ahead. Swing and
//     twist turn about the tube itself, by the right-hand rule.
//   - At the plate joint the frame is first turned about z to where the screen
//     faces. From there x is the screen's normal, y the viewer's right and z the
//     screen's up, so that pan turns the face to the left (from above), tilt
//     turns it up, and roll turns the picture counterclockwise for the viewer.
//
// On the right side everything is the mirror image, and the same settings give
// the mirrored pose: there a positive pan turns to the right.
//
// # Settings
//
// [Settings] hold one number for every joint that moves, in chain order: mm for a
// slide, radians for a turn. They are printed through their joint
// ([Joint.Format]), never bare.
//
// # Load
//
// A chain also says what it weighs ([Mass], [Span]), how its joints behave under load
// ([JointStiffness]) and what its parts are made for ([Rated]). What comes of it is computed by
// package tube; here nothing sags.
package mount
