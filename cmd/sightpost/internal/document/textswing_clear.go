package document

import "fmt"

// aside says how the mount swings aside, and what room that takes.
func (p *printer) aside(r *Report) {
	if r.Mount == nil {
		return
	}
	a := r.SwingClear
	if a == nil {
		p.heading("SWINGING ASIDE", "")
		p.wrapped("  ", "no joint of this kit swings the screen aside: take the device off for leaving the chair")
		return
	}
	p.heading("SWINGING ASIDE", "about "+a.Joint+", the others as set; contact is looked for all along the way")
	value := func(v float64) string { return p.inUnit(v, a.Unit) }
	if a.Stuck() {
		p.wrapped("  ", fmt.Sprintf("cannot be swung as it is set; in use at %s; less, %s; more, %s", value(a.InUse), a.From.why(), a.To.why()))
		return
	}
	p.wrapped("  ", fmt.Sprintf("free from %s to %s; in use at %s, at rest aside at %s", value(a.From.Value), value(a.To.Value), value(a.InUse), value(a.Rest)))
	if a.TransferHalfWidthRequiredMM > 0 {
		p.wrapped("  ", p.wayOut(a))
	}
	p.wrapped("  ", "ends: less, "+a.From.why()+"; more, "+a.To.why())
	if g := a.LeastGap; g != nil {
		p.wrapped("  ", fmt.Sprintf("least gap on the way: %s, %s to %s (%s, at %s)", p.units.fine(g.GapMM), g.Part, g.Space, g.Posture, value(g.At)))
	}
	if a.UsedFloor != nil && a.ParkedFloor != nil {
		p.floor(a)
	}
}

// wayOut says how far the way out of the chair is free.
func (p *printer) wayOut(a *SwingClear) string {
	if a.TransferHalfWidthMM <= 0 {
		return "even there it stays IN THE WAY out of the chair"
	}
	return fmt.Sprintf("the way out of the chair is then free for %s from the midline, of %s wanted", p.units.length(a.TransferHalfWidthMM), p.units.length(a.TransferHalfWidthRequiredMM))
}

// floor says what room chair and mount take up on the floor, and where they fit.
func (p *printer) floor(a *SwingClear) {
	p.wrapped("  ", fmt.Sprintf("chair and mount: in use %s; aside %s", p.units.extent(a.UsedFloor), p.units.extent(a.ParkedFloor)))
	if d := a.Doorway; d != nil {
		p.wrapped("  ", "doorway of "+p.units.length(d.ClearMM)+": "+p.units.AtDoorway(a))
	}
	if s := a.Space; s != nil {
		p.wrapped("  ", fmt.Sprintf("clear floor space, %s wide and %s long: %s", p.units.length(s.WidthMM), p.units.length(s.LengthMM), p.units.OnSpace(a)))
	}
}

// extent words the room that chair and mount take up.
func (u Units) extent(f *Floor) string {
	return u.length(f.WidthMM) + " wide and " + u.length(f.LengthMM) + " long"
}

// AtDoorway says in which state chair and mount pass the doorway of a, which has one.
func (u Units) AtDoorway(a *SwingClear) string {
	return passes(a.Doorway.InUse, a.Doorway.Aside, u.length(a.UsedFloor.WidthMM)+" wide", u.length(a.ParkedFloor.WidthMM)+" wide")
}

// OnSpace says in which state chair and mount stand within the floor space of a, which
// has one.
func (u Units) OnSpace(a *SwingClear) string {
	return passes(a.Space.InUse, a.Space.Aside, u.extent(a.UsedFloor), u.extent(a.ParkedFloor))
}

// passes says in which state something fits, and how large it is where it does not
// although it does in the other.
func passes(inUse, aside bool, used, resting string) string {
	switch {
	case inUse && aside:
		return "fits"
	case inUse:
		return "in use it fits; swung aside (" + resting + ") it does NOT"
	case aside:
		return "swung aside it fits; in use (" + used + ") it does NOT"
	}
	return "does NOT fit"
}

// why says what ends a swing.
func (e *SwingEnd) why() string {
	if e.Limit {
		return "limit of its range"
	}
	return e.Part + " meets " + e.Space
}

// inUnit returns a value of a setting to a whole mm or a tenth of a degree.
func (p *printer) inUnit(v float64, unit string) string {
	if unit == "deg" {
		return fixed(v, 1) + "°"
	}
	return p.units.length(v)
}
