package document

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"sightpost/gaze"
	"sightpost/plots/units"
)

// NearestFirst returns clearances in the order of what they have to spare.
func NearestFirst(all []Clearance) []Clearance {
	return slices.SortedStableFunc(slices.Values(all), func(a, b Clearance) int { return cmp.Compare(a.spareMM(), b.spareMM()) })
}

func (c *Clearance) spareMM() float64 { return c.ClearanceMM - c.RequiredMM }

// tightMM is up to which spare clearance a zone is shown in the short form: what a
// person who shifts in the seat takes up. A choice of this tool, no source.
const tightMM = 25

// clearances lists the keep-clear zones, the tightest first.
func (r *Report) clearances() Section {
	s := Section{ID: SectionClearances, Title: "Clearances", Brief: true}
	for i, c := range NearestFirst(r.Clearances) {
		s.line(c.words(len(r.Postures) > 1))
		s.Lines[i].Full = i > 0 && c.spareMM() > tightMM
	}
	return s
}

func (c *Clearance) words(several bool) Text {
	part, at := settingName(c.Part), ""
	if several {
		at = ", " + c.Posture
	}
	if c.Assumed {
		at += ", zone assumed"
	}
	switch {
	case c.ClearanceMM < 0:
		return Say("%s: overlaps the %s by %s (required %s%s).", c.Space, part, Length(-c.ClearanceMM), Length(c.RequiredMM), at)
	case c.TooClose:
		return Say("%s: only %s from the %s (required %s%s).", c.Space, Length(c.ClearanceMM), part, Length(c.RequiredMM), at)
	}
	return Say("%s: %s from the %s (required %s%s).", c.Space, Length(c.ClearanceMM), part, Length(c.RequiredMM), at)
}

// weight says how far the screen sags and what the mount carries.
func (r *Report) weight() Section {
	s := Section{ID: SectionWeight, Title: "Weight", Brief: true}
	m := r.Mount
	if m == nil {
		return s
	}
	s.line(r.perPosture(func(p *Posture) Text { return p.Sag.words() })...)
	for i := range s.Lines {
		s.Lines[i].Full = i > 0
	}
	carried := Say("Load %s, rated mass unknown.", Mass(m.LoadKG))
	if m.RatedKG > 0 {
		carried = Say("Load %s, rated %s.", Mass(m.LoadKG), Mass(m.RatedKG))
	}
	s.line(Join(" ", carried, r.Load.weakestWords()))
	return s
}

// words says how far a screen sags: what shows in the last digit.
func (s *Sag) words() Text {
	parts := []Text{Say("sinks %s", Length(s.DropMM))}
	if s.DropMM < 0 {
		parts[0] = Say("rises %s", Length(-s.DropMM))
	}
	add := func(what string, t Turn) {
		if t.shows(units.MM) {
			parts = append(parts, Say("%s %s", what, t))
		}
	}
	add("pitches", Turn{s.PitchDeg, "", "forward", "back"})
	add("rolls", Turn{s.RollDeg, "", "counterclockwise", "clockwise"})
	add("yaws", Turn{s.YawDeg, "", "right", "left"})
	return Say("Under load the screen %s (included).", Join(", ", parts...))
}

// weakestWords says which joint slips first; l may be nil.
func (l *Load) weakestWords() Text {
	if l == nil {
		return Text{}
	}
	if j := l.Weakest(); j != nil {
		format, acts := "Weakest joint: %s (%s of slip %s).", "torque"
		if *j.Used > 1+1e-9 {
			format = "The %s slips (%s of slip %s)."
		}
		if j.Unit == "N" {
			acts = "force"
		}
		return Say(format, settingName(j.Joint), Utilization(*j.Used), acts)
	}
	if j := l.mostTurned(); j != nil {
		return Say("The kit gives no slip torques: test every joint by hand, first the %s, which carries %s.", settingName(j.Joint), j.quantity(j.Load))
	}
	return Text{}
}

// parked says how the mount swings clear, and what floor that takes.
func (r *Report) parked() Section {
	s := Section{ID: SectionParked, Title: "Parked position", Brief: true}
	if r.Mount == nil {
		return s
	}
	a := r.SwingClear
	if a == nil {
		s.say("No joint of this kit swings the screen clear: take the device off before leaving the chair.")
		return s
	}
	s.Full = !r.usable() && !a.Stuck()
	value := func(v float64) Quantity { return amount(v, a.Unit) }
	joint := settingName(a.Joint)
	if a.Stuck() {
		s.say("The %s cannot move as set: min, %s; max, %s.", joint, a.From.words(r.mustWork() > 1), a.To.words(r.mustWork() > 1))
		return s
	}
	s.line(Join(" ", Say("Move %s from %s to %s (free %s to %s).", joint, value(a.InUse), value(a.Parked), value(a.From.Value), value(a.To.Value)), a.way(), a.transfer()))
	if a.UsedFloor != nil && a.ParkedFloor != nil {
		s.line(a.floorWords())
		s.full("Floor space of chair and mount: in use %s, parked %s.", a.UsedFloor.size(), a.ParkedFloor.size())
	}
	s.full("Ends of the free range: min, %s; max, %s.", a.From.words(r.mustWork() > 1), a.To.words(r.mustWork() > 1))
	if g := a.LeastClearance; g != nil {
		s.full("Least clearance on the way: %s, %s to %s (%s, at %s).", Length(g.ClearanceMM), settingName(g.Part), g.Space, g.Posture, value(g.At))
	}
	return s
}

// transfer says how far the transfer clearance reaches.
func (a *SwingClear) transfer() Text {
	switch {
	case a.TransferHalfWidthRequiredMM <= 0:
		return Text{}
	case a.TransferHalfWidthMM <= 0:
		return Say("Even parked, it blocks leaving the chair.")
	}
	return Say("Transfer clearance: %s, required %s.", Length(a.TransferHalfWidthMM), Length(a.TransferHalfWidthRequiredMM))
}

// floorWords says through which doorway chair and mount pass, and within which floor
// space they stay.
func (a *SwingClear) floorWords() Text {
	var parts []Text
	if d := a.Doorway; d != nil {
		parts = append(parts, Say("Doorway of %s: %s.", Length(d.ClearMM), fits(d.InUse, d.Parked)))
	}
	if f := a.Space; f != nil {
		parts = append(parts, Say("Floor space of %s: %s.", Lengths{f.WidthMM, f.LengthMM}, fits(f.InUse, f.Parked)))
	}
	return Join(" ", parts...)
}

// size returns the width and the length of a floor.
func (f *Floor) size() Lengths { return Lengths{f.WidthMM, f.LengthMM} }

// fits says in which position something fits.
func fits(inUse, parked bool) string {
	switch {
	case inUse && parked:
		return "fits"
	case inUse:
		return "fits in use, not parked"
	case parked:
		return "fits parked, not in use"
	}
	return "does not fit"
}

// words says what ends a free range, and in which of several postures.
func (e *SwingEnd) words(several bool) string {
	if e.Limit {
		return "limit of the joint"
	}
	words := "the " + settingName(e.Part) + " touches the " + e.Space
	if several {
		words += " (" + e.Posture + ")"
	}
	return words
}

// way says which way the mount may be turned, where not either.
func (a *SwingClear) way() Text {
	switch a.Turn {
	case "outward":
		return Say("Turn it outward only, away from the face.")
	case "one_way":
		return Say("Turn it this way only.")
	case "past_face":
		return Say("On the way it comes within %s of the eyes: guard the face.", Length(a.FaceMM))
	}
	return Text{}
}

// view says what the device hides of the view ahead of a person who drives, and which
// moves of the screen would hide less.
func (r *Report) view() Section {
	s := Section{ID: SectionView, Title: "View ahead", Brief: true}
	s.line(r.perPosture(func(p *Posture) Text {
		if p.Ahead == nil {
			return Text{}
		}
		return Say("%s; it covers %s of the forward field.", p.Ahead.Both.words(), Share(p.Ahead.Share))
	})...)
	if len(s.Lines) == 0 {
		return s
	}
	lead := r.lead()
	for _, m := range lead.Ahead.better() {
		s.full("With the screen %s: %s; %s of the field; margin %s instead of %s.", m.What, m.Both.words(), Share(m.Share), Margin(m.MarginMM), Margin(lead.MarginMM))
	}
	s.full("Counted: floor that neither eye sees past the device, up to %s ahead. The mount's tubes hide more.", Far(gaze.LookMM))
	s.full("Forward field: from a level line of sight %s to either side, %s up and %s down (US NRC, NUREG-0700 Rev. 2, guideline 11.1.2-6).",
		Angle(gaze.FieldAside.Degrees()), Angle(gaze.FieldAbove.Degrees()), Angle(gaze.FieldBelow.Degrees()))
	return s
}

// words says which strip of floor is hidden.
func (s *Shadow) words() Text {
	if !s.Hides {
		return Say("The device hides no floor")
	}
	end := Say("%s", Far(s.FarMM))
	if s.Endless {
		end = Say("beyond %s", Far(gaze.LookMM))
	}
	return Say("The device hides floor from %s to %s ahead of the eyes, from %s to %s of the midline, %s",
		Far(s.NearMM), end, Way{s.LeftMM, "", "left", "right"}, Way{s.RightMM, "", "left", "right"}, Area(s.AreaM2))
}

// better returns the moves that leave less of the floor hidden.
func (a *Ahead) better() []Move {
	const less = 0.95 // of the area: what a person may notice
	var moves []Move
	for _, m := range a.Moves {
		if m.Both.AreaM2 < less*a.Both.AreaM2 {
			moves = append(moves, m)
		}
	}
	return moves
}

// targets says how large targets must be, and how many the display holds.
func (r *Report) targets() Section {
	s := Section{ID: SectionTargets, Title: "Targets", Brief: true}
	s.line(r.perPosture((*Posture).targetWords)...)
	lead := r.lead().Targets
	if g := r.Grid; g != nil && lead.Cell != nil {
		fit := "fits"
		if names := r.posturesWith(func(p *Posture) bool { return !p.Targets.GridFits }); names != "" {
			fit = "too small in " + names
		}
		s.say("Requested: %s, %s apart, targets of %s: %s.", grid(g.Rows, g.Columns), Length(g.GapMM), lead.Cell.quantity(), fit)
	}
	for _, t := range r.perPosture(func(p *Posture) Text {
		return Say("1° covers %s in the middle of the display.", p.Targets.Spots[0].Degree.quantity())
	}) {
		s.full("%s", t)
	}
	return s
}

func (p *Posture) targetWords() Text {
	t := p.Targets
	switch t.Sizing {
	case "edge_on":
		return Say("None can be selected: the screen is seen edge-on.")
	case "no_error":
		return Say("Size unknown: the case gives no accuracy and precision of the tracker.")
	}
	return Say("Smallest %s (hardest: %s); %s fit.", t.Smallest.quantity(), placeWords(t.Worst), grid(t.Rows, t.Columns))
}

func (s *Size) quantity() Lengths { return Lengths{s.AcrossMM, s.UpMM} }

// grid returns rows and columns in words.
func grid(rows, columns int) string {
	return fmt.Sprintf("%s x %s", count(rows, "row"), count(columns, "column"))
}

// count returns a number with the word for one thing or several.
func count(n int, word string) string {
	if n != 1 {
		word += "s"
	}
	return fmt.Sprintf("%d %s", n, word)
}

// placeWords returns a place of the display in words.
func placeWords(place string) string {
	if place == "middle" {
		return place
	}
	return strings.Replace(place, "_", "-", 1) + " corner"
}

// glasses says the angles between lenses and tracker.
func (r *Report) glasses() Section {
	s := Section{ID: SectionGlasses, Title: "Glasses", Brief: true}
	s.line(r.perPosture(func(p *Posture) Text {
		var lenses []Text
		for _, l := range p.Lenses {
			state := "no glare"
			if l.Glare {
				state = "glare possible"
			}
			lenses = append(lenses, Say("%s %s, %s", l.Eye, Angle(l.OffDeg), state))
		}
		if lenses == nil {
			return Text{}
		}
		return Say("Lens to tracker direction: %s.", Join("; ", lenses...))
	})...)
	return s
}
