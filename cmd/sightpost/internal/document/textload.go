package document

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
	if r.Kind == Solve && r.Works {
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
	way(s.PitchDeg, "of nod, top toward the person", "of nod, top away from the person")
	way(s.RollDeg, "of roll, counter-clockwise for the viewer", "of roll, clockwise for the viewer")
	way(s.YawDeg, "of turn toward the viewer's right", "of turn toward the viewer's left")
	return strings.Join(parts, "; ")
}

// strength says which joint slips first, which tube is worked hardest, and which
// part is nearest to what it is made for.
func (p *printer) strength(l *Load) {
	if j := l.Weakest(); j != nil {
		words := "weakest joint: " + j.Joint + ", " + l.Acting(j) + "; " + used(*j.Used) + " used"
		if j.Slips() {
			words += ": it SLIPS"
		}
		p.wrapped("  ", words)
	} else if j := l.MostTurned(); j != nil {
		p.wrapped("  ", fmt.Sprintf("weakest joint: not known, since the kit does not say what its joints hold; most acts on %s, %s: "+
			"try by hand that each holds", j.Joint, l.Acting(j)))
	}
	if t := l.hardest(); t != nil {
		p.wrapped("  ", fmt.Sprintf("hardest worked tube: %s, %s; yields at %s N/mm2; %s used", t.Part, l.stressed(t), fixed(t.YieldMPa, 0), used(t.Used)))
	}
	if c := l.fullest(); c != nil {
		p.wrapped("  ", fmt.Sprintf("part nearest to its rated mass: %s, %s kg of %s kg", c.Part, fixed(c.CarriesKG, 2), fixed(c.RatedKG, 2)))
	}
}

// stressed says how t is stressed, on level ground and with all that it must bear.
func (l *Load) stressed(t *TubeLoad) string {
	words := fixed(t.StressMPa, 1) + " N/mm2 on level ground"
	var with []string
	if l.ShockFactor > 1 {
		with = append(with, "rough ground (x"+trimmed(l.ShockFactor)+")")
	}
	if l.SafetyFactor > 1 {
		with = append(with, "safety (x"+trimmed(l.SafetyFactor)+")")
	}
	if len(with) == 0 {
		return words
	}
	return words + ", " + fixed(t.StressMPa*l.ShockFactor*l.SafetyFactor, 1) + " with " + strings.Join(with, " and ")
}

// Acting says what acts on j, on level ground and on rough, and what it holds.
func (l *Load) Acting(j *JointLoad) string {
	acts := j.load(j.Acts)
	if l.ShockFactor > 1 {
		acts += " on level ground, " + j.load(j.Acts*l.ShockFactor) + " on rough (x" + trimmed(l.ShockFactor) + ")"
	}
	if j.Holds == nil {
		return acts
	}
	if j.Slips() {
		return acts + "; holds ONLY " + j.load(*j.Holds)
	}
	return acts + "; holds " + j.load(*j.Holds)
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
		if c := &l.Parts[i]; most == nil || c.Used > most.Used {
			most = c
		}
	}
	return most
}

// used returns a part of what something holds in per cent, rounded up, so that
// nothing that fails is told as 100 %.
func used(part float64) string { return fixed(math.Ceil(100*part-1e-6), 0) + " %" }
