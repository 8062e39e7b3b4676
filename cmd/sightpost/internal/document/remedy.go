package document

import (
	"strings"

	"sightpost/gaze"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// remedies returns what would help in a case that does not work: the limits of the
// mount that stand in the way, what is touched, and what the limiting condition asks for.
func remedies(rep *Report, r *fit.Result) []Finding {
	help := []Finding{}
	if r.Works {
		return help
	}
	add := func(kind string, t Text) { help = append(help, found(kind, t)) }
	if rep.Kind == Check {
		add("solve", Say("Solve this case: that shows whether any settings of this mount work, and which."))
	}
	if rep.Mount != nil {
		for _, b := range rep.Mount.BindingLimits {
			if amount(b.Need, b.Unit).In(units.MM) != amount(0, b.Unit).In(units.MM) { // less than can be shown would not help
				help = append(help, b.remedy())
			}
		}
	}
	help = append(help, rep.elsewhere()...)
	for i := range rep.Obstacles {
		o := &rep.Obstacles[i]
		if t := o.remedy(); o.Works && !t.Empty() {
			help = append(help, Finding{Kind: "move_zone", Space: o.Space, Values: map[string]float64{"by_mm": o.WayMM}, Text: t})
		}
	}
	if rep.Load != nil {
		for _, p := range rep.Load.Problems {
			help = append(help, p.Help)
		}
	}
	if len(help) == 0 && rep.EyesHaveMargin() && rep.Mount != nil {
		add("another_kit", Say("Use another kit or another clamp position."))
		add(tryElsewhere, tryWords())
	}
	if len(help) == 0 || rep.targetLacksMargin() {
		add("condition", conditionRemedy(r.Postures[r.LimitingPosture].Limiting().Kind))
		if rep.mustWork() > 1 {
			add("fewer_postures", Say("Require fewer postures: one setup does not serve all of them."))
		}
	}
	return help
}

// elsewhere says what another clamp position would be for.
func (r *Report) elsewhere() []Finding {
	var aims []string
	for i := range r.Clearances {
		switch c := &r.Clearances[i]; {
		case !c.TooClose:
		case r.Mount == nil:
			return []Finding{found("clear_zones", Say("Make space for the device: move away what can be moved."))}
		default:
			aims = append(aims, "the "+settingName(c.Part)+" stays clear of "+c.Space)
		}
	}
	if r.Load != nil {
		for i := range r.Load.Joints {
			if j := &r.Load.Joints[i]; j.Slips() {
				aims = append(aims, "the "+settingName(j.Joint)+" joint carries less")
			}
		}
		for i := range r.Load.Tubes {
			if t := &r.Load.Tubes[i]; t.Used > bearsAll {
				aims = append(aims, "the "+settingName(t.Part)+" tube carries less")
			}
		}
	}
	if len(aims) == 0 {
		return nil
	}
	return []Finding{
		found("elsewhere", Say("Clamp the mount elsewhere, so that %s.", strings.Join(aims, ", and "))),
		found(tryElsewhere, tryWords()),
	}
}

// tryElsewhere is the kind of remedy that says how other clamp positions are tried.
const tryElsewhere = "try_elsewhere"

func tryWords() Text {
	return Say(`"sightpost match CASE KIT --sides" tries the other side of the chair too, --clamp any other position.`)
}

// targetLacksMargin reports whether even the best position of the screen fails, so that
// no mount can help.
func (r *Report) targetLacksMargin() bool { return r.Target != nil && r.Target.MarginMM < 0 }

// mustWork returns how many postures must work.
func (r *Report) mustWork() int {
	n := 0
	for i := range r.Postures {
		if r.Postures[i].MustWork {
			n++
		}
	}
	return n
}

// remedy says which part would free the screen: one that goes further by so much.
func (b BindingLimit) remedy() Finding {
	part, _, _ := strings.Cut(b.Setting, ".")
	way, limit := "less", "minimum"
	if b.Limit == "high" {
		way, limit = "more", "maximum"
	}
	values := map[string]float64{"need_" + b.Unit: b.Need, "at_" + b.Unit: b.At}
	return Finding{
		Kind: "binding_limit", Part: b.Setting, Values: values,
		Text: Say("The %s is at its %s, %s. With %s %s, the screen would reach its best position: use another %s.",
			settingName(b.Setting), limit, amount(b.At, b.Unit), amount(b.Need, b.Unit), way, settingName(part)),
	}
}

// conditionRemedy says what in person, device or case would give margin to the limiting
// condition.
func conditionRemedy(k gaze.ConditionKind) Text {
	switch k {
	case gaze.TooNear, gaze.TooFar:
		return Say("The tracker's depth range is used up: use a tracker that reaches nearer or farther, or reduce head movement.")
	case gaze.PastLeft, gaze.PastRight:
		return Say("The tracking volume is too narrow: use a wider one, a greater distance, or reduce head movement.")
	case gaze.PastTop, gaze.PastBottom:
		return Say("The tracking volume is too low: use a taller one, a greater distance, or reduce head movement.")
	case gaze.GazeLimit:
		return Say("The corners of the screen are too far from the tracker for its gaze-angle limit: use a smaller part of the screen, or a greater distance.")
	case gaze.BeyondLeft, gaze.BeyondRight, gaze.BeyondUp, gaze.BeyondDown:
	}
	return Say("The corners of the screen are outside the gaze range: use a smaller part of the screen, or a greater distance.")
}
