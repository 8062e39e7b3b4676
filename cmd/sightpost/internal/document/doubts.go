package document

import (
	"cmp"
	"slices"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/plots/units"
)

// Doubts says what two cases, the earlier one first, cannot both be right about.
func Doubts(before, after *casefile.Case) []Text {
	return each(casefile.Doubts(before, after), doubtWords)
}

// sinceBefore returns what to know of a case beside the one before, if there is one.
func sinceBefore(c *casefile.Case) []Finding {
	all := []Finding{}
	if c.Before == nil {
		return all
	}
	for _, d := range casefile.Doubts(c.Before, c) {
		if d.Carried == nil { // which is told below
			all = append(all, found("differs", "%s.", doubtWords(d)))
		}
	}
	var along []Text
	var first *casefile.Carried // of what moved with the seat, all from one tilt
	for i := range c.Carried {
		if one := &c.Carried[i]; one.WithSeat() {
			first, along = cmp.Or(first, one), append(along, Say("%s", one.Key))
		} else {
			all = append(all, Finding{Kind: carriedKind, Part: one.Path, Text: carriedWords(one)})
		}
	}
	if first != nil {
		words := Say("%s: same as before, taken as moved with the seat from %s.", Join(", ", along...), Value(first.SeatTilt))
		all = append(all, Finding{Kind: carriedKind, Part: first.Path, Text: words})
	}
	return all
}

// carriedKind is the kind of a finding about an entry that was not measured again.
const carriedKind = "carried"

// mostChanges bounds how many entries of a doubt are told.
const mostChanges = 3

func doubtWords(d casefile.Doubt) Text {
	switch {
	case d.Carried != nil:
		return Say("%s is the same as before, but the seat was at %s then: measure it again, or give that seat tilt%s", d.Key, Value(d.Carried.SeatTilt), saysSo(d.Carried))
	case d.MovedMM > 0:
		return Say("%s is %s from where it was: measure it again, and check that it has not slipped", d.Key, Length(d.MovedMM))
	}
	var all []Text
	for _, c := range d.Changes[:min(len(d.Changes), mostChanges)] {
		all = append(all, Join(" ", Quote(c.Name), Say("%s, before %s", Value(c.Is), Value(c.Was))))
	}
	if more := len(d.Changes) - mostChanges; more > 0 {
		all = append(all, Say("and %d more", more))
	}
	return Say("%s is not as before (%s) and does not change by itself: check which is right", d.Key, Join("; ", all...))
}

// carriedWords says what became of eyes or head that were not measured again.
func carriedWords(c *casefile.Carried) Text {
	if c.Kept {
		return Say("%s: same as before, and the eyes fit it: taken as measured again.", c.Key)
	}
	now := each(c.Now, func(p casefile.Part) Text { return Say("%s %s", settingName(p.Name), Value(p.Value)) })
	return Say("%s: same as before, taken as moved with the trunk: %s. Measure again.", c.Key, Join(", ", now...))
}

// saysSo names the entry that tells at which seat tilt a clamp or zone was measured.
func saysSo(c *casefile.Carried) Text {
	if !c.WithSeat() {
		return Text{}
	}
	return Say(" (%s.%s: %s)", c.Path, c.Now[0].Name, c.Now[0].Value.String())
}

// unlikelyKind is the kind of a finding about an entry that is allowed but unlikely.
const unlikelyKind = "unlikely"

// unlikely returns what is unlikely about the entries of a case.
func unlikely(c *casefile.Case) []Finding {
	return each(c.Unlikely, func(u casefile.Unlikely) Finding {
		return Finding{Kind: unlikelyKind, Part: u.Key, Text: Say("%s: %s", u.Key, Unlikely(&u))}
	})
}

// Unlikely says what is unlikely about an entry.
func Unlikely(u *casefile.Unlikely) Text {
	switch u.Oddity {
	case casefile.Larger:
		return Say("%s is larger than %s (%s): check both.", u.Written, u.Other, u.OtherWritten)
	case casefile.Above:
		return Say("%s is above the eyes (%s: %s): check both.", u.Written, u.Other, u.OtherWritten)
	case casefile.Behind:
		return Say("the eyes are %s behind the back support: measure again.", Length(u.Value.Low))
	case casefile.NoSpace:
		return Say("gaps of %s take up %s, all of %s (%s): the grid does not fit.", u.Written, Length(u.Value.Low), u.Other, u.OtherWritten)
	case casefile.Unusual:
	}
	usual := Say("usually %s", Value(u.Usual))
	if u.Least > 0 {
		usual = Say("usually 0 or at least %s", entered(u.Least, u.Usual.Unit))
	}
	t := Say("%s is unlikely, %s (%s).", u.Written, usual, u.Source)
	if len(u.Meant) > 0 {
		t = Say("%s Did you mean %s?", t, Join(" or ", each(u.Meant, func(q casefile.Quantity) Text { return Say("%s", meant{q, u.Usual.Unit}) })...))
	}
	return t
}

// meant is a number in the unit that may have been meant, and the first unit of its kind.
type meant struct {
	casefile.Quantity
	first string
}

// In returns the number as it was meant and, if that is another unit, as it is told.
func (m meant) In(u units.Units) string {
	words := m.Number + " " + m.Unit
	if slices.Contains([]string{u.String(), units.Masses.Unit(u), "deg"}, m.Unit) {
		return words
	}
	return words + " (" + amount(m.Value, m.first).In(u) + ")"
}

// suspect takes what is unlikely about the entries of a case, which may be why it does not
// work, out of the warnings.
func (r *Report) suspect() (suspects []Text, others []Finding) {
	for _, w := range r.Warnings {
		if w.Kind == unlikelyKind && !r.Works {
			suspects = append(suspects, Say("Check first: %s", w.Text))
		} else {
			others = append(others, w)
		}
	}
	return suspects, others
}
