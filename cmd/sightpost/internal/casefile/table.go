package casefile

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"sightpost/gaze/body"
	"sightpost/mount"
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

// Entry is a row of the table of a case or a kit. Reader, schema, form of the page,
// pictures, assumptions and comparison go by it.
type Entry struct {
	Key string
	// Path is the dotted path from the root of the file, with [] behind a list:
	// "postures[].seat_tilt".
	Path string
	// Kind is, in the tables, only written where the other columns do not tell it.
	Kind Kind
	// Doc is its meaning in sentences; the first phrase names it in messages. HowTo says
	// how it is measured; where there is no tool or trick to it, what it is.
	Doc, HowTo string
	// Picture is the entry whose picture shows how it is measured, without []; "" if
	// none does. In the tables "none" is for a row and what is below it.
	Picture string
	// Group is the part of the form that it belongs to with all below it; see [Groups].
	Group string
	// Advanced says that most cases do without it and what is below it.
	Advanced bool
	// Required says that a file without it is refused.
	Required bool
	// Default is what is taken if it is left out, as a file would give it or in words;
	// "" for nothing. Source says where that comes from.
	Default, Source string
	// Options are the words of a choice.
	Options []string
	// Ways are the words for a value above 0 and for one below; "" where only one is usual.
	Ways [2]string
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

	// names says which settings of the mount the word may be; nil if it names none
	names func(mount.Joint) bool

	of       *kind          // the kind of quantity
	sign     sign           // that the quantity must have
	within   bounds         // of the quantity, both allowed, in its first unit
	usual    usual          // range that few cases are outside of
	size     body.Dimension // of the body, that it is taken for
	below    float64        // upper bound that is not allowed itself
	over     string         // key beside it whose quantity must be less
	whole    bool           // only whole numbers
	pattern  string         // that words must match
	optional bool           // may be left out; a default is then taken only when it is needed
	def      string         // what a file would give; a file may leave it out
	steady   bool           // that it and what is below it does not change by itself
	absent   string         // the same in words where it is no fixed value; optional
	picture  string         // of a row of a kit: its picture, without what is below it
	howto    string         // how it is measured, {} being the point of the group
	point    string         // for a group: what {} is in the how-tos below it
	needs    [][]string     // for a group: the first key needs the others
	form     string         // for a group: its name in the schema, "" for the key
	instead  form           // for an either: its group in the schema
	fillable bool           // a group that may be left out because all in it may
}

// bounds are the least and the greatest value of a quantity.
type bounds [2]float64

// form is the name and the meaning of a group in the schema.
type form struct{ name, doc string }

// caseTable is the table of a case; kitTable the part of it that is that of a kit. They are
// made at the first need: not for a help or a completion.
var (
	caseTable = sync.OnceValue(func() *Entry {
		return (&Entry{form: "case", Fields: caseRows()}).completed(inherited{})
	})
	kitTable = sync.OnceValue(func() *Entry { return caseTable().At(kitEntry) })
)

// kitEntry is the path at which a case holds its kit.
const kitEntry = "mount.kit"

// Fields returns the table of a case as a tree, for walking along a file. It is read only.
func Fields() Entry { return *caseTable() }

// Kit returns the table of a kit as a tree in the same way.
func Kit() *Entry { return kitTable() }

// Rows returns every entry below e, groups and lists before what is in them, in the order
// of the form, but of a case nothing below mount.kit.
func (e *Entry) Rows() []Entry { return e.rows(nil) }

// rows appends the rows below e.
func (e *Entry) rows(to []Entry) []Entry {
	for _, f := range e.Fields {
		to = append(to, f)
		if f.Path != kitEntry {
			to = f.rows(to)
		}
	}
	return to
}

// FormGroup is a part of the form of a case: entries that are measured together.
type FormGroup struct{ ID, Title, Lead string }

// Groups returns the parts of the form in the order in which measurements are taken.
func Groups() []FormGroup {
	return []FormGroup{
		{"case", "Case", ""},
		{"person", "Person", "What is the same in every posture. Leave out what you did not measure: published values are taken and named."},
		{"measured", "Posture as measured", "The person seated as when they talk, the chair on level ground. Forward is the way the person faces, left is their left, up is from the floor. Near the eyes use a soft tape, beside the temple; point nothing at an eye."},
		{"chair", "Chair", "Everything with the seat level."},
		{"tracker", "Tracker", "From its data sheet; its place on the screen with a ruler."},
		{"screen", "Screen", ""},
		{"mount", "Mount", "Its kit and where it is clamped. Leave both out if you only want the place of the screen."},
		{"postures", "Postures that must work", "The postures in which the screen is used. The mount is set in the first that must work."},
		{"clear", "Keep clear", "What screen and tubes must stay away from, with the seat tilted as when measured."},
		{"more", "Preferences and passage", "Needed in few cases."},
	}
}

// inherited is what an entry has from those that hold it.
type inherited struct {
	path, point    string
	picture, group string
	advanced       bool
}

// noPicture is the picture of an entry without one.
const noPicture = "none"

// under returns what the entry e passes on.
func (in inherited) under(e *Entry) inherited {
	in.path, in.point = joinKey(in.path, e.Key), cmp.Or(e.point, in.point)
	in.group, in.advanced = cmp.Or(e.Group, in.group), in.advanced || e.Advanced
	switch {
	case e.Picture != "":
		in.picture = e.Picture
	case in.picture != noPicture:
		in.picture = joinKey(in.picture, e.Key)
	}
	return in
}

// completed is e, a row of the tables below in, with all that its columns tell.
func (e *Entry) completed(in inherited) *Entry {
	if e.Key != "" {
		in = in.under(e)
	}
	e.Kind = e.kind()
	if e.Kind == List {
		in.path += "[]"
	}
	e.Path, e.Group, e.Advanced, e.Picture = in.path, in.group, in.advanced, e.picture
	e.HowTo = strings.ReplaceAll(cmp.Or(e.howto, capital(e.Doc)), "{}", in.point)
	e.Default = cmp.Or(e.absent, e.def)
	if e.absent != "" && e.def != "" {
		e.Default = e.absent + ", or " + e.def
	}
	e.optional = e.optional || e.absent != ""
	if e.of != nil {
		e.quantity()
		if in.picture != noPicture {
			e.Picture = in.picture
		}
	}
	if e.Word != nil {
		e.Word.completed(in)
	}
	e.fillable = e.Kind == Group && len(e.One) == 0
	for i := range e.Fields {
		f := &e.Fields[i]
		f.optional = f.optional || slices.Contains(e.One, f.Key)
		e.fillable = !f.completed(in).Required && e.fillable
	}
	e.Required = !e.optional && e.def == "" && !e.fillable && (e.Kind != List || e.Least > 0)
	return e
}

// kind tells the kind of a row from its columns.
func (e *Entry) kind() Kind {
	switch {
	case e.Kind != "":
		return e.Kind
	case e.Word != nil:
		return Either
	case len(e.Options) > 0:
		return Choice
	case e.of != nil:
		return Number
	}
	return Group
}

// quantity fills in units and bounds.
func (e *Entry) quantity() {
	e.Units = e.of.words()
	if e.size != (body.Dimension{}) {
		low, high := e.size.UsualMM()
		e.usual = usual{low, high, 0, grown2012}
	}
	if e.within != (bounds{}) {
		e.Low, e.High = &e.within[0], &e.within[1]
	}
	if e.below != 0 {
		e.High, e.OpenHigh = &e.below, true
	}
	if e.sign != anySign && (e.Low == nil || *e.Low <= 0) {
		e.Low, e.OpenLow = new(float64), e.sign == positive
	}
}

// capital puts a capital at the beginning of a sentence.
func capital(s string) string {
	first := min(1, len(s))
	return strings.ToUpper(s[:first]) + s[first:]
}

// At returns the entry of a dotted path below e, with or without places in lists, as
// "postures[2].head.flexion", e itself at ""; nil if there is none.
func (e *Entry) At(path string) *Entry {
	if path == "" || e == nil {
		return e
	}
	first, rest, _ := strings.Cut(path, ".")
	key, _, _ := strings.Cut(first, "[")
	at := slices.IndexFunc(e.Fields, func(inner Entry) bool { return inner.Key == key })
	if at < 0 {
		return nil
	}
	return e.Fields[at].At(rest)
}

// Keys lists the keys of a group.
func (e *Entry) Keys() []string {
	keys := make([]string, len(e.Fields))
	for i, f := range e.Fields {
		keys[i] = f.Key
	}
	return keys
}

// phrase returns the part of the doc that names the entry.
func (e *Entry) phrase() string { return firstPhrase(e.Doc) }

func firstPhrase(doc string) string {
	phrase, _, _ := strings.Cut(doc, ". ")
	phrase, _, _ = strings.Cut(phrase, "; ")
	return strings.TrimSuffix(phrase, ".")
}

// parse returns the quantity written in text, or both ends of a span.
func (e *Entry) parse(text string, s sign) (low, high Quantity, bad *Problem) {
	k := e.of
	if e.Kind == Number {
		low, bad = k.parse(text, s)
		return low, low, bad
	}
	if first, second, ok := strings.Cut(text, "to"); ok && short(text) {
		low, high = k.quantity(first), k.quantity(second)
		ok = k.formed(low) && k.formed(high) && (low.Unit == "" || high.Unit != "") // that is of both
		if low.Unit == "" {
			low = k.quantity(first + high.Unit)
		}
		if ok && s.allows(low, high) {
			return low, high, k.plausible(text, low, high)
		}
	}
	return Quantity{}, Quantity{}, &Problem{Expected: "a range such as " + k.rangeExample() + k.unitHint()}
}

// Read returns the quantities that text says, within bounds or not: that of a number, both
// ends of a span. There are none if its form is not right.
func (e *Entry) Read(text string) []Quantity {
	if e.Kind != Number && e.Kind != Span {
		return nil
	}
	low, high, bad := e.parse(text, anySign)
	switch {
	case bad != nil && !bad.far:
		return nil
	case e.Kind == Number:
		return []Quantity{low}
	}
	return []Quantity{low, high}
}

// SizeOf returns the size of a unit in the first unit of the entry; 0 for one that it
// does not know.
func (e *Entry) SizeOf(unit string) float64 {
	if e.of == nil {
		return 0
	}
	return e.of.size(unit)
}
