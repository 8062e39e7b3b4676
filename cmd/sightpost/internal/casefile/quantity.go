package casefile

import (
	"errors"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"

	"sightpost/gaze/frame"
)

// kind is a kind of quantity: its units and what a bare number means.
type kind struct {
	name    string
	example string
	units   []unit  // the first is the unit of a bare number
	tape    bool    // may also be written in feet and inches: 3 ft 7 1/2 in
	most    float64 // greatest magnitude taken for a plausible entry, in the first unit
}

// first returns the unit of a bare number, "" if there is none.
func (k kind) first() string {
	if len(k.units) == 0 {
		return ""
	}
	return k.units[0].word
}

// kinded names a kind of quantity by a type.
type kinded interface{ kind() kind }

// The kinds of quantities.
type (
	lengthUnit  struct{}
	angleUnit   struct{}
	turnUnit    struct{} // an angle up to a whole turn
	massUnit    struct{}
	forceUnit   struct{}
	momentUnit  struct{}
	stressUnit  struct{}
	densityUnit struct{}
	numberUnit  struct{}
)

// unit is a way to write a unit, and its size in the first unit of its kind.
type unit struct {
	word string
	size float64
}

// The inch is 25.4 mm exactly by the international agreement of 1959.
func (lengthUnit) kind() kind {
	return kind{"a length", "118 cm", []unit{{"mm", 1}, {"cm", 10}, {"m", 1000}, {"in", 25.4}, {`"`, 25.4}, {"ft", 304.8}}, true, 10e3}
}

// unitOf returns the unit at the end of text, by the first word of its size; the first
// unit of k if there is none.
func (k kind) unitOf(text string) unit {
	text = strings.TrimRight(text, gapRunes)
	found := unit{size: 1}
	if len(k.units) > 0 {
		found = k.units[0]
	}
	long := 0
	for _, u := range k.units {
		if strings.HasSuffix(text, u.word) && len(u.word) > long {
			long = len(u.word)
			found = k.units[slices.IndexFunc(k.units, func(same unit) bool { return same.size == u.size })]
		}
	}
	return found
}

// atLeast words a lower bound, given in the first unit of its kind, in u: rounded so that
// what is said is allowed.
func (u unit) atLeast(low float64) string { return u.bound(low, math.Ceil) }

// atMost words an upper bound in the same way.
func (u unit) atMost(high float64) string { return u.bound(high, math.Floor) }

func (u unit) bound(v float64, round func(float64) float64) string {
	if u.size != 1 {
		const parts = 1000 // of a unit
		v = round(v/u.size*parts)/parts + 0
	}
	return strings.TrimSuffix(strconv.FormatFloat(v, 'f', -1, 64)+" "+u.word, " ")
}

func (angleUnit) kind() kind {
	return kind{"an angle", "12 deg", []unit{{"deg", 1}, {"°", 1}, {"rad", 180 / math.Pi}}, false, 180}
}

// This is that of settings and bends, which may go all the way round.
func (turnUnit) kind() kind {
	k := angleUnit{}.kind()
	k.most = 360
	return k
}

// The pound is 0.45359237 kg exactly by the same agreement.
func (massUnit) kind() kind {
	return kind{"a mass", "1.6 kg", []unit{{"kg", 1}, {"g", 1e-3}, {"lb", 0.45359237}}, false, 200}
}

func (forceUnit) kind() kind {
	return kind{"a force", "300 N", []unit{{"N", 1}, {"kN", 1e3}}, false, 1e5}
}

func (momentUnit) kind() kind {
	return kind{"a moment", "25 N m", []unit{{"N m", 1}, {"N·m", 1}, {"Nm", 1}, {"N cm", 1e-2}, {"Ncm", 1e-2}}, false, 1e4}
}

func (stressUnit) kind() kind {
	return kind{"a stress", "70 GPa", []unit{{"MPa", 1}, {"GPa", 1e3}}, false, 1e6}
}

func (densityUnit) kind() kind {
	return kind{"a density", "2700 kg/m3", []unit{{"kg/m3", 1}, {"g/cm3", 1e3}}, false, 1e5}
}

func (numberUnit) kind() kind { return kind{"a number without a unit", "1.5", nil, false, 1e6} }

// words lists the units for messages: "mm, cm, m".
func (k kind) words() string {
	words := make([]string, len(k.units))
	for i, u := range k.units {
		words[i] = u.word
	}
	return strings.Join(words, ", ")
}

// sign is which signs of a quantity its place in a file allows.
type sign string

const (
	anySign     sign = ""
	positive    sign = "positive"
	notNegative sign = "not negative"
)

// The pieces of the written form of a number. The same pieces make the pattern of
// the schema and the reader's own expression, so that the two cannot differ.
// Fractions are written as on a tape measure: 46 1/2.
const (
	gapRunes    = " \u00a0"
	gap         = "[" + gapRunes + "]*"
	bareNumber  = `(?:(?:[0-9]+[` + gapRunes + `]+)?[0-9]+/0*[1-9][0-9]*|[0-9]+\.?[0-9]*|\.[0-9]+)`
	anyNumber   = `[+\-−]?` + bareNumber
	plainNumber = `\+?` + bareNumber
	aboveZero   = `\+?` + bareAbove
	bareAbove   = `(?:(?:[0-9]*[1-9][0-9]*[` + gapRunes + `]+[0-9]+|(?:0+[` + gapRunes + `]+)?[0-9]*[1-9][0-9]*)/0*[1-9][0-9]*|` +
		`[0-9]*[1-9][0-9]*\.?[0-9]*|[0-9]*\.[0-9]*[1-9][0-9]*)`
)

func (s sign) number() string {
	switch s {
	case positive:
		return aboveZero
	case notNegative:
		return plainNumber
	default:
		return anyNumber
	}
}

// unitPattern matches one of k's units.
func (k kind) unitPattern() string {
	words := make([]string, len(k.units))
	for i, u := range k.units {
		words[i] = regexp.QuoteMeta(u.word)
	}
	return "(?:" + strings.Join(words, "|") + ")"
}

// pattern matches a number with or without a unit.
func (k kind) pattern(s sign) string {
	switch {
	case len(k.units) == 0:
		return "^" + gap + s.number() + gap + "$"
	case k.tape:
		return "^" + gap + "(?:" + s.number() + "(?:" + gap + k.unitPattern() + ")?|" + s.feetInches() + ")" + gap + "$"
	}
	return "^" + gap + s.number() + "(?:" + gap + k.unitPattern() + ")?" + gap + "$"
}

// feetInches matches whole feet and inches, of which one alone makes it positive.
func (s sign) feetInches() string {
	const feet, noFeet, inches = "[0-9]*[1-9][0-9]*", "0+", `(?:in|")`
	join := func(feet, number string) string { return feet + gap + "ft" + gap + number + gap + inches }
	switch s {
	case positive:
		return `\+?(?:` + join(feet, bareNumber) + "|" + join(noFeet, bareAbove) + ")"
	case notNegative:
		return `\+?` + join("[0-9]+", bareNumber)
	default:
		return `[+\-−]?` + join("[0-9]+", bareNumber)
	}
}

// rangePattern matches two quantities with "to" between them. Where only one has
// a unit, it must be the second, and it is that of both.
func (k kind) rangePattern(s sign) string {
	number := gap + s.number() + gap
	if len(k.units) == 0 {
		return "^" + number + "to" + number + "$"
	}
	unit := k.unitPattern()
	return "^" + number + "(?:to" + number + "|(?:" + unit + gap + ")?to" + number + unit + gap + ")$"
}

// maxQuantityLen bounds the text that is looked at, in characters.
const maxQuantityLen = 80

// badText is an error of a text that an entry does not take.
type badText struct {
	found    string // the text itself if empty
	expected string
	near     string // the known word nearest to it, or ""
	sense    bool   // its form is right: no schema can find it
}

func (e *badText) Error() string { return "found " + e.found + ", expected " + e.expected }

// patterns keeps the expressions that were compiled, by their text: there are a few for
// each kind and sign.
var patterns sync.Map

// matches reports whether text, if it is short enough, has a form.
func matches(pattern, text string) bool {
	if utf8.RuneCountInString(text) > maxQuantityLen {
		return false
	}
	re, ok := patterns.Load(pattern)
	if !ok {
		re, _ = patterns.LoadOrStore(pattern, regexp.MustCompile(pattern))
	}
	return re.(*regexp.Regexp).MatchString(text)
}

// parse returns the quantity written in text, in the first unit of k.
func (k kind) parse(text string, s sign) (float64, error) {
	if !matches(k.pattern(s), text) {
		return 0, k.complain(text, s)
	}
	feet, inches, both := strings.Cut(text, "ft")
	if !both || strings.Trim(inches, gapRunes) == "" {
		number, u := k.split(text)
		return k.scaled(text, number, u)
	}
	return k.tapeLength(text, feet, inches)
}

// tapeLength returns the length of whole feet and inches.
func (k kind) tapeLength(text, feet, inches string) (float64, error) {
	whole, _ := k.split(feet)
	number, u := k.split(inches)
	a, err := k.scaled(text, whole, "ft")
	if err != nil {
		return 0, err
	}
	b, err := k.scaled(text, number, u)
	if err != nil {
		return 0, err
	}
	if math.Signbit(a) {
		b = -b
	}
	return k.plausible(text, a+b)
}

// parseRange returns both ends of the range written in text.
func (k kind) parseRange(text string, s sign) (low, high float64, err error) {
	if !matches(k.rangePattern(s), text) {
		return 0, 0, &badText{found: quoted(text), expected: "a range such as " + k.rangeExample() + k.unitHint()}
	}
	first, second, _ := strings.Cut(text, "to")
	lowText, lowUnit := k.split(first)
	highText, highUnit := k.split(second)
	if lowUnit == "" {
		lowUnit = highUnit
	}
	low, err = k.scaled(text, lowText, lowUnit)
	if err != nil {
		return 0, 0, err
	}
	high, err = k.scaled(text, highText, highUnit)
	return low, high, err
}

func (k kind) rangeExample() string {
	if len(k.units) == 0 {
		return "0 to 2"
	}
	return "0 to 120 " + k.units[0].word
}

// split parts the number from the unit.
func (k kind) split(text string) (number, unit string) {
	text = strings.TrimSpace(strings.ReplaceAll(text, "\u00a0", " "))
	at := strings.IndexFunc(text, func(r rune) bool { return !strings.ContainsRune("+-−0123456789./ ", r) })
	if at < 0 {
		return text, ""
	}
	return strings.TrimSpace(text[:at]), text[at:]
}

// scaled returns the value of a number and unit that match the pattern.
func (k kind) scaled(text, number, word string) (float64, error) {
	size := 1.0
	for _, u := range k.units {
		if u.word == word {
			size = u.size
		}
	}
	return k.plausible(text, size*decimalOf(number))
}

// plausible returns a value written in text, or an error if it is too large.
func (k kind) plausible(text string, v float64) (float64, error) {
	if !(math.Abs(v) <= k.most*(1+1e-12)) {
		return 0, &badText{found: quoted(text), expected: k.name + " of at most " + k.unitOf(text).atMost(k.most), sense: true}
	}
	return v, nil
}

// decimalOf returns the value of a number that matches the pattern; a number with
// more digits than a float can hold comes back as infinite.
func decimalOf(number string) float64 {
	number = strings.TrimPrefix(strings.Replace(number, "−", "-", 1), "+")
	negative := strings.HasPrefix(number, "-")
	number = strings.TrimPrefix(number, "-")
	v := 0.0
	for _, part := range strings.Fields(number) {
		above, below, fraction := strings.Cut(part, "/")
		f, _ := strconv.ParseFloat(above, 64) // the pattern leaves only a range error, and then f is infinite
		if fraction {
			d, _ := strconv.ParseFloat(below, 64)
			f /= d
		}
		v += f
	}
	if negative {
		return -v
	}
	return v
}

// complain says what is wrong with text that does not match the pattern.
func (k kind) complain(text string, s sign) error {
	expected := k.name + " such as " + k.example
	if s != anySign {
		expected = k.name + ", " + string(s) + ", such as " + k.example
	}
	switch {
	case strings.TrimSpace(text) == "":
		return &badText{found: "nothing", expected: expected}
	case matches(`^[^,]*[0-9],[0-9][^,]*$`, text):
		expected += "; write a point for the decimals: " + quoted(strings.Replace(text, ",", ".", 1))
	case strings.ContainsAny(text, "“”‘’″′"):
		expected += "; write in for inches, or a straight \" mark"
	case matches(`^`+gap+anyNumber+`[eE][+-]?[0-9]+`, text):
		expected += "; write the number out, without an exponent"
	case matches(k.pattern(anySign), text):
		// only the sign is wrong, and has been named
	default:
		expected += k.unitHint()
	}
	return &badText{found: quoted(text), expected: expected}
}

func (k kind) unitHint() string {
	if len(k.units) == 0 {
		return ""
	}
	return "; units: " + k.words()
}

// ParseLength returns the length written in text in mm: a number with one of the
// units mm, cm, m, in, " or ft, or a bare number of mm. Fractions, and feet with
// inches, are written as on a tape measure: 46 1/2 in, 3 ft 7 1/2 in. More than
// 10 m is an error.
func ParseLength(text string) (mm float64, err error) { return parsed(lengthUnit{}.kind(), text) }

// ParseTurn returns the setting of a joint or the angle of a bend written in text: a
// number with one of the units deg, ° or rad, or a bare number of degrees. More than 360°
// either way is an error.
func ParseTurn(text string) (frame.Angle, error) {
	degrees, err := parsed(turnUnit{}.kind(), text)
	return frame.Angle(degrees) * frame.Degree, err
}

func parsed(k kind, text string) (float64, error) {
	v, err := k.parse(text, anySign)
	if err != nil {
		return 0, errors.New("casefile: " + err.Error())
	}
	return v, nil
}
