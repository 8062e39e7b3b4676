// Package report tells what was found: as one object for machines, in a form
// that a schema describes, and as text that a technician sets a mount by.
//
// A [Report] holds every figure that either of them shows, so that the two cannot
// disagree; [Report.WriteText] only words it. [Vary], [Refit] and [Match] are the
// same for what the commands of these names answer. Lengths are in mm and angles in
// degrees from here on, and every name of a number says so, except where a unit
// stands beside it. Chair axes: forward, left (the person's) and up, the origin on
// the floor below the junction of seat and back support of the untilted chair.
package document
