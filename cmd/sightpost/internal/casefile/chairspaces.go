package casefile

import (
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
	"sightpost/mount/space"
)

// armrestAboveSeatMM is how high armrests are above the seat: 760 mm less 485 mm.
//
// Reference: ADA Accessibility Guidelines (ADAAG), 1991, Fig. A3, "Dimensions of
// Adult-Sized Wheelchairs".
const armrestAboveSeatMM = 760 - 485

// Choices of this tool, mm.
const (
	armrestsApartMM                  = 510
	armrestBackMM, armrestFrontMM    = 60, 400
	armrestWidthMM, armrestThickMM   = 60, 40
	joystickLongMM, joystickBroadMM  = 120, 90
	joystickHighMM                   = 140
	trayWidthMM, trayThickMM         = 600, 15
	trayBackMM, trayFrontMM          = 250, 650
	armrestGapMM, trayGapMM, stickMM = 20, 20, 40
)

// chairSpaces returns the spaces that parts of the chair take up: those that the
// case says are there.
func (r *reader) chairSpaces(f *caseForm, seat seatPlace) []kept {
	c := &f.Chair
	var all []kept
	if a := c.Armrests; a != nil && (a.Form != nil || a.Word.Yes) {
		all = append(all, r.armrests(a, seat)...)
	}
	if j := c.Joystick; j != nil {
		all = append(all, r.joystick(j, seat))
	}
	if t := c.Tray; t != nil && (t.Form != nil || t.Word.Yes) {
		all = append(all, r.tray(t, seat))
	}
	return all
}

// onChair returns a space that the seat carries.
func (m *measures) onChair(name string, shape space.Shape, gapMM float64, at spot) kept {
	return kept{at: at, KeepClear: fit.KeepClear{Name: name, By: gaze.Seat, Shape: shape, RequiredMM: gapMM, Assumed: m.open}}
}

// reach returns where a part begins and ends; an end that is assumed lies beyond one
// that is given.
func (m *measures) reach(back, front *length, backMM, frontMM float64) (from, to float64) {
	if front != nil {
		backMM = min(backMM, front.mm())
	}
	from = m.size(back, "back", backMM)
	return from, m.size(front, "front", max(frontMM, from))
}

func (r *reader) armrests(a *armrestsForm, seat seatPlace) []kept {
	given, at := a.Form, a.Word.At
	if given == nil {
		given = &armrestSizesForm{}
	} else {
		at = given.At
	}
	m := measures{part: 1}
	top := m.follows(given.Top, "top", seat.heightMM+armrestAboveSeatMM)
	apart := m.size(given.Spacing, "spacing", armrestsApartMM)
	back, front := m.reach(given.Back, given.Front, armrestBackMM, armrestFrontMM)
	width, thick := m.size(given.Width, "width", armrestWidthMM), m.size(given.Thickness, "thickness", armrestThickMM)
	gap := m.gap(given.Clearance, "clearance", armrestGapMM)
	m.tell(r, "chair.armrests", "spaces of the armrests", "275 mm above the seat as in "+source("adaag"))
	var both []kept
	for _, side := range []struct {
		name string
		y    float64
	}{{"left armrest", apart / 2}, {"right armrest", -apart / 2}} {
		box := boxBetween(frame.Identity(),
			r3.Vec{X: back, Y: side.y - width/2, Z: top - thick}, r3.Vec{X: front, Y: side.y + width/2, Z: top})
		both = append(both, m.onChair(side.name, seat.onSeat(box), gap, at))
	}
	return both
}

func (r *reader) joystick(j *joystickForm, seat seatPlace) kept {
	given, at := j.Form, j.Word.At
	if given == nil {
		given = &joystickSizeForm{Side: j.Word}
	} else {
		at = given.here.At
	}
	m := measures{part: 1}
	size := r3.Vec{X: joystickLongMM, Y: joystickBroadMM, Z: joystickHighMM}
	if s := given.Size; s != nil {
		size = r3.Vec{X: s.Forward.mm(), Y: s.Left.mm(), Z: s.Up.mm()}
	} else {
		m.open = true
		m.chosen = append(m.chosen, "size "+inWordsOf(size))
	}
	middle := r3.Vec{X: armrestFrontMM, Y: armrestsApartMM / 2, Z: seat.heightMM + armrestAboveSeatMM + joystickHighMM/2}
	if given.Side.Word == "right" {
		middle.Y = -middle.Y
	}
	if given.At != nil {
		middle = given.At.vec()
	} else {
		m.open = true
		m.chosen = append(m.chosen, "middle at "+inWordsOf(middle))
	}
	gap := m.gap(given.Clearance, "clearance", stickMM)
	m.tell(r, "chair.joystick", "space of the joystick", unsourced)
	half := r3.Scale(0.5, size)
	return m.onChair("joystick", seat.onSeat(boxBetween(frame.Identity(), r3.Sub(middle, half), r3.Add(middle, half))), gap, at)
}

func (r *reader) tray(t *trayForm, seat seatPlace) kept {
	given, at := t.Form, t.Word.At
	if given == nil {
		given = &traySizeForm{}
	} else {
		at = given.At
	}
	m := measures{part: 1}
	top := m.follows(given.Top, "top", seat.heightMM+armrestAboveSeatMM+trayThickMM)
	width := m.size(given.Width, "width", trayWidthMM)
	back, front := m.reach(given.Back, given.Front, trayBackMM, trayFrontMM)
	thick := m.size(given.Thickness, "thickness", trayThickMM)
	gap := m.gap(given.Clearance, "clearance", trayGapMM)
	m.tell(r, "chair.tray", "space of the tray", "on armrests 275 mm above the seat as in "+source("adaag"))
	box := boxBetween(frame.Identity(), r3.Vec{X: back, Y: -width / 2, Z: top - thick}, r3.Vec{X: front, Y: width / 2, Z: top})
	return m.onChair("tray", seat.onSeat(box), gap, at)
}

// inWordsOf writes a place or size in chair axes.
func inWordsOf(v r3.Vec) string {
	return FormatLength(v.X) + " forward, " + FormatLength(v.Y) + " left, " + FormatLength(v.Z) + " up"
}
