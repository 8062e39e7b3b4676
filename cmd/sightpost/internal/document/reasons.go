package document

import (
	"math"
	"strings"

	"sightpost/mount"
	"sightpost/mount/fit"
)

// reasons returns why a result does not work.
func reasons(r *fit.Result) []Finding {
	out := []Finding{}
	for i := range r.Reasons {
		out = append(out, newReason(r, &r.Reasons[i]))
	}
	return out
}

// newReason returns a reason as a finding.
func newReason(r *fit.Result, why *fit.Reason) Finding {
	job := r.Job
	f := found(reasonKinds[why.Kind].name, reasonText(r, why))
	f.Part, f.Space = why.Part, why.Zone
	if why.Posture >= 0 && why.Posture < len(job.Postures) {
		f.Posture = job.Postures[why.Posture].Name
	}
	unit, scale := reasonKinds[why.Kind].unit, 1.0
	turns := why.Kind == fit.TooSoft || why.Kind == fit.OutOfRange && why.Variable.Turns()
	if turns {
		unit, scale = "deg", 180/math.Pi
	}
	f.Values = map[string]float64{"is_" + unit: why.Is * scale}
	if why.Kind == fit.OutOfRange {
		f.Values["low_"+unit], f.Values["high_"+unit] = why.Low*scale, why.High*scale
	} else {
		f.Values["limit_"+unit] = why.Limit * scale
	}
	return f
}

// reasonKinds are the kinds of reason as JSON names them, with the unit of their
// numbers. A joint's are in N·m, or N where it slides.
var reasonKinds = map[fit.ReasonKind]struct{ name, unit string }{
	fit.NotTracking:    {"not_tracking", "mm"},
	fit.MarginShort:    {"margin_short", "mm"},
	fit.TooClose:       {"too_close", "mm"},
	fit.FaceTooClose:   {"face_too_close", "mm"},
	fit.OutOfRange:     {"out_of_range", "mm"},
	fit.BelowFloor:     {"below_floor", "mm"},
	fit.TubeYields:     {"tube_yields", "mpa"},
	fit.JointSlips:     {"joint_slips", "nm_or_n"},
	fit.PartOverloaded: {"part_overloaded", "kg"},
	fit.TooSoft:        {"too_soft", "deg"},
	fit.DeviceTooHeavy: {"device_too_heavy", "kg"},
}

// reasonText says what a reason is, and by how much.
func reasonText(r *fit.Result, why *fit.Reason) Text {
	job := r.Job
	posture := ""
	if why.Posture >= 0 && why.Posture < len(job.Postures) {
		posture = job.Postures[why.Posture].Name
	}
	part := settingName(why.Part)
	shock, safety := job.Demand.Factors()
	switch why.Kind {
	case fit.NotTracking:
		return Say("Posture %q does not track: %s, short by about %s.", posture, why.Condition, Length(-why.Is))
	case fit.MarginShort:
		return Say("Posture %q: margin %s, required %s (%s).", posture, Length(why.Is), Length(why.Limit), why.Condition)
	case fit.TooClose:
		if why.Is < 0 {
			return Say("The %s reaches %s into %s (posture %q, required clearance %s).", part, Length(-why.Is), why.Zone, posture, Length(why.Limit))
		}
		return Say("The %s comes within %s of %s (posture %q, required clearance %s).", part, Length(why.Is), why.Zone, posture, Length(why.Limit))
	case fit.FaceTooClose:
		return Say("The housing is %s from the eyes, required %s.", Length(why.Is), Length(why.Limit))
	case fit.OutOfRange:
		return Say("The screen's %s is %s, outside its range of %s to %s (posture %q).", why.Variable,
			aimQuantity(why.Variable, why.Is), aimQuantity(why.Variable, why.Low), aimQuantity(why.Variable, why.High), posture)
	case fit.BelowFloor:
		return Say("The %s reaches %s below the floor (posture %q): %s.", part, Length(-why.Is), posture, floorRemedy(why))
	case fit.TubeYields:
		return Say("The %s tube is too weak (posture %q): %s with shock factor %s and safety factor %s, yield %s.",
			part, posture, Stress(why.Is*shock*safety), trimmed(shock), trimmed(safety), Stress(why.Limit))
	case fit.JointSlips:
		return Say("The %s joint slips (posture %q): it carries %s with shock factor %s and slips at %s.",
			part, posture, loadOn(r, why, why.Is*shock), trimmed(shock), loadOn(r, why, why.Limit))
	case fit.PartOverloaded:
		return Say("The %s carries %s, rated for %s.", part, Mass(why.Is), Mass(why.Limit))
	case fit.TooSoft:
		return Say("The mount is too soft (posture %q): under load the screen turns by %s, more than the %s for which its position can be computed.",
			posture, Angle(why.Is*180/math.Pi), Angle(why.Limit*180/math.Pi))
	default:
		return Say("The device weighs %s, the mount is rated for %s.", Mass(why.Is), Mass(why.Limit))
	}
}

// aimQuantity returns a value of a variable of the aim, in radians or mm.
func aimQuantity(v fit.AimVariable, value float64) Quantity {
	if v.Turns() {
		return Angle(value * 180 / math.Pi)
	}
	return Length(value)
}

// loadOn returns a load on the joint that a reason is about.
func loadOn(r *fit.Result, why *fit.Reason, load float64) Quantity {
	return jointLoad(r.Set.Chain.Joints[r.Load.Joints[why.At].Joint], load)
}

// jointLoad returns a load on a joint: a force on a slide, otherwise a torque.
func jointLoad(j mount.Joint, load float64) Quantity {
	if j.Motion == mount.Slide {
		return Force(load)
	}
	return Torque(load)
}

// floorRemedy says how a part is kept above the floor.
func floorRemedy(why *fit.Reason) Text {
	if len(why.Remedies) == 0 {
		return Say("use a shorter tube")
	}
	s := &why.Remedies[0]
	return Say("set the %s to at least %s", settingName(s.Joint.Name), Length(s.To))
}

// newHelp returns what would each help alone against a failure under load.
func newHelp(why *fit.Reason) Finding {
	f := found("strength", helpText(why))
	f.Part = why.Part
	return f
}

// helpText says the same in words.
func helpText(why *fit.Reason) Text {
	if len(why.Remedies) == 0 {
		return Say("Against %s no single change that was tried is enough: combine a lighter device, a shorter reach and a stronger mount.", failing(why))
	}
	ways := make([]Text, len(why.Remedies))
	for k := range why.Remedies {
		ways[k] = remedyText(&why.Remedies[k])
	}
	return Say("Against %s, any one of these: %s.", failing(why), Join("; ", ways...))
}

// failing names what fails under load.
func failing(why *fit.Reason) Text {
	switch why.Kind {
	case fit.JointSlips:
		return Say("slipping of the %s joint", settingName(why.Part))
	case fit.TubeYields:
		return Say("bending of the %s", settingName(why.Part))
	case fit.PartOverloaded:
		return Say("overload of the %s", settingName(why.Part))
	default:
		return Say("the sag")
	}
}

// remedyText says what one remedy is. Parts are asked for by their maker's rating:
// nobody is told to make one stronger.
func remedyText(m *fit.Remedy) Text {
	switch m.Kind {
	case fit.LighterDevice:
		return Say("a device of at most %s instead of %s", Mass(m.To), Mass(m.From))
	case fit.SlideFurther:
		most, way := "at least", "longer"
		if m.To < m.From {
			most, way = "at most", "shorter"
		}
		if strings.HasSuffix(m.Joint.Name, ".height") {
			way = map[string]string{"longer": "higher", "shorter": "lower"}[way]
		}
		moved := Say("%s %s %s, %s %s than now", settingName(m.Joint.Name), most, Length(m.To), Length(math.Abs(m.To-m.From)), way)
		if m.Works {
			return Say("%s: a full re-setup then works, with a margin of %s", moved, Length(m.MarginMM))
		}
		return Say("%s, which moves the screen off its target", moved)
	case fit.ThickerWall:
		return Say("a tube of the same diameter with a wall of at least %s instead of %s, rated by its maker for this load", Length(m.To), Length(m.From))
	case fit.WiderTube:
		return Say("a tube of at least %s outside diameter instead of %s, rated by its maker for this load", Length(m.To), Length(m.From))
	default:
		return Say("a joint for the %s that its maker rates for at least %s instead of %s", settingName(m.Joint.Name), jointLoad(m.Joint, m.To), jointLoad(m.Joint, m.From))
	}
}

// tapeMM is the finest length that a tape shows.
const tapeMM = 1

// swingProblems returns what a mount that swings clear does not do.
func swingProblems(r *fit.Result) []Finding {
	job := r.Job
	a := r.SwingClear
	joint, name := r.Set.Chain.Moving()[a.Joint], settingName(a.Name)
	size := Text{} // of the clear floor space, as far as it is known
	if p := job.Passage; p.FloorWidthMM > 0 && p.FloorLengthMM > 0 {
		size = Say(" of %s", Lengths{[]float64{p.FloorWidthMM, p.FloorLengthMM}, " x "})
	}
	out := []Finding{}
	say := func(kind, format string, args ...any) { out = append(out, found(kind, Say(format, args...))) }
	door := func(kind, how string, e fit.Extent) {
		say(kind, "With the mount %s, chair and mount are %s wide; the doorway is %s.", how, Length(e.WidthMM()), Length(job.Passage.DoorMM))
	}
	floor := func(kind, how string, e fit.Extent) {
		say(kind, "With the mount %s, chair and mount take up %s, more than the clear floor space%s.", how, Lengths{[]float64{e.WidthMM(), e.LengthMM()}, " x "}, size)
	}
	for _, problem := range a.Problems {
		switch problem {
		case fit.CannotSwing:
			say("cannot_swing", "The %s cannot move: the %s touches %s.", name, settingName(a.Low.Part), a.Low.Space)
		case fit.StaysInTransfer:
			say("stays_in_transfer", "Even parked, the mount blocks leaving the chair%s.", contacts(joint, a))
		case fit.TransferNarrow:
			if shortMM := a.TransferHalfWidthRequiredMM - a.TransferHalfWidthMM; shortMM < tapeMM/2 {
				continue // a tape does not show it
			}
			say("transfer_narrow", "Parked (%s %s), the mount leaves a transfer clearance of %s, required %s%s.",
				name, readingOf(joint, a.Parked), Length(a.TransferHalfWidthMM), Length(a.TransferHalfWidthRequiredMM), contacts(joint, a))
		case fit.DoorInUse:
			door("door_in_use", "in use", a.Used)
		case fit.DoorParked:
			door("door_parked", "parked", a.ParkedExtent)
		case fit.FloorInUse:
			floor("floor_in_use", "in use", a.Used)
		default:
			floor("floor_parked", "parked", a.ParkedExtent)
		}
	}
	return out
}

// contacts says where the swing is stopped by contact.
func contacts(joint mount.Joint, a *fit.SwingClear) Text {
	var all []Text
	for _, end := range [2]fit.SwingEnd{a.Low, a.High} {
		if !end.Limit {
			all = append(all, Say("; at %s the %s touches %s", readingOf(joint, math.Round(end.At/joint.Step)*joint.Step), settingName(end.Part), end.Space))
		}
	}
	return Join("", all...)
}
