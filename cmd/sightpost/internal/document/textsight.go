package document

import (
	"fmt"
	"strings"

	"sightpost/gaze"
)

// ahead says what the device hides of the way ahead from who drives, and which
// moves of the screen would hide less of it in the posture that leads.
func (p *printer) ahead(r *Report) {
	remark := "floor that neither eye sees for the device, as far as " + p.units.far(gaze.LookMM) + "; what the mount's tubes hide comes on top"
	shown := p.perPosture("THE WAY AHEAD", remark, r, func(f *Posture) string {
		if f.Ahead == nil {
			return ""
		}
		return p.shadow(&f.Ahead.Both) + "; the device covers " + fixed(100*f.Ahead.Share, 0) + " % of the forward field"
	})
	if !shown {
		return
	}
	lead := &r.Postures[r.leading]
	for _, m := range lead.Ahead.better() {
		p.wrapped("  - ", fmt.Sprintf("if the screen were %s (%s): %s; %s %% of the field; room %s, now %s", p.inWords(m.What), lead.Name,
			p.shadow(&m.Both), fixed(100*m.Share, 0), p.spare(m.MarginMM), p.spare(lead.MarginMM)))
	}
	p.wrapped("  ", fmt.Sprintf("Forward field: from a level line of sight %.0f° to either side, %.0f° up and %.0f° down "+
		"(US NRC, NUREG-0700 Rev. 2, guideline 11.1.2-6).", gaze.FieldAside.Degrees(), gaze.FieldAbove.Degrees(), gaze.FieldBelow.Degrees()))
}

// spare returns a room, or that there is none: of how much is lacking only the sign
// is right.
func (p *printer) spare(mm float64) string {
	if mm < 0 {
		return "lacking"
	}
	return p.units.fine(mm)
}

// shadow words a strip of floor that is hidden.
func (p *printer) shadow(s *Shadow) string {
	if !s.Hides {
		return "no floor is hidden"
	}
	far, all := "to "+p.units.length(s.FarMM), ""
	if s.Endless {
		far, all = "on", " within "+p.units.far(gaze.LookMM)
	}
	return fmt.Sprintf("hidden from %s %s ahead of the eyes, from %s to %s of the midline, %s%s", p.units.length(s.NearMM), far,
		p.along(s.LeftMM, "left", "right"), p.along(s.RightMM, "left", "right"), p.units.area(s.AreaM2), all)
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

// targets says how large targets must be, and how many the screen holds.
func (p *printer) targets(r *Report) {
	p.perPosture("TARGETS", "the smallest that are told apart all over the used part, and how many fit", r, p.targetsOf)
	lead := r.Postures[r.leading].Targets
	if g := r.Grid; g != nil && lead.Cell != nil {
		p.wrapped("  ", fmt.Sprintf("asked for: %s, %s apart, of %s each: %s",
			grid(g.Rows, g.Columns), p.units.length(g.GapMM), p.units.size(*lead.Cell), p.gridFits(r)))
	}
}

// targetsOf says it of a posture.
func (p *printer) targetsOf(f *Posture) string {
	t := f.Targets
	switch t.Sizing {
	case "edge_on":
		return "none can be selected, the screen is seen edge-on"
	case "no_error":
		return "not known, since the case does not give the tracker's accuracy and precision"
	}
	return fmt.Sprintf("%s, %s; hardest: %s; a degree is %s in the middle",
		p.units.size(t.Smallest), grid(t.Rows, t.Columns), placeWords(t.Worst), p.units.size(t.Spots[0].Degree))
}

// gridFits says in which of the postures the grid that is asked for does not fit.
func (p *printer) gridFits(r *Report) string {
	if names := r.posturesWith(func(f *Posture) bool { return !f.Targets.GridFits }); names != "" {
		return "TOO SMALL (" + names + ")"
	}
	return "fits"
}

// grid returns rows and columns in words.
func grid(rows, columns int) string {
	return fmt.Sprintf("%d %s x %d %s", rows, plural(rows, "row"), columns, plural(columns, "column"))
}

// plural returns a word for n things.
func plural(n int, word string) string {
	if n == 1 {
		return word
	}
	return word + "s"
}

// placeWords returns a place of the screen in words.
func placeWords(place string) string {
	switch place {
	case "top_left":
		return "top-left corner"
	case "top_right":
		return "top-right corner"
	case "bottom_left":
		return "bottom-left corner"
	case "bottom_right":
		return "bottom-right corner"
	}
	return "middle"
}

// glasses says how the lenses stand to the tracker.
func (p *printer) glasses(r *Report) {
	p.perPosture("GLASSES", "angle between each lens's normal and the way to the tracker", r, func(f *Posture) string {
		var lenses []string
		for _, l := range f.Lenses {
			state := "clear of glare"
			if l.Glare {
				state = "GLARE"
			}
			lenses = append(lenses, l.Eye+" lens "+fixed(l.OffDeg, 1)+"°, "+state)
		}
		return strings.Join(lenses, "; ")
	})
}
