package document

import (
	"math"
	"strings"

	"sightpost/gaze"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// remedies returns what would help in a case that does not work: the limits of the
// mount that stand in the way, what is touched, and what the limiting condition asks for.
func (r *Report) remedies() []Finding {
	help := []Finding{}
	if r.Works {
		return help
	}
	add := func(kind, words string) { help = append(help, found(kind, words)) }
	if r.Kind == Check {
		add("solve", "Solve this case to see whether any settings of this mount work, and which.")
	}
	if r.Mount != nil {
		for _, b := range r.Mount.BindingLimits {
			if amount(b.Need, b.Unit).In(units.MM) != amount(0, b.Unit).In(units.MM) { // less than can be shown would not help
				help = append(help, b.remedy())
			}
		}
	}
	help = append(help, r.elsewhere()...)
	for _, o := range r.Obstacles {
		if t := o.remedy(); o.Works && !t.Empty() {
			help = append(help, Finding{Kind: "move_zone", Space: o.Space, Values: map[string]float64{"by_mm": o.WayMM}, Text: t})
		}
	}
	if r.Load != nil {
		for _, p := range r.Load.Problems {
			help = append(help, p.Help)
		}
	}
	if len(help) == 0 && r.eyesHaveMargin() && r.Mount != nil {
		add("another_kit", "Use another kit or another clamp position.")
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
	tryWords     = `"sightpost match CASE KIT --sides" tries the other side of the chair too, --clamp any other position.`
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
	case gaze.BeyondLeft, gaze.BeyondRight, gaze.BeyondUp, gaze.BeyondDown:
	}
	return "The corners of the screen are outside the gaze range: use a smaller part of the screen, or a greater distance."
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
		f = found("strength", "Against %s no single change that was tried is enough: combine a lighter device, a shorter reach and a stronger mount.", against)
	}
	f.Part = why.Part
	return f
}

// remedyText says what one remedy is. Parts are asked for by their maker's rating:
// nobody is told to make one stronger.
func remedyText(m fit.Remedy) Text {
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
	case fit.ThickerWall:
		return Say("a tube of the same diameter with a wall of at least %s instead of %s, rated by its maker for this load", Length(m.To), Length(m.From))
	case fit.WiderTube:
		return Say("a tube of at least %s outside diameter instead of %s, rated by its maker for this load", Length(m.To), Length(m.From))
	default:
		return Say("a joint for the %s that its maker rates for at least %s instead of %s", settingName(m.Joint.Name), jointLoad(m.Joint, m.To), jointLoad(m.Joint, m.From))
	}
}
