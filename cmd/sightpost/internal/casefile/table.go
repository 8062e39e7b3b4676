package casefile

import (
	"cmp"
	"reflect"
	"slices"
	"strings"
)

// Kind is a kind of entry.
type Kind string

// The kinds of entries.
const (
	Group   Kind = "group"   // entries under keys
	List    Kind = "list"    // groups, one after the other
	Either  Kind = "either"  // one word, or a group instead
	Words   Kind = "words"   // text
	Choice  Kind = "choice"  // one of a few words
	YesNo   Kind = "yes no"  // yes or no
	Number  Kind = "number"  // a quantity, with or without a unit
	Span    Kind = "span"    // two quantities with "to" between them
	Version Kind = "version" // of the format
)

// Entry is a row of the table of a case or a kit: it describes an entry to those who
// have it filled in, show it or compare it. It says what the reader goes by, from the
// same tags.
type Entry struct {
	Key string
	// Path is the dotted path from the root of the file, with [] behind a list:
	// "postures[].seat_tilt".
	Path string
	Kind Kind
	// Doc is its meaning in sentences; the first names it. HowTo says how it is
	// measured; where there is no tool or trick to it, what it is.
	Doc, HowTo string
	// Picture is the entry whose picture shows how it is measured, without []; "" if
	// none does.
	Picture string
	// Group is the part of the form that it belongs to; see [Groups]. "" in a kit.
	Group string
	// Advanced says that most cases do without it.
	Advanced bool
	// Required says that a file without it is refused.
	Required bool
	// Default is what is taken if it is left out, as a file would give it or in words;
	// "" for nothing. Source says where that comes from.
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
	Fields []Entry
	Word   *Entry

	number kind
}

// Fields returns the description of a case file as a tree, for walking along a file.
func Fields() Entry { return describe(reflect.TypeFor[caseForm](), field{}, inherited{}) }

// KitFields returns the description of a kit file as a tree.
func KitFields() Entry {
	return describe(reflect.TypeFor[kitForm](), field{}, inherited{picture: noPicture})
}

// Table returns the table of a case: every entry that a file may have, groups and lists
// before what is in them, in the order of the form. Where the case names its kit, the
// kit's own table goes on: see [KitTable]. Schema, form, pictures, starter and
// comparison show these rows.
func Table() []Entry { return Fields().rows(nil) }

// KitTable returns the table of a kit; see [Table].
func KitTable() []Entry { return KitFields().rows(nil) }

// rows appends the rows below d.
func (d Entry) rows(to []Entry) []Entry {
	for _, f := range d.Fields {
		to = append(to, f)
		if f.Path != kitEntry {
			to = f.rows(to)
		}
	}
	return to
}

// kitEntry is the path at which a case holds its kit.
const kitEntry = "mount.kit"

// FormGroup is a part of the form of a case: entries that are measured together.
type FormGroup struct{ ID, Title, Lead string }

// Groups returns the parts of the form in the order in which measurements are taken.
func Groups() []FormGroup {
	return []FormGroup{
		{"case", "Case", "A code of your choice. No names: the code is all that tells whose case it is."},
		{"person", "Person", "What belongs to the person in every posture. Leave out what you did not measure: published values are taken and named."},
		{"measured", "Posture as measured", "The person seated as when they talk, the chair on level ground. Forward is the way the person faces, left is their left, up is from the floor."},
		{"chair", "Chair", "Everything with the seat level."},
		{"tracker", "Tracker", "From its data sheet; its place on the screen with a ruler."},
		{"screen", "Screen", ""},
		{"mount", "Mount", "Its kit and where it is clamped. Leave both out if you only want the place of the screen."},
		{"postures", "Postures that must work", "The postures in which the screen is used. The mount is set in the first that must work."},
		{"clear", "Keep clear", "What screen and tubes must stay away from, measured with the seat tilted as it was."},
		{"more", "Preferences and passage", "Most cases do without."},
	}
}

// Quantity is a number as somebody wrote it.
type Quantity struct {
	// Value is in the first unit of its field.
	Value float64
	// Number and Unit are the text's; Unit is "" if it has none.
	Number, Unit string
}

// Read returns the quantity that text says, and whether it says one: whether its form
// is right, not whether it is within bounds.
func (d *Entry) Read(text string) (q Quantity, ok bool) {
	if d.Kind != Number {
		return q, false
	}
	v, err := d.number.parse(text, anySign)
	if err != nil {
		return q, false
	}
	q.Value = v
	q.Number, q.Unit = d.number.split(text)
	return q, true
}

// ReadSpan returns both ends of the span that text says, and whether it says one.
func (d *Entry) ReadSpan(text string) (low, high Quantity, ok bool) {
	if d.Kind != Span {
		return low, high, false
	}
	l, h, err := d.number.parseRange(text, anySign)
	if err != nil {
		return low, high, false
	}
	first, second, _ := strings.Cut(text, "to")
	low.Value, high.Value = l, h
	low.Number, low.Unit = d.number.split(first)
	high.Number, high.Unit = d.number.split(second)
	if low.Unit == "" {
		low.Unit = high.Unit
	}
	return low, high, true
}

// SizeOf returns the size of a unit in the first unit of the field; 0 for one that it
// does not know.
func (d *Entry) SizeOf(unit string) float64 {
	for _, u := range d.number.units {
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

// inherited is what an entry has from those that hold it.
type inherited struct {
	path, point    string
	picture, group string
	advanced       bool
}

// noPicture is what the tag picture says of an entry without one.
const noPicture = "none"

// under returns what the entry of a tag row passes on, and what its own values are.
func (in inherited) under(f field) inherited {
	in.path, in.point, in.advanced = joinKey(in.path, f.key), cmp.Or(f.point, in.point), in.advanced || f.advanced
	in.group = cmp.Or(f.group, in.group)
	switch {
	case f.picture != "":
		in.picture = f.picture
	case in.picture != noPicture:
		in.picture = joinKey(in.picture, f.key)
	}
	return in
}

// describe returns the description of an entry below in.
func describe(t reflect.Type, f field, in inherited) Entry {
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if f.key != "" {
		in = in.under(f)
	}
	if t.Kind() == reflect.Slice {
		in.path += "[]"
	}
	d := Entry{
		Key: f.key, Path: in.path, Doc: f.doc, Options: f.words, Least: f.least, Group: in.group, Advanced: in.advanced,
		Default: strings.Join(slices.DeleteFunc([]string{f.absent, f.def}, func(s string) bool { return s == "" }), ", or "),
		HowTo:   strings.ReplaceAll(cmp.Or(f.howto, capital(f.doc)), "{}", in.point),
	}
	if f.source != "" {
		d.Source = source(f.source)
	}
	switch {
	case t.Kind() == reflect.Slice:
		d.Kind = List
		inner := describe(t.Elem(), field{}, in)
		d.Fields, d.One = inner.Fields, inner.One
	case isLeaf(t):
		reflect.New(t).Interface().(leafValue).describe(&d, f)
		if (d.Kind == Number || d.Kind == Span) && in.picture != noPicture {
			d.Picture = in.picture
		}
	default:
		d.group(t, in)
	}
	return d
}

// capital puts a capital at the beginning of a sentence.
func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// group fills in the description of a form.
func (d *Entry) group(t reflect.Type, in inherited) {
	s := shapeOf(t)
	d.Kind, d.One = Group, s.one
	if s.word != nil {
		word := describe(t.FieldByIndex(s.word.index).Type, *s.word, in)
		form := describe(t.FieldByIndex(s.form.index).Type, *s.form, in)
		d.Kind, d.Word, d.Fields, d.One = Either, &word, form.Fields, form.One
		return
	}
	for _, f := range s.fields {
		ft := t.FieldByIndex(f.index).Type
		inner := describe(ft, f, in)
		inner.Required = f.required(ft)
		d.Fields = append(d.Fields, inner)
	}
}

// quantity fills in the description of a number or span.
func (d *Entry) quantity(s Kind, k kind, f field) {
	d.Kind, d.number = s, k
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
func (d *Entry) Under(key string) *Entry {
	at := slices.IndexFunc(d.Fields, func(inner Entry) bool { return inner.Key == key })
	if at < 0 {
		return nil
	}
	return &d.Fields[at]
}

// At returns the entry of a dotted path below d, with or without places in lists, as
// "postures[2].head.flexion"; nil if there is none.
func (d *Entry) At(path string) *Entry {
	for part := range strings.SplitSeq(path, ".") {
		key, _, _ := strings.Cut(part, "[")
		if d = d.Under(key); d == nil {
			return nil
		}
	}
	return d
}
