// Package document puts results into words: it is the only room with sentences about
// results.
//
// In go a case and its result. Out come the object for machines ([Report], [Vary],
// [Refit], [Match]), in a form that a schema describes, and from it a [Document]: the
// type to read first. A document is a verdict and sections of texts; every length,
// angle, torque and mass in them is a value ([Length], [Angle], [Torque], [Mass], ...)
// until a renderer asks for the words in its units: see [Say] and [Text.In]. Nothing
// takes finished words apart.
//
// Lengths are in mm and angles in degrees, and every name of a number says so, except
// where a unit is beside it. Chair axes: forward, left (the person's) and up, the
// origin on the floor below the junction of seat and back support of the untilted
// chair.
package document
