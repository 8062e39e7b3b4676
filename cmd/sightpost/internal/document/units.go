package document

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"sightpost/mount"
)

// Units are the units in which text tells lengths. The zero value is mm. Angles
// are always in degrees, and the object always in mm.
type Units int

// The choices of [Units]. Inches are told as a tape shows them, to the sixteenth.
const (
	MM Units = iota
	CM
	Inch
)

// UnitsNamed returns the units called name: "mm", "cm" or "in".
func UnitsNamed(name string) (Units, error) {
	switch name {
	case "mm":
		return MM, nil
	case "cm":
		return CM, nil
	case "in":
		return Inch, nil
	}
	return MM, fmt.Errorf("unknown units %q: choose mm, cm or in", name)
}

// name returns the short name of the unit.
func (u Units) name() string { return [...]string{"mm", "cm", "in"}[u] }

const mmPerInch = 25.4

// length returns mm as a tape shows it: to a mm or a sixteenth of an inch.
func (u Units) length(mm float64) string {
	switch u {
	case CM:
		return fixed(mm/10, 1) + " cm"
	case Inch:
		return sixteenths(mm/mmPerInch) + " in"
	case MM:
	}
	return fixed(mm, 0) + " mm"
}

// fine returns mm with a digit more than a tape shows, for margins and gaps.
func (u Units) fine(mm float64) string {
	switch u {
	case CM:
		return fixed(mm/10, 2) + " cm"
	case Inch:
		return fixed(mm/mmPerInch, 2) + " in"
	case MM:
	}
	return fixed(mm, 1) + " mm"
}

// value returns what setting s is set to. In inches the mm stand in front, because
// scales are engraved in mm.
func (u Units) value(s *Setting) string {
	if u == Inch && s.Unit == "mm" {
		return MM.setting(s, s.Value) + " = " + u.setting(s, s.Value)
	}
	return u.setting(s, s.Value)
}

// end returns v, an end of the tolerance of s. A sixteenth of an inch is rounded
// toward where s is set, so that it does not lie outside the tolerance; where none
// lies within, v stays in mm, as its scale shows it.
func (u Units) end(s *Setting, v float64) string {
	if u != Inch || s.Unit == "deg" || v == s.Value {
		return u.setting(s, v)
	}
	const all, rounding = 16 / mmPerInch, 1e-9
	n, set := math.Ceil(v*all-rounding), s.Value*all
	if v > s.Value {
		n = math.Floor(v*all + rounding)
	}
	if (n-set)*(v-s.Value) < 0 {
		return MM.setting(s, v)
	}
	return sixteenths(n/16) + " in"
}

// setting returns v of setting s, to the digits of its step or the sixteenth.
func (u Units) setting(s *Setting, v float64) string {
	if s.Unit == "deg" {
		return stepped(v, s.Step) + "°"
	}
	switch u {
	case CM:
		return stepped(v/10, s.Step/10) + " cm"
	case Inch:
		return sixteenths(v/mmPerInch) + " in"
	case MM:
	}
	return stepped(v, s.Step) + " mm"
}

// stepped returns v to the digits that multiples of step need. Joints know how to
// do that in mm; only the unit is put aside. A value between the steps, where
// somebody may have left a setting, keeps up to three decimals.
func stepped(v, step float64) string {
	const shown, between = 1e3, 1e-6
	short := strings.TrimSuffix(mount.Joint{Motion: mount.Slide, Step: step}.Format(v), " mm")
	if rounded, err := strconv.ParseFloat(short, 64); err == nil && math.Abs(rounded-v) < between {
		return short
	}
	return strconv.FormatFloat(plain(math.Round(v*shown)/shown), 'f', -1, 64)
}

// fixed returns v with the given number of decimals, and never "-0".
func fixed(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}

// sixteenths returns inches as a tape shows them: "46 1/2".
func sixteenths(inches float64) string {
	n := int64(math.Round(math.Abs(inches) * 16))
	whole, part, of := n/16, n%16, int64(16)
	for part > 0 && part%2 == 0 {
		part, of = part/2, of/2
	}
	var s string
	switch {
	case part == 0:
		s = strconv.FormatInt(whole, 10)
	case whole == 0:
		s = fmt.Sprintf("%d/%d", part, of)
	default:
		s = fmt.Sprintf("%d %d/%d", whole, part, of)
	}
	if inches < 0 && n > 0 {
		return "-" + s
	}
	return s
}
