package document

import (
	"slices"
	"strings"

	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// SwingClear is how the mount swings clear about one joint, all others as set.
type SwingClear struct {
	// Name of the setting that swings it.
	Joint string `json:"joint"`
	// Unit of its values.
	Unit string `json:"unit" jsonschema:"enum=mm,enum=deg"`
	// Where it is set in use.
	InUse float64 `json:"in_use"`
	// Where it is parked.
	Parked float64 `json:"parked"`
	// Transfer clearance to either side of the midline with the mount parked; not
	// computed beyond what is required.
	TransferHalfWidthMM float64 `json:"transfer_half_width_mm"`
	// The transfer clearance required; 0 in a bed.
	TransferHalfWidthRequiredMM float64 `json:"transfer_half_width_required_mm"`
	// Lower end of the free range: nothing is touched down to here.
	From SwingEnd `json:"from"`
	// Upper end of the free range.
	To SwingEnd `json:"to"`
	// Which ways it may be turned from where it is in use: "either", "outward" (the only way
	// clear of the face), "one_way" (the only free one), "past_face", or "none".
	Turn string `json:"turn" jsonschema:"enum=either,enum=outward,enum=one_way,enum=past_face,enum=none"`
	// How near to the eyes it comes on the way from in use to its parked position.
	FaceMM float64 `json:"face_mm"`
	// Least clearance on the way to the parked position; absent when there is nothing to
	// keep clear of.
	LeastClearance *SwingGap `json:"least_clearance,omitempty"`
	// The floor that chair and mount take up together in use; absent
	// when the size of the chair is not known.
	UsedFloor *Floor `json:"floor_in_use,omitempty"`
	// The same with the mount parked.
	ParkedFloor *Floor `json:"floor_parked,omitempty"`
	// The narrowest doorway; absent when none is asked for.
	Doorway *Doorway `json:"doorway,omitempty"`
	// The clear floor space that is available; absent when none is asked for.
	Space *FloorSpace `json:"floor_space,omitempty"`
	// What does not fit, or that nothing is gained.
	Problems []Finding `json:"problems"`

	dial dial
}

// SwingEnd is one end of a free range.
type SwingEnd struct {
	// The last value without contact.
	Value float64 `json:"value"`
	// True when the joint ends there; otherwise the part touches the zone.
	Limit bool `json:"limit"`
	// The part that touches; absent at a limit.
	Part string `json:"part,omitempty"`
	// What it touches; absent at a limit.
	Zone string `json:"zone,omitempty"`
	// Name of the posture in which it does; absent at a limit.
	Posture string `json:"posture,omitempty"`
}

// SwingGap is the least clearance on the way to the parked position.
type SwingGap struct {
	// The clearance.
	ClearanceMM float64 `json:"clearance_mm"`
	// The value at which it is least.
	At float64 `json:"at"`
	// The part that comes near.
	Part string `json:"part"`
	// What it comes near to.
	Zone string `json:"zone"`
	// Name of the posture in which the clearance is least.
	Posture string `json:"posture"`
}

// Floor is the floor that chair and mount take up together, seen from
// above along the chair's axes.
type Floor struct {
	// Behind the junction of seat and back support.
	BehindMM float64 `json:"behind_mm"`
	// Ahead of it.
	AheadMM float64 `json:"ahead_mm"`
	// To the left of the midline.
	LeftMM float64 `json:"left_mm"`
	// To the right of the midline.
	RightMM float64 `json:"right_mm"`
	// From left to right.
	WidthMM float64 `json:"width_mm"`
	// From behind to ahead.
	LengthMM float64 `json:"length_mm"`
}

// Doorway is whether chair and mount pass through a doorway.
type Doorway struct {
	// The clear width.
	ClearMM float64 `json:"clear_mm"`
	// True when they pass with the mount in use.
	InUse bool `json:"passes_in_use"`
	// True when they pass with the mount parked.
	Parked bool `json:"passes_parked"`
}

// FloorSpace is whether chair and mount fit within a clear floor space.
type FloorSpace struct {
	// Its width, across the chair.
	WidthMM float64 `json:"width_mm"`
	// Its length, along the chair.
	LengthMM float64 `json:"length_mm"`
	// True when they fit with the mount in use.
	InUse bool `json:"fits_in_use"`
	// True when they fit with the mount parked.
	Parked bool `json:"fits_parked"`
}

// newSwingClear returns how the mount of r swings clear; nil when it does not.
func newSwingClear(r *fit.Result) *SwingClear {
	job := r.Job
	if r.SwingClear == nil || r.Set == nil {
		return nil
	}
	from := r.SwingClear
	joint := dialsOf(r)[from.Joint]
	end := func(e fit.SwingEnd) SwingEnd {
		end := SwingEnd{Value: inUnit(joint.Joint, e.At), Limit: e.Limit, Part: e.Part, Zone: e.Zone}
		if !e.Limit {
			end.Posture = r.Postures[e.Posture].Posture.Name
		}
		return end
	}
	to := &SwingClear{
		Joint: from.Name, Unit: unitOf(joint.Joint), InUse: inUnit(joint.Joint, from.InUse), Parked: inUnit(joint.Joint, from.Parked), dial: joint,
		TransferHalfWidthMM: plain(from.TransferHalfWidthMM), TransferHalfWidthRequiredMM: plain(from.TransferHalfWidthRequiredMM),
		From: end(from.Low), To: end(from.High),
		Turn: [...]string{"either", "outward", "one_way", "past_face", "none"}[from.Turn], FaceMM: plain(from.FaceMM),
	}
	if w := from.Way; w.Zone != "" {
		to.LeastClearance = &SwingGap{
			ClearanceMM: plain(w.MM), At: inUnit(joint.Joint, w.At), Part: w.Part, Zone: w.Zone, Posture: job.Postures[w.Posture].Name,
		}
	}
	if job.Passage.WidthMM > 0 {
		to.passage(&job.Passage, from)
	}
	to.Problems = to.problems(from, &job.Passage)
	return to
}

// Stuck reports whether the mount cannot be swung at all as it is set.
func (a *SwingClear) Stuck() bool {
	return a.From.Value == a.To.Value && !a.From.Limit && !a.To.Limit
}

// passage fills in the floor that chair and mount take up, and through what they
// pass.
func (a *SwingClear) passage(p *fit.Passage, from *fit.SwingClear) {
	a.UsedFloor, a.ParkedFloor = new(newFloor(from.Used)), new(newFloor(from.ParkedExtent))
	if p.DoorMM > 0 {
		a.Doorway = &Doorway{ClearMM: p.DoorMM, InUse: p.Passes(from.Used), Parked: p.Passes(from.ParkedExtent)}
	}
	if p.FloorWidthMM > 0 && p.FloorLengthMM > 0 {
		a.Space = &FloorSpace{WidthMM: p.FloorWidthMM, LengthMM: p.FloorLengthMM, InUse: p.Fits(from.Used), Parked: p.Fits(from.ParkedExtent)}
	}
}

func newFloor(e fit.Extent) Floor {
	return Floor{
		BehindMM: plain(e.BehindMM), AheadMM: plain(e.AheadMM), LeftMM: plain(e.LeftMM), RightMM: plain(e.RightMM),
		WidthMM: plain(e.WidthMM()), LengthMM: plain(e.LengthMM()),
	}
}

// tapeMM is the finest length that a tape shows.
const tapeMM = 1.0

// problems returns what a mount that swings clear does not do.
func (a *SwingClear) problems(from *fit.SwingClear, p *fit.Passage) []Finding {
	out := []Finding{}
	say := func(kind, format string, args ...any) { out = append(out, found(kind, format, args...)) }
	if misses := misses(from, p); misses != nil {
		used, parked := newFloor(from.Used).size(), newFloor(from.ParkedExtent).size()
		who, alone := Say("In use, chair and mount take up %s (parked %s)", used, parked), fit.Extent{BehindMM: p.BehindMM, AheadMM: p.AheadMM, RightMM: p.WidthMM}
		if !p.Passes(alone) || !p.Fits(alone) {
			who = Say("The chair alone takes up %s (with the mount %s, parked %s)", newFloor(alone).size(), used, parked)
		}
		say("passage", "%s: too large for %s.", who, Join(" and ", misses...))
	}
	for _, problem := range from.Problems {
		switch problem {
		case fit.CannotSwing:
			say("cannot_swing", "The %s cannot move: %s.", settingName(a.Joint), a.From.words(false))
		case fit.StaysInTransfer:
			say("stays_in_transfer", "Even parked, the mount blocks leaving the chair%s.", a.contacts())
		case fit.TransferNarrow:
			least, required := Length(a.TransferHalfWidthMM), Length(a.TransferHalfWidthRequiredMM)
			say("transfer_narrow", "Parked (%s %s), the mount leaves a transfer clearance of %s, required %s (half an adult's breadth)%s.",
				settingName(a.Joint), a.dial.reading(from.Parked), beside{true, least, required}, required, a.contacts())
		case fit.DoorInUse, fit.DoorParked, fit.FloorInUse, fit.FloorParked: // in misses
		}
	}
	return out
}

// misses names what chair and mount are too large for in use, and whether not parked.
func misses(from *fit.SwingClear, p *fit.Passage) []Text {
	var all []Text
	miss := func(inUse, parked fit.SwingProblem, what Text) {
		switch {
		case !slices.Contains(from.Problems, inUse):
		case slices.Contains(from.Problems, parked):
			all = append(all, what)
		default:
			all = append(all, Say("%s (unless parked)", what))
		}
	}
	size := Text{} // of the clear floor space, as far as it is known
	if p.FloorWidthMM > 0 && p.FloorLengthMM > 0 {
		size = Say(" of %s", Lengths{p.FloorWidthMM, p.FloorLengthMM})
	}
	miss(fit.DoorInUse, fit.DoorParked, Say("the doorway of %s", Length(p.DoorMM)))
	miss(fit.FloorInUse, fit.FloorParked, Say("the clear floor space%s", size))
	return all
}

// contacts says where the swing is stopped by contact; nothing where it is not.
func (a *SwingClear) contacts() Text {
	ends := Join(" and ", each([]SwingEnd{a.From, a.To}, func(e SwingEnd) Text {
		if e.Limit {
			return Text{}
		}
		return Say("%s (%s)", a.dial.nearest(fromUnit(a.dial.Joint, e.Value)), e.words(false))
	})...)
	if ends.Empty() {
		return ends
	}
	return Say("; it swings no further than %s", ends)
}

// value returns a value of the joint that swings in words.
func (a *SwingClear) value(v float64) Quantity { return a.dial.amount(fromUnit(a.dial.Joint, v)) }

// parkedAt says where the mount is parked; nothing where it cannot be. a may be nil.
func (a *SwingClear) parkedAt() Text {
	if a == nil || a.Stuck() {
		return Text{}
	}
	return Say("%s %s", settingName(a.Joint), a.value(a.Parked))
}

// Parked returns where the mount of r is parked as one end of a difference; none where it
// cannot be.
func Parked(r *fit.Result) []Difference {
	a := newSwingClear(r)
	if a.parkedAt().Empty() {
		return nil
	}
	return []Difference{{Key: a.Joint + ".parked", What: settingName(a.Joint) + ", parked", Unit: a.Unit, After: &a.Parked, Signs: [2]Sign{1: a.dial.printed()}}}
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
	joint, value := settingName(a.Joint), a.value
	ends := Join("; ", each([]SwingEnd{a.From, a.To}, func(e SwingEnd) Text { return Say("%s, %s", value(e.Value), e.words(r.mustWork() > 1)) })...)
	if a.Stuck() {
		s.say("The %s cannot move as set: %s.", joint, strings.Join(slices.Compact([]string{a.From.words(r.mustWork() > 1), a.To.words(r.mustWork() > 1)}), ", "))
		return s
	}
	s.line(Join(" ", Say("Move %s from %s to %s.", joint, value(a.InUse), value(a.Parked)), a.way(), a.transfer()))
	s.line(a.floorWords())
	if a.UsedFloor != nil && !a.warns("passage") {
		s.full("Floor space of chair and mount: in use %s, parked %s.", a.UsedFloor.size(), a.ParkedFloor.size())
	}
	if a.TransferHalfWidthRequiredMM > 0 {
		s.full("Transfer clearance: to either side of the midline; required is half the breadth across the forearms of seated adults, %s (mean of the means of men and women in the U.S. Army's survey of 2012: Gordon et al., NATICK/TR-15/007, 2014).", Length(a.TransferHalfWidthRequiredMM))
	}
	s.full("Free range: %s.", ends)
	if g := a.LeastClearance; g != nil {
		s.full("Least clearance on the way: %s, %s to %s (%s, at %s).", Length(g.ClearanceMM), settingName(g.Part), g.Zone, g.Posture, value(g.At))
	}
	return s
}

// warns reports whether there is a problem of a kind, which is said among the warnings and
// not again.
func (a *SwingClear) warns(kind string) bool {
	return slices.ContainsFunc(a.Problems, func(f Finding) bool { return f.Kind == kind })
}

// transfer says how far the transfer clearance reaches.
func (a *SwingClear) transfer() Text {
	if a.TransferHalfWidthRequiredMM <= 0 || a.warns("transfer_narrow") || a.warns("stays_in_transfer") {
		return Text{}
	}
	return Say("Transfer clearance: %s, required %s.", Length(a.TransferHalfWidthMM), Length(a.TransferHalfWidthRequiredMM))
}

// floorWords says through which doorway chair and mount pass, and within which floor
// space they stay.
func (a *SwingClear) floorWords() Text {
	parked := map[bool][]Text{}
	if d := a.Doorway; d != nil && d.InUse {
		parked[d.Parked] = append(parked[d.Parked], Say("doorway of %s", Length(d.ClearMM)))
	}
	if f := a.Space; f != nil && f.InUse {
		parked[f.Parked] = append(parked[f.Parked], Say("floor space of %s", Lengths{f.WidthMM, f.LengthMM}))
	}
	fits := func(format string, what []Text) Text {
		if what == nil {
			return Text{}
		}
		return Say(format, Join(", ", what...))
	}
	return Join(" ", fits("Fits: %s.", parked[true]), fits("Fits in use but not parked: %s.", parked[false]))
}

// size returns the width and the length of a floor.
func (f Floor) size() Lengths { return Lengths{f.WidthMM, f.LengthMM} }

// words says what ends a free range, and in which of several postures.
func (e *SwingEnd) words(several bool) string {
	if e.Limit {
		return "limit of the joint"
	}
	words := "the " + settingName(e.Part) + " touches the " + e.Zone
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

// SwingWords returns what words a value of the setting about which the mount of r swings clear.
func SwingWords(r *fit.Result, u units.Units) func(v float64) string {
	d := dialsOf(r)[r.SwingClear.Joint]
	return func(v float64) string { return d.amount(v).In(u) }
}
