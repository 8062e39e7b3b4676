// Package space computes how far apart solid things are: the screen and the tubes
// that carry it on one side; knees, trunk, armrest, joystick and tray on the
// other.
//
// Every solid is a [Shape]: a box, turned any way, with all its faces, edges and
// corners moved outward by a rounding radius. A capsule is such a box with one
// edge length left, a ball one with none. This one family covers the parts of a
// mount closely enough for gaps of millimeters, and the gap between two of its
// members has an exact answer.
//
// [Between] returns the signed clearance of two shapes, [FromPoint] that of a point and
// a shape, and [Sweep] how far shapes can move and the least gap on the way, with no
// contact missed between samples.
//
// All lengths are in mm. Shapes may be placed in any one right-handed frame, most
// often the chair axes of package frame; results are in that same frame.
//
// # The method
//
// Write A and B for the two boxes without their rounding. Moving A by v makes
// the two touch or overlap exactly when -v lies in the set of differences
//
//	D = { a - b : a in A, b in B } = { c + Σ x_j u_j : |x_j| <= h_j },
//
// a solid bounded by parallelograms, where c is the difference of the centers,
// u_j are the six edge directions and h_j the half edge lengths. The signed gap
// is the signed distance of the origin from D, less both rounding radii:
//
//	gap = max over unit n of ( n·c - Σ h_j |n·u_j| ) - roundA - roundB.
//
// Outside D the largest value belongs to the direction of the point of D nearest
// to the origin, found by a least-squares active set. Inside D it belongs to the
// normal of a face of D, and these are few: the three face normals of A, the
// three of B, and the nine cross products of an edge of A with an edge of B.
//
// Each direction alone gives a bound from below, also of where the shapes have
// moved on: [Sweep] rests on that.
package space
