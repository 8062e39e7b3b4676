// Package frame holds the geometry that every other package speaks: plane
// angles, rotations and poses, and the axes they are written in.
//
// All frames are right-handed. Lengths are in mm.
//
//   - Chair axes: x forward (the way the seated person faces), y to the
//     person's left, z up; the directions of ISO 8855. The origin is the point
//     on the level floor straight below the junction of seat and back support,
//     on the chair's midline, with the chair untilted.
//   - Screen axes: x right and y up as the viewer sees them, z the normal
//     toward the viewer. The origin is the middle of the display area.
//   - Head axes: x forward, y left, z up of the head; at rest parallel to the
//     chair axes. The origin is midway between the eyes.
//
// A positive turn follows the right-hand rule, so about y (left) a positive
// turn moves the nose down.
package frame
