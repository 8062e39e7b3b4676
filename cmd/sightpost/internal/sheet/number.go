package sheet

import (
	"math"
	"strconv"
	"strings"

	"sightpost/cmd/sightpost/internal/document"
)

// signed returns a number as text with a minus sign that is as wide as a plus: a
// hyphen is easily missed in print.
func signed(number string) string { return strings.ReplaceAll(number, "-", "−") }

// length returns mm as a tape shows it.
func (w *writer) length(mm float64) string { return signed(w.Units.Length(mm)) }

// fine returns mm with a digit more than a tape shows.
func (w *writer) fine(mm float64) string { return signed(w.Units.Fine(mm)) }

// value returns a value of a setting in the units that its scale is engraved in,
// and in inches besides if those are asked for.
func (w *writer) value(s *document.Setting, v float64) (value, also string) {
	units := w.Units
	if units == document.Inch && s.Unit == "mm" {
		units, also = document.MM, signed(document.Inch.Setting(s, v))
	}
	return signed(units.Setting(s, v)), also
}

// apart returns how far v is from the value of a setting.
func (w *writer) apart(s *document.Setting, v float64) string {
	text, _ := w.value(s, math.Abs(v-s.Value))
	return text
}

// bare returns a number without the name of its unit; the sign of degrees stays.
func bare(value string) string {
	number, _, _ := strings.Cut(value, " ")
	return number
}

// degrees returns an angle to a tenth of a degree, without its sign.
func degrees(deg float64) string {
	return strings.TrimPrefix(strconv.FormatFloat(deg, 'f', 1, 64), "-") + "°"
}

// turned returns an angle with the words for its sign, or the word for one that
// shows as zero.
func turned(deg float64, none, plus, minus string) string {
	const shown = 0.05 // half of the last digit shown
	switch {
	case deg >= shown:
		return degrees(deg) + " " + plus
	case deg <= -shown:
		return degrees(deg) + " " + minus
	}
	return none
}

// along returns a length with the words for its sign.
func (w *writer) along(mm float64, none, plus, minus string) string {
	text := w.Units.Length(max(mm, -mm))
	switch {
	case strings.HasPrefix(text, "0 "):
		return none
	case mm < 0:
		return text + " " + minus
	}
	return text + " " + plus
}

// plainName returns the name of a setting in words: "post: height".
func plainName(name string) string {
	return strings.NewReplacer("_", " ", ".", ": ").Replace(name)
}
