package page

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/plots/units"
)

// shownUnit returns the unit in which a page shows a field: lengths in the units that were
// chosen, masses, forces and torques in pounds beside inches, everything else in its first; ""
// for a number without a unit.
func shownUnit(f *casefile.Entry, u units.Units) string {
	if len(f.Units) == 0 {
		return ""
	}
	first := f.Units[0]
	kind, other := map[string]units.Kind{"kg": units.Masses, "N": units.Forces, "N m": units.Torques}[first]
	switch {
	case first == "mm":
		return u.String()
	case other && u == units.Inch:
		return kind.Unit(u)
	}
	return first
}

// unitWord returns the unit as it is beside a field.
func unitWord(unit string) string {
	if unit == "deg" {
		return "°"
	}
	return unit
}

// shown returns how a page shows an entry that is written in a case: a number in the
// unit beside the field, as it is written if that is its unit; what is invalid as
// it is.
func shown(f *casefile.Entry, written string, u units.Units) string {
	if f.Kind == casefile.YesNo {
		return yesNo(written)
	}
	unit := shownUnit(f, u)
	var all []string
	for _, q := range f.Read(written) {
		all = append(all, number(f, q, unit))
	}
	return cmp.Or(strings.Join(all, " to "), written)
}

// assumed returns how a page shows what is taken for an entry that is left out, inches as a tape
// shows them.
func assumed(f *casefile.Entry, u units.Units) string {
	words, last, both := strings.Cut(f.Default, ", or ")
	if !both {
		words, last = "", f.Default
	}
	unit := shownUnit(f, u)
	var all []string
	for _, q := range f.Read(last) {
		if all = append(all, number(f, q, unit)); unit == "in" {
			all[len(all)-1] = u.Number(q.Value)
		}
	}
	switch said := strings.Join(all, " to "); {
	case said == "":
		return f.Default
	case both:
		return words + ", or " + said
	default:
		return said + " assumed"
	}
}

// yesNo returns the word for a truth that YAML writes in other words too.
func yesNo(word string) string {
	switch word {
	case "true":
		return "yes"
	case "false":
		return "no"
	}
	return word
}

// number returns a quantity in a unit, without the unit.
func number(f *casefile.Entry, q casefile.Quantity, unit string) string {
	if q.Unit == unit || q.Unit == "" && (len(f.Units) == 0 || f.Units[0] == unit) {
		return q.Number
	}
	return units.UpTo(q.Value/f.SizeOf(unit), 3)
}

// written returns how what was typed in a field is written in a case: with the unit
// beside the field, if it is a number without one.
func written(f *casefile.Entry, typed string, u units.Units) string {
	unit, all := shownUnit(f, u), f.Read(typed)
	if unit == "" || all == nil || slices.ContainsFunc(all, func(q casefile.Quantity) bool { return q.Unit != "" }) {
		return typed
	}
	return typed + " " + unit
}

// limit returns a bound of a field in the unit beside it, rounded to within the bounds where it
// is not round there; "" for none.
func limit(f *casefile.Entry, v *float64, u units.Units, inward func(float64) float64) string {
	if v == nil {
		return ""
	}
	const long, fine, written = 10, 10, 1e3
	size := cmp.Or(f.SizeOf(shownUnit(f, u)), 1)
	bound := math.Round(*v/size*written) / written
	if size == 1 { // as it is
		return units.UpTo(bound, 3)
	}
	if math.Abs(bound) < long {
		return units.UpTo(inward(bound*fine)/fine, 3)
	}
	return units.UpTo(inward(bound), 3)
}

// bounds says within which numbers a field must be, in the unit beside it.
func bounds(f *casefile.Entry, u units.Units) string {
	low, high := limit(f, f.Low, u, math.Ceil), limit(f, f.High, u, math.Floor)
	if low != "" && high != "" && !f.OpenLow && !f.OpenHigh {
		return low + " to " + high
	}
	var words []string
	say := func(v string, open bool, beyond, from string) {
		if open {
			from = beyond
		}
		if v != "" {
			words = append(words, from+" "+v)
		}
	}
	say(low, f.OpenLow, "more than", "at least")
	say(high, f.OpenHigh, "less than", "at most")
	return strings.Join(words, ", ")
}
