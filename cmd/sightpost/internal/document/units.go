package document

import (
	"math"
)

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
