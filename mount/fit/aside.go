package fit

import "sightpost/mount/space"

// Aside is how the mount swings aside about one joint, all others as set.
type Aside struct {
	// Joint is the place of the swinging joint in the settings, Name its name.
	Joint int
	Name  string
	// InUse is its setting in use (radians or mm).
	InUse float64
	// Low and High are the ends of the free range each way: nothing is touched
	// between them.
	Low, High SwingEnd
	// Rest is the readable setting within the free range that is best aside.
	Rest float64
	// Way is the least gap met on the way from in use to Rest.
	Way SwingGap
	// Used and Resting are the room that chair and mount take up in use and
	// swung aside.
	Used, Resting Extent
	// Problems says in plain words what does not fit, or that nothing is gained;
	// empty when all is well.
	Problems []string
}

// SwingEnd is one end of a free range.
type SwingEnd struct {
	At float64 // last setting without contact
	// Limit says that the joint ends there; otherwise Part touches Space.
	Limit       bool
	Part, Space string
}

// SwingGap is a gap met on the way.
type SwingGap struct {
	space.Gap
	At          float64 // setting at which it is least
	Part, Space string  // the two that come near
	Posture     int
}

// Extent is the room on the floor that chair and mount take up together, seen from
// above, along the chair's axes (mm).
type Extent struct{ BehindMM, AheadMM, LeftMM, RightMM float64 }

// WidthMM returns the width of the extent.
func (e Extent) WidthMM() float64 { return e.LeftMM + e.RightMM }

// LengthMM returns the length of the extent.
func (e Extent) LengthMM() float64 { return e.AheadMM + e.BehindMM }
