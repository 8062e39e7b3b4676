package document

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// WriteText writes v as text. The error is the writer's.
func (v *Vary) WriteText(w io.Writer, u Units) error {
	p := &printer{units: u, names: v.names}
	often := percent(v.Together.Tracks) + " of"
	if v.Together.Tracks == 1 {
		often = "all"
	}
	p.wrapped("", fmt.Sprintf("%s: with every error at once it tracks in %s %d draws, in all postures that must work", v.Label, often, v.Draws))
	if v.Works {
		p.wrapped("  ", "As measured and set the head may move "+u.fine(v.MarginMM)+" beyond its usual movement.")
	} else {
		p.list("NOT EVEN AS MEASURED AND SET", p.told(v.Reasons))
	}
	p.draws(v)
	p.errors(v)
	p.ranges(v)
	p.alone(v.Alone)
	p.assumptions(v.Assumptions)
	_, err := io.WriteString(w, p.text.String())
	return err
}

// percent returns a share to a hundredth of a percent; only all of it is told as
// all, and only nothing as nothing.
func percent(share float64) string {
	const hundredths = 1e4
	n := math.Round(share * hundredths)
	if share < 1 {
		n = min(n, hundredths-1)
	}
	if share > 0 {
		n = max(n, 1)
	}
	return fixed(n/100, 2) + " %"
}

// draws lists how often every posture tracks and how its room uncertainty.
func (p *printer) draws(v *Vary) {
	p.heading("HOW OFTEN IT TRACKS", fmt.Sprintf("seed %d; with the 95 %% interval of the share", v.Seed))
	rows := [][]string{{"", "", "share", "from", "to"}}
	room := [][]string{{"", "5 %", "25 %", "50 %", "75 %", "95 %", "as set"}}
	add := func(name, need, as string, t *Tally) {
		rows = append(rows, []string{name, need, percent(t.Tracks), percent(t.TracksLow), percent(t.TracksHigh)})
		f := p.units.fine
		room = append(room, []string{name, f(t.P5MM), f(t.P25MM), f(t.P50MM), f(t.P75MM), f(t.P95MM), as})
	}
	for i := range v.Postures {
		t := &v.Postures[i]
		add(t.Posture, need(t.MustWork), p.units.fine(t.MarginMM), &t.Tally)
	}
	add("all together", "must work", p.units.fine(v.MarginMM), &v.Together)
	p.table(rows)
	p.heading("ROOM TO MOVE IN THE DRAWS", "that share of them has less; "+roomBelowZero)
	p.table(room)
}

// errors lists which error costs most.
func (p *printer) errors(v *Vary) {
	if len(v.Errors) == 0 {
		return
	}
	p.heading("WHICH ERROR COSTS MOST", "share of the variance of the room, with its standard error")
	rows := [][]string{{"", "spread", "by itself", "with others"}}
	var rest []string
	for i := range v.Errors {
		e := &v.Errors[i]
		if fixed(e.Total, 3) == "0.000" {
			rest = append(rest, e.Name)
			continue
		}
		rows = append(rows, []string{
			e.Name, e.Kind + " " + p.size(e), fixed(e.First, 3) + " +- " + fixed(e.FirstSE, 3), fixed(e.Total, 3) + " +- " + fixed(e.TotalSE, 3),
		})
	}
	p.table(rows)
	if len(rest) > 0 {
		p.wrapped("  ", "Next to nothing: "+strings.Join(rest, ", ")+".")
	}
	p.wrapped("  ", "Measure again, or set with more care, what stands first: nothing else narrows the room as much.")
}

// size returns the size of an error in the digits that it needs.
func (p *printer) size(e *ErrorShare) string { return p.reading(e.Size, e.Unit) }

// ranges lists which postures the screen serves, on either carrier side by side.
func (p *printer) ranges(v *Vary) {
	if len(v.Ranges) == 0 {
		return
	}
	seat, base := "on the seat", "on the base"
	if v.Ranges[0].CarriedBy == "seat" {
		seat += ", as it is"
	} else {
		base += ", as it is"
	}
	p.heading("WHICH POSTURES IT SERVES", "one number at a time; the rest, and where the screen is now, as they are")
	rows := [][]string{{"", "now", seat, base}}
	for i := range v.Ranges {
		r := &v.Ranges[i]
		if i == 0 || r.Posture != v.Ranges[i-1].Posture {
			rows = append(rows, []string{r.Posture, "", "", ""})
		}
		row := []string{"  " + r.Varies, p.angleOrLength(r.Now, r.Unit)}
		if r.Unknown != "" {
			row = append(row, r.Unknown)
		} else {
			row = append(row, p.span(r.OnSeat, r.Unit), p.span(r.OnBase, r.Unit))
		}
		rows = append(rows, row)
	}
	p.table(rows)
	p.rangeEnds(v)
}

// rangeEnds says what ends the ranges.
func (p *printer) rangeEnds(v *Vary) {
	p.heading("WHAT ENDS THESE RANGES", "beyond them")
	said := make(map[string]bool)
	for i := range v.Ranges {
		r := &v.Ranges[i]
		switch {
		case r.Unknown != "":
		case r.OnSeat.Works:
			p.wrapped("  ", r.Posture+", "+r.Varies+": "+r.why())
		case !said[r.Posture]:
			p.wrapped("  ", r.Posture+": does not work as it is: "+r.OnSeat.From.EndedBy)
			said[r.Posture] = true
		}
	}
}

// why says what ends the ranges on both carriers. As it is the screen works on
// both of them or on neither, because it is in the same place.
func (r *PostureRange) why() string {
	seat, base := r.OnSeat.why(), r.OnBase.why()
	if seat == base {
		return seat
	}
	return "on the seat " + seat + "; on the base " + base
}

// angleOrLength returns v with its unit.
func (p *printer) angleOrLength(v float64, unit string) string {
	if unit == "deg" {
		return fixed(v, 1) + "°"
	}
	return p.units.length(v)
}

// reading returns a value of a setting to all the digits that its scale may show;
// in mm also for who works in inches.
func (p *printer) reading(v float64, unit string) string {
	const shown = 1e3
	digits := func(v float64) string { return strconv.FormatFloat(plain(math.Round(v*shown)/shown), 'f', -1, 64) }
	switch {
	case unit == "deg":
		return digits(v) + "°"
	case p.units == CM:
		return digits(v/10) + " cm"
	}
	return digits(v) + " mm"
}

// span returns a range in words; one that was not seen to end goes beyond what was
// looked at.
func (p *printer) span(r *Range, unit string) string {
	if !r.Works {
		return "does not work"
	}
	from, to := p.angleOrLength(r.From.Value, unit), p.angleOrLength(r.To.Value, unit)
	if r.From.EndedBy == "" {
		from = "below " + from
	}
	if r.To.EndedBy == "" {
		to = "over " + to
	}
	return from + " to " + to
}

// why says what ends a range on either side.
func (r *Range) why() string {
	var ends []string
	for _, e := range []struct {
		side string
		end  RangeEnd
	}{{"less", r.From}, {"more", r.To}} {
		if e.end.EndedBy != "" {
			ends = append(ends, e.side+", "+e.end.EndedBy)
		}
	}
	if len(ends) == 0 {
		return "nothing"
	}
	return strings.Join(ends, "; ")
}

// alone compares one setup for all postures with one for each.
func (p *printer) alone(all []SinglePostureSetup) {
	if len(all) == 0 {
		return
	}
	p.heading("ONE SETUP FOR ALL, OR ONE FOR EACH", "room in the best setup, and what would have to be set anew")
	rows := [][]string{{"", "for all", "for it alone", "gained"}}
	for _, a := range all {
		rows = append(rows, []string{a.Posture, p.units.fine(a.TogetherMM), p.units.fine(a.AloneMM), p.units.fine(a.AloneMM - a.TogetherMM)})
	}
	p.table(rows)
	for _, a := range all {
		p.wrapped("  ", a.Posture+": "+p.moved(a))
	}
}

// moved says what has to be set for a posture's own setup.
func (p *printer) moved(a SinglePostureSetup) string {
	switch {
	case a.Elsewhere:
		return "clamp the mount on the other side"
	case len(a.Moved) == 0:
		return "nothing to set"
	}
	changes := make([]string, 0, len(a.Moved))
	for _, m := range a.Moved {
		changes = append(changes, m.Name+" "+p.reading(m.From, m.Unit)+" to "+p.reading(m.To, m.Unit))
	}
	return strings.Join(changes, ", ")
}
