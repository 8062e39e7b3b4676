package casefile

import (
	"bytes"
	"cmp"
	"maps"
	"slices"
	"strconv"
	"strings"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/token"

	"sightpost/gaze/body"
)

// reader collects what one file says.
type reader struct {
	top         spot         // of the file
	raw         bytes.Buffer // what it holds
	kitText     []byte       // of the file of its kit
	problems    Errors
	warnings    []string
	assumptions []Assumption
	seat        body.Seat // once the case is read
}

func newReader(file string) *reader { return &reader{top: spot{File: file, Line: 1, Column: 1}} }

// err returns all problems found in files; nil if there are none.
func (r *reader) err(files ...*node) error {
	if len(r.problems) == 0 {
		return nil
	}
	return r.suspects(files...)
}

// add adds a problem of the first stage, which a schema finds too, and returns it.
func (r *reader) add(at spot, found, expected string) *Problem {
	r.problems = append(r.problems, at.problem(found, expected))
	return &r.problems[len(r.problems)-1]
}

// senseless adds a problem of the second stage, which no schema can find.
func (r *reader) senseless(at spot, found, expected string) *Problem {
	p := r.add(at, found, expected)
	p.sense = true
	return p
}

// whole adds a problem of the whole file.
func (r *reader) whole(found, expected string) { r.add(r.top, found, expected) }

// warn notes what is allowed but looks like a mistake.
func (r *reader) warn(at spot, found, expected string) {
	r.warnings = append(r.warnings, at.problem(found, expected).String())
}

// value returns what y says of an entry.
func (r *reader) value(y ast.Node, at spot, e *Entry) *node {
	_, isMapping := y.(ast.MapNode)
	switch {
	case e.Kind == List:
		return r.list(y, at, e)
	case e.Kind == Group, e.Kind == Either && isMapping:
		return r.group(y, at, e)
	}
	return r.word(y, at, e)
}

// list returns what a list says.
func (r *reader) list(y ast.Node, at spot, e *Entry) *node {
	n := &node{row: e, at: nodeAt(y, at)}
	seq, ok := y.(*ast.SequenceNode)
	if !ok {
		r.add(n.at, inWords(y), "a list, each entry after a dash: "+e.phrase())
		return n
	}
	if len(seq.Values) < e.Least {
		r.add(n.at, "an empty list", "at least one entry: "+e.phrase())
	}
	for i, v := range seq.Values {
		entry := nodeAt(v, at)
		entry.Key = at.Key + "[" + strconv.Itoa(i+1) + "]"
		n.items = append(n.items, r.group(v, entry, e))
	}
	return n
}

// group returns what a group of keys says.
func (r *reader) group(y ast.Node, at spot, e *Entry) *node {
	pairs, ok := pairsOf(y)
	if !ok {
		r.add(nodeAt(y, at), inWords(y), "a group of keys: "+strings.Join(e.Keys(), ", "))
		return &node{row: e, at: nodeAt(y, at), kids: map[string]*node{}}
	}
	return r.fill(pairs, at, e)
}

// fill returns what pairs say of a group, with defaults where keys are missing.
func (r *reader) fill(pairs []*ast.MappingValueNode, at spot, e *Entry) *node {
	n := &node{row: e, at: at, kids: map[string]*node{}}
	misspelt := map[string]bool{}
	for _, p := range pairs {
		key, keyAt := keyOf(p, at)
		f := e.At(key)
		switch {
		case f == nil:
			near := Nearest(key, e.Keys())
			keyAt.Key = at.Key
			expected := "one of " + strings.Join(e.Keys(), ", ")
			if key != "" && '0' <= key[0] && key[0] <= '9' {
				expected += "; within braces a number with a comma needs quotes: \"46,5 cm\""
			}
			r.add(keyAt, "the unknown key "+quoted(key), expected).Nearest = near
			misspelt[near] = true
		case n.kids[key] != nil:
			r.add(keyAt, "the key "+quoted(key)+" for the second time", "every key once")
		default:
			n.kids[key] = r.value(p.Value, keyAt, f)
		}
	}
	seen := maps.Clone(misspelt) // one report for one slip
	for key := range n.kids {
		seen[key] = true
	}
	for i := range e.Fields {
		f := &e.Fields[i]
		switch {
		case seen[f.Key], f.optional:
		case f.Required:
			r.add(at, "no key "+quoted(f.Key), "it here: "+f.phrase()).missing = joinKey(at.Key, f.Key)
		default:
			r.leftOut(n, f)
		}
	}
	r.relations(n, seen)
	return n
}

// leftOut fills in the default of an entry that a group lacks, and says so.
func (r *reader) leftOut(n *node, e *Entry) {
	at := n.at.under(e.Key)
	switch {
	case e.size != (body.Dimension{}):
		r.derive(n, e.Key, plainKey(e.Key), r.seat.ScaledMM(e.size), published(e.Source, r.seat))
	case e.def != "":
		own := &node{row: e, at: at, assumed: true}
		r.take(own, e.def)
		if e.Source != "" {
			r.assumed(at.Key, e.phrase(), own.Value, e.Source)
		}
		n.kids[e.Key] = own
	case e.fillable:
		from := len(r.assumptions)
		n.kids[e.Key] = r.fill(nil, at, e)
		if !slices.ContainsFunc(e.Fields, func(f Entry) bool { return f.Fields != nil }) {
			r.assumptions = append(r.assumptions[:from], merged(r.assumptions[from:], at.Key, e.Doc)...)
		}
	}
}

// complete fills in the defaults of optional entries that a group lacks, once it is known
// that they are needed; only those of keys, if any are given.
func (r *reader) complete(n *node, keys ...string) {
	for i := range n.row.Fields {
		if e := &n.row.Fields[i]; n.kids[e.Key] == nil && (len(keys) == 0 || slices.Contains(keys, e.Key)) {
			r.leftOut(n, e)
		}
	}
}

// relations reports keys that exclude or need each other, and quantities out of order.
func (r *reader) relations(n *node, seen map[string]bool) {
	e := n.row
	got := slices.DeleteFunc(slices.Clone(e.One), func(k string) bool { return !seen[k] })
	if len(e.One) > 0 && len(got) != 1 {
		found := "none"
		if len(got) > 1 {
			found = strings.Join(got, " and ") + " together"
		}
		r.add(n.at, found, "exactly one of "+strings.Join(e.One, ", "))
	}
	for _, need := range e.needs {
		for _, k := range need[1:] {
			if seen[need[0]] && !seen[k] {
				r.add(n.at, quoted(need[0])+" without "+quoted(k), "the other key as well: "+e.At(k).phrase()).missing = joinKey(n.at.Key, k)
			}
		}
	}
	for _, f := range e.Fields {
		if f.over != "" {
			r.compare(n.get(f.Key), n.get(f.over), more, "more than "+f.over+", %s")
		}
	}
}

// word returns what a word or number says.
func (r *reader) word(y ast.Node, at spot, e *Entry) *node {
	at = nodeAt(y, at)
	n := &node{row: e, at: at}
	text, ok := scalar(y, n.leaf())
	if !ok {
		r.add(at, inWords(y), n.leaf().wanted())
		return n
	}
	r.cutShort(y, n)
	r.take(n, text)
	return n
}

// take gives text to a word or number and reports what is wrong with it.
func (r *reader) take(n *node, text string) {
	bad := n.read(text)
	n.valid = bad == nil
	if bad != nil {
		bad.spot, bad.Found = n.at, cmp.Or(bad.Found, quoted(text))
		r.problems = append(r.problems, *bad)
	}
}

// scalar returns the text of a scalar node. Text may be a number too, but not
// true or nothing: these are slips, and quotes say otherwise.
func scalar(y ast.Node, e *Entry) (string, bool) {
	switch v := y.(type) {
	case *ast.StringNode:
		return v.Value, true
	case *ast.LiteralNode:
		return v.Value.Value, true
	case *ast.IntegerNode, *ast.FloatNode, *ast.InfinityNode, *ast.NanNode:
		return y.GetToken().Value, true
	case *ast.BoolNode:
		return strings.ToLower(y.GetToken().Value), e.Kind == YesNo
	}
	return "", false
}

// cutShort warns when text is followed by a comment that may have been meant as a
// part of it: "tube #2 is short" is only "tube" to YAML.
func (r *reader) cutShort(y ast.Node, n *node) {
	c, e := y.GetComment(), n.leaf()
	if e.Kind != Words || e.pattern != "" || c == nil || len(c.Comments) == 0 {
		return
	}
	t := c.Comments[0].Token
	if t.Position.Line == n.at.Line && t.Value != "" && !strings.ContainsAny(t.Value[:1], " \t#") {
		r.warn(n.at, "text that ends before "+quoted("#"+t.Value), "quotes round the whole text if that belongs to it")
	}
}

// keyOf returns the text and place of a key.
func keyOf(p *ast.MappingValueNode, at spot) (string, spot) {
	key := ""
	if t := p.Key.GetToken(); t != nil {
		key = t.Value
	}
	return key, at.under(key).node(p.Key)
}

// pairsOf returns the pairs of a mapping; goccy gives a lone pair its own type.
func pairsOf(y ast.Node) ([]*ast.MappingValueNode, bool) {
	switch v := y.(type) {
	case *ast.MappingNode:
		return v.Values, true
	case *ast.MappingValueNode:
		return []*ast.MappingValueNode{v}, true
	}
	return nil, false
}

// nodeAt returns the place of a value, called as at is. A value that is not there
// is where its key is.
func nodeAt(y ast.Node, at spot) spot {
	if y.Type() == ast.NullType && y.GetToken().Type == token.ImplicitNullType {
		return at
	}
	return at.node(y)
}

// inWords names a node's kind for messages.
func inWords(y ast.Node) string {
	switch v := y.(type) {
	case *ast.MappingNode, *ast.MappingValueNode:
		return "a group of keys"
	case *ast.SequenceNode:
		return "a list"
	case *ast.NullNode:
		return "nothing"
	case *ast.LiteralNode:
		return quoted(v.Value.Value)
	}
	if t := y.GetToken(); t != nil {
		return quoted(t.Value)
	}
	return "something unknown"
}
