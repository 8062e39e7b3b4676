package document

import (
	"strconv"
	"strings"
)

// Document returns r in words.
func (r *Refit) Document() *Document {
	d := &Document{Label: r.Label, Works: r.Restored, Verdict: r.verdict(), Summary: r.summary()}
	for _, s := range []Section{
		findings(SectionReasons, "What fails as found", r.Reasons),
		findings("", "What still fails after the changes", r.Left),
		findings(SectionRemedies, "What would help", r.Remedies),
		r.safety(), changes(r.title(), r.Changes, r.Effort), r.steps(), r.losses(), r.tried(), r.fullSetup(),
	} {
		d.add(s)
	}
	return d
}

// verdict says what has to be done.
func (r *Refit) verdict() Text {
	switch {
	case !r.Needed:
		return Say("Nothing to change.")
	case r.Restored:
		return Say("Change %s.", settingNames(r.Changes))
	}
	return Say("No change of settings restores the margin. DO NOT USE the closest settings found.")
}

func (r *Refit) summary() Text {
	switch {
	case !r.Needed:
		return Say("Head-movement margin with the settings as found: %s, required %s.", Margin(r.MarginMM), Length(r.RequiredMM))
	case !r.Restored:
		return Say("Head-movement margin with the settings as found: %s; at best: %s; required %s.", Margin(r.MarginMM), Margin(r.AfterMM), Length(r.RequiredMM))
	}
	return Say("Head-movement margin with the settings as found: %s; after the changes: %s; required %s.", Margin(r.MarginMM), Margin(r.AfterMM), Length(r.RequiredMM))
}

// safety returns what to observe where something has to be changed.
func (r *Refit) safety() Section {
	if len(r.Steps) == 0 {
		return Section{}
	}
	return safety()
}

func (r *Refit) title() string {
	if r.Restored {
		return "Changes"
	}
	return "Closest settings found: DO NOT USE"
}

// settingNames returns the names of the settings that change.
func settingNames(changes []Change) string {
	list := make([]string, 0, len(changes))
	for _, c := range changes {
		list = append(list, settingName(c.Name))
	}
	if n := len(list); n > 1 {
		return strings.Join(list[:n-1], ", ") + " and " + list[n-1]
	}
	return strings.Join(list, "")
}

// changes lists settings from and to.
func changes(title string, all []Change, effort float64) Section {
	s := Section{Title: title, Note: Say("from the clamp outward; total effort %s, from the kit", fixed(effort, 1)), Head: []string{"setting", "from", "to"}}
	for _, c := range all {
		s.row(settingName(c.Name), c.reading(c.From), c.reading(c.To))
	}
	return s
}

// steps lists the steps in the order of work.
func (r *Refit) steps() Section {
	s := Section{Title: "Steps", Note: Say("one setting loose at a time")}
	if !r.Restored {
		return s // these settings are not to be used
	}
	for i, step := range r.Steps {
		s.row(strconv.Itoa(i+1), Join(" CAUTION: ", step.Words, Join(" ", step.Cautions...)))
	}
	return s
}

// losses lists what the change of sitting has cost.
func (r *Refit) losses() Section {
	s := Section{ID: SectionMargins, Title: "Head-movement margin as found", Head: []string{"posture", "", "now", "before", "limiting condition"}}
	for _, l := range r.Losses {
		before := Text{}
		if l.BeforeMM != nil {
			before = Say("%s", Margin(*l.BeforeMM))
		}
		limiting := ""
		if len(l.Limiting) > 0 {
			limiting = l.Limiting[0].Condition
		}
		s.row(l.Posture, need(l.MustWork), Margin(l.MarginMM), before, limiting)
		s.full("%s: %s.", l.Posture, stops(l.Limiting, false))
	}
	if len(r.Losses) > 0 && r.Losses[0].BeforeMM == nil {
		s.Head[3] = ""
	}
	return s
}

// stops lists conditions with their margins.
func stops(all []Stop, posture bool) Text {
	list := make([]Text, len(all))
	for i, s := range all {
		list[i] = Say("%s (%s)", s.Condition, Margin(s.MarginMM))
		if posture {
			list[i] = Say("%s, %s", s.Posture, list[i])
		}
	}
	return Join("; ", list...)
}

// tried says why nothing cheaper is enough.
func (r *Refit) tried() Section {
	s := Section{Title: "Cheaper changes are not enough", Note: Say("every cheaper change is part of one of these; margin at best"), Full: true}
	for _, a := range r.Tried {
		parts := []Text{Say("%s: %s", joined(a.Settings), Margin(a.MarginMM))}
		switch {
		case a.Unreadable:
			parts[0] = Say("%s at readable values", parts[0])
		case !a.Kept.Empty():
			parts = append(parts, Say("cannot keep the %s", a.Kept))
		}
		if len(a.Against) > 0 {
			parts = append(parts, Say("limited by %s", stops(a.Against, true)))
		}
		if len(a.AtLimit) > 0 {
			parts = append(parts, Say("at the end of the range: %s", joined(a.AtLimit)))
		}
		s.line(Say("%s.", Join("; ", parts...)))
	}
	return s
}

// joined returns names of settings as a list.
func joined(names []string) string {
	words := make([]string, len(names))
	for i, n := range names {
		words[i] = settingName(n)
	}
	return strings.Join(words, ", ")
}

// fullSetup says what a full re-setup would bring.
func (r *Refit) fullSetup() Section {
	s := changes("Full re-setup instead", r.FullSetup.Changes, r.FullSetup.Effort)
	for i := range s.Rows {
		s.Rows[i].Full = true
	}
	if len(r.FullSetup.Changes) == 0 {
		s.Note = Text{}
		s.say("The settings as found are the best there are: margin %s.", Margin(r.FullSetup.MarginMM))
		return s
	}
	enough := ""
	if !r.FullSetup.Works {
		enough = ": not enough"
	}
	s.say("%s to change, margin then %s%s.", count(len(r.FullSetup.Changes), "setting"), Margin(r.FullSetup.MarginMM), enough)
	return s
}
