package fit

import (
	"cmp"
	"fmt"
	"math"
	"strconv"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/space"
)

// Job is everything that one case says, checked and in one system of units.
type Job struct {
	Scene  gaze.Scene
	Device gaze.Device
	// Postures are those to report on, at least one of which must work. The first that
	// must work is the leading one. The mount is set the same in all of them: keep-clear
	// zones, the floor and strength count in those that need not work as well.
	Postures []gaze.Posture
	// Preferences is what the target pose is chosen by.
	Preferences Preferences
	// KeepClear are the keep-clear zones.
	KeepClear []KeepClear
	// Mount is nil when only the target pose is sought.
	Mount *MountJob
	// Demand is what the mount must withstand.
	Demand Demand
	// Passage is what chair and mount must fit through, and how the mount swings clear.
	Passage Passage
	// Wheels are those of the chair that carries the mount.
	Wheels Wheels
	// Drives says that the person drives the chair and must see the way ahead.
	Drives bool
	// Grid is the arrangement of targets on the screen; nil if the case gives none.
	Grid *gaze.Grid
	// Seated is how figures draw the person; nothing is computed with it.
	Seated Seated

	// reset says that the mount is set differently in the postures that need not work.
	reset bool
}

// Seated is how figures draw the seated person. The zero Seated says that nothing is
// known.
type Seated struct {
	// JunctionMM is the middle of the junction of the seat's top with the back support,
	// in the axes of [gaze.Seat].
	JunctionMM r3.Vec
	// Part is the size of the person as a share of an adult's: 1 for an adult.
	Part float64
}

// Demand is what the mount must withstand.
type Demand struct {
	// ShockFactor is by how much rough ground multiplies every weight, 1 or more; 0 means 1.
	ShockFactor float64
	// SafetyFactor is by how much the yield of a tube must exceed its stress, 1 or more; 0
	// means 1.
	SafetyFactor float64
}

// Passage is what chair and mount have to pass through, and how the mount swings clear for
// transfers. The zero Passage requires nothing.
type Passage struct {
	// About is the name of the joint about which the mount swings; "" lets the tool choose.
	About string
	// WidthMM is the width of the chair; BehindMM and AheadMM are how far it, with
	// the person's feet, reaches behind and ahead of the junction of seat and back
	// support. All zero if there is no chair.
	WidthMM, BehindMM, AheadMM float64
	// Bed says that the person is in bed, where nothing ahead must be free for a transfer.
	Bed bool
	// DoorMM is the clear width of the narrowest doorway, FloorWidthMM and
	// FloorLengthMM the available clear floor space; 0 if not given.
	DoorMM, FloorWidthMM, FloorLengthMM float64
	// GroundMM is how high above the floor the tubes must stay.
	GroundMM float64
}

// inchMM is how far a length published in inches may differ from the rounded millimeters
// beside it, as 48 in (1220 mm). No chair is measured more closely.
const inchMM = 1

// Passes reports whether chair and mount of an extent pass through the doorway; true
// when there is none.
func (p Passage) Passes(e Extent) bool { return p.DoorMM <= 0 || e.WidthMM() <= p.DoorMM+inchMM }

// Fits reports whether chair and mount of an extent fit the clear floor space, as far as
// that is given.
func (p Passage) Fits(e Extent) bool {
	return (p.FloorWidthMM <= 0 || e.WidthMM() <= p.FloorWidthMM+inchMM) &&
		(p.FloorLengthMM <= 0 || e.LengthMM() <= p.FloorLengthMM+inchMM)
}

// Preferences is what the target pose is chosen by.
type Preferences struct {
	Upright gaze.Upright
	Rates   gaze.Rates
	Ranges  gaze.Ranges
	// FaceMM is the least distance of the housing from the eyes.
	FaceMM float64
	// MarginMM is the least margin that is good enough; with zero, any that is not negative.
	MarginMM float64
}

// KeepClear is a keep-clear zone: the device's housing and the mount's tubes must stay at
// least RequiredMM away from it.
type KeepClear struct {
	Name string
	// By says what carries the zone, With that it moves with a part of the body instead;
	// Shape is in the axes of what it moves with, see [KeepClear.Pose].
	By         gaze.Carrier
	With       Body
	Shape      space.Shape
	RequiredMM float64
	// Assumed says that the zone was not measured.
	Assumed bool
}

// Body is a part of the body with which a keep-clear zone moves.
type Body int

// The choices of [Body].
const (
	NoBody Body = iota // moves with a carrier
	WithTrunk
	WithHead
)

// Pose returns the pose that takes points in the axes of k's shape to chair axes
// in posture p. A zone that moves with the trunk is given in the chair axes of the
// measured posture, one that moves with the head in head axes.
func (k KeepClear) Pose(s gaze.Scene, p gaze.Posture) frame.Pose {
	switch k.With {
	case WithTrunk:
		return s.Chair.TrunkPose(s.Measured, p)
	case WithHead:
		return s.Chair.HeadPose(s.Person, s.Measured, p)
	default:
		return k.By.Pose(s.Chair, p.SeatTilt)
	}
}

// MountJob is the mount of a job.
type MountJob struct {
	Kit mount.Kit
	// Mountings are the places where the kit may be clamped, in carrier axes:
	// one, or one for either side.
	Mountings []mount.Mounting
}

// Leading returns the place in j.Postures of the posture that leads: the first
// that must work, or -1.
func (j *Job) Leading() int {
	for i, p := range j.Postures {
		if p.MustWork {
			return i
		}
	}
	return -1
}

// CarrierFromMeasured returns the pose that takes points in chair axes, as they
// were measured, to the axes of a carrier.
func CarrierFromMeasured(s gaze.Scene, by gaze.Carrier) frame.Pose {
	return by.Pose(s.Chair, s.Measured.SeatTilt).Inverse()
}

// Only returns the job with posture i as the only one that must work; in the others the
// mount is set differently.
func (j *Job) Only(i int) *Job {
	alone := *j
	alone.reset = true
	alone.Postures = append([]gaze.Posture(nil), j.Postures...)
	for k := range alone.Postures {
		alone.Postures[k].MustWork = k == i
	}
	return &alone
}

// mostMM bounds every length and cost of a job: more is a mistake, and NaN is not within
// it. mostDemanded bounds the factors of [Demand].
const mostMM, mostDemanded = 100e3, 100

// leastWheelsMM is the least distance of wheels.
const leastWheelsMM = 10

// number is a number of a job by name, with the range that it must be in.
type number struct {
	name           string
	v, least, most float64
}

// check reports what of a job is invalid.
func (j *Job) check() error {
	if j.Leading() < 0 {
		return fmt.Errorf("%w: no posture must work; mark at least one", ErrJob)
	}
	for i := range j.KeepClear {
		k := &j.KeepClear[i]
		if err := k.Shape.Check(); err != nil {
			return fmt.Errorf("%w: keep-clear zone %q: %w", ErrJob, k.Name, err)
		}
		if k.With < NoBody || k.With > WithHead {
			return fmt.Errorf("%w: keep-clear zone %q: moves with part %d of the body, which there is not", ErrJob, k.Name, k.With)
		}
	}
	for _, n := range j.numbers() {
		if !(n.v >= n.least && n.v <= n.most) {
			return fmt.Errorf("%w: %s is %v; give %v to %v", ErrJob, n.name, n.v, n.least, n.most)
		}
	}
	return nil
}

// numbers returns the numbers of the job that are within a range.
func (j *Job) numbers() []number {
	p, w, rates := &j.Passage, &j.Preferences, &j.Preferences.Rates
	shock, safety := j.Demand.ShockFactor, j.Demand.SafetyFactor
	all := []number{
		{"shock_factor", cmp.Or(shock, 1), 1, mostDemanded},
		{"safety_factor", cmp.Or(safety, 1), 1, mostDemanded},
		{"the width of the chair, mm,", p.WidthMM, 0, mostMM},
		{"the chair's reach behind, mm,", p.BehindMM, -mostMM, mostMM},
		{"the chair's reach ahead, mm,", p.AheadMM, -mostMM, mostMM},
		{"the width of the doorway, mm,", p.DoorMM, 0, mostMM},
		{"the width of the floor space, mm,", p.FloorWidthMM, 0, mostMM},
		{"the length of the floor space, mm,", p.FloorLengthMM, 0, mostMM},
		{"the ground clearance, mm,", p.GroundMM, 0, mostMM},
		{"the distance to be kept from the eyes, mm,", w.FaceMM, 0, mostMM},
		{"the least margin, mm,", w.MarginMM, 0, mostMM},
		{"the cost of the screen's gaze", rates.GazePerDegree, 0, mostMM},
		{"the cost of the screen's facing", rates.FacingPerDegree, 0, mostMM},
		{"the cost of the screen's roll", rates.RollPerDegree, 0, mostMM},
		{"the cost of the screen's distance", rates.DistancePerMM, 0, mostMM},
	}
	for _, v := range w.bounds(&gaze.Aim{}) {
		name, most := "the preferred range of the screen's "+v.variable.String()+", mm or radians,", float64(mostMM)
		if v.variable.Turns() {
			most = 4 * math.Pi
		}
		all = append(all, number{name, v.low, -most, most}, number{name, v.high, v.low, most})
	}
	for i := range j.KeepClear {
		all = append(all, number{"the clearance to " + strconv.Quote(j.KeepClear[i].Name) + ", mm,", j.KeepClear[i].RequiredMM, 0, mostMM})
	}
	if w := j.Wheels; w != (Wheels{}) {
		all = append(all,
			number{"the front wheels, mm forward of the seat,", w.FrontMM, w.RearMM + leastWheelsMM, mostMM},
			number{"the rear wheels, mm forward of the seat,", w.RearMM, -mostMM, mostMM},
			number{"the track of the wheels, mm,", w.TrackMM, leastWheelsMM, mostMM},
			number{"the mass of chair and person, kg,", w.KG, 1, mostMM},
			// neither pair of wheels may bear next to nothing: the chair would tip by itself
			number{"the mass on the front wheels, kg,", w.FrontKG, w.KG / 100, w.KG * 99 / 100},
		)
	}
	if j.Grid != nil {
		all = append(all, number{"the gap between targets, mm,", j.Grid.GapMM, 0, mostMM})
	}
	return all
}

// AimVariable is a variable of [gaze.Aim].
type AimVariable int

// The variables of the aim, in their order.
const (
	GazeLeft AimVariable = iota
	GazeDown
	Distance
	FacingUp
	FacingRight
	Roll
)

// String returns the variable's name: "gaze left", "distance".
func (v AimVariable) String() string {
	return [...]string{"gaze left", "gaze down", "distance", "facing up", "facing right", "roll"}[v]
}

// Turns reports whether v is an angle; otherwise it is a length.
func (v AimVariable) Turns() bool { return v != Distance }

// bounded is one variable of an aim, in mm or radians, with its range.
type bounded struct {
	variable         AimVariable
	value, low, high float64
}

// bounds returns the variables of an aim with their ranges.
func (w *Preferences) bounds(x *gaze.Aim) (out [6]bounded) {
	value, low, high := x.Vector(), w.Ranges.Low.Vector(), w.Ranges.High.Vector()
	for i := range out {
		out[i] = bounded{AimVariable(i), value[i], low[i], high[i]}
	}
	return out
}

const (
	// rangeSlack and rangeSlackMM are by how much an aim may be outside of its range:
	// what is left when settings are read to 1° and 5 mm, so that a range of no width
	// can be met.
	rangeSlack   = 0.5 * frame.Degree
	rangeSlackMM = 2.5
)

// slack returns the slack in the unit of the variable, mm or radians.
func (v AimVariable) slack() float64 {
	if v.Turns() {
		return rangeSlack.Radians()
	}
	return rangeSlackMM
}

// slackRanges returns the ranges widened by the slack.
func (w *Preferences) slackRanges() gaze.Ranges {
	low, high := w.Ranges.Low.Vector(), w.Ranges.High.Vector()
	for i := range low {
		by := AimVariable(i).slack()
		low[i], high[i] = low[i]-by, high[i]+by
	}
	return gaze.Ranges{Low: gaze.AimOf(low), High: gaze.AimOf(high)}
}

// outOfRange returns the variables of an aim that are outside of their ranges.
func (w *Preferences) outOfRange(x *gaze.Aim, posture int) []Reason {
	var out []Reason
	for _, v := range w.bounds(x) {
		if min(v.value-v.low, v.high-v.value)+v.variable.slack() < 0 {
			out = append(out, Reason{Kind: OutOfRange, Posture: posture, Variable: v.variable, Is: v.value, Low: v.low, High: v.high})
		}
	}
	return out
}
