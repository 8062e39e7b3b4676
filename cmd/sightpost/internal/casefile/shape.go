package casefile

import (
	"reflect"
	"strconv"
	"strings"
)

// field is what the tags of one field of a form say: a row of the table of entries.
//
//	key:"near"              the key in the file
//	doc:"phrase. More."     its meaning; the first phrase names it in messages
//	is:"positive"           the sign that a quantity must have; or "not negative"
//	within:"0 90"           bounds of a quantity, both allowed, in mm, degrees, kg
//	hint:"phrase"           what to think of when a quantity is outside them
//	below:"90"              upper bound that is not allowed itself
//	of:"left right"         the words of a choice
//	default:"63 mm"         what is assumed if the key is missing; behind a pointer,
//	                        only when the entry is needed: see [reader.complete]
//	absent:"as measured"    the same in words where it is no fixed value
//	source:"dodgson"        where the default comes from
//	least:"1"               least number of entries of a list
//	howto:"Sentence."       how it is measured, and what its picture shows
//	point:"the clamp"       for a group: what {} is in the howtos below it
//	picture:"none"          it has no picture, nor has what is below it; or the entry
//	                        with the same picture
//	group:"chair"           the part of the form that it belongs to, with all below it
//	advanced:"yes"          most cases do without it, and without what is below it
//
// A field without a default is required, unless it is a pointer, a list without
// least, or a form all of whose fields may be missing.
type field struct {
	index          []int
	key, doc       string
	sign           sign
	within, below  []float64
	words          []string
	def, source    string
	absent         string
	hint           string
	howto, point   string
	picture, group string
	advanced       bool
	least          int
}

// shape is what the tags of a form say.
type shape struct {
	here   []int
	fields []field
	one    []string
	needs  [][]string // needs[i][0] needs the others
	// word and form are set for a form that may also be written as one word: then
	// there are no fields.
	word, form *field
}

// shapeOf returns the shape of a form. The tags are written by hand, so slips in
// them are found by the tests of all forms, not here.
func shapeOf(t reflect.Type) shape {
	var s shape
	for i := range t.NumField() {
		sf := t.Field(i)
		switch {
		case sf.Type == reflect.TypeFor[here]():
			s.here = sf.Index
			s.one = strings.Fields(sf.Tag.Get("one"))
			for _, need := range strings.Split(sf.Tag.Get("needs"), ";") {
				if words := strings.Fields(need); len(words) > 0 {
					s.needs = append(s.needs, words)
				}
			}
		case sf.Anonymous:
			inner := shapeOf(sf.Type)
			for _, f := range inner.fields {
				f.index = append(append([]int{}, sf.Index...), f.index...)
				s.fields = append(s.fields, f)
			}
		case sf.Name == "Word":
			f := fieldOf(sf)
			s.word = &f
		case sf.Name == "Form":
			f := fieldOf(sf)
			s.form = &f
		default:
			s.fields = append(s.fields, fieldOf(sf))
		}
	}
	return s
}

func fieldOf(sf reflect.StructField) field {
	tag := sf.Tag.Get
	least, _ := strconv.Atoi(tag("least"))
	return field{
		index: sf.Index, key: tag("key"), doc: tag("doc"),
		sign: sign(tag("is")), within: numbers(tag("within")), below: numbers(tag("below")),
		words: strings.Fields(tag("of")), def: tag("default"), source: tag("source"), absent: tag("absent"),
		hint: tag("hint"), howto: tag("howto"), point: tag("point"),
		picture: tag("picture"), group: tag("group"), advanced: tag("advanced") != "", least: least,
	}
}

// numbers returns the numbers in s, or nil.
func numbers(s string) []float64 {
	var out []float64
	for _, w := range strings.Fields(s) {
		v, _ := strconv.ParseFloat(w, 64)
		out = append(out, v)
	}
	return out
}

// keys lists the keys of a form in its own order.
func (s shape) keys() []string {
	keys := make([]string, len(s.fields))
	for i, f := range s.fields {
		keys[i] = f.key
	}
	return keys
}

func (s shape) field(key string) *field {
	for i := range s.fields {
		if s.fields[i].key == key {
			return &s.fields[i]
		}
	}
	return nil
}

// flat reports whether a form holds words and numbers only.
func (s shape) flat(t reflect.Type) bool {
	for _, f := range s.fields {
		if !isLeaf(t.FieldByIndex(f.index).Type) {
			return false
		}
	}
	return true
}

// fillable reports whether a missing form can be filled in from defaults.
func (f field) fillable(t reflect.Type) bool {
	if t.Kind() != reflect.Struct || isLeaf(t) {
		return false
	}
	s := shapeOf(t)
	if s.word != nil || len(s.one) > 0 {
		return false
	}
	for _, inner := range s.fields {
		it := t.FieldByIndex(inner.index).Type
		if inner.required(it) {
			return false
		}
	}
	return true
}

// required reports whether an entry must be there.
func (f field) required(t reflect.Type) bool {
	switch {
	case f.def != "" || t.Kind() == reflect.Pointer:
		return false
	case t.Kind() == reflect.Slice:
		return f.least > 0
	}
	return !f.fillable(t)
}

// firstPhrase returns the part of a doc that names the entry.
func firstPhrase(doc string) string {
	phrase, _, _ := strings.Cut(doc, ". ")
	phrase, _, _ = strings.Cut(phrase, "; ")
	return strings.TrimSuffix(phrase, ".")
}

func plainKey(key string) string { return strings.ReplaceAll(key, "_", " ") }

func itoa(i int) string { return strconv.Itoa(i) }
