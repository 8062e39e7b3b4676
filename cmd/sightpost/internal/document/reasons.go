package document

import (
	"cmp"
	"math"
	"strconv"

	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/tolerance"
	"sightpost/plots/units"
)

// reasonKind is how a kind of reason is named and worded; what is in braces is a
// value of the reason, see [worded].
type reasonKind struct {
	name, unit string // in the object; a joint's load is in N·m, or N where it slides
	says       string // the whole sentence
	ends       string // where it ends a tolerance
	keeps      string // what cannot be kept with some settings, "" for the ranges of the aim
	against    string // what a remedy is against
	hangs      string // why no device may hang on the mount
	elsewhere  string // what another place of the clamp would be for
}

var reasonKinds = map[fit.ReasonKind]reasonKind{
	fit.NotTracking: {
		name: "not_tracking", unit: "mm", ends: "{condition}",
		says: "Posture {posture} does not track: {condition}, short by about {less}.",
	},
	fit.MarginShort: {
		name: "margin_short", unit: "mm", ends: "less margin than required: {condition}",
		says: "Posture {posture}: margin {is}, required {limit} ({condition}).",
	},
	fit.TooClose: {
		elsewhere: "the {part} stays clear of the {zone}",
		name:      "too_close", unit: "mm", ends: "{part} too near the {zone}", keeps: "{bearer} at least {limit} from the {zone}",
		says: "The {part} {comes} (posture {posture}, required clearance {limit}).",
	},
	fit.FaceTooClose: {
		name: "face_too_close", unit: "mm", ends: "housing too near the eyes", keeps: "housing at least {limit} from the eyes",
		says: "The housing is {is} from the eyes, required {limit}.",
	},
	fit.OutOfRange: {
		name: "out_of_range", unit: "mm", ends: "the screen's {variable} leaves its preferred range",
		says: "The screen's {variable} is {is}, outside its range of {low} to {high} (posture {posture}).",
	},
	fit.BelowFloor: {
		name: "below_floor", unit: "mm", ends: "{part} reaches the floor", keeps: "tubes above the floor",
		says: "The {part} reaches {less} below the floor (posture {posture}): {remedy}.",
	},
	fit.TubeYields: {
		name: "tube_yields", unit: "mpa", ends: "tube of the {part} too weak", against: "bending of the {part}",
		says:  "The {part} tube is too weak (posture {posture}): {shaken} with shock factor {shock} and safety factor {safety}, yield {limit}.",
		hangs: "the {part} tube is too weak", elsewhere: "the {part} tube carries less",
	},
	fit.JointSlips: {
		name: "joint_slips", unit: "nm_or_n", ends: "{part} slips", against: "slipping of the {part} joint",
		says:  "The {part} joint slips (posture {posture}): it carries {shaken} with shock factor {shock} and slips at {limit}.",
		hangs: "the {part} joint slips, however firmly it is tightened", elsewhere: "the {part} joint carries less",
	},
	fit.PartOverloaded: {
		name: "part_overloaded", unit: "kg", ends: "{part} overloaded", against: "overload of the {part}",
		says:  "The {part} carries {is}, rated for {limit}.",
		hangs: "the {part} carries more than its rated mass",
	},
	fit.TooSoft: {
		name: "too_soft", unit: "deg", ends: "the mount is too soft", against: "the sag",
		says: "The mount is too soft (posture {posture}): under load the screen turns by {is}, more than the {limit} for which its position can be computed.",
	},
	fit.DeviceTooHeavy: {
		name: "device_too_heavy", unit: "kg", ends: "the device is too heavy for the mount",
		says: "The device weighs {is}, the mount is rated for {limit}.",
	},
}

// worded returns a sentence about a reason of a result, with the values that it names.
func worded(r *fit.Result, why *fit.Reason, sentence string) Text {
	shock, safety := r.Job.Demand.Factors()
	shaken, bearer, comes := why.Is*shock, "mount", Say("comes within %s of the %s", Length(why.Is), why.Zone)
	if why.Kind == fit.TubeYields {
		shaken *= safety
	}
	if why.Part == "housing" {
		bearer = why.Part
	}
	if why.Is < 0 {
		comes = Say("overlaps the %s by %s", why.Zone, Length(-why.Is))
	}
	number := func(v float64) Quantity { return reasonNumber(r, why, v) }
	return fillIn(sentence, map[string]any{
		"posture": strconv.Quote(postureName(r.Job, why.Posture)), "condition": why.Condition, "variable": why.Variable,
		"part": settingName(why.Part), "zone": why.Zone, "bearer": bearer, "comes": comes, "remedy": floorRemedy(why),
		"is": number(why.Is), "less": number(-why.Is), "limit": number(why.Limit), "low": number(why.Low), "high": number(why.High),
		"shaken": number(shaken), "shock": trimmed(shock), "safety": trimmed(safety),
	})
}

// postureName returns the name of the job's posture at a place; "" where there is none.
func postureName(job *fit.Job, at int) string {
	if at < 0 || at >= len(job.Postures) {
		return ""
	}
	return job.Postures[at].Name
}

// reasonNumber returns a number of a reason with its unit.
func reasonNumber(r *fit.Result, why *fit.Reason, v float64) Quantity {
	switch why.Kind {
	case fit.OutOfRange:
		if why.Variable.Turns() {
			return degrees(v)
		}
	case fit.TooSoft:
		return degrees(v)
	case fit.TubeYields:
		return Stress(v)
	case fit.JointSlips:
		return jointLoad(r.Set.Chain.Joints[r.Load.Joints[why.At].Joint], v)
	case fit.PartOverloaded, fit.DeviceTooHeavy:
		return Mass(v)
	default: // a length
	}
	return Length(v)
}

// jointLoad returns a load on a joint: a force on a slide, otherwise a torque.
func jointLoad(j mount.Joint, load float64) Quantity {
	if j.Motion == mount.Slide {
		return Force(load)
	}
	return Torque(load)
}

// reasons returns why a result does not work.
func reasons(r *fit.Result) []Finding {
	return each(r.Reasons, func(why fit.Reason) Finding { return newReason(r, &why) })
}

// newReason returns a reason as a finding.
func newReason(r *fit.Result, why *fit.Reason) Finding {
	kind := reasonKinds[why.Kind]
	unit, scale := kind.unit, 1.0
	if why.Kind == fit.TooSoft || why.Kind == fit.OutOfRange && why.Variable.Turns() {
		unit, scale = "deg", 180/math.Pi
	}
	values := map[string]float64{"is_" + unit: why.Is * scale, "limit_" + unit: why.Limit * scale}
	if why.Kind == fit.OutOfRange {
		values = map[string]float64{"is_" + unit: why.Is * scale, "low_" + unit: why.Low * scale, "high_" + unit: why.High * scale}
	}
	return Finding{
		Kind: kind.name, Posture: postureName(r.Job, why.Posture), Part: why.Part, Space: why.Zone, Values: values,
		Text: worded(r, why, kind.says),
	}
}

// EndWords says in a few words what ends a range.
func EndWords(r *fit.Result, b *tolerance.Bound) string {
	if b.Limit {
		return "limit of its range"
	}
	return worded(r, &b.Reason, reasonKinds[b.Kind].ends).In(units.MM)
}

// missedWords says what a set of settings cannot keep; nothing if it keeps everything.
func missedWords(r *fit.Result, missed *fit.Reason) Text {
	if missed == nil {
		return Text{}
	}
	return worded(r, missed, cmp.Or(reasonKinds[missed.Kind].keeps, "preferred ranges of the screen"))
}
