package document

import (
	"strconv"
)

// Document returns m in words.
func (m *Match) Document() *Document {
	first := &m.Ranking[0]
	d := &Document{Label: m.Label, Works: m.Works, Verdict: Say("Best of %d: %s.", len(m.Ranking), first.title())}
	if !m.Works {
		d.Verdict = Say("None of %d works. Closest: %s.", len(m.Ranking), first.title())
	}
	for _, s := range []Section{m.ranking(), m.compared(), m.order(), m.failures(), assumed(m.Assumptions)} {
		d.add(s)
	}
	return d
}

// title names a kit and its side.
func (r *Ranked) title() string { return r.Kit + ", " + r.Side }

// ranking lists the kits, the best first.
func (m *Match) ranking() Section {
	s := Section{ID: SectionRanking, Title: "Ranking", Head: []string{"", "kit, side", "clamp", "file"}}
	for i := range m.Ranking {
		r := &m.Ranking[i]
		s.row(strconv.Itoa(i+1), r.title(), Say("%s, %s, %s up", Way{r.Clamp.ForwardMM, "", "forward", "back"}, Way{r.Clamp.LeftMM, "midline", "left", "right"}, Length(r.Clamp.UpMM)), r.KitFile)
	}
	return s
}

// compared lists the measures that decide, one row for each of the ranking.
func (m *Match) compared() Section {
	s := Section{
		ID: SectionCompared, Title: "Comparison",
		Note: Say("tracks: share of %d simulations of all errors, seed %d; off: from the best position; slip: utilization of the weakest joint", m.Draws, m.Seed),
		Head: []string{"", "works", "margin", "tracks", "off", "to set", "mass", "sinks", "slip", "least clearance"},
	}
	for i := range m.Ranking {
		r := &m.Ranking[i]
		works, slip, clearance := "no", Say("unknown"), Say("-")
		if r.Works {
			works = "yes"
		}
		if r.WeakestJoint != nil {
			slip = Say("%s", Utilization(*r.WeakestJoint.Used))
		}
		if r.LeastGap != nil {
			clearance = Say("%s", Length(r.LeastGap.ClearanceMM))
		}
		s.row(strconv.Itoa(i+1), works, Margin(r.MarginMM), Share(r.Tracks), Length(r.OffMM), strconv.Itoa(r.Touch), Mass(r.CarriedKG), Length(r.DropMM), slip, clearance)
	}
	return s
}

// order says why each is above the next.
func (m *Match) order() Section {
	s := Section{ID: SectionOrder, Title: "Why in this order"}
	for i := range m.Ranking[:len(m.Ranking)-1] {
		s.row(strconv.Itoa(i+1), Join("; ", texts(m.Ranking[i].Reasons)...))
	}
	return s
}

// failures says what fails, and what would help.
func (m *Match) failures() Section {
	s := Section{ID: SectionReasons, Title: "What fails"}
	for i := range m.Ranking {
		r := &m.Ranking[i]
		for k := range r.Fails {
			s.row(strconv.Itoa(i+1), r.Fails[k].Text)
		}
		for k := range r.Remedies {
			s.row("", Say("Would help: %s", r.Remedies[k].Text))
		}
	}
	return s
}

// texts returns the words of findings.
func texts(all []Finding) []Text {
	words := make([]Text, len(all))
	for i := range all {
		words[i] = all[i].Text
	}
	return words
}
