package casefile

import (
	"errors"
	"reflect"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml/ast"

	"sightpost/gaze/frame"
)

// leafValue is an entry that is one word or number in the file. Its pointer types
// implement it.
type leafValue interface {
	// read takes the text of an entry, or says what is wrong with it.
	read(text string, f field) error
	// place notes where the entry is in the file.
	place(at spot)
	// accept marks that read found nothing wrong, assume that the file does not say it.
	accept()
	assume()
	// schema returns the schema that says what read accepts.
	schema(f field) *schema
	// describe fills in what kind of entry it is, and for a quantity its units.
	describe(d *Entry, f field)
	// says returns what it holds, whether that is assumed, and whether it holds anything.
	says() (v Value, assumed, ok bool)
}

func isLeaf(t reflect.Type) bool {
	return reflect.PointerTo(t).Implements(reflect.TypeFor[leafValue]())
}

// leaf is embedded in every leafValue.
type leaf struct {
	At    spot
	valid bool // it was there, or has a default, and was read without a problem

	assumed bool // it was not there
}

func (l *leaf) place(at spot) { l.At = at }
func (l *leaf) accept()       { l.valid = true }
func (l *leaf) assume()       { l.assumed = true }

// word returns what a leaf of words says.
func (l *leaf) word(w string) (v Value, assumed, ok bool) { return Value{Word: w}, l.assumed, l.valid }

// leaf fills a leaf from a node.
func (r *reader) leaf(n ast.Node, at spot, into leafValue, f field) {
	at = nodeAt(n, at)
	at.File = r.file
	into.place(at)
	text, ok := scalar(n, into)
	if !ok {
		r.add(at, inWords(n), wanted(into, f))
		return
	}
	r.cutShort(n, at, into)
	r.take(at, into, text, f)
}

// take gives text to a leaf and reports what is wrong with it.
func (r *reader) take(at spot, into leafValue, text string, f field) {
	var bad *badText
	if !errors.As(into.read(text, f), &bad) {
		into.accept()
		return
	}
	p := at.problem(bad.found, bad.expected)
	p.Nearest, p.sense = bad.near, bad.sense
	if p.Found == "" {
		p.Found = quoted(text)
	}
	r.problems = append(r.problems, p)
}

// wanted says what a leaf would take: what it says of no text at all.
func wanted(into leafValue, f field) string {
	var bad *badText
	if errors.As(into.read("", f), &bad) {
		return bad.expected
	}
	return firstPhrase(f.doc)
}

// assume takes the default of a missing entry, and says so.
func (r *reader) assume(at spot, into leafValue, f field) {
	into.place(at)
	into.assume()
	r.take(at, into, f.def, f)
	if f.source != "" {
		r.assumed(at.Key, firstPhrase(f.doc), valueOf(into), source(f.source))
	}
}

// assumed notes a value that the case leaves open.
func (r *reader) assumed(key, what string, v Value, from string) {
	r.assumptions = append(r.assumptions, assumption(key, what, from, Part{Value: v}))
}

// assumption returns an assumption of values.
func assumption(key, what, from string, values ...Part) Assumption {
	words := make([]string, len(values))
	for i, v := range values {
		words[i] = v.String()
	}
	return Assumption{Key: key, What: what, Values: values, Value: strings.Join(words, ", "), Source: from}
}

// valueOf returns what a leaf says.
func valueOf(l leafValue) Value {
	v, _, _ := l.says()
	return v
}

// scalar returns the text of a scalar node. Text may be a number too, but not
// true or nothing: these are slips, and quotes say otherwise.
func scalar(n ast.Node, into leafValue) (string, bool) {
	switch v := n.(type) {
	case *ast.StringNode:
		return v.Value, true
	case *ast.LiteralNode:
		return v.Value.Value, true
	case *ast.IntegerNode, *ast.FloatNode, *ast.InfinityNode, *ast.NanNode:
		return n.GetToken().Value, true
	case *ast.BoolNode:
		_, wanted := into.(*truth)
		return strings.ToLower(n.GetToken().Value), wanted
	}
	return "", false
}

// cutShort warns when text is followed by a comment that may have been meant as a
// part of it: "tube #2 is short" is only "tube" to YAML.
func (r *reader) cutShort(n ast.Node, at spot, into leafValue) {
	c := n.GetComment()
	if _, text := into.(*text); !text || c == nil || len(c.Comments) == 0 {
		return
	}
	t := c.Comments[0].Token
	if t.Position.Line == at.Line && t.Value != "" && !strings.ContainsAny(t.Value[:1], " \t#") {
		r.warn(at, "text that ends before "+quoted("#"+t.Value), "quotes round the whole text if that belongs to it")
	}
}

// kindOf returns the kind that a type names.
func kindOf[K kinded]() kind {
	var k K
	return k.kind()
}

// quantity is a leaf that holds a number of a kind.
type quantity[K kinded] struct {
	leaf
	value float64 // in the first unit of its kind
	text  string
}

func (q *quantity[K]) read(text string, f field) error {
	k := kindOf[K]()
	v, err := k.parse(text, f.sign)
	var bad *badText
	switch {
	case errors.As(err, &bad) && bad.sense && f.within != nil:
		return k.outside(text, f)
	case err != nil:
		return err
	}
	q.value, q.text = v, strings.TrimSpace(text)
	return k.bound(text, f, v)
}

func (q *quantity[K]) schema(f field) *schema { return kindOf[K]().schema(f) }

func (q *quantity[K]) describe(d *Entry, f field) { d.quantity(Number, kindOf[K](), f) }

func (q *quantity[K]) says() (v Value, assumed, ok bool) {
	return Value{Low: q.value, High: q.value, Unit: kindOf[K]().first()}, q.assumed, q.valid
}

// outside says that a quantity is outside the bounds of its field.
func (k kind) outside(text string, f field) error {
	u := k.unitOf(text)
	expected := k.name + " within " + u.atLeast(f.within[0]) + " to " + u.atMost(f.within[1])
	if f.hint != "" {
		expected += "; " + f.hint
	}
	return &badText{found: quoted(text), expected: expected, sense: true}
}

// bound reports values outside the bounds of their field.
func (k kind) bound(text string, f field, values ...float64) error {
	for _, v := range values {
		if f.within != nil && (v < f.within[0] || v > f.within[1]) {
			return k.outside(text, f)
		}
		if f.below != nil && v >= f.below[0] {
			return &badText{found: quoted(text), expected: k.name + " below " + k.unitOf(text).atMost(f.below[0]), sense: true}
		}
	}
	return nil
}

// The quantities.
type (
	length  struct{ quantity[lengthUnit] }
	angle   struct{ quantity[angleUnit] }
	turned  struct{ quantity[turnUnit] }
	mass    struct{ quantity[massUnit] }
	force   struct{ quantity[forceUnit] }
	moment  struct{ quantity[momentUnit] }
	stress  struct{ quantity[stressUnit] }
	density struct{ quantity[densityUnit] }
	number  struct{ quantity[numberUnit] }
)

// number returns a quantity in the first unit of its kind.
func (q quantity[K]) number() float64 { return q.value }

func (q length) mm() float64           { return q.value }
func (q angle) of() frame.Angle        { return frame.Angle(q.value) * frame.Degree }
func (q turned) of() frame.Angle       { return frame.Angle(q.value) * frame.Degree }
func (q mass) kg() float64             { return q.value }
func (q stress) mpa() float64          { return q.value }
func (q density) kgm3() float64        { return q.value }
func (q force) newtons() float64       { return q.value }
func (q moment) newtonMetres() float64 { return q.value }

// span is a leaf that holds a range of a kind.
type span[K kinded] struct {
	leaf
	low, high float64
	text      string
}

func (s *span[K]) read(text string, f field) (err error) {
	k := kindOf[K]()
	s.low, s.high, err = k.parseRange(text, f.sign)
	if err != nil {
		return err
	}
	s.text = strings.TrimSpace(text)
	if s.low > s.high {
		return &badText{found: quoted(text), expected: "the lower end first", sense: true}
	}
	return k.bound(text, f, s.low, s.high)
}

func (s *span[K]) schema(f field) *schema { return kindOf[K]().rangeSchema(f) }

func (s *span[K]) describe(d *Entry, f field) { d.quantity(Span, kindOf[K](), f) }

func (s *span[K]) says() (v Value, assumed, ok bool) {
	return Value{Low: s.low, High: s.high, Unit: kindOf[K]().first()}, s.assumed, s.valid
}

// The ranges.
type (
	lengths struct{ span[lengthUnit] }
	angles  struct{ span[angleUnit] }
)

func (s angles) lowAngle() frame.Angle  { return frame.Angle(s.low) * frame.Degree }
func (s angles) highAngle() frame.Angle { return frame.Angle(s.high) * frame.Degree }

// text is a leaf that holds words.
type text struct {
	leaf
	Text string
}

// maxText bounds a text, in characters.
const maxText = 4000

func (t *text) read(s string, f field) error {
	t.Text = strings.TrimSpace(s)
	switch {
	case t.Text == "":
		return &badText{expected: "a few words: " + firstPhrase(f.doc)}
	case utf8.RuneCountInString(s) > maxText:
		return &badText{expected: "at most " + strconv.Itoa(maxText) + " characters"}
	}
	return nil
}

// partName is a leaf that holds the name of a part, which becomes half of the
// name of a setting: "post.height".
type partName struct {
	leaf
	Text string
}

// partNamePattern leaves out what separates names on a command line.
const partNamePattern = `^[^ .,=\t\r\n]{1,40}$`

func (p *partName) read(s string, _ field) error {
	p.Text = s
	if !matches(partNamePattern, s) {
		return &badText{expected: "a name of at most 40 characters without space, dot, comma or equals sign"}
	}
	return nil
}

// choice is a leaf that holds one of a few words.
type choice struct {
	leaf
	Word string
}

func (c *choice) read(s string, f field) error {
	for _, w := range f.words {
		if w == s {
			c.Word = s
			return nil
		}
	}
	return &badText{expected: "one of " + strings.Join(f.words, ", "), near: Nearest(s, f.words)}
}

// truth is a leaf that holds yes or no.
type truth struct {
	leaf
	Yes bool
}

func (t *truth) read(s string, _ field) error {
	switch s {
	case "true", "yes":
		t.Yes = true
	case "false", "no":
		t.Yes = false
	default:
		return &badText{expected: "one of yes, no, true, false", near: Nearest(s, []string{"yes", "no", "true", "false"})}
	}
	return nil
}

// version is a leaf that holds the version of the format.
type version struct{ leaf }

func (v *version) read(s string, _ field) error {
	if s != "1" {
		return &badText{expected: "1, the only version of the format so far"}
	}
	return nil
}

func (t *text) describe(d *Entry, _ field) { d.Kind = Words }

func (t *text) says() (v Value, assumed, ok bool) { return t.word(t.Text) }

func (p *partName) describe(d *Entry, _ field) { d.Kind = Words }

func (p *partName) says() (v Value, assumed, ok bool) { return p.word(p.Text) }

func (c *choice) describe(d *Entry, _ field) { d.Kind = Choice }

func (c *choice) says() (v Value, assumed, ok bool) { return c.word(c.Word) }

func (t *truth) describe(d *Entry, _ field) { d.Kind = YesNo }

func (t *truth) says() (v Value, assumed, ok bool) {
	if t.Yes {
		return t.word("yes")
	}
	return t.word("no")
}

func (v *version) describe(d *Entry, _ field) { d.Kind = Version }

func (v *version) says() (_ Value, assumed, ok bool) { return v.word("1") }
