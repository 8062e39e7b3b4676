package document

import (
	"fmt"
	"strings"

	"sightpost/gaze"
	"sightpost/mount/fit"
)

// remedies returns what would help in a case that does not work: the limits of the
// mount that stand in the way, what is touched, and what the tightest condition
// asks for.
func remedies(rep *Report, r *fit.Result) []string {
	help := []string{}
	if r.Works {
		return help
	}
	if rep.Kind == Check {
		help = append(help, "solve this case: that shows whether any settings of this mount work, and which")
	}
	if rep.Mount != nil {
		for _, h := range rep.Mount.BindingLimits {
			if further := text(h.Need, h.Unit); further != text(0, h.Unit) { // less than can be told would not help
				help = append(help, h.remedy(further))
			}
		}
	}
	help = append(help, rep.elsewhere()...)
	for i := range rep.Obstacles {
		if o := &rep.Obstacles[i]; o.Works && o.remedy() != "" {
			help = append(help, o.remedy())
		}
	}
	if rep.Load != nil {
		for _, p := range rep.Load.Problems {
			help = append(help, p.Help)
		}
	}
	if len(help) == 0 && rep.EyesContent() && rep.Mount != nil {
		help = append(help, "try another kit or another place of the clamp: "+tryElsewhere)
	}
	if len(help) == 0 || rep.targetLacksRoom() {
		help = append(help, conditionRemedy(r.Postures[r.LimitingPosture].Limiting().Kind))
		if rep.mustWork() > 1 {
			help = append(help, "let fewer postures work at once: all of them together ask for more than any one does")
		}
	}
	return help
}

// elsewhere says what another place of the clamp would be for.
func (r *Report) elsewhere() []string {
	var aims []string
	for _, g := range r.Clearances {
		switch {
		case !g.TooClose:
		case r.Mount == nil:
			return []string{"make room for the device where it should be: move what can be moved of the spaces to keep clear"}
		default:
			aims = append(aims, "the "+g.Part+" stays clear of "+g.Space)
		}
	}
	if r.Load != nil {
		for i := range r.Load.Joints {
			if j := &r.Load.Joints[i]; j.Slips() {
				aims = append(aims, "less hangs on "+j.Joint)
			}
		}
		for i := range r.Load.Tubes {
			if t := &r.Load.Tubes[i]; t.Used > bearsAll {
				aims = append(aims, "less hangs on the "+t.Part)
			}
		}
	}
	if len(aims) == 0 {
		return nil
	}
	return []string{"clamp the mount elsewhere, so that " + strings.Join(aims, ", and ") + ": " + tryElsewhere}
}

// tryElsewhere says how other places of the clamp are tried.
const tryElsewhere = `"sightpost match CASE KIT --sides" tries the other side of the chair as well, and --clamp any other place`

// withoutMatch returns remedies without the words on how to try other places, for
// where that is being done.
func withoutMatch(remedies []string) []string {
	short := make([]string, len(remedies))
	for i, s := range remedies {
		short[i] = strings.TrimSuffix(s, ": "+tryElsewhere)
	}
	return short
}

// targetLacksRoom reports whether even the best place of the screen fails, so that
// no mount can help.
func (r *Report) targetLacksRoom() bool { return r.Target != nil && r.Target.MarginMM < 0 }

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
func (h BindingLimit) remedy(further string) string {
	part, setting, _ := strings.Cut(h.Setting, ".")
	way, limit := "lower", "lowest"
	if h.Limit == "high" {
		way, limit = "further", "highest"
	}
	return fmt.Sprintf("%s stands at its %s, %s: %s whose %s goes %s %s would free the screen",
		h.Setting, limit, text(h.At, h.Unit), withArticle(part), setting, further, way)
}

// withArticle returns the name of a part with "a" or "an".
func withArticle(part string) string {
	if part != "" && strings.ContainsRune("aeiouAEIOU", rune(part[0])) {
		return "an " + part
	}
	return "a " + part
}

// text returns v with its unit, to a whole mm or a tenth of a degree.
func text(v float64, unit string) string {
	if unit == "deg" {
		return fixed(v, 1) + "°"
	}
	return fixed(v, 0) + " mm"
}

// conditionRemedy says what in person, device or case would give room to the
// condition that gives out first.
func conditionRemedy(k gaze.ConditionKind) string {
	switch k {
	case gaze.TooNear, gaze.TooFar:
		return "the tracker's range of depth is used up: one that reaches nearer or farther, or less movement of the head, would help"
	case gaze.PastLeft, gaze.PastRight:
		return "the tracker's view across is used up: a wider view, a greater distance, or less movement of the head would help"
	case gaze.PastTop, gaze.PastBottom:
		return "the tracker's view up and down is used up: a taller view, a greater distance, or less movement of the head would help"
	case gaze.GazeLimit:
		return "the corners of the screen are too far from the tracker as the eyes see it: use a smaller part of the screen, or a greater distance"
	case gaze.BeyondLeft, gaze.BeyondRight, gaze.BeyondUp, gaze.BeyondDown:
	}
	return "the corners of the screen are out of gaze range: use a smaller part of the screen, or a greater distance"
}
