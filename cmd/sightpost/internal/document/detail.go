package document

import (
	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/plots/units"
)

// obstacles says what the keep-clear zones cost that hold the screen back.
func (r *Report) obstacles() Section {
	s := Section{Title: "Keep-clear zones in the way", Note: Say("what one zone alone costs, all others kept clear"), Full: true}
	for _, o := range r.Obstacles {
		s.line(Join(" ", Say("%s: %s The %s would come %s too near.", o.Space, r.without(&o), settingName(o.Part), Length(o.ShortMM)), o.remedy()))
	}
	return s
}

// without says what there would be without a zone.
func (r *Report) without(o *Obstacle) Text {
	switch {
	case o.Works && !r.Works:
		return Say("without it everything would work, margin %s.", Margin(o.MarginMM))
	case Length(o.MarginMM).In(units.MM) == Length(r.MarginMM).In(units.MM):
		return Say("removing it alone would change nothing.")
	}
	return Say("without it the margin would be %s instead of %s.", Margin(o.MarginMM), Margin(r.MarginMM))
}

// remedy says where the zone would be out of the way, and what that asks of whom: a zone
// may be a thing or a limb, which the case does not say; empty when it is not known.
func (o *Obstacle) remedy() Text {
	if o.Way == "" {
		return Text{}
	}
	return Say("%s: moved %s %s, it would be out of the way. Move an object; for a limb, ask whether it may rest there, and never force it.", o.Space, Length(o.WayMM), o.Way)
}

// limits says what ends the tolerance of each setting, and how the margin changes
// toward each end.
func (r *Report) limits() Section {
	s := Section{Title: "What ends each tolerance", Note: Say("all other settings unchanged; with the margin change toward that end"), Full: true}
	if r.Mount == nil || !r.Mount.tolerances() {
		return s
	}
	for _, set := range r.Mount.Settings {
		if set.ball {
			continue
		}
		t := &set.Tolerance
		s.row(settingName(set.Name), Say("range %s to %s%s", set.reading(set.Low), set.reading(set.High), set.stops()))
		s.row("", Say("min: %s%s", t.From.words(), set.rate(&t.From)))
		s.row("", Say("max: %s%s", t.To.words(), set.rate(&t.To)))
	}
	return s
}

// stops says at which steps an indexed setting stops.
func (s *Setting) stops() Text {
	if !s.Indexed {
		return Text{}
	}
	return Say(", stops every %s", s.reading(s.Step))
}

// rate says how the margin changes toward an end; between stops a setting cannot move.
func (s *Setting) rate(e *ToleranceEnd) Text {
	if s.Indexed || e.Value == s.Value {
		return Text{}
	}
	return Say(" (%s)", MarginChange{e.RateMM, s.Unit == "deg"})
}

// words says what ends a tolerance, and in which posture.
func (e *ToleranceEnd) words() string {
	if e.Posture == "" {
		return e.EndedBy
	}
	return e.EndedBy + " (" + e.Posture + ")"
}

// strength says what every tube, joint and part bears and carries.
func (r *Report) strength() Section {
	s := Section{Title: "Strength", Full: true}
	l := r.Load
	if l == nil {
		return s
	}
	s.Note = Say("on level ground; utilization on rough ground, shock factor %s, safety factor of tubes %s", trimmed(l.ShockFactor), trimmed(l.SafetyFactor))
	s.Head = []string{"", "", "load", "allowable", "utilization"}
	for _, j := range l.Joints {
		holds, used := Say("unknown"), Text{}
		if j.SlipLoad != nil {
			holds, used = Say("%s", j.quantity(*j.SlipLoad)), Say("%s", Utilization(*j.Used))
		}
		s.row("joint", settingName(j.Joint), j.quantity(j.Load), holds, used)
	}
	for _, t := range l.Tubes {
		s.row("tube", settingName(t.Part), Stress(t.StressMPa), Stress(t.YieldMPa), Utilization(t.Used))
	}
	for _, p := range l.Parts {
		s.row("part", settingName(p.Part), Mass(p.CarriesKG), Mass(p.RatedKG), Utilization(p.Used))
	}
	return s
}

// assumed lists the values that were taken for lack of a measurement, those of one
// source together.
func assumed(as []Assumption) Section {
	s := Section{Title: "Assumed values", Note: Say("the case can give them; measure what belongs to the person"), Full: true}
	var sources []string
	values := make(map[string][]Text)
	for _, a := range as {
		if values[a.Source] == nil {
			sources = append(sources, a.Source)
		}
		values[a.Source] = append(values[a.Source], Say("%s %s", a.Key, a.Words()))
	}
	for _, source := range sources {
		s.say("%s (%s)", Join("; ", values[source]...), source)
	}
	return s
}

// Words returns what was taken.
func (a *Assumption) Words() Text {
	if len(a.parts) == 0 { // read back from JSON
		return Quote(a.Value)
	}
	parts := make([]Text, len(a.parts))
	for i, p := range a.parts {
		parts[i] = Join(" ", Quote(p.Name), Value(p.Value))
	}
	return Join(", ", parts...)
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
	return Join(" ", Quote(trimmed(v)), Quote(unit))
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
