package fit

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/tube"
)

// Result says where the screen is before the person, how it is held there and how well
// each posture is served.
type Result struct {
	// Job is the job of which this is a result. It must not be changed after.
	Job *Job
	// Target is where the screen should be in the leading posture, in carrier axes,
	// once the mount has sagged; in another posture it is elsewhere, by the difference of
	// the sags. It is the zero Target after [Check].
	Target gaze.Target
	// Screen is carrierFromScreen where the rounded settings alone put it, without
	// load: the product of the chain. Where it is in each posture is in Postures.
	// When there is no mount both are the target.
	Screen frame.Pose
	// Set is how the mount is set; nil when there is no mount.
	Set *Set
	// Postures are in the order of the job.
	Postures []PostureResult
	// LimitingPosture is the place in Postures of the one, among those that must work,
	// with the least margin.
	LimitingPosture int
	// Clearances are those to the keep-clear zones, each in the posture in which
	// it is least.
	Clearances []Clearance
	// Ground is where the mount is nearest to the floor; nil when there is none, or no tube.
	Ground *Ground
	// InTheWay are the keep-clear zones that hold the screen back from where it
	// would best be, or that it comes too near to, the one most in the way first. Empty
	// until [Advise] has tried, and after [Check].
	InTheWay []Obstacle
	// Load is what weight does to the mount; nil when there is no mount.
	Load *Load
	// SwingClear is how the mount swings clear; nil when there is no mount, or none of
	// its joints swings it.
	SwingClear *SwingClear
	// Tipping is how near the mount comes to tipping the chair; nil when the job does not
	// say where the wheels are, or there is no mount.
	Tipping *Tipping
	// Inside is the part whose tube reaches furthest into the housing behind its front, by
	// InsideMM, where none is in front; "" if none does. [Solve] leaves one there only where it
	// finds no other settings that work.
	Inside   string
	InsideMM float64
	// Works says that every posture that must work has the required margin, that in no
	// posture a keep-clear zone is touched, or the mount overloaded, that no tube
	// is in front of the device, and that the screen is within the ranges of the aim;
	// Reasons are what does not.
	Works   bool
	Reasons []Reason
	// Bound is what [Prove] found, where someone asked.
	Bound *Bound

	problem *problem              // that was worked on, with the sag of the result
	sightMM float64               // see sightGap
	limits  func() []BindingLimit // of a target that is not reached
}

// MarginMM returns the least margin over the postures that must work.
func (r *Result) MarginMM() float64 { return r.Postures[r.LimitingPosture].MarginMM }

// PostureResult is how well one posture is served by the screen.
type PostureResult struct {
	Posture   gaze.Posture
	InCarrier gaze.PostureInCarrier
	// Held is carrierFromScreen in this posture, Screen chairFromScreen, the mount
	// LoadedMount under its load.
	Held, Screen frame.Pose
	// Sag is how the load has moved the screen's middle, in chair axes.
	Sag tube.Sag
	// Mount is where the loaded mount is; nil when there is none.
	Mount *LoadedPose
	// Aim is the place and attitude of the screen relative to the head.
	Aim gaze.Aim
	// Margins are those of every condition; Least is the place of the least.
	Margins []gaze.ConditionMargin
	Least   int
	// MarginMM is the least margin.
	MarginMM float64
	// Share is the part of the used area within the tracker's gaze limit and the
	// gaze range, 0 to 1.
	Share float64
	// Targets is what can be selected on the screen.
	Targets gaze.Targets
	// Ahead is what the device hides of the way ahead; nil unless the person
	// drives.
	Ahead *gaze.Ahead
	// Lenses are the directions from the lenses to the tracker, of each eye that is
	// needed; nil without glasses.
	Lenses []gaze.Lens
}

// LoadedPose is where a mount is under its load, in carrier axes.
type LoadedPose struct {
	// Joints are the moved frames of all joints of the chain.
	Joints []frame.Pose
	// Lines are the middle lines of all tubes from near end to far end (mm), as many
	// and in the same order as those of [mount.Chain.Links].
	Lines [][]r3.Vec
	// Tubes are the tubes along them, and Motion is how the load moves the screen.
	Tubes  []TubePiece
	Motion frame.Pose

	sag tube.Sag // the same
}

// Limiting returns the condition with the least margin.
func (f *PostureResult) Limiting() gaze.Condition { return f.Margins[f.Least].Condition }

// OffRest returns the angle between the line of sight to the screen's middle and the
// resting gaze.
func (f *PostureResult) OffRest() frame.Angle {
	return frame.Between(f.Aim.Sight(), gaze.Aim{Left: f.InCarrier.Rest.Left, Down: f.InCarrier.Rest.Down}.Sight())
}

// Eyes returns the pupils in chair axes (mm), by [gaze.Eye].
func (f *PostureResult) Eyes() [2]r3.Vec {
	return [2]r3.Vec{f.InCarrier.Carrier.Apply(f.InCarrier.Eyes[0]), f.InCarrier.Carrier.Apply(f.InCarrier.Eyes[1])}
}

// Set is how a mount is set.
type Set struct {
	Side     mount.Side
	Mounting int // place in the job's mountings
	Chain    mount.Chain
	// Settings are readable ones, in the order of Chain.Moving.
	Settings mount.Settings
	// Exact are the settings before rounding; nil after [Check].
	Exact mount.Settings
	// OffMM and Off are how far the rounded settings leave the sagged screen from
	// the target in the leading posture.
	OffMM float64
	Off   frame.Angle
	// Reached says that the exact settings bring the screen to the target as it sags
	// at them.
	Reached bool
	// Forced says that comfort has given way among the settings: those with the best score
	// do not work.
	Forced bool
	// InFront is the part that would be in front of the device at the target, which is not
	// reached for that; "" if there is none.
	InFront string
	// BindingLimits are what holds the screen back from the target, most costly first. Empty
	// until [Advise] has tried.
	BindingLimits []BindingLimit
	// LoadKG is what the mount carries at its plate.
	LoadKG float64
}

// BindingLimit is a limit of a setting that holds the screen back, and what would free it.
type BindingLimit struct {
	Joint mount.Joint
	High  bool // at the upper limit
	// Need is how much further (mm or radians) the setting would have to go for the
	// target to be reached, others being free.
	Need float64
	// Gain is the rise of the score (mm) if it could.
	Gain float64

	setting int // its place
}

// Clearance is the gap between a keep-clear zone and the nearest part of the
// device or mount.
type Clearance struct {
	KeepClear KeepClear
	Part      string // "housing" or a part of the mount
	Posture   int
	MM        float64 // negative when they overlap
}

// TooClose reports whether the clearance is less than required, by more than rounding.
func (g Clearance) TooClose() bool { return g.MM < g.KeepClear.RequiredMM-RoundingMM }

// ReasonKind is what a result does not meet.
type ReasonKind int

// The kinds of [Reason], with what Is and Limit then are.
const (
	NotTracking    ReasonKind = iota // the margin is negative: Is margin, mm
	MarginShort                      // Is margin, Limit margin asked for, mm
	TooClose                         // to a keep-clear zone: Is clearance, Limit required, mm
	FaceTooClose                     // housing to eyes: Is distance, Limit required, mm
	OutOfRange                       // of the aim: Is value, mm or radians; Low and High
	NearFloor                        // a part: Is height of its lowest point, Limit required, mm
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
	// Remedies would each help alone. Empty until [Advise] has tried.
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
