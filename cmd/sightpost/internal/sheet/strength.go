package sheet

import "sightpost/cmd/sightpost/internal/document"

// hanging says what weight does, and how the mount swings clear.
func (w *writer) hanging() Section {
	s := Section{Title: "WEIGHT AND PARKED POSITION", Lines: append(w.lines(document.SectionWeight), w.lines(document.SectionParked)...)}
	if len(w.lines(document.SectionParked)) == 0 {
		s.Title = "WEIGHT"
	}
	return s
}
