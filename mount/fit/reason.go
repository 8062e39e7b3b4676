package fit

import (
	"slices"

	"sightpost/gaze"
	"sightpost/mount"
)

// ReasonKind is what a result does not meet.
type ReasonKind int

// The kinds of [Reason], with what Is and Limit then are.
const (
	NotTracking    ReasonKind = iota // the margin is negative: Is margin, mm
	MarginShort                      // Is margin, Limit margin asked for, mm
	TooClose                         // to a keep-clear zone: Is clearance, Limit required, mm
	FaceTooClose                     // housing to eyes: Is distance, Limit required, mm
	OutOfRange                       // of the aim: Is value, mm or radians; Low and High
	BelowFloor                       // a part: Is height of its lowest point, mm, negative
	InFront                          // of the device, a part that hides it or passes through: Is how far it is out of the way, mm, negative
	TubeYields                       // At in Load.Tubes: Is stress on level ground, Limit yield, N/mm²
	JointSlips                       // At in Load.Joints: Is load on level ground, Limit slip load, N·m or N
	PartOverloaded                   // At in Load.Parts: Is mass carried, Limit rating, kg
	TooSoft                          // the screen turns too far: Is turn, Limit greatest, radians
	DeviceTooHeavy                   // for the mount's rating: Is mass, Limit rating, kg
)

// Reason is one thing that keeps a result from working.
type Reason struct {
	Kind ReasonKind
	// Posture is the place in the job's postures of the one in which it is worst; -1
	// when it is the same in all.
	Posture int
	// Condition is the limiting condition of [NotTracking] and [MarginShort].
	Condition gaze.Condition
	// Part is "housing", a part of the mount or its joint; Zone the name of a keep-clear zone.
	Part, Zone string
	// Variable is the one that is [OutOfRange], between Low and High.
	Variable  AimVariable
	Low, High float64
	Is, Limit float64
	// At is the place of what fails in the lists of [Load].
	At int
	// Remedies would each help alone. Empty in checks that
	// are made many times over.
	Remedies []Remedy
}

// OfStrength reports whether r is about what the mount can bear, which no settings are
// sought for.
func (r *Reason) OfStrength() bool { return r.Kind >= TubeYields }

// StrengthOnly reports whether nothing but strength keeps the result from working.
func (r *Result) StrengthOnly() bool {
	return !slices.ContainsFunc(r.Reasons, func(why Reason) bool { return !why.OfStrength() })
}

// RemedyKind is what would help against a [Reason].
type RemedyKind int

// The kinds of [Remedy], with what From and To then are.
const (
	LighterDevice RemedyKind = iota // masses, kg: To is the greatest that does
	SlideFurther                    // settings of Joint, mm: To is the nearest that does
	TubeRatedFor                    // moments of a tube, N·m: To is the least that does
	PartRatedFor                    // masses, kg: To is the least that does
	MoreSlipLoad                    // of the joint, N·m or N: To is the least that does
)

// Remedy is one change that would do away with a reason, all else as it is.
type Remedy struct {
	Kind     RemedyKind
	Joint    mount.Joint // of SlideFurther and MoreSlipLoad
	From, To float64
	// Works says of a slide that a full re-setup with the slide limited to To works,
	// with MarginMM; otherwise moving it takes the screen from its target.
	Works    bool
	MarginMM float64
}
