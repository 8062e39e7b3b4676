package casefile

import (
	"reflect"
	"slices"
	"strings"
	"unicode/utf8"
)

// Sort is a sort of entry.
type Sort string

// The sorts of entries.
const (
	Group   Sort = "group"   // entries under keys
	List    Sort = "list"    // groups, one after the other
	Either  Sort = "either"  // one word, or a group instead
	Words   Sort = "words"   // text
	Choice  Sort = "choice"  // one of a few words
	YesNo   Sort = "yes no"  // yes or no
	Number  Sort = "number"  // a quantity, with or without a unit
	Span    Sort = "span"    // two quantities with "to" between them
	Version Sort = "version" // of the format
)

// Field describes an entry of a file to those who have it filled in. It says what
// the reader goes by, from the same tags.
type Field struct {
	Key  string
	Sort Sort
	// Doc is its meaning in sentences; the first names it.
	Doc string
	// Required says that a file without it is refused.
	Required bool
	// Default is what is taken if it is left out, "" for nothing; Source where that
	// comes from.
	Default, Source string
	// Options are the words of a choice.
	Options []string
	// Units are those of a number or span, the first that of a bare number; none for
	// a number without a unit. Lengths share the units of all lengths.
	Units []string
	// Low and High are the bounds of a number or span in the first unit, both allowed
	// but an Open one; nil where there is none.
	Low, High         *float64
	OpenLow, OpenHigh bool
	// Least is the least number of entries of a list.
	Least int
	// One are the keys of a group of which exactly one must be there.
	One []string
	// Fields are the entries of a group, of every entry of a list, or of the group of
	// an either; Word is the word of an either.
	Fields []Field
	Word   *Field

	kind kind
	// match holds the form of a number or span, and is only read: see wellFormed.
	match matcher
}

// Fields returns the description of a case file.
func Fields() Field { return describer{}.describe(reflect.TypeFor[caseForm](), field{}) }

// KitFields returns the description of a kit file.
func KitFields() Field { return describer{}.describe(reflect.TypeFor[kitForm](), field{}) }

// Quantity is a number as somebody wrote it.
type Quantity struct {
	// Value is in the first unit of its field.
	Value float64
	// Number and Unit are the text's; Unit is "" if it has none.
	Number, Unit string
}

// Read returns the quantity that text says, and whether it says one: whether its form
// is right, not whether it is within bounds.
func (d *Field) Read(text string) (q Quantity, ok bool) {
	if d.Sort != Number || !d.wellFormed(text, d.kind.pattern(anySign)) {
		return q, false
	}
	v, err := d.kind.parse(d.match, text, anySign)
	if err != nil {
		return q, false
	}
	q.Value = v
	q.Number, q.Unit = d.kind.split(text)
	return q, true
}

// ReadSpan returns both ends of the span that text says, and whether it says one.
func (d *Field) ReadSpan(text string) (low, high Quantity, ok bool) {
	if d.Sort != Span || !d.wellFormed(text, d.kind.rangePattern(anySign)) {
		return low, high, false
	}
	l, h, err := d.kind.parseRange(d.match, text, anySign)
	if err != nil {
		return low, high, false
	}
	first, second, _ := strings.Cut(text, "to")
	low.Value, high.Value = l, h
	low.Number, low.Unit = d.kind.split(first)
	high.Number, high.Unit = d.kind.split(second)
	if low.Unit == "" {
		low.Unit = high.Unit
	}
	return low, high, true
}

// wellFormed reports whether text has a form. What has it is then read without
// looking at any other, so that a field may be asked by several at a time.
func (d *Field) wellFormed(text, pattern string) bool {
	return utf8.RuneCountInString(text) <= maxQuantityLen && d.match[pattern].MatchString(text)
}

// SizeOf returns the size of a unit in the first unit of the field; 0 for one that it
// does not know.
func (d *Field) SizeOf(unit string) float64 {
	for _, u := range d.kind.units {
		if u.word == unit {
			return u.size
		}
	}
	return 0
}

// Entry returns the dotted path of the entry that p is about: its key or, if an entry
// is missing, that of the missing one.
func (p Problem) Entry() string {
	if !p.Missing() {
		return p.Key
	}
	return joinKey(p.Key, p.missing)
}

// Missing reports whether p says that a required entry is not there.
func (p Problem) Missing() bool { return p.missing != "" }

// Said returns what is wrong without the place.
func (p Problem) Said() string {
	said := "found " + p.Found + ", expected " + p.Expected
	if p.Nearest != "" {
		said += "; did you mean " + p.Nearest + "?"
	}
	return said
}

// describer describes entries, and keeps the forms of their quantities.
type describer matcher

// describe returns the description of an entry.
func (m describer) describe(t reflect.Type, f field) Field {
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	d := Field{Key: f.key, Doc: f.doc, Default: f.def, Options: f.words, Least: f.least}
	if f.source != "" {
		d.Source = source(f.source)
	}
	switch {
	case t.Kind() == reflect.Slice:
		d.Sort = List
		inner := m.describe(t.Elem(), field{})
		d.Fields, d.One = inner.Fields, inner.One
	case isLeaf(t):
		d.leaf(m, reflect.New(t).Interface(), f)
	default:
		d.group(m, t)
	}
	return d
}

// group fills in the description of a form.
func (d *Field) group(m describer, t reflect.Type) {
	s := shapeOf(t)
	d.Sort, d.One = Group, s.one
	if s.word != nil {
		word := m.describe(t.FieldByIndex(s.word.index).Type, *s.word)
		form := m.describe(t.FieldByIndex(s.form.index).Type, *s.form)
		d.Sort, d.Word, d.Fields, d.One = Either, &word, form.Fields, form.One
		return
	}
	for _, f := range s.fields {
		ft := t.FieldByIndex(f.index).Type
		inner := m.describe(ft, f)
		inner.Required = f.required(ft)
		d.Fields = append(d.Fields, inner)
	}
}

// leaf fills in the description of one word or number.
func (d *Field) leaf(m describer, into any, f field) {
	switch into.(type) {
	case *text, *partName:
		d.Sort = Words
	case *choice:
		d.Sort = Choice
	case *truth:
		d.Sort = YesNo
	case *version:
		d.Sort = Version
	case *lengths:
		d.quantity(Span, lengthKind(), f)
	case *angles:
		d.quantity(Span, angleKind(), f)
	default:
		d.quantity(Number, kindOf(into), f)
	}
	m.keep(d)
}

// keep keeps the form of a number or span.
func (m describer) keep(d *Field) {
	d.match = matcher(m)
	switch d.Sort {
	case Number:
		d.match.matches(d.kind.pattern(anySign), "")
	case Span:
		d.match.matches(d.kind.rangePattern(anySign), "")
	default: // nothing to match
	}
}

// kindOf returns the kind of quantity that a leaf holds.
func kindOf(into any) kind {
	switch into.(type) {
	case *length:
		return lengthKind()
	case *angle:
		return angleKind()
	case *turned:
		return turnKind()
	case *mass:
		return massKind()
	case *force:
		return forceKind()
	case *moment:
		return momentKind()
	case *stress:
		return stressKind()
	case *density:
		return densityKind()
	}
	return numberKind()
}

// quantity fills in the description of a number or span.
func (d *Field) quantity(s Sort, k kind, f field) {
	d.Sort, d.kind = s, k
	for _, u := range k.units {
		d.Units = append(d.Units, u.word)
	}
	if f.within != nil {
		d.Low, d.High = &f.within[0], &f.within[1]
	}
	if f.below != nil {
		d.High, d.OpenHigh = &f.below[0], true
	}
	if f.sign != anySign && (d.Low == nil || *d.Low <= 0) {
		d.Low, d.OpenLow = new(float64), f.sign == positive
	}
}

// Under returns the field under a key of a group, list or either, or nil.
func (d *Field) Under(key string) *Field {
	at := slices.IndexFunc(d.Fields, func(inner Field) bool { return inner.Key == key })
	if at < 0 {
		return nil
	}
	return &d.Fields[at]
}
