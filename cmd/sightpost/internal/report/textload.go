package report

import (
	"fmt"
	"math"
	"strings"
)

// weight says what weight does to screen and mount: how far the screen sags, and
// what comes nearest to its strength.
func (p *printer) weight(r *Report) {
	m := r.Mount
	if m == nil {
		return
	}
	remark := "counted in every figure here"
	if r.Kind == Solve {
		remark = "counted: set as told, the screen comes down to its place once the device hangs"
	}
	p.perPosture("WEIGHT", remark, r, func(f *Posture) string { return "the screen " + p.sags(f.Sag) })
	carried := "the mount carries " + fixed(m.LoadKG, 2) + " kg at its plate"
	if m.RatedKG > 0 {
		carried += ", of " + fixed(m.RatedKG, 2) + " kg at most"
	}
	p.wrapped("  ", carried)
	if r.Load != nil {
		p.strength(r.Load)
	}
}

// sags words a sag: what shows in the last digit told.
func (p *printer) sags(s *Sag) string {
	parts := []string{"sinks " + p.units.fine(s.DropMM)}
	if s.DropMM < 0 {
		parts[0] = "rises " + p.units.fine(-s.DropMM)
	}
	way := func(deg float64, plus, minus string) {
		if words := turned(deg, "", plus, minus); words != "" {
			parts = append(parts, words)
		}
	}
	way(s.NodDeg, "of nod, top toward the person", "of nod, top away from the person")
	way(s.RollDeg, "of roll, counter-clockwise for the viewer", "of roll, clockwise for the viewer")
	way(s.TurnDeg, "of turn toward the viewer's right", "of turn toward the viewer's left")
	return strings.Join(parts, "; ")
}

// strength says which joint slips first, which tube is worked hardest, and which
// part is nearest to what it is made for.
func (p *printer) strength(l *Load) {
	rough := "level ground"
	if l.BumpFactor > 1 {
		rough = "rough ground, " + trimmed(l.BumpFactor) + " times the weight"
	}
	if j := l.Weakest(); j != nil {
		p.wrapped("  ", fmt.Sprintf("weakest joint: %s, under %s of the %s that it holds; %s used on %s",
			j.Joint, j.load(j.Acts), j.load(*j.Holds), used(*j.Used), rough))
	} else if j := l.MostTurned(); j != nil {
		p.wrapped("  ", fmt.Sprintf("weakest joint: not known, since the kit does not say what its joints hold; most acts on %s, %s: "+
			"try by hand that each holds", j.Joint, j.load(j.Acts)))
	}
	if t := l.hardest(); t != nil {
		p.wrapped("  ", fmt.Sprintf("hardest worked tube: %s, %s of %s N/mm2; %s used on %s, with %s times safety",
			t.Part, fixed(t.StressMPa, 1), fixed(t.YieldMPa, 0), used(t.Used), rough, trimmed(l.SafetyFactor)))
	}
	if c := l.fullest(); c != nil {
		p.wrapped("  ", fmt.Sprintf("part nearest to its rated mass: %s, %s kg of %s kg", c.Part, fixed(c.CarriesKG, 2), fixed(c.RatedKG, 2)))
	}
}

// load returns a load on j with its unit.
func (j *JointLoad) load(v float64) string { return fixed(v, 1) + " " + j.Unit }

// MostTurned returns the turn on which the greatest moment acts; nil if none does.
func (l *Load) MostTurned() *JointLoad {
	var most *JointLoad
	for i := range l.Joints {
		if j := &l.Joints[i]; j.Unit == "N m" && (most == nil || j.Acts > most.Acts) {
			most = j
		}
	}
	return most
}

// hardest returns the tube that comes nearest to its yield; nil without tubes.
func (l *Load) hardest() *TubeLoad {
	var most *TubeLoad
	for i := range l.Tubes {
		if t := &l.Tubes[i]; most == nil || t.Used > most.Used {
			most = t
		}
	}
	return most
}

// fullest returns the part that comes nearest to its rated mass; nil when none is
// rated.
func (l *Load) fullest() *PartLoad {
	var most *PartLoad
	for i := range l.Parts {
		if c := &l.Parts[i]; most == nil || c.CarriesKG*most.RatedKG > most.CarriesKG*c.RatedKG {
			most = c
		}
	}
	return most
}

// used returns a part of what something holds in per cent, rounded up, so that
// nothing that fails is told as 100 %.
func used(part float64) string { return fixed(math.Ceil(100*part-1e-6), 0) + " %" }

// trimmed returns a factor without noughts at its end.
func trimmed(v float64) string { return strings.TrimSuffix(strings.TrimRight(fixed(v, 2), "0"), ".") }
