package document

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
)

// mounting lists the settings in the order of work.
func (p *printer) mounting(m *Mount) {
	if m == nil {
		return
	}
	p.settings(m)
	p.ends(m)
	p.heading("HOW TO READ THEM", "and between what they can be set")
	for i := range m.Settings {
		s := &m.Settings[i]
		words := s.Name + ", " + p.limits(s) + ": " + s.Read
		if s.Final != nil {
			words += "; in the end it shows " + s.Final.String() + " on " + s.Final.On
		}
		p.wrapped(fmt.Sprintf("  %-4d", i+1), words)
	}
	p.met(m)
}

// limits says between what a setting can be.
func (p *printer) limits(s *Setting) string {
	within := "from " + p.units.setting(s, s.Low) + " to " + p.units.setting(s, s.High)
	if s.Indexed {
		return within + " in stops of " + p.units.setting(s, s.Step)
	}
	return within
}

// met says how well the target was met.
func (p *printer) met(m *Mount) {
	if len(m.Settings) > 0 && m.Settings[0].Exact != nil {
		p.text.WriteString("\n")
		p.wrapped("  ", "At these settings the screen is "+p.units.fine(m.OffMM)+" and "+fixed(m.OffDeg, 1)+
			"° from the best place; every figure here is that of the settings.")
	}
}

// tape lists what to measure once all is set; loaded says that a mount then holds the
// device and has sagged.
func (p *printer) tape(t *Tape, loaded bool) {
	when := "once all is set"
	if loaded {
		when = "once all is set and the device hangs"
	}
	p.heading("CHECK BY TAPE", fmt.Sprintf("%s, with the seat tilted back %s°", when, fixed(t.SeatTiltDeg, 1)))
	rows := make([][]string, 0, len(t.Places)+1)
	for _, at := range t.Places {
		rows = append(rows, []string{at.What, p.units.length(at.At.UpMM) + " above the floor"})
	}
	p.table(append(rows, []string{"middle of the display area", p.units.length(t.EyesToScreenMM) + " from the point midway between the eyes"}))
}

// roomBelowZero says what a negative room means. Only its sign is exact: see the margin of package gaze.
const roomBelowZero = "negative: about that is lacking"

// room lists how every posture fares, and below the table, where there is width
// for it, what gives out first in each.
func (p *printer) room(r *Report) {
	remark, first := "how far the head may move beyond its usual movement; "+roomBelowZero, "FIRST TO GIVE OUT"
	if !r.Works && r.EyesContent() {
		remark, first = "for the eyes alone: how far the head might move beyond its usual movement", "TIGHTEST FOR THE EYES"
	}
	p.heading("ROOM TO MOVE", remark)
	rows := [][]string{{"posture", "", "room", "in reach"}}
	for i := range r.Postures {
		f := &r.Postures[i]
		rows = append(rows, []string{f.Name, need(f.MustWork), p.units.fine(f.MarginMM), share(f.ShareInRange)})
	}
	p.table(rows)
	p.heading(first, "")
	for i := range r.Postures {
		p.wrapped("  ", r.Postures[i].Name+": "+r.Postures[i].Tightest)
	}
}

func need(mustWork bool) string {
	if mustWork {
		return "must work"
	}
	return "if it can"
}

// share returns the part of the used area that is in reach; only all of it is
// told as all.
func share(s float64) string {
	if s >= 1 {
		return "all"
	}
	return fixed(math.Floor(100*s), 0) + " %"
}

// gaps lists the spaces to keep clear.
func (p *printer) gaps(gaps []Clearance) {
	if len(gaps) == 0 {
		return
	}
	p.heading("KEPT CLEAR", "least gap over the postures")
	rows := make([][]string, 0, len(gaps))
	for _, g := range NearestFirst(gaps) {
		state := "wanted " + p.units.length(g.RequiredMM)
		if g.TooClose {
			state = "TOO CLOSE, " + state
		}
		if g.Assumed {
			state += ", assumed"
		}
		rows = append(rows, []string{g.Space, p.gap(&g), g.Posture, state})
	}
	p.table(rows)
}

// gap words a gap.
func (p *printer) gap(g *Clearance) string {
	if g.ClearanceMM < 0 {
		return p.units.fine(-g.ClearanceMM) + " INTO the " + g.Part
	}
	return p.units.fine(g.ClearanceMM) + " to the " + g.Part
}

// NearestFirst returns gaps in the order of what they have to spare.
func NearestFirst(gaps []Clearance) []Clearance {
	return slices.SortedStableFunc(slices.Values(gaps), func(a, b Clearance) int {
		return cmp.Compare(a.ClearanceMM-a.RequiredMM, b.ClearanceMM-b.RequiredMM)
	})
}

// assumptions lists the values that were taken for lack of a measurement, those
// of one source together.
func (p *printer) assumptions(as []Assumption) {
	if len(as) == 0 {
		return
	}
	p.heading("ASSUMED", "the case can say otherwise; measure what belongs to the person")
	var sources []string
	values := make(map[string][]string)
	for _, a := range as {
		if values[a.Source] == nil {
			sources = append(sources, a.Source)
		}
		values[a.Source] = append(values[a.Source], a.Key+" "+p.units.Value(a.Value))
	}
	for _, s := range sources {
		p.wrapped("  - ", strings.Join(values[s], "; ")+" ("+s+")")
	}
}
