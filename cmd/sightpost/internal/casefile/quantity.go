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
	"sightpost/plots/units"
)

// kind is a kind of quantity: its units and what a bare number means.
type kind struct {
	name    string
	example string
	units   []unit  // the first is the unit of a bare number
	both    *pair   // may also be written in two units, as 3 ft 7 1/2 in; or nil
	most    float64 // greatest magnitude taken for a plausible entry, in the first unit
	// mistaken are the units that are often taken for each other.
	mistaken []string
}

// unit is a way to write a unit, and its size in the first unit of its kind.
type unit struct {
	word string
	size float64
}

// pair are two units of which numbers are written one behind the other: the words of the
// larger, those of the smaller, and how that looks.
type pair struct {
	large, small []string
	example      string
}

// The kinds of quantities. The inch is 25.4 mm exactly by the international agreement of
// 1959. A turn is the angle of a setting or a bend, which may
// go all the way round.
var (
	length  = &kind{"a length", "118 cm", []unit{{"mm", 1}, {"cm", 10}, {"m", 1000}, {"in", 25.4}, {`"`, 25.4}, {"ft", 304.8}, {"'", 304.8}}, feetInches, 10e3, []string{"mm", "cm", "m", "in"}}
	angle   = &kind{"an angle", "12 deg", degrees, nil, 180, []string{"deg", "rad"}}
	turn    = &kind{"an angle", "12 deg", degrees, nil, 360, []string{"deg", "rad"}}
	mass    = &kind{"a mass", "1.6 kg", []unit{{"kg", 1}, {"g", 1e-3}, {"lb", units.KGPerPound}, {"oz", units.KGPerPound / 16}}, poundsOunces, 500, []string{"kg", "g", "lb"}}
	force   = &kind{"a force", "300 N", []unit{{"N", 1}, {"kN", 1e3}, {"lbf", units.NPerPound}}, nil, 1e5, nil}
	moment  = &kind{"a moment", "25 N m", []unit{{"N m", 1}, {"N·m", 1}, {"Nm", 1}, {"N cm", 1e-2}, {"Ncm", 1e-2}, {"lbf in", units.NPerPound * 0.0254}, {"lbf·in", units.NPerPound * 0.0254}}, nil, 1e4, nil}
	stress  = &kind{"a stress", "70 GPa", []unit{{"MPa", 1}, {"GPa", 1e3}, {"ksi", 1000 * units.NPerPound / (25.4 * 25.4)}}, nil, 1e6, []string{"MPa", "GPa"}}
	density = &kind{"a density", "2700 kg/m3", []unit{{"kg/m3", 1}, {"g/cm3", 1e3}}, nil, 1e5, []string{"kg/m3", "g/cm3"}}
	number  = &kind{"a number without a unit", "1.5", nil, nil, 1e6, nil}

	degrees = []unit{{"deg", 1}, {"°", 1}, {"rad", 180 / math.Pi}}

	feetInches   = &pair{[]string{"ft", "'"}, []string{"in", `"`}, "inches as 46 1/2 in or 3 ft 10 1/2 in"}
	poundsOunces = &pair{[]string{"lb"}, []string{"oz"}, "pounds as 4.2 lb or 4 lb 3 oz"}
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

// told words a number, given in the first unit of its kind, in u, as a tape or a scale
// shows it.
func (u unit) told(v float64) string {
	if named, err := units.Named(u.word); err == nil {
		return named.Length(v)
	}
	const fine, coarse, large = 100, 10, 10 // parts of a unit, and from where on they are coarse
	v /= u.size
	parts := float64(fine)
	if math.Abs(v) >= large {
		parts = coarse
	}
	return unit{u.word, 1}.atMost(math.Round(v*parts) / parts)
}

func (u unit) bound(v float64, round func(float64) float64) string {
	const parts, sixteenths = 1000, 16 // of a unit, of an inch
	switch {
	case u.word == units.Inch.String():
		return units.Sixteenths(round(v/u.size*sixteenths)/sixteenths) + " " + u.word
	case u.size != 1:
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

// allows reports whether all of some quantities have such a sign.
func (s sign) allows(all ...Quantity) bool {
	return !slices.ContainsFunc(all, func(q Quantity) bool {
		return s != anySign && strings.ContainsAny(q.Number, "-−") || s == positive && !(q.Value > 0)
	})
}

// The pieces of the written form of a number, of which the patterns of the schemas are made
// as well. Fractions are written as on a tape measure, 46 1/2 or 46½; decimals with a point or
// a comma.
const (
	gapRunes   = " \u00a0"
	gap        = "[" + gapRunes + "]*"
	blank      = "[" + gapRunes + "]+"
	halves     = "½¼¾⅛⅜⅝⅞⅓⅔"
	parts      = "[/⁄]0*[1-9][0-9]*" // of a fraction: what it is divided by
	signs      = `[+\-−]?`
	bareNumber = `(?:(?:[0-9]+` + blank + `)?[0-9]+` + parts + `|[0-9]*` + gap + `[` + halves + `]|[0-9]+[.,]?[0-9]*|[.,][0-9]+)`
	anyNumber  = signs + bareNumber
)

// maxQuantityLen bounds the text that is looked at, in characters.
const maxQuantityLen = 80

func short(text string) bool { return utf8.RuneCountInString(text) <= maxQuantityLen }

// patterns keeps the expressions that were compiled, by their text.
var patterns sync.Map

// matches reports whether all of text, if it is short enough, has a form.
func matches(pattern, text string) bool {
	if !short(text) {
		return false
	}
	re, ok := patterns.Load(pattern)
	if !ok {
		re, _ = patterns.LoadOrStore(pattern, regexp.MustCompile("^(?:"+pattern+")$"))
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
func (k *kind) parse(text string, s sign) (Quantity, *Problem) {
	q, ok := k.written(text)
	if !ok || !s.allows(q) {
		return Quantity{}, k.complain(text, s)
	}
	return q, k.plausible(text, q)
}

// written returns the quantity in text, and whether it has the form of one: a number with or
// without a unit, or in two units.
func (k *kind) written(text string) (Quantity, bool) {
	q := k.quantity(text)
	if !short(text) {
		return q, false
	}
	large, small, ok := k.both.parted(text)
	if !ok {
		return q, k.formed(q)
	}
	whole, rest := k.quantity(large), k.quantity(small)
	q.Value = whole.Value + math.Copysign(rest.Value, whole.Value)
	return q, matches(signs+"[0-9]+", whole.Number) && slices.Contains(k.both.large, whole.Unit) &&
		matches(bareNumber, rest.Number) && slices.Contains(k.both.small, rest.Unit)
}

// formed reports whether q is a number with or without a unit of k.
func (k *kind) formed(q Quantity) bool {
	return matches(anyNumber, q.Number) && (q.Unit == "" || k.size(q.Unit) != 0)
}

// parted parts text behind the larger of two units, if the smaller follows.
func (two *pair) parted(text string) (large, small string, ok bool) {
	if two == nil {
		return "", "", false
	}
	for _, word := range two.large {
		if large, small, found := strings.Cut(text, word); found && strings.Trim(small, gapRunes) != "" {
			return large + word, small, true
		}
	}
	return "", "", false
}

func (k *kind) rangeExample() string { return "0 to 120 " + k.first() }

// quantity returns the number that text begins with, and what is behind it as its unit.
func (k *kind) quantity(text string) Quantity {
	text = strings.Trim(text, gapRunes)
	q := Quantity{Number: text}
	if at := strings.IndexFunc(text, func(r rune) bool { return !strings.ContainsRune("+-−0123456789.,/⁄"+gapRunes+halves, r) }); at >= 0 {
		q.Number, q.Unit = strings.TrimRight(text[:at], gapRunes), text[at:]
	}
	q.Value = cmp.Or(k.size(q.Unit), 1) * decimalOf(q.Number)
	return q
}

// plausible says which of the quantities written in text may be meant in two ways or is too
// large.
func (k *kind) plausible(text string, all ...Quantity) *Problem {
	for _, q := range all {
		if strings.Contains(q.Number, ",") && matches(signs+`[1-9][0-9]{0,2},[0-9]{3}`, q.Number) {
			point, none := strings.Replace(text, ",", ".", 1), strings.Replace(text, ",", "", 1)
			return &Problem{Expected: quoted(none) + " or " + quoted(point) + "; a comma before three digits may mean either", sense: true}
		}
		const shown = 1e-6 // by how much the greatest is exceeded as shown in another unit
		if !(math.Abs(q.Value) <= k.most*(1+shown)) {
			return &Problem{Expected: k.name + " of at most " + k.unitOf(text).atMost(k.most), sense: true, far: true}
		}
	}
	return nil
}

// plainDigits writes numbers with the marks that decimalOf reads.
var plainDigits = strings.NewReplacer("−", "-", ",", ".", "⁄", "/", "½", " 1/2", "¼", " 1/4", "¾", " 3/4",
	"⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8", "⅓", " 1/3", "⅔", " 2/3")

// decimalOf returns the value of a number in its written form; a number with
// more digits than a float can hold comes back as infinite.
func decimalOf(number string) float64 {
	number = strings.TrimPrefix(plainDigits.Replace(number), "+")
	negative := strings.HasPrefix(number, "-")
	number = strings.TrimPrefix(number, "-")
	v := 0.0
	for _, part := range strings.Fields(number) {
		above, below, fraction := strings.Cut(part, "/")
		f, _ := strconv.ParseFloat(above, 64) // its form leaves only a range error, and then f is infinite
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

// complain says what is wrong with text that is no quantity of a sign.
func (k *kind) complain(text string, s sign) *Problem {
	expected := k.name + " such as " + k.example
	if s != anySign {
		expected = k.name + ", " + string(s) + ", such as " + k.example
	}
	_, formed := k.written(text)
	switch {
	case strings.TrimSpace(text) == "":
		return &Problem{Found: "nothing", Expected: expected}
	case matches(grouped, text):
		expected += "; write " + quoted(ungrouped(text))
	case strings.ContainsAny(text, "“”‘’″′"):
		expected += "; write in for inches, or a straight \" mark"
	case matches(gap+anyNumber+`[eE][+-]?[0-9]+.*`, text):
		expected += "; write the number out, without an exponent"
	case formed:
		// only the sign is wrong, and has been named
	case k.both != nil:
		expected += k.unitHint() + "; write " + k.both.example
	default:
		expected += k.unitHint()
	}
	return &Problem{Expected: expected}
}

// grouped matches a number whose thousands are set apart: 1.180,5 or 1 180.
const grouped = `[^0-9]*[0-9]{1,3}(?:[., \x{00a0}'’][0-9]{3})+(?:[.,][0-9]*)?[^0-9]*`

// ungrouped returns such a text without what sets thousands apart, and with a point for
// the decimals, which follow a mark that occurs once.
func ungrouped(text string) string {
	whole, decimals := text, ""
	if last := strings.LastIndexAny(text, ".,"); last >= 0 && strings.Count(text, text[last:last+1]) == 1 {
		whole, decimals = text[:last], "."+text[last+1:]
	}
	return regexp.MustCompile(`([0-9])[^0-9]([0-9])`).ReplaceAllString(whole, "$1$2") + decimals
}

func (k *kind) unitHint() string {
	if len(k.units) == 0 {
		return ""
	}
	return "; units: " + strings.Join(k.words(), ", ")
}

// ParseLength returns the length written in text in mm: a number with one of the
// units mm, cm, m, in, ", ft or ', or a number of the units bare. Fractions, and feet with
// inches, are written as on a tape measure: 46 1/2 in, 3 ft 7 1/2 in, 3'10". More than
// 10 m is an error.
func ParseLength(text string, bare units.Units) (mm float64, err error) {
	if q, bad := length.parse(text, anySign); bad == nil && q.Unit == "" {
		text += " " + bare.String()
	}
	return length.read(text)
}

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
		bad.Found = cmp.Or(bad.Found, quoted(text))
		return 0, errors.New(bad.Said())
	}
	return q.Value, nil
}
