package fit

import "sightpost/mount/tube"

// Load is what weight does to the mount in the postures that must work, on level
// ground unless it says otherwise.
type Load struct {
	// Tubes, Joints and Parts are the worst of every tube, joint and part over the
	// postures; Posture of each is the place of that posture in the job's.
	Tubes  []TubeLoad
	Joints []JointLoad
	Parts  []tube.Carry
	// Weakest is the place in Joints of the joint that slips first; -1 when no
	// joint is known to hold a given load.
	Weakest int
	// Lines are the places along the mount, from the clamp outward, in the posture
	// in which the screen sags most, which is Posture.
	Lines   []tube.Bent
	Posture int
	// Problems says in plain words what fails on rough ground or is overloaded, by
	// how much, and what would help; empty when nothing does.
	Problems []Problem
}

// Problem is something that fails under load, and what would help.
type Problem struct{ What, Help string }

// TubeLoad is the greatest stress of a tube, in the posture where it is greatest.
type TubeLoad struct {
	tube.Stress
	Posture int
}

// JointLoad is the greatest load on a joint, in the posture where it is greatest.
type JointLoad struct {
	tube.Hold
	Name    string
	Posture int
}
