package document

import (
	"cmp"

	"sightpost/cmd/sightpost/internal/casefile"
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
