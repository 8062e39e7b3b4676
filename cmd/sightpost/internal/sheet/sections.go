package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/gaze"
	"sightpost/mount"
)

// facts words what must be known before the first setting.
func (w *writer) facts() []Fact {
	p := w.leading()
	facts := []Fact{{"Margin", w.doc.Summary.In(w.Units)}}
	if m := w.Report.Mount; m != nil {
		load := fmt.Sprintf("carries %.2f kg at its plate", m.LoadKG)
		if m.RatedKG > 0 {
			load += fmt.Sprintf(", of %.2f kg at most", m.RatedKG)
		}
		facts = append(facts, Fact{"Kit", m.Kit + " (" + load + ")"}, Fact{"Clamp", w.clampPlace()})
	}
	sitting := fmt.Sprintf("sitting “%s”: seat tilted back %s, back angle %s", p.Name, degrees(p.SeatTiltDeg), degrees(p.BackAngleDeg))
	if p.SlumpMM != 0 {
		sitting += ", slid down " + w.length(p.SlumpMM)
	}
	untilted := ""
	if p.SeatTiltDeg != 0 {
		untilted = " in the untilted chair"
	}
	name := "Set it"
	if !w.Report.Works {
		name = "Shown"
	}
	return append(facts, Fact{name, sitting + ". Heights are from the floor, forward from where seat and back meet" + untilted + ", left and right the person's."})
}

// clampPlace words where the clamp goes.
func (w *writer) clampPlace() string {
	set := w.Result.Set
	m := w.Job.Mount.Mountings[set.Mounting]
	carrier := w.carrier()
	at := carrier.Apply(m.ClampMM)
	by := "on what tilts with the seat"
	if w.Job.Scene.Carrier == gaze.Base {
		by = "on what does not tilt with the seat"
	}
	moved := ""
	if m.SlideLowMM != m.SlideHighMM {
		moved = ", with “along” at 0,"
	}
	words := fmt.Sprintf("on the person's %s, %s; its middle%s %s above the floor, %s, %s",
		w.Report.Mount.Side, by, moved, w.length(at.Z), w.along(at.X, "at the junction of seat and back", "forward", "back"),
		w.along(at.Y, "on the midline", "left of the midline", "right of the midline"))
	axes := mount.AxesOf(carrier.Rot.Mul(m.Axes.Rotation()))
	parts := []string{
		words,
		turned(axes.Turned.Degrees(), "", "turned left", "turned right"),
		turned(axes.LeanedBack.Degrees(), "", "leaned back", "leaned forward"),
		turned(axes.LeanedLeft.Degrees(), "", "leaned left", "leaned right"),
	}
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), ", ")
}

// checks lists what to measure once all is set, from the clamp outward; nothing where
// there is nothing to set.
func (w *writer) checks() Section {
	s := Section{Title: "CHECK ONCE ALL IS SET", Remark: "heights are above the floor"}
	if w.Report.Mount != nil {
		s.Remark = "device hung on; heights are above the floor"
	}
	if !w.Report.Works && w.Report.Kind == document.Solve {
		return s
	}
	add := func(what, value string) { s.Rows = append(s.Rows, Row{What: what, Value: value, Blank: true}) }
	arms := w.arms()
	for i, at := range w.Report.Tape.Places {
		if i == len(w.Report.Tape.Places)-housingEdges {
			s.Rows = append(s.Rows, arms...)
		}
		add(at.What, w.length(at.At.UpMM))
	}
	if w.Result.Set != nil {
		p := w.leading()
		s.Rows = append(s.Rows,
			Row{What: "middle of the display area, above the floor", Value: w.length(p.Screen.Middle.UpMM), Blank: true, Spare: true},
			Row{What: "middle of the display area, along the chair", Value: w.along(p.Screen.Middle.ForwardMM, "0", "forward", "back"), Blank: true, Spare: true},
			Row{What: "middle of the display area, off the midline", Value: w.along(p.Screen.Middle.LeftMM, "on it", "left", "right"), Blank: true})
		s.Rows = append(s.Rows,
			Row{What: "lean of the face, inclinometer on the glass", Value: turned(p.Stand.TiltDeg, "upright", "back", "forward"), Blank: true, Spare: w.told("tilt")},
			Row{What: "slope of the top edge, for the viewer", Value: turned(p.Stand.RollDeg, "level", "right end up", "right end down"), Blank: true, Spare: w.told("roll")})
		add("turn of the face, seen from above", turned(p.Stand.RotationDeg, "straight back", "left", "right"))
	}
	add("eyes (midway) to middle of the display area", w.length(w.Report.Tape.EyesToScreenMM))
	return s
}

// told reports whether what an inclinometer on the screen reads in the end is told
// where a setting, a tilt or a roll, is.
func (w *writer) told(setting string) bool {
	for _, part := range w.Job.Mount.Kit.Parts {
		p, ok := part.(mount.Turns)
		if ok && (setting == "tilt" && p.Tilt != (mount.Range{}) && p.Tilt.Read == "" || setting == "roll" && p.Roll != (mount.Range{}) && p.Roll.Read == "") {
			return true
		}
	}
	return false
}

// housingEdges is how many places by tape are on the housing: the last ones.
const housingEdges = 2

// arms lists how the tubes that run ahead stand.
func (w *writer) arms() []Row {
	var rows []Row
	for _, a := range w.Report.Tape.Arms {
		row := Row{What: plainName(a.Part) + " from above, and its rise", Value: turned(a.LeftDeg, "ahead", "left", "right"), Blank: true}
		if math.Abs(a.UpDeg) > 89 {
			row.Value = "upright"
		} else {
			row.Value += ", " + turned(a.UpDeg, "level", "up", "down")
		}
		rows = append(rows, row)
	}
	return rows
}

// room lists the postures covered and the room in each.
func (w *writer) room() Section {
	s := Section{Title: "POSTURES COVERED", Remark: "room to move beyond usual movement"}
	first := "first to give out"
	if !w.Report.Works {
		s.Title, s.Remark, first = "POSTURES", "room to move, for the eyes alone", "limiting"
	}
	for i := range w.Report.Postures {
		p := &w.Report.Postures[i]
		need := "if it can"
		if p.MustWork {
			need = "must work"
		}
		sitting := fmt.Sprintf("%s; seat %s, back %s", need, degrees(p.SeatTiltDeg), degrees(p.BackAngleDeg))
		if p.SlumpMM != 0 {
			sitting += ", slid " + w.length(p.SlumpMM)
		}
		reach := "whole screen in reach"
		if p.ShareInRange < 1 {
			reach = fmt.Sprintf("%.0f %% of the screen in reach", math.Floor(100*p.ShareInRange))
		}
		row := Row{What: p.Name, Value: w.fine(p.MarginMM)}
		if p.MarginMM < 0 {
			row.Value = "lacks about " + w.length(-p.MarginMM)
		}
		row.Detail = fmt.Sprintf("%s; %s: %s; %s", sitting, first, p.Tightest, reach)
		s.Rows = append(s.Rows, row)
	}
	return s
}

// inTheChair lists what only shows with the person in the chair.
func (w *writer) inTheChair() Section {
	if !w.Report.Works {
		return Section{}
	}
	tracked := "Both eyes tracked and every corner selected, in every posture."
	if w.Job.Scene.Person.Eyes != gaze.Both {
		tracked = "The eye in use tracked and every corner selected, in every posture."
	}
	return Section{Title: "CHECK WITH THE PERSON IN THE CHAIR", Ticks: true, Lines: []string{
		tracked,
		"Nothing touched on tilting, driving, reaching and swinging aside; no strain.",
	}}
}

// gaps lists the spaces to keep clear: all that were given, and of the assumed ones
// those that are near.
func (w *writer) gaps() Section {
	s := Section{Title: "KEEP CLEAR", Remark: "least gap over the postures"}
	for i, g := range document.NearestFirst(w.Report.Clearances) {
		assumed := ""
		if g.Assumed {
			assumed = ", place assumed"
		}
		row := Row{
			What:  fmt.Sprintf("%s to the %s (wanted %s%s)", g.Space, strings.ReplaceAll(g.Part, "_", " "), w.length(g.RequiredMM), assumed),
			Value: w.fine(g.ClearanceMM),
		}
		const unlimited = 100 // more than anybody would miss by
		if i > 0 && g.Assumed && g.ClearanceMM > g.RequiredMM+unlimited {
			continue
		}
		if g.TooClose {
			row.Detail = "TOO CLOSE, " + g.Posture
		}
		s.Rows = append(s.Rows, row)
	}
	return s
}

// again says what to measure again and when.
func (w *writer) again() Section {
	if !w.Report.Works {
		return Section{}
	}
	p := w.leading()
	up, forward := (p.LeftEye.UpMM+p.RightEye.UpMM)/2, (p.LeftEye.ForwardMM+p.RightEye.ForwardMM)/2
	eyes := fmt.Sprintf("At every assessment, and when cushion, seat, headrest, device or health change: the eyes, now %s high and %s; tilt, turn and movement of the head.",
		w.length(up), w.along(forward, "level", "forward", "back"))
	if spare := w.Report.MarginMM - w.Job.Preferences.MarginMM; spare > 0 {
		eyes += fmt.Sprintf(" When the eyes rest more than %s from there, or the head is held differently, solve again.", w.fine(spare))
	}
	return Section{Title: "MEASURE AGAIN", Lines: []string{
		eyes,
		"After transport, a knock, or when selecting gets harder: every number on this sheet.",
	}, Short: fmt.Sprintf("The eyes, now %s high and %s, at every assessment and after any change; all of this sheet after transport or a knock.",
		w.length(up), w.along(forward, "level", "forward", "back"))}
}

// minds lists the warnings of this case.
func (w *writer) minds() Section {
	return Section{Title: "WARNINGS", Lines: w.lines(document.SectionWarnings)}
}

// notes tells what was noted in the case and in the kit.
func (w *writer) notes() Section {
	s := Section{Title: "NOTED", Spare: true}
	if w.Report.Note != "" {
		s.Lines = append(s.Lines, "Case: "+w.Report.Note)
	}
	if m := w.Report.Mount; m != nil && m.KitNote != "" {
		s.Lines = append(s.Lines, "Kit: "+m.KitNote)
	}
	return s
}

// assumed lists in short what was not measured.
func (w *writer) assumed() Section {
	var names, values []string
	body := false
	for _, a := range w.Report.Assumptions {
		switch {
		case strings.HasPrefix(a.Key, "preferences."), strings.HasPrefix(a.Key, "passage."): // of the tool's, not of the person's
		case strings.HasPrefix(a.Key, "body."):
			body = true
		default:
			name := strings.NewReplacer(".", " ", "_", " ").Replace(a.Key)
			names, values = append(names, name), append(values, name+": "+w.Units.Value(a.Value))
		}
	}
	if body {
		const spaces = "the person's size, for what is kept clear of"
		names, values = append(names, spaces), append(values, spaces+": published means")
	}
	s := Section{Title: "ASSUMED, NOT MEASURED", Remark: "see the results"}
	if len(values) > 0 {
		s.Lines = []string{strings.Join(values, "; ") + "."}
		s.Short = strings.Join(names, ", ") + "."
	}
	return s
}

// cautions lists what to mind in every case.
func (w *writer) cautions() Section {
	return Section{Title: "SAFETY", Lines: w.Report.Cautions, Wide: true}
}
