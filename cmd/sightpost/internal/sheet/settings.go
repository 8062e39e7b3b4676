package sheet

import (
	"sightpost/cmd/sightpost/internal/document"
)

// settings fills in the settings of the mount, from the clamp outward.
func (w *writer) settings(c *Content) error {
	m := w.Report.Mount
	for i := range m.Settings {
		s := &m.Settings[i]
		set := Setting{Number: i + 1, Name: plainName(s.Name), How: s.Read.In(w.Units)}
		set.Value, set.Also = w.value(s, s.Value)
		if c.Works && s.Tolerance.None.Empty() {
			w.tolerance(&set, s)
			c.Toleranced = true
		}
		c.Settings = append(c.Settings, set)
	}
	c.Heading, c.Caption = "SET IN THIS ORDER", w.caption()
	switch {
	case c.Works:
	case w.Report.Kind == document.Check:
		c.Heading = "AS IT IS SET"
	default:
		c.Heading = "BEST THAT WAS FOUND"
	}
	c.Note = "how to read it (scales: from their zero mark; “in the end”: once all is set)"
	return nil
}

// tolerance fills in the tolerance of a setting.
func (w *writer) tolerance(set *Setting, s *document.Setting) {
	low, high := s.Tolerance.From.Value, s.Tolerance.To.Value
	from, _ := w.value(s, low)
	to, _ := w.value(s, high)
	set.Off = "−" + bare(w.apart(s, low)) + " / +" + w.apart(s, high)
	set.Within = bare(from) + " to " + to
	if w.Units == document.Inch && s.Unit == "mm" {
		set.Within += ", " + w.Units.End(s, low) + " to " + w.Units.End(s, high)
	}
}

// place words where the screen goes as if it were settings, for a case without a
// mount.
func (w *writer) place() []Setting {
	p := w.leading()
	all := []Setting{
		{Name: "height of the middle", Value: w.length(p.Screen.Middle.UpMM), How: "Tape: from the floor up to the middle of the display area."},
		{Name: "along the chair", Value: w.along(p.Screen.Middle.ForwardMM, "0", "forward", "back"), How: "Tape held level: from above the junction of seat and back support (chair untilted) to the middle of the display area."},
		{Name: "to the side", Value: w.along(p.Screen.Middle.LeftMM, "on the midline", "left", "right"), How: "Tape: from the midline of the chair to the middle of the display area; left and right are the person's."},
	}
	all = append(all, w.facing()...)
	for i := range all {
		all[i].Number = i + 1
	}
	return all
}

// facing words how the face of the screen stands.
func (w *writer) facing() []Setting {
	s := w.leading().Stand
	return []Setting{
		{Name: "lean of the face", Value: turned(s.TiltDeg, "upright", "back", "forward"), How: "Inclinometer on the glass, off the vertical; back: the top edge is farther from the person than the bottom edge."},
		{Name: "slope of the top edge", Value: turned(s.RollDeg, "level", "right end up", "right end down"), How: "Inclinometer along the top edge; right is the viewer's."},
		{Name: "turn of the face", Value: turned(s.RotationDeg, "straight back", "left", "right"), How: "Seen from above, off facing straight back along the chair, toward the person's left or right."},
	}
}

// verdict says in large words how the case stands.
func (w *writer) verdict() string {
	switch {
	case w.Report.Kind == document.Check && !w.Report.Works:
		return "DOES NOT WORK as it is set: do not leave it like this"
	case !w.Report.Works:
		return "DO NOT SET THIS: it does not work"
	case w.Report.Kind == document.Check:
		return "Works as it is set"
	}
	return "Works as below"
}

// caption says what the values are.
func (w *writer) caption() string {
	switch {
	case w.Report.Works:
		return "set to"
	case w.Report.Kind == document.Check:
		return "stands at"
	}
	return "NOT to be set"
}
