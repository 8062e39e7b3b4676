package document

import "math"

// Length returns mm as a tape shows it: to a mm or a sixteenth of an inch.
func (u Units) Length(mm float64) string { return u.length(mm) }

// Fine returns mm with a digit more than a tape shows, for margins and gaps.
func (u Units) Fine(mm float64) string { return u.fine(mm) }

// End returns v, an end of the tolerance of setting s, so that it does not lie
// outside the tolerance.
func (u Units) End(s *Setting, v float64) string { return u.end(s, v) }

// Setting returns v, a value of setting s, to the digits of its step or the
// sixteenth of an inch.
func (u Units) Setting(s *Setting, v float64) string { return u.setting(s, v) }

// Used returns a part of what something holds in per cent, rounded up, so that
// nothing that fails is told as 100 %.
func Used(part float64) string { return fixed(math.Ceil(100*part-1e-6), 0) + " %" }
