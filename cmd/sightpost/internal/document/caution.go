package document

import (
	"fmt"
	"slices"
	"strings"
)

// Where a report starts to warn.
const (
	// A gaze far down narrows the lid opening, while the tracker looks up from
	// below; common practice, no source.
	warnDownDeg = 30
	// The greatest angle of incidence that ISO 9241-3:1992 allows, as reported by
	// D. R. Ankrum, E. E. Hansen and K. J. Nemeth, "The Vertical Horopter and the
	// Angle of View", WWDU '94, Elsevier 1995.
	warnIncidenceDeg = 40
)

// ownWarnings returns what to mind in this case, in the order of the postures and
// then of the mount.
func (r *Report) ownWarnings() []string {
	var w []string
	if names := r.posturesWith(func(p *Posture) bool { return p.Aim.DownDeg > warnDownDeg }); names != "" {
		w = append(w, fmt.Sprintf("%s: the line of sight is more than %d° down in the head; the eyelids may cover the pupil "+
			"from the tracker's side (common practice, no source)", names, warnDownDeg))
	}
	if names := r.posturesWith(func(p *Posture) bool { return p.Aim.IncidenceDeg > warnIncidenceDeg }); names != "" {
		w = append(w, fmt.Sprintf("%s: the screen is seen at more than %d° off square (the limit of ISO 9241-3:1992 as reported by "+
			"Ankrum, Hansen and Nemeth, 1995); colours and small print may suffer", names, warnIncidenceDeg))
	}
	w = append(w, r.sightWarnings()...)
	if r.Mount != nil {
		w = append(w, r.Mount.loadWarnings()...)
	}
	if gives := r.Load.warning(); gives != "" {
		w = append(w, gives)
	}
	if r.SwingClear != nil {
		w = append(w, r.SwingClear.Problems...)
	}
	return w
}

// sightWarnings returns what to mind about what the person sees.
func (r *Report) sightWarnings() []string {
	var w []string
	if names := r.posturesWith(func(p *Posture) bool { return !p.Targets.GridFits }); names != "" && r.Grid != nil {
		t := r.Postures[r.leading].Targets
		w = append(w, fmt.Sprintf("%s: targets of %s, as asked for, are too small to be told apart: %s at most",
			names, grid(r.Grid.Rows, r.Grid.Columns), grid(t.Rows, t.Columns)))
	}
	if names := r.posturesWith(func(p *Posture) bool {
		return slices.ContainsFunc(p.Lenses, func(l Lens) bool { return l.Glare })
	}); names != "" {
		w = append(w, names+": the tracker's light may come straight back from the glasses and hide the pupil: "+
			"tilt the screen a little, or let the glasses sit lower or more upright")
	}
	if names := r.posturesWith(func(p *Posture) bool { return p.Ahead != nil && p.Ahead.Both.Hides }); names != "" {
		w = append(w, names+": the screen hides floor ahead from both eyes: drive only where somebody else watches it")
	}
	return w
}

// loadWarnings returns what to mind about what the mount carries.
func (m *Mount) loadWarnings() []string {
	switch {
	case m.RatedKG == 0:
		return []string{"the kit says no rated mass: ask its maker before hanging a device on it"}
	case m.LoadKG > m.RatedKG:
		return []string{fmt.Sprintf("the mount would carry %.2f kg but is made for %.2f kg at most: do not hang this device on it",
			m.LoadKG, m.RatedKG)}
	}
	return nil
}

// warning says of a mount that gives way that nothing is to be hung on it; "" when
// nothing does. l may be nil.
func (l *Load) warning() string {
	if l == nil {
		return ""
	}
	var failing []string
	for i := range l.Tubes {
		if t := &l.Tubes[i]; t.Used > bearsAll {
			failing = append(failing, "the tube of the "+t.Part+" is TOO WEAK")
		}
	}
	for i := range l.Joints {
		if j := &l.Joints[i]; j.Slips() {
			failing = append(failing, j.Joint+" SLIPS, however firmly it is tightened")
		}
	}
	for i := range l.Parts {
		if p := &l.Parts[i]; p.Used > bearsAll {
			failing = append(failing, "the "+p.Part+" carries MORE than it is made for")
		}
	}
	if len(failing) == 0 {
		return ""
	}
	return "DO NOT HANG this device on the mount as it is set: " + strings.Join(failing, "; ")
}

// posturesWith returns the names of the postures for which has is true, in words.
func (r *Report) posturesWith(has func(*Posture) bool) string {
	var names []string
	for i := range r.Postures {
		if has(&r.Postures[i]) {
			names = append(names, r.Postures[i].Name)
		}
	}
	return strings.Join(names, ", ")
}

// cautions returns what to mind in every case.
func cautions() []string {
	return []string{
		"A device that falls hurts. Hold it before you loosen any joint, and take it off before you change or remove a part.",
		"Stay within the rated mass of every part, and secure every tube against sliding out.",
		"Open a joint before you turn it; never force it.",
		"A joint that slips drops the screen: tighten each as its maker says, and try it by hand.",
		"Nothing may hinder leaving the chair, breathing, driving and the view ahead, or the reach of a caregiver.",
		"For travel in a vehicle take the mount off or secure it, as the instructions of chair and mount say. " +
			"Check every setting after transport.",
		"These figures are a starting point for a trained person who sees the user. " +
			"Makers' instructions and local rules come first.",
	}
}
