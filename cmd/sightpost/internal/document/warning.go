package document

import (
	"slices"
	"strings"
)

// Where a warning starts.
const (
	// A gaze far down narrows the lid opening, while the tracker looks up from
	// below; common practice, no source.
	warnDownDeg = 30
	// The greatest angle of incidence that ISO 9241-3:1992 allows, as reported by
	// D. R. Ankrum, E. E. Hansen and K. J. Nemeth, "The Vertical Horopter and the
	// Angle of View", WWDU '94, Elsevier 1995.
	warnIncidenceDeg = 40
)

// warnings returns what needs attention in this case: what fails in the mount first, then
// what the case itself warns of, the postures and the swing.
func (r *Report) warnings(ofCase []string) []Finding {
	all := []Finding{}
	add := func(kind, posture string, t Text) { all = append(all, Finding{Kind: kind, Posture: posture, Text: t}) }
	if failing := r.Load.failing(); failing != "" {
		add("do_not_hang", "", Say("DO NOT HANG this device on the mount as set: %s.", failing))
	}
	if m := r.Mount; m != nil {
		switch {
		case m.RatedKG == 0:
			add("rating_unknown", "", Say("The kit gives no rated mass: ask its maker before you hang a device on it."))
		case m.LoadKG > m.RatedKG:
			all = append(all, Finding{
				Kind: "overload", Values: map[string]float64{"load_kg": m.LoadKG, "rated_kg": m.RatedKG},
				Text: Say("DO NOT HANG this device on the mount: it would carry %s and is rated for %s.", Mass(m.LoadKG), Mass(m.RatedKG)),
			})
		}
	}
	for _, words := range ofCase {
		add("case", "", Quote(words))
	}
	in := func(kind string, has func(*Posture) bool, words string, args ...any) {
		if names := r.posturesWith(has); names != "" {
			add(kind, names, Say("%s: %s", names, Say(words, args...)))
		}
	}
	in("gaze_down", func(p *Posture) bool { return p.Aim.DownDeg > warnDownDeg },
		"the person looks down by more than %s in the head; the eyelids may cover the pupils (common practice, no source).", Angle(warnDownDeg))
	in("incidence", func(p *Posture) bool { return p.Aim.IncidenceDeg > warnIncidenceDeg },
		"the screen is seen more than %s off square; colors and small print may suffer (limit of ISO 9241-3:1992 as reported by Ankrum, Hansen and Nemeth, 1995).", Angle(warnIncidenceDeg))
	if g := r.Grid; g != nil {
		t := r.Postures[r.leading].Targets
		in("targets_small", func(p *Posture) bool { return !p.Targets.GridFits },
			"the requested targets (%s) are too small to tell apart; at most %s.", grid(g.Rows, g.Columns), grid(t.Rows, t.Columns))
	}
	in("glare", func(p *Posture) bool {
		return slices.ContainsFunc(p.Lenses, func(l Lens) bool { return l.Glare })
	}, "the glasses may reflect the tracker's light and hide the pupils; tilt the screen a little, or wear the glasses lower or more upright.")
	in("view_hidden", func(p *Posture) bool { return p.Ahead != nil && p.Ahead.Both.Hides },
		"the screen hides floor ahead from both eyes; drive only where somebody else watches it.")
	if r.SwingClear != nil {
		all = append(all, r.SwingClear.Problems...)
	}
	return all
}

// failing says what fails under load, in a few words; "" when nothing does. l may be nil.
func (l *Load) failing() string {
	if l == nil {
		return ""
	}
	var failing []string
	for i := range l.Tubes {
		if t := &l.Tubes[i]; t.Used > bearsAll {
			failing = append(failing, "the "+settingName(t.Part)+" tube is too weak")
		}
	}
	for i := range l.Joints {
		if j := &l.Joints[i]; j.Slips() {
			failing = append(failing, "the "+settingName(j.Joint)+" joint slips, however firmly it is tightened")
		}
	}
	for i := range l.Parts {
		if p := &l.Parts[i]; p.Used > bearsAll {
			failing = append(failing, "the "+settingName(p.Part)+" carries more than its rated mass")
		}
	}
	return strings.Join(failing, "; ")
}
