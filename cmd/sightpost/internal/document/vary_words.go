package document

import (
	"slices"
	"strings"

	"sightpost/plots/units"
)

// Document returns v in words.
func (v *Vary) Document() *Document {
	d := &Document{Label: v.Label, Works: v.Works, Verdict: Say("%s", v.verdict())}
	if v.Works {
		d.Summary = Say("As measured and set, the head-movement margin is %s.", Margin(v.MarginMM))
	}
	return d.with(
		findings(SectionReasons, "What fails as measured and set", v.Reasons),
		v.simulations(), v.spread(), v.errorShares(), v.ranges(), v.rangeEnds(), v.setups(), assumed(v.Assumptions),
	)
}

func (v *Vary) verdict() Text {
	if v.Together.Tracks == 1 {
		return Say("With all errors, the tracker works in all %s simulations, in every required posture.", thousands(v.Simulations))
	}
	return Say("With all errors, the tracker works in %s of %s simulations, in every required posture.", Percent(v.Together.Tracks), thousands(v.Simulations))
}

// tallies are those of every posture and, last, of all that must work together.
func (v *Vary) tallies() []PostureTally {
	return append(slices.Clone(v.Postures), PostureTally{Posture: "all together", MustWork: true, MarginMM: v.MarginMM, Tally: v.Together})
}

// simulations says how often every posture tracks.
func (v *Vary) simulations() Section {
	s := Section{Title: "How often the tracker works", Note: Say("seed %d", v.Seed), Head: []string{"posture", "", "tracks", "95% interval"}}
	for _, t := range v.tallies() {
		s.row(t.Posture, need(t.MustWork), Percent(t.Tracks), Say("%s to %s", Percent(t.TracksLow), Percent(t.TracksHigh)))
	}
	return s
}

// spread lists the percentiles of the margin.
func (v *Vary) spread() Section {
	s := Section{
		Title: "Head-movement margin in the simulations", Note: Say("that share of them has less; below zero only the sign is exact"), Full: true,
		Head: []string{"posture", "5%", "25%", "50%", "75%", "95%", "as set"},
	}
	for _, t := range v.tallies() {
		s.row(t.Posture, Length(t.P5MM), Length(t.P25MM), Length(t.P50MM), Length(t.P75MM), Length(t.P95MM), Length(t.MarginMM))
	}
	return s
}

// topErrors is how many errors the short form shows.
const topErrors = 5

// errorShares lists which error costs most.
func (v *Vary) errorShares() Section {
	s := Section{Title: "Which error costs most", Note: Say("share of the variance of the margin, ± standard error"), Head: []string{"", "uncertainty", "by itself", "with others"}}
	var rest []string
	for _, e := range v.Errors {
		if fixed(e.Total, 3) == "0.000" {
			rest = append(rest, settingName(e.Name))
			continue
		}
		s.row(settingName(e.Name), Say("%s %s", e.Kind, entered(e.Size, e.Unit)), fixed(e.First, 2)+" ± "+fixed(e.FirstSE, 2), fixed(e.Total, 2)+" ± "+fixed(e.TotalSE, 2))
		s.Rows[len(s.Rows)-1].Full = len(s.Rows) > topErrors
	}
	if len(s.Rows) > 0 {
		s.say("Measure the first of these again, or set it more carefully: that helps most.")
	}
	if len(rest) > 0 {
		s.full("Negligible: %s.", strings.Join(rest, ", "))
	}
	return s
}

// ranges lists which postures the screen serves, on either carrier side by side.
func (v *Vary) ranges() Section {
	s := Section{Title: "Which postures it serves", Note: Say("one measure at a time, the screen as it is"), Head: []string{"", "now", "mount on the seat", "mount on the base"}}
	if len(v.Ranges) == 0 {
		return s
	}
	first, last := v.Ranges[0], v.Ranges[len(v.Ranges)-1]
	if first.CarriedBy == "seat" {
		s.Head[2] += " (as it is)"
	} else {
		s.Head[3] += " (as it is)"
	}
	for _, r := range v.Ranges {
		name := r.Varies
		if first.Posture != last.Posture {
			name = r.Posture + ", " + name
		}
		if r.Unknown.Empty() {
			s.row(name, amount(r.Now, r.Unit), r.OnSeat.span(r.Unit), r.OnBase.span(r.Unit))
		} else {
			s.row(name, amount(r.Now, r.Unit), r.Unknown)
		}
	}
	return s
}

// amount returns a number with its unit, as a tape or an inclinometer shows it.
func amount(v float64, unit string) Quantity {
	switch unit {
	case "mm":
		return Length(v)
	case "deg":
		return Angle(v)
	}
	return entered(v, unit)
}

// span says a range; one that was not seen to end goes beyond what was looked at.
func (r *Range) span(unit string) Text {
	if !r.Works {
		return Say("does not work")
	}
	below, beyond := "", ""
	if r.From.EndedBy.Empty() {
		below = "below "
	}
	if r.To.EndedBy.Empty() {
		beyond = "over "
	}
	return Say("%s%s to %s%s", below, amount(r.From.Value, unit), beyond, amount(r.To.Value, unit))
}

// rangeEnds says what ends the ranges.
func (v *Vary) rangeEnds() Section {
	s := Section{Title: "What ends these ranges", Full: true}
	said := make(map[string]bool)
	for _, r := range v.Ranges {
		switch {
		case !r.Unknown.Empty():
		case r.OnSeat.Works:
			s.say("%s, %s: %s", r.Posture, r.Varies, r.ends())
		case !said[r.Posture]:
			s.say("%s does not work as it is: %s", r.Posture, r.OnSeat.From.EndedBy)
			said[r.Posture] = true
		}
	}
	return s
}

// ends says what ends the ranges on both carriers. As it is the screen works on both of
// them or on neither, because it is in the same place.
func (r *PostureRange) ends() Text {
	seat, base := r.OnSeat.ends(), r.OnBase.ends()
	if seat.In(units.MM) == base.In(units.MM) {
		return seat
	}
	return Say("on the seat, %s; on the base, %s", seat, base)
}

// ends says what ends a range on either side.
func (r *Range) ends() Text {
	end := func(way string, e RangeEnd) Text {
		if e.EndedBy.Empty() {
			return Text{}
		}
		return Say("%s: %s", way, e.EndedBy)
	}
	t := Join("; ", end("min", r.From), end("max", r.To))
	if t.Empty() {
		return Say("no end found")
	}
	return t
}

// setups compares one setup for all postures with one for each.
func (v *Vary) setups() Section {
	s := Section{Title: "One setup for all postures, or one for each", Note: Say("margin in the best setup, and what to change for it"), Head: []string{"posture", "for all", "for it alone", "gain", "change"}}
	for _, a := range v.Setups {
		s.row(a.Posture, Margin(a.TogetherMM), Margin(a.AloneMM), Length(a.AloneMM-a.TogetherMM), a.changes())
	}
	return s
}

// changes says what has to be set for a posture's own setup.
func (a *SinglePostureSetup) changes() Text {
	switch {
	case a.Elsewhere:
		return Say("clamp the mount on the other side")
	case len(a.Moved) == 0 || a.AloneMM-a.TogetherMM < tapeMM/2:
		return Say("none")
	}
	return Join(", ", each(a.Told, func(c ToldChange) Text {
		return Say("%s %s to %s", settingName(c.Name), c.before(), c.Words())
	})...)
}
