package casefile

import (
	"maps"
	"reflect"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/token"
)

// spot is the place of an entry: where it is and what it is called.
type spot struct {
	File         string
	Line, Column int
	Key          string // dotted path
}

// here is embedded in every form: the place of the mapping that filled it in. Its
// tags speak of the form as a whole:
//
//	one:"box capsule"    exactly one of these keys
//	needs:"a b c"        if a is there, so are b and c; ";" separates several
type here struct{ At spot }

// reader collects what one file says.
type reader struct {
	file        string
	problems    Errors
	warnings    []string
	assumptions []Assumption
}

func newReader(file string) *reader { return &reader{file: file} }

func (r *reader) add(at spot, found, expected string) { r.addNear(at, found, expected, "") }

func (r *reader) addNear(at spot, found, expected, near string) {
	at.File = r.file
	p := at.problem(found, expected)
	p.Nearest = near
	r.problems = append(r.problems, p)
}

// problem returns a problem of the entry at a place.
func (s spot) problem(found, expected string) Problem {
	return Problem{File: s.File, Line: s.Line, Column: s.Column, Key: s.Key, Found: found, Expected: expected}
}

// lack adds that the entry at a place lacks a key.
func (r *reader) lack(at spot, key, found, expected string) {
	r.add(at, found, expected)
	r.problems[len(r.problems)-1].missing = key
}

// senseless adds a problem of the second stage, which no schema can find.
func (r *reader) senseless(at spot, found, expected string) {
	p := at.problem(found, expected)
	p.sense = true
	r.problems = append(r.problems, p)
}

// senselessNear adds that a text is none of the words that are there.
func (r *reader) senselessNear(at spot, found, text, expected string, words []string) {
	r.senseless(at, found, expected+strings.Join(words, ", "))
	r.problems[len(r.problems)-1].Nearest = Nearest(text, words)
}

// whole adds a problem of the whole file.
func (r *reader) whole(found, expected string) { r.add(spot{Line: 1, Column: 1}, found, expected) }

// value fills into, described by f, from a node.
func (r *reader) value(n ast.Node, at spot, into reflect.Value, f field) {
	switch {
	case into.Kind() == reflect.Pointer:
		into.Set(reflect.New(into.Type().Elem()))
		r.value(n, at, into.Elem(), f)
	case into.Kind() == reflect.Slice:
		r.list(n, at, into, f)
	default:
		if l, ok := into.Addr().Interface().(leafValue); ok {
			r.leaf(n, at, l, f)
			return
		}
		r.mapping(n, at, into)
	}
}

// list fills a slice.
func (r *reader) list(n ast.Node, at spot, into reflect.Value, f field) {
	seq, ok := n.(*ast.SequenceNode)
	if !ok {
		r.add(nodeAt(n, at), inWords(n), "a list, each entry after a dash: "+firstPhrase(f.doc))
		return
	}
	if len(seq.Values) < f.least {
		r.add(nodeAt(n, at), "an empty list", "at least one entry: "+firstPhrase(f.doc))
	}
	into.Set(reflect.MakeSlice(into.Type(), len(seq.Values), len(seq.Values)))
	for i, v := range seq.Values {
		entry := nodeAt(v, at)
		entry.Key = at.Key + "[" + itoa(i+1) + "]"
		r.value(v, entry, into.Index(i), field{doc: f.doc})
	}
}

// mapping fills a form.
func (r *reader) mapping(n ast.Node, at spot, into reflect.Value) {
	s := shapeOf(into.Type())
	if s.word != nil && !isMapping(n) {
		r.value(n, at, into.FieldByIndex(s.word.index), *s.word)
		return
	}
	if s.form != nil {
		r.value(n, at, into.FieldByIndex(s.form.index), *s.form)
		return
	}
	pairs, ok := pairsOf(n)
	if !ok {
		r.add(nodeAt(n, at), inWords(n), "a group of keys: "+strings.Join(s.keys(), ", "))
		return
	}
	r.fill(pairs, at, into, s)
}

// fill fills a form from pairs, and from defaults where keys are missing.
func (r *reader) fill(pairs []*ast.MappingValueNode, at spot, into reflect.Value, s shape) {
	at.File = r.file
	into.FieldByIndex(s.here).Field(0).Set(reflect.ValueOf(at))
	seen, misspelt := map[string]bool{}, map[string]bool{}
	for _, p := range pairs {
		key, keyAt := keyOf(p, at)
		f := s.field(key)
		switch {
		case f == nil:
			near := Nearest(key, s.keys())
			r.addNear(at.named(keyAt), "the unknown key "+quoted(key), "one of "+strings.Join(s.keys(), ", "), near)
			misspelt[near] = true
		case seen[key]:
			r.add(keyAt, "the key "+quoted(key)+" for the second time", "every key once")
		default:
			seen[key] = true
			r.value(p.Value, keyAt, into.FieldByIndex(f.index), *f)
		}
	}
	for _, f := range s.fields {
		if !seen[f.key] && !misspelt[f.key] {
			r.absent(at, into.FieldByIndex(f.index), f)
		}
	}
	maps.Copy(seen, misspelt) // one report for one slip
	r.relations(at, seen, s)
}

// absent fills in the default of a missing entry, or reports that it is missing.
func (r *reader) absent(at spot, into reflect.Value, f field) {
	at = at.under(f.key)
	switch {
	case f.def != "" && into.Kind() != reflect.Pointer:
		r.assume(at, into.Addr().Interface().(leafValue), f)
	case f.fillable(into.Type()):
		from := len(r.assumptions)
		s := shapeOf(into.Type())
		r.fill(nil, at, into, s)
		if s.flat(into.Type()) {
			r.assumptions = append(r.assumptions[:from], merged(r.assumptions[from:], at.Key, f.doc)...)
		}
	case f.required(into.Type()):
		r.lack(at.parent(), f.key, "no key "+quoted(f.key), "it here: "+firstPhrase(f.doc))
	}
}

// complete fills in the defaults of entries behind pointers that a form lacks, once it
// is known that they are needed; only those of keys, if any are given.
func (r *reader) complete(form reflect.Value, at spot, keys ...string) {
	for _, f := range shapeOf(form.Type()).fields {
		into := form.FieldByIndex(f.index)
		if into.Kind() != reflect.Pointer || !into.IsNil() || len(keys) > 0 && !slices.Contains(keys, f.key) {
			continue
		}
		if f.def != "" || f.fillable(into.Type().Elem()) {
			into.Set(reflect.New(into.Type().Elem()))
			r.absent(at, into.Elem(), f)
		}
	}
}

// defaultMM returns the default of a length in a form; 0 if it has none.
func defaultMM(form any, key string) float64 {
	f := shapeOf(reflect.TypeOf(form).Elem()).field(key)
	if f == nil {
		return 0
	}
	mm, _ := ParseLength(f.def) // the tests of all forms read every default
	return mm
}

// relations reports keys that exclude or need each other.
func (r *reader) relations(at spot, seen map[string]bool, s shape) {
	if len(s.one) > 0 {
		var got []string
		for _, k := range s.one {
			if seen[k] {
				got = append(got, k)
			}
		}
		if len(got) != 1 {
			found := "none"
			if len(got) > 1 {
				found = strings.Join(got, " and ") + " together"
			}
			r.add(at, found, "exactly one of "+strings.Join(s.one, ", "))
		}
	}
	for _, need := range s.needs {
		for _, k := range need[1:] {
			if seen[need[0]] && !seen[k] {
				r.lack(at, k, quoted(need[0])+" without "+quoted(k), "both keys, or neither: "+firstPhrase(s.field(k).doc))
			}
		}
	}
}

// keyOf returns the text and place of a key.
func keyOf(p *ast.MappingValueNode, at spot) (string, spot) {
	key := ""
	if t := p.Key.GetToken(); t != nil {
		key = t.Value
	}
	keyAt := nodeSpot(p.Key)
	keyAt.File, keyAt.Key = at.File, joinKey(at.Key, key)
	return key, keyAt
}

// pairsOf returns the pairs of a mapping; goccy gives a lone pair its own type.
func pairsOf(n ast.Node) ([]*ast.MappingValueNode, bool) {
	switch v := n.(type) {
	case *ast.MappingNode:
		return v.Values, true
	case *ast.MappingValueNode:
		return []*ast.MappingValueNode{v}, true
	}
	return nil, false
}

func isMapping(n ast.Node) bool { _, ok := pairsOf(n); return ok }

// nodeAt returns the place of a value, called as at is. A value that is not there
// is where its key is.
func nodeAt(n ast.Node, at spot) spot {
	if n.Type() == ast.NullType && n.GetToken().Type == token.ImplicitNullType {
		return at
	}
	own := nodeSpot(n)
	own.File, own.Key = at.File, at.Key
	return own
}

// inWords names a node's kind for messages.
func inWords(n ast.Node) string {
	switch v := n.(type) {
	case *ast.MappingNode, *ast.MappingValueNode:
		return "a group of keys"
	case *ast.SequenceNode:
		return "a list"
	case *ast.NullNode:
		return "nothing"
	case *ast.LiteralNode:
		return quoted(v.Value.Value)
	}
	if t := n.GetToken(); t != nil {
		return quoted(t.Value)
	}
	return "something unknown"
}

func joinKey(path, key string) string {
	if utf8.RuneCountInString(key) > maxQuoted {
		key = string([]rune(key)[:maxQuoted]) + "…"
	}
	if path == "" {
		return key
	}
	return path + "." + key
}

// parent returns s under the name of what holds it.
func (s spot) parent() spot {
	s.Key = s.Key[:max(strings.LastIndexByte(s.Key, '.'), 0)]
	return s
}

// under returns s under the name of an entry of it.
func (s spot) under(key string) spot {
	s.Key = joinKey(s.Key, key)
	return s
}

// named returns the place of other under the name of s.
func (s spot) named(other spot) spot {
	other.Key = s.Key
	return other
}

// merged joins assumptions of one group that share a source.
func merged(as []Assumption, key, doc string) []Assumption {
	var out []Assumption
	for _, a := range as {
		name := plainKey(strings.ReplaceAll(strings.TrimPrefix(a.Key, key+"."), ".", " "))
		values := make([]Part, len(a.Values))
		for i, v := range a.Values {
			values[i] = Part{Name: strings.TrimSuffix(name+" "+v.Name, " "), Value: v.Value}
		}
		if same := slices.IndexFunc(out, func(o Assumption) bool { return o.Source == a.Source }); same >= 0 {
			out[same] = assumption(key, out[same].What, a.Source, append(out[same].Values, values...)...)
			continue
		}
		out = append(out, assumption(key, firstPhrase(doc), a.Source, values...))
	}
	return out
}
