package report

import (
	"fmt"
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
	if r.Mount != nil {
		w = append(w, r.Mount.loadWarnings()...)
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
		"Nothing may hinder leaving the chair, breathing, driving, or the reach of a caregiver.",
		"For travel in a vehicle take the mount off or secure it, as the instructions of chair and mount say. " +
			"Check every setting after transport.",
		"These figures are a starting point for a trained person who sees the user. " +
			"Makers' instructions and local rules come first.",
	}
}
