package document

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"sightpost/gaze"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/tolerance"
	"sightpost/plots/units"
)

// reasonKind is how a kind of reason is named and worded; what is in braces is a
// value of the reason, see [worded].
type reasonKind struct {
	name, unit string // in the object; see [unitOfReason] and [reasonNumber]
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
		says: "Posture {posture} does not track: {condition}, {margin}.",
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
	fit.NearFloor: {
		name: "near_floor", unit: "mm", ends: "{part} too near the floor", keeps: "tubes at least {limit} above the floor",
		says: "The {part} {lowers} the floor (posture {posture}, required ground clearance {limit}): {remedy}.",
	},
	fit.InFront: {
		name: "in_front_of_device", unit: "mm", ends: "{part} in front of the device", keeps: "no tube in front of the device",
		elsewhere: "the {part} is not in front of the device",
		says:      "The {part} passes through the front of the device, or hides part of it (posture {posture}). " + plateWords,
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
		says:  "The device weighs {is}, the mount is rated for {limit}.",
		hangs: "it weighs more than the mount is rated for",
	},
}

// plateWords say what is wrong where a tube comes in front of a device that is held as usual.
const plateWords = "Check in the kit which way the plate faces and where it holds the device."

// worded returns a sentence about a reason of a result, with the values that it names.
func worded(r *fit.Result, why *fit.Reason, sentence string) Text {
	shock, safety := r.Job.Demand.Factors()
	shaken, bearer := why.Is*shock, "mount"
	number := func(v float64) Quantity { return reasonNumber(r, why, v) }
	told := func(is float64) Quantity { return beside{is < why.Limit, number(is), number(why.Limit)} }
	comes := Say("comes within %s of the %s", told(why.Is), why.Zone)
	if why.Kind == fit.TubeYields {
		shaken *= safety
	}
	if why.Part == "housing" {
		bearer = why.Part
	}
	if why.Is < 0 {
		comes = Say("overlaps the %s by %s", why.Zone, Length(-why.Is))
	}
	return fillIn(sentence, map[string]any{
		"posture": strconv.Quote(postureName(r.Job, why.Posture)), "condition": why.Condition, "variable": why.Variable,
		"part": settingName(why.Part), "zone": why.Zone, "bearer": bearer, "comes": comes, "lowers": overFloor(why.Is, told(why.Is)), "remedy": floorRemedy(why),
		"is": told(why.Is), "margin": Margin(why.Is), "limit": number(why.Limit), "low": number(why.Low), "high": number(why.High),
		"shaken": told(shaken), "shock": units.UpTo(shock, 2), "safety": units.UpTo(safety, 2),
	})
}

// overFloor says how high above the floor something is at its lowest (mm), which is told as given
// unless it is below.
func overFloor(mm float64, told Quantity) Text {
	if mm < 0 {
		return Say("reaches %s below", Length(-mm))
	}
	return Say("comes to %s above", told)
}

// beside is a number beside its limit: where the two look the same when rounded, it is
// said to be just under the limit or just over it.
type beside struct {
	less      bool
	is, limit Quantity
}

// In returns the number with its unit.
func (b beside) In(u units.Units) string {
	is := b.is.In(u)
	switch {
	case is != b.limit.In(u):
		return is
	case b.less:
		return "just under " + is
	default:
		return "just over " + is
	}
}

// postureName returns the name of the job's posture at a place; "" where there is none.
func postureName(job *fit.Job, at int) string {
	if at < 0 || at >= len(job.Postures) {
		return ""
	}
	return job.Postures[at].Name
}

// unitOfReason returns the unit of the numbers of a reason.
func unitOfReason(why *fit.Reason) string {
	if why.Kind == fit.OutOfRange && why.Variable.Turns() {
		return "deg"
	}
	return reasonKinds[why.Kind].unit
}

// reasonNumber returns a number of a reason with its unit; a joint's load is in N·m, or N
// where it slides.
func reasonNumber(r *fit.Result, why *fit.Reason, v float64) Quantity {
	switch unitOfReason(why) {
	case "deg":
		return degrees(v)
	case "mpa":
		return Stress(v)
	case "kg":
		return Mass(v)
	case "nm_or_n":
		return jointLoad(r.Set.Chain.Joints[r.Load.Joints[why.At].Joint].Motion == mount.Slide, v)
	}
	return Length(v)
}

// reasons returns why a result does not work.
func reasons(r *fit.Result) []Finding {
	return each(r.Reasons, func(why fit.Reason) Finding { return newReason(r, &why) })
}

// newReason returns a reason as a finding.
func newReason(r *fit.Result, why *fit.Reason) Finding {
	kind := reasonKinds[why.Kind]
	unit, scale := unitOfReason(why), 1.0
	if unit == "deg" {
		scale = 180 / math.Pi
	}
	values := map[string]float64{"is_" + unit: why.Is * scale, "limit_" + unit: why.Limit * scale}
	if why.Kind == fit.OutOfRange {
		values = map[string]float64{"is_" + unit: why.Is * scale, "low_" + unit: why.Low * scale, "high_" + unit: why.High * scale}
	}
	return Finding{
		Kind: kind.name, Posture: postureName(r.Job, why.Posture), Part: why.Part, Zone: why.Zone, Values: values,
		Text: worded(r, why, kind.says),
	}
}

// endWords says in a few words what ends a range.
func endWords(r *fit.Result, b *tolerance.Bound) string {
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

// remedies returns what would help in a case that does not work: the limits of the
// mount that are in the way, what is touched, and what the limiting condition asks for.
func (r *Report) remedies() []Finding {
	help := []Finding{}
	if r.Works {
		return help
	}
	add := func(kind, words string) { help = append(help, found(kind, words)) }
	if r.Kind == Check {
		add("solve", "Refit this case for the fewest changes that work, or solve it for the best settings.")
	}
	for _, why := range r.Reasons {
		if slices.ContainsFunc(r.Clearances, func(c Clearance) bool { return c.Assumed && c.TooClose && c.Zone == why.Zone }) {
			help = append(help, Finding{Kind: "measure_zone", Zone: why.Zone, Text: Say("Measure the %s: its size is assumed.", why.Zone)})
		}
	}
	if r.Mount != nil {
		for _, b := range r.Mount.BindingLimits {
			if b.helps() {
				help = append(help, b.remedy(r.result))
			}
		}
	}
	help = append(help, r.elsewhere()...)
	for _, o := range r.Obstacles {
		if t := o.remedy(); o.Works && !t.Empty() {
			help = append(help, Finding{Kind: "move_zone", Zone: o.Zone, Values: map[string]float64{"by_mm": o.WayMM}, Text: t})
		}
	}
	if r.Load != nil {
		for _, p := range r.Load.Problems {
			help = append(help, p.Help)
		}
	}
	reachable := r.Target != nil && r.Target.MarginMM >= max(r.requiredMM(), 0) // by another mount
	if len(help) == 0 && r.Mount != nil && (r.eyesHaveMargin() || reachable) {
		add(tryElsewhere, tryWords)
	}
	// where even the best position of the screen fails, no mount can help
	if len(help) == 0 || r.Target != nil && r.Target.MarginMM < 0 {
		add("condition", conditionRemedy(r.result.Postures[r.result.LimitingPosture].Limiting().Kind))
		if r.mustWork() > 1 {
			add("fewer_postures", "Require fewer postures: one setup does not serve all of them.")
		}
	}
	return help
}

// elsewhere says what another clamp position would be for.
func (r *Report) elsewhere() []Finding {
	aims := r.failures(func(k reasonKind) string { return k.elsewhere })
	switch {
	case aims == nil:
		return nil
	case r.Mount == nil:
		return []Finding{found("clear_zones", "Make space for the device: move away what can be moved.")}
	}
	return []Finding{
		found("elsewhere", "Clamp the mount elsewhere, so that %s.", Join(", and ", aims...)),
		found(tryElsewhere, tryWords),
	}
}

// tryElsewhere is the kind of remedy that says how other clamp positions are tried.
const (
	tryElsewhere = "try_elsewhere"
	tryWords     = "Compare kits, also on the other side of the chair or at another clamp position."
)

// mustWork returns how many postures must work.
func (r *Report) mustWork() int {
	n := 0
	for _, p := range r.Postures {
		if p.MustWork {
			n++
		}
	}
	return n
}

// helps reports whether a part could free the screen: one that goes further by what can be
// shown, no tube shorter than nothing, and no turn past half a turn if its limit was within.
func (b BindingLimit) helps() bool {
	limit := b.At - b.Need
	if b.Limit == "high" {
		limit = b.At + b.Need
	}
	const half = 180 // degrees
	switch {
	case amount(b.Need, b.Unit).In(units.MM) == amount(0, b.Unit).In(units.MM):
		return false
	case b.Unit == "deg":
		return math.Abs(limit) <= half || math.Abs(b.At) > half
	}
	return limit >= 0 || strings.HasSuffix(b.Setting, ".position") // from a mark in the middle of its tube
}

// remedy says which part would free the screen: one that goes further by so much.
func (b BindingLimit) remedy(r *fit.Result) Finding {
	part, what, _ := strings.Cut(b.Setting, ".")
	way, limit := "more", "limit"
	var at Text
	if what == "lean" {
		at = Say("The stem of the %s is tipped in its socket as far as it goes, %s", settingName(part), amount(b.At, b.Unit))
	} else {
		d := dialNamed(r, b.Setting)
		switch {
		case d.printed().Plus != "":
		case b.Limit == "high":
			limit = "maximum"
		default:
			way, limit = "less", "minimum"
		}
		at = Say("The %s is at its %s, %s", settingName(b.Setting), limit, d.amount(fromUnit(d.Joint, b.At)))
	}
	return Finding{
		Kind: "binding_limit", Part: b.Setting, Values: map[string]float64{"need_" + b.Unit: b.Need, "at_" + b.Unit: b.At},
		Text: Say("%s. With %s %s, the screen would reach its best position: use another %s.", at, amount(b.Need, b.Unit), way, settingName(part)),
	}
}

// conditionRemedy says what in person, device or case would give margin to the limiting
// condition.
func conditionRemedy(k gaze.ConditionKind) string {
	switch k {
	case gaze.TooNear, gaze.TooFar:
		return "The tracker's depth range is used up: use a tracker that reaches nearer or farther, or reduce head movement."
	case gaze.PastLeft, gaze.PastRight:
		return "The tracking volume is too narrow: use a wider one, a greater distance, or reduce head movement."
	case gaze.PastTop, gaze.PastBottom:
		return "The tracking volume is too low: use a taller one, a greater distance, or reduce head movement."
	case gaze.GazeLimit:
		return "The corners of the screen are too far from the tracker for its gaze-angle limit: use a smaller part of the screen, or a greater distance."
	default:
		return "The corners of the screen are outside the gaze range: use a smaller part of the screen, or a greater distance."
	}
}

// floorRemedy says how a part is kept above the floor.
func floorRemedy(why *fit.Reason) Text {
	if len(why.Remedies) == 0 {
		return Say("use a shorter tube")
	}
	s := &why.Remedies[0]
	return Say("set the %s to at least %s", settingName(s.Joint.Name), Length(s.To))
}

// newHelp returns what would each help alone against a failure under load.
func newHelp(r *fit.Result, why *fit.Reason) Finding {
	against := worded(r, why, reasonKinds[why.Kind].against)
	f := found("strength", "Against %s, any one of these: %s.", against, Join("; ", each(why.Remedies, remedyText)...))
	if len(why.Remedies) == 0 {
		f = found("strength", "Against %s no single change that was tried is enough: combine a lighter device, a shorter reach and a mount whose maker rates it for more.", against)
	}
	f.Part = why.Part
	return f
}

// remedyText says what one remedy is. Parts are asked for by their maker's rating:
// nobody is told to make one stronger.
func remedyText(m fit.Remedy) Text {
	slides := m.Joint.Motion == mount.Slide
	switch m.Kind {
	case fit.LighterDevice:
		return Say("a device of at most %s instead of %s", Mass(m.To), Mass(m.From))
	case fit.SlideFurther:
		most, way := "at least", "longer"
		if m.To < m.From {
			most, way = "at most", "shorter"
		}
		if strings.HasSuffix(m.Joint.Name, ".height") {
			way = map[string]string{"longer": "higher", "shorter": "lower"}[way]
		}
		moved := Say("%s %s %s, %s %s than now", settingName(m.Joint.Name), most, Length(m.To), Length(math.Abs(m.To-m.From)), way)
		if m.Works {
			return Say("%s: a full re-setup then works, with a margin of %s", moved, Length(m.MarginMM))
		}
		return Say("%s, which moves the screen off its target", moved)
	case fit.TubeRatedFor:
		return Say("a tube whose maker rates it for a moment of at least %s", Torque(m.To))
	case fit.PartRatedFor:
		return Say("a part whose maker rates it for at least %s instead of %s", Mass(m.To), Mass(m.From))
	default:
		return Say("a joint for the %s whose maker rates it for at least %s instead of %s", settingName(m.Joint.Name), jointLoad(slides, m.To), jointLoad(slides, m.From))
	}
}
