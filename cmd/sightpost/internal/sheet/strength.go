package sheet

import (
	"fmt"
	"slices"
	"strings"

	"sightpost/cmd/sightpost/internal/document"
)

// hanging says what weight does, and how the mount swings aside.
func (w *writer) hanging() Section {
	s := Section{Title: "WEIGHT AND SWINGING ASIDE"}
	if w.Report.Mount == nil {
		return s
	}
	s.Lines = append(s.Lines, w.sag())
	if l := w.Report.Load; l != nil {
		s.Lines = append(s.Lines, w.grip(l))
	}
	a := w.Report.SwingClear
	stuck := a != nil && a.Stuck()
	switch {
	case !w.Report.Works && !stuck:
		s.Title = "WEIGHT" // as it is, nothing is to be swung
	case a != nil && !stuck && a.UsedFloor != nil && a.ParkedFloor != nil:
		s.Lines = append(s.Lines, w.swing(), w.wide(a))
	default:
		s.Lines = append(s.Lines, w.swing())
	}
	s.Lines = slices.DeleteFunc(s.Lines, func(line string) bool { return line == "" })
	return s
}

// sag says how far the screen sags, and that this is counted: settings that are to be
// set aim higher by that.
func (w *writer) sag() string {
	sag := w.leading().Sag
	drop := "sinks " + w.fine(sag.DropMM)
	if sag.DropMM < 0 {
		drop = "rises " + w.fine(-sag.DropMM)
	}
	if nod := turned(sag.PitchDeg, "", "forward", "back"); nod != "" {
		drop += ", nods " + nod
	}
	if w.Report.Kind == document.Check || !w.Report.Works {
		return "Loaded, the screen " + drop + "; every number here counts it."
	}
	return "Loaded, the screen " + drop + "; these settings allow for it."
}

// grip says which joint slips first, or that the kit does not tell.
func (w *writer) grip(l *document.Load) string {
	acting := func(j *document.JointLoad) string {
		return strings.NewReplacer("N m", "N·m", "(x", "(×").Replace(l.Acting(j))
	}
	if j := l.Weakest(); j != nil {
		if j.Slips() {
			return fmt.Sprintf("Joint %s SLIPS: %s, %s used.", plainName(j.Joint), acting(j), document.Used(*j.Used))
		}
		what := "Tighten " + plainName(j.Joint) + " most"
		if !w.Report.Works {
			what = "Weakest joint, " + plainName(j.Joint)
		}
		return fmt.Sprintf("%s: %s, %s used.", what, acting(j), document.Used(*j.Used))
	}
	if j := l.MostTurned(); j != nil {
		return fmt.Sprintf("The kit does not say what its joints hold: try each by hand, first %s: %s.", plainName(j.Joint), acting(j))
	}
	return ""
}

// swing says how the mount swings aside.
func (w *writer) swing() string {
	a := w.Report.SwingClear
	if a == nil {
		return "No joint swings the screen aside: take the device off for leaving the chair."
	}
	if a.Stuck() {
		return fmt.Sprintf("Aside: %s CANNOT be turned as it is set: %s touches %s.", plainName(a.Joint), plainName(a.From.Part), a.From.Space)
	}
	words := fmt.Sprintf("Aside: turn %s from %s to %s; free from %s to %s",
		plainName(a.Joint), w.at(a.InUse, a.Unit), w.at(a.Rest, a.Unit), w.at(a.From.Value, a.Unit), w.at(a.To.Value, a.Unit))
	if g := a.LeastGap; g != nil {
		words += fmt.Sprintf(", on the way %s from %s", w.length(g.GapMM), g.Space)
	}
	switch {
	case a.TransferHalfWidthRequiredMM <= 0:
	case a.TransferHalfWidthMM <= 0:
		words += "; it stays IN THE WAY out of the chair"
	case a.TransferHalfWidthMM < a.TransferHalfWidthRequiredMM-shownMM:
		words += fmt.Sprintf("; the way out is ONLY %s from the midline free, of %s wanted", w.length(a.TransferHalfWidthMM), w.length(a.TransferHalfWidthRequiredMM))
	}
	return words + "."
}

// shownMM is half of the last digit that a tape shows.
const shownMM = 0.5

// wide says how wide chair and mount are, and through which doorway they pass and
// within which floor space they stand.
func (w *writer) wide(a *document.SwingClear) string {
	words := fmt.Sprintf("Chair and mount: %s wide in use, %s aside", w.length(a.UsedFloor.WidthMM), w.length(a.ParkedFloor.WidthMM))
	if d := a.Doorway; d != nil {
		words += fmt.Sprintf("; doorway of %s: %s", w.length(d.ClearMM), w.Units.AtDoorway(a))
	}
	if f := a.Space; f != nil {
		words += fmt.Sprintf("; floor of %s by %s: %s", w.length(f.WidthMM), w.length(f.LengthMM), w.Units.OnSpace(a))
	}
	return words + "."
}

// at returns a value of a setting to a whole mm or a tenth of a degree.
func (w *writer) at(v float64, unit string) string {
	if unit == "mm" {
		return w.length(v)
	}
	return signed(fmt.Sprintf("%.1f°", v))
}
