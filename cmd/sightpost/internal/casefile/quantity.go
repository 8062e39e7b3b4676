package casefile

import (
	"cmp"
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

// unit is a way to write a unit, and its size in the first unit of its kind.
type unit struct {
	word string
	size float64
}

// The kinds of quantities. The inch is 25.4 mm and the pound 0.45359237 kg exactly by the
// international agreement of 1959. A turn is the angle of a setting or a bend, which may
// go all the way round.
var (
	length  = &kind{"a length", "118 cm", []unit{{"mm", 1}, {"cm", 10}, {"m", 1000}, {"in", 25.4}, {`"`, 25.4}, {"ft", 304.8}}, true, 10e3}
	angle   = &kind{"an angle", "12 deg", degrees, false, 180}
	turn    = &kind{"an angle", "12 deg", degrees, false, 360}
	mass    = &kind{"a mass", "1.6 kg", []unit{{"kg", 1}, {"g", 1e-3}, {"lb", 0.45359237}, {"oz", 0.45359237 / 16}}, false, 200}
	force   = &kind{"a force", "300 N", []unit{{"N", 1}, {"kN", 1e3}}, false, 1e5}
	moment  = &kind{"a moment", "25 N m", []unit{{"N m", 1}, {"N·m", 1}, {"Nm", 1}, {"N cm", 1e-2}, {"Ncm", 1e-2}}, false, 1e4}
	stress  = &kind{"a stress", "70 GPa", []unit{{"MPa", 1}, {"GPa", 1e3}}, false, 1e6}
	density = &kind{"a density", "2700 kg/m3", []unit{{"kg/m3", 1}, {"g/cm3", 1e3}}, false, 1e5}
	number  = &kind{"a number without a unit", "1.5", nil, false, 1e6}

	degrees = []unit{{"deg", 1}, {"°", 1}, {"rad", 180 / math.Pi}}
)

// first returns the unit of a bare number, "" if there is none.
func (k *kind) first() string { return k.unitOf("").word }

// size returns the size of a unit in the first; 0 for one that k does not know.
func (k *kind) size(word string) float64 {
	for _, u := range k.units {
		if u.word == word {
			return u.size
		}
	}
	return 0
}

// unitOf returns the unit at the end of text, by the first word of its size; the first
// unit of k if there is none.
func (k *kind) unitOf(text string) unit {
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

// words lists the units.
func (k *kind) words() []string {
	var words []string
	for _, u := range k.units {
		words = append(words, u.word)
	}
	return words
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

// numbers are the patterns of a number of each sign.
var numbers = map[sign]string{anySign: anyNumber, notNegative: plainNumber, positive: aboveZero}

// unitPattern matches one of k's units, in which no mark has a meaning of its own.
func (k *kind) unitPattern() string { return "(?:" + strings.Join(k.words(), "|") + ")" }

// pattern matches a number with or without a unit.
func (k *kind) pattern(s sign) string {
	switch {
	case len(k.units) == 0:
		return "^" + gap + numbers[s] + gap + "$"
	case k.tape:
		return "^" + gap + "(?:" + numbers[s] + "(?:" + gap + k.unitPattern() + ")?|" + s.feetInches() + ")" + gap + "$"
	}
	return "^" + gap + numbers[s] + "(?:" + gap + k.unitPattern() + ")?" + gap + "$"
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
func (k *kind) rangePattern(s sign) string {
	number, unit := gap+numbers[s]+gap, k.unitPattern()
	return "^" + number + "(?:to" + number + "|(?:" + unit + gap + ")?to" + number + unit + gap + ")$"
}

// maxQuantityLen bounds the text that is looked at, in characters.
const maxQuantityLen = 80

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

// Quantity is a number as someone wrote it.
type Quantity struct {
	// Value is in the first unit of its entry.
	Value float64
	// Number and Unit are the text's; Unit is "" if it has none.
	Number, Unit string
}

// parse returns the quantity written in text.
func (k *kind) parse(text string, s sign) (Quantity, *badText) {
	if !matches(k.pattern(s), text) {
		return Quantity{}, k.complain(text, s)
	}
	q := k.quantity(text)
	if feet, inches, both := strings.Cut(text, "ft"); both && strings.Trim(inches, gapRunes) != "" {
		whole, rest := k.quantity(feet+"ft"), k.quantity(inches)
		q.Value = whole.Value + math.Copysign(rest.Value, whole.Value)
	}
	return q, k.plausible(text, q)
}

// parseRange returns both ends of the range written in text.
func (k *kind) parseRange(text string, s sign) (low, high Quantity, bad *badText) {
	if !matches(k.rangePattern(s), text) {
		return low, high, &badText{expected: "a range such as " + k.rangeExample() + k.unitHint()}
	}
	first, second, _ := strings.Cut(text, "to")
	low, high = k.quantity(first), k.quantity(second)
	if low.Unit == "" {
		low = k.quantity(first + high.Unit)
	}
	return low, high, k.plausible(text, low, high)
}

func (k *kind) rangeExample() string { return "0 to 120 " + k.first() }

// quantity returns the one that text, which matches the pattern, begins with.
func (k *kind) quantity(text string) Quantity {
	text = strings.TrimSpace(strings.ReplaceAll(text, "\u00a0", " "))
	q := Quantity{Number: text}
	if at := strings.IndexFunc(text, func(r rune) bool { return !strings.ContainsRune("+-−0123456789./ ", r) }); at >= 0 {
		q.Number, q.Unit = strings.TrimSpace(text[:at]), text[at:]
	}
	q.Value = cmp.Or(k.size(q.Unit), 1) * decimalOf(q.Number)
	return q
}

// plausible says which of the quantities written in text is too large.
func (k *kind) plausible(text string, all ...Quantity) *badText {
	for _, q := range all {
		if !(math.Abs(q.Value) <= k.most*(1+1e-12)) {
			return &badText{expected: k.name + " of at most " + k.unitOf(text).atMost(k.most), sense: true}
		}
	}
	return nil
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
func (k *kind) complain(text string, s sign) *badText {
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
	case k.tape:
		expected += k.unitHint() + "; write inches as 46 1/2 in or 3 ft 10 1/2 in"
	default:
		expected += k.unitHint()
	}
	return &badText{expected: expected}
}

func (k *kind) unitHint() string {
	if len(k.units) == 0 {
		return ""
	}
	return "; units: " + strings.Join(k.words(), ", ")
}

// ParseLength returns the length written in text in mm: a number with one of the
// units mm, cm, m, in, " or ft, or a bare number of mm. Fractions, and feet with
// inches, are written as on a tape measure: 46 1/2 in, 3 ft 7 1/2 in. More than
// 10 m is an error.
func ParseLength(text string) (mm float64, err error) { return length.read(text) }

// ParseTurn returns the setting of a joint or the angle of a bend written in text: a
// number with one of the units deg, ° or rad, or a bare number of degrees. More than 360°
// either way is an error.
func ParseTurn(text string) (frame.Angle, error) {
	degrees, err := turn.read(text)
	return frame.Angle(degrees) * frame.Degree, err
}

// read returns the quantity written in text, in the first unit of k.
func (k *kind) read(text string) (float64, error) {
	q, bad := k.parse(text, anySign)
	if bad != nil {
		return 0, errors.New("casefile: " + bad.problem(spot{}, text).Said())
	}
	return q.Value, nil
}

// Read returns the quantities that text says, within bounds or not: that of a number, both
// ends of a span. There are none if its form is not right.
func (e *Entry) Read(text string) []Quantity {
	if e.Kind == Number {
		if q, bad := e.of.parse(text, anySign); bad == nil {
			return []Quantity{q}
		}
	}
	if e.Kind == Span {
		if low, high, bad := e.of.parseRange(text, anySign); bad == nil {
			return []Quantity{low, high}
		}
	}
	return nil
}

// SizeOf returns the size of a unit in the first unit of the entry; 0 for one that it
// does not know.
func (e *Entry) SizeOf(unit string) float64 {
	if e.of == nil {
		return 0
	}
	return e.of.size(unit)
}
