package document

import (
	"slices"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/plots/units"
)

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
