package document

import (
	"math"
	"slices"
	"strings"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// Document returns r in words.
func (r *Report) Document() *Document {
	d := &Document{
		Title: "Setup sheet", Label: r.Label, Works: r.Works, Usable: r.usable(),
		Verdict: r.verdict(), Summary: r.headroom(), Unmeasured: r.unmeasured(),
	}
	if !d.Works {
		d.Title = "Case"
	}
	suspects, warnings := r.suspect()
	return d.with(
		r.failing(suspects),
		findings(SectionRemedies, "What would help", r.Remedies),
		findings(SectionWarnings, "Warnings", warnings),
		safety(r.Cautions),
		r.screen(), r.clampAt(), r.settings(), r.work(), r.checks(), r.margins(), r.clearances(), r.weight(), r.parked(), r.tipping(), r.view(), r.targets(), r.glasses(),
		r.obstacles(), r.limits(), r.strength(), r.again(), assumed(r.Assumptions), r.notes(),
	)
}

// usable reports whether the settings of r may be set, or are on the mount anyway.
func (r *Report) usable() bool { return r.Works || r.Kind == Check }

// verdict says whether the case works, with what spoils a yes.
func (r *Report) verdict() Text {
	words := r.answer()
	if !r.usable() && r.Mount != nil {
		words += " DO NOT USE these settings."
	}
	return Say("%s", words+r.spoils())
}

// spoils says what goes with a verdict: how many warnings there are, and what was not checked.
func (r *Report) spoils() string {
	words := ""
	if n := len(r.Warnings); n > 0 {
		words = " " + count(n, "warning") + "."
	}
	switch {
	case r.Mount == nil || r.tubesKnown() && r.Load.Weakest() != nil:
	case r.tubesKnown():
		words += " Slip not checked: no slip torques."
	default:
		words += " Strength not checked."
	}
	return words
}

// answer says whether the case works, in a short sentence.
func (r *Report) answer() string {
	switch {
	case r.Works:
		return "Tracks."
	case r.MarginMM < 0 && r.Kind == Check:
		return "Does not track as set."
	case r.Kind == Check:
		return "Tracks, but does not meet every requirement."
	case r.mountFails():
		return "The mount cannot hold the screen where it tracks."
	case r.MarginMM < 0:
		if r.mustWork() > 1 {
			return "No screen position tracks in all required postures."
		}
		return "No screen position tracks."
	}
	return "No screen position meets every requirement."
}

// mountFails reports whether the target is good and only the mount does not hold the
// screen there.
func (r *Report) mountFails() bool {
	return r.Mount != nil && r.Target != nil && r.Target.MarginMM >= r.requiredMM() && r.Target.BrokenMM == 0
}

// tubesKnown reports whether it is known what the mount bears apart from its joints: its
// rated mass and the yield of its tubes.
func (r *Report) tubesKnown() bool {
	return r.Mount.RatedKG > 0 && r.Load != nil &&
		!slices.ContainsFunc(r.Load.Tubes, func(t TubeLoad) bool { return t.YieldMPa == 0 })
}

// eyesHaveMargin reports whether the eyes have all the margin that is required, so that
// what does not work is something else.
func (r *Report) eyesHaveMargin() bool { return r.MarginMM >= 0 && r.MarginMM >= r.requiredMM() }

// headroom says how far the head may move, or might if nothing else failed.
func (r *Report) headroom() Text {
	limiting := Say("Limiting condition: %s, %s.", r.LimitingPosture, r.Limiting)
	switch {
	case r.MarginMM < 0:
		return Say("Head-movement margin: %s. %s", Margin(r.MarginMM), limiting)
	case !r.eyesHaveMargin():
		return Say("Head-movement margin: %s, required %s. %s", Margin(r.MarginMM), Length(r.requiredMM()), limiting)
	case !r.Works:
		return Say("Head-movement margin for the eyes alone: %s.", Margin(r.MarginMM))
	}
	return Say("Head-movement margin: %s beyond the usual head movement, in any direction. %s", Margin(r.MarginMM), limiting)
}

// failing says what does not work, after what may be the cause, and how sure that is.
func (r *Report) failing(suspects []Text) Section {
	s := Section{ID: SectionReasons, Title: "What fails"}
	s.line(suspects...)
	s.Lines = append(s.Lines, findings(s.ID, s.Title, r.Reasons).Lines...)
	ofMount := r.BoundOf == boundOfMount
	switch b := r.BoundMM; {
	case b == nil:
	case *b >= r.requiredMM() && ofMount:
		s.say("Not proved: this mount may give a margin of up to %s; the best found is %s.", Length(*b), Margin(r.MarginMM))
	case *b >= r.requiredMM():
		s.say("Not proved: there may be a margin of up to %s; the best found is %s.", Length(*b), Margin(max(r.MarginMM, r.Target.MarginMM)))
	case *b < 0 && ofMount:
		s.say("Proved, with the sag estimated: all settings of this mount are short by at least %s.", Length(-*b))
	case *b < 0:
		s.say("Proved: every screen position is short by at least %s.", Length(-*b))
	case ofMount:
		s.say("Proved, with the sag estimated: no settings of this mount give a margin above %s.", Length(*b))
	default:
		s.say("Proved: no screen position has a margin above %s.", Length(*b))
	}
	if r.Kind == Solve && !r.eyesHaveMargin() && r.mountFails() {
		s.say("The screen alone could have a margin of %s: compare other mounts.", Margin(r.Target.MarginMM))
	}
	return s
}

// findings returns a section of what was found.
func findings(id ID, title string, found []Finding) Section {
	s := Section{ID: id, Title: title}
	for _, f := range found {
		s.line(f.Text)
	}
	return s
}

// posturesWith returns the names of the postures for which has is true, in words.
func (r *Report) posturesWith(has func(*Posture) bool) string {
	with := slices.DeleteFunc(slices.Clone(r.Postures), func(p Posture) bool { return !has(&p) })
	return strings.Join(each(with, func(p Posture) string { return p.Name }), ", ")
}

// perPosture returns a line for what there is to say of every posture, those of which the
// same is said together, and none for an empty text. With a single posture its name is
// left out.
func (r *Report) perPosture(words func(*Posture) Text) []Text {
	var lines []Text
	names := map[string][]string{}
	for i := range r.Postures {
		t := words(&r.Postures[i])
		if t.Empty() {
			continue
		}
		key := t.In(units.MM)
		if names[key] == nil {
			lines = append(lines, t)
		}
		names[key] = append(names[key], r.Postures[i].Name)
	}
	if len(r.Postures) > 1 {
		for i, t := range lines {
			lines[i] = Say("%s: %s", strings.Join(names[t.In(units.MM)], ", "), t)
		}
	}
	return lines
}

// settingName returns the name of a setting or a part in words: "post height". That of one
// of the turns of a ball is the ball's, for nobody can set it alone.
func settingName(name string) string {
	for _, turn := range [...]string{".lean_toward", ".lean", ".spin"} {
		name = strings.TrimSuffix(name, turn)
	}
	return strings.NewReplacer("_", " ", ".", " ").Replace(name)
}

// Where a warning starts.
const (
	// A gaze far down narrows the lid opening, while the tracker looks up from
	// below; common practice, no source.
	warnDownDeg = 30
	// The greatest angle of incidence that ISO 9241-3:1992 allows, as reported by
	// D. R. Ankrum, E. E. Hansen and K. J. Nemeth, "The Vertical Horopter and the
	// Angle of View", WWDU '94, Elsevier 1995.
	warnIncidenceDeg = 40
	// From where a screen is plainly off its best position; choice of this tool, no source.
	warnOffMM, warnOffDeg = 25, 5
)

// warnings returns what needs attention in this case: what fails in the mount first, then
// what the case itself warns of, the postures and the swing.
func (r *Report) warnings(ofCase []string) []Finding {
	all := []Finding{}
	add := func(kind, posture string, t Text) { all = append(all, Finding{Kind: kind, Posture: posture, Text: t}) }
	if failing := r.failures(func(k reasonKind) string { return k.hangs }); failing != nil {
		add("do_not_hang", "", Say("DO NOT HANG this device on the mount as set: %s.", Join("; ", failing...)))
	}
	switch set := r.result.Set; {
	case !r.Works || set == nil:
	case set.InFront != "":
		all = append(all, Finding{
			Kind: reasonKinds[fit.InFront].name, Part: set.InFront,
			Text: Say("The best position of the screen would have the %s in front of the device or in its housing. "+plateWords, settingName(set.InFront)),
		})
	case !r.Mount.Reached && (r.Mount.OffMM > warnOffMM || r.Mount.OffDeg > warnOffDeg):
		away := Say("%s.", Join(", ", Say("The screen is %s and %s from its best position", Length(r.Mount.OffMM), Angle(r.Mount.OffDeg)),
			Turn(math.Abs(math.Remainder(r.Lead().Aim.RollDeg-r.Target.Aim.RollDeg, 360)), "", "", "").said("rolled %s")))
		if at := slices.IndexFunc(r.Mount.BindingLimits, BindingLimit.helps); at >= 0 {
			away = Say("%s %s", away, r.Mount.BindingLimits[at].remedy(r.result).Text)
		}
		add("off_target", "", away)
	}
	if in := r.result; in.Inside != "" {
		all = append(all, Finding{
			Kind: "in_housing", Part: in.Inside, Values: map[string]float64{"by_mm": in.InsideMM},
			Text: Say("The %s reaches %s into the housing: try it with the device, and use other settings if they touch.", settingName(in.Inside), Length(in.InsideMM)),
		})
	}
	if r.Mount != nil && r.Mount.RatedKG == 0 {
		add("rating_unknown", "", Say("The kit gives no rated mass: ask its maker before you hang a device on it."))
	}
	if t := r.Tipping; t != nil && t.warns() {
		all = append(all, Finding{Kind: "tipping", Posture: t.Posture, Values: map[string]float64{"share": t.Share}, Text: t.words()})
	}
	if g := r.Ground; r.nearLevel() {
		all = append(all, Finding{
			Kind: reasonKinds[fit.NearFloor].name, Part: g.Part, Values: map[string]float64{"is_mm": g.ClearanceMM, "limit_mm": g.RequiredMM},
			Text: Say("With the seat level the %s %s the floor (required ground clearance %s): raise it before the seat is leveled.", settingName(g.Part), overFloor(g.ClearanceMM, Length(g.ClearanceMM)), Length(g.RequiredMM)),
		})
	}
	for _, words := range ofCase {
		add("case", "", Quote(words))
	}
	in := func(kind string, has func(*Posture) bool, words string, args ...any) {
		if names := r.posturesWith(has); names != "" {
			add(kind, names, Say("%s: %s", names, Say(words, args...)))
		}
	}
	if set := r.result.Set; r.Works && r.Target != nil && (r.Target.forced || set != nil && set.Forced) {
		a := r.Lead().Aim
		add("comfort", "", Say("Comfort gives way so that the screen tracks: it is seen %s off square, %s from resting gaze, rolled %s, at %s.",
			Angle(a.IncidenceDeg), Angle(r.Target.gazeDeg), Angle(math.Abs(a.RollDeg)), Length(a.DistanceMM)))
	}
	in("gaze_down", func(p *Posture) bool { return p.Aim.DownDeg > warnDownDeg },
		"the person looks down by more than %s in the head; the eyelids may cover the pupils (common practice, no source).", Angle(warnDownDeg))
	in("incidence", func(p *Posture) bool { return p.Aim.IncidenceDeg > warnIncidenceDeg },
		"the screen is seen more than %s off square; colors and small print may suffer (limit of ISO 9241-3:1992 as reported by Ankrum, Hansen and Nemeth, 1995).", Angle(warnIncidenceDeg))
	if g := r.Grid; g != nil {
		t := r.Lead().Targets
		in("targets_small", func(p *Posture) bool { return !p.Targets.GridFits },
			"the requested targets (%s) are too small to tell apart; at most %s fit.", grid(g.Rows, g.Columns), grid(t.Rows, t.Columns))
	}
	in("glare", func(p *Posture) bool {
		return slices.ContainsFunc(p.Lenses, func(l Lens) bool { return l.Glare })
	}, "the glasses may reflect the tracker's light and hide the pupils; tilt the screen a little, or wear the glasses lower or more upright.")
	in("view_hidden", func(p *Posture) bool { return p.Ahead != nil && p.Ahead.Both.Hides },
		"the screen hides floor ahead from both eyes; drive only where someone else watches it.")
	if r.SwingClear != nil {
		all = append(all, r.SwingClear.Problems...)
	}
	return all
}

// failures says what fails in the words that are chosen of its kind; nothing of a kind that
// has none.
func (r *Report) failures(of func(reasonKind) string) []Text {
	var all []Text
	for _, why := range r.result.Reasons {
		if words := of(reasonKinds[why.Kind]); words != "" {
			all = append(all, worded(r.result, &why, words))
		}
	}
	return all
}

// assumed lists the values that were taken for lack of a measurement, those of one
// source together.
func assumed(as []casefile.Assumption) Section {
	s := Section{ID: SectionAssumed, Title: "Assumed values", Note: Say("the case can give them; measure what belongs to the person"), Full: true}
	var sources []string
	values := make(map[string][]Text)
	for _, a := range as {
		if values[a.Source] == nil {
			sources = append(sources, a.Source)
		}
		values[a.Source] = append(values[a.Source], Say("%s %s", a.Key, taken(a)))
	}
	s.line(toMeasure(as))
	for _, source := range sources {
		s.say("%s (%s)", Join("; ", values[source]...), source)
	}
	return s
}

// taken returns what was assumed, in words.
func taken(a casefile.Assumption) Text {
	return Join(", ", each(a.Values, func(p casefile.Part) Text { return Join(" ", Quote(p.Name), Value(p.Value)) })...)
}

// Value returns what an entry of a case says, in words.
func Value(v casefile.Value) Text {
	if v.Word != "" {
		return Quote(v.Word)
	}
	low, high := entered(v.Low, v.Unit), entered(v.High, v.Unit)
	if v.Low == v.High {
		return Say("%s", low)
	}
	return Say("%s to %s", low, high)
}

// entered returns a number of a case with its unit.
func entered(v float64, unit string) Quantity {
	switch unit {
	case "mm", "deg":
		return Reading{Value: v, Step: 1, Turns: unit == "deg"}
	case "kg":
		return Mass(v)
	}
	return Join(" ", Quote(units.UpTo(v, 2)), Quote(unit))
}

// notes returns what was noted in the case and in the kit, as written.
func (r *Report) notes() Section {
	s := Section{ID: SectionNotes, Title: "Notes", Full: true}
	if r.Note != "" {
		s.say("Case: %s", r.Note)
	}
	if r.Mount != nil && r.Mount.KitNote != "" {
		s.say("Kit: %s", r.Mount.KitNote)
	}
	return s
}
