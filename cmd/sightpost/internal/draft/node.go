package draft

import (
	"strings"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/token"
)

// kind is what an entry is.
type kind int

const (
	word  kind = iota // one word, number or text
	group             // keys and entries
	list
	nothing // a key without a value
	opaque  // something that cannot be changed piecemeal
)

// place is where an entry is. All places are bytes in the text.
type place struct {
	keyAt  int  // where its key begins, or its dash; -1 for the root
	colon  int  // after the colon or dash
	column int  // of the key or dash, in characters from 0
	flow   bool // it is within braces
}

// node is an entry of the text.
type node struct {
	place
	path   string
	kind   kind
	value  string
	from   int // where its value begins
	to     int // after its value
	braces bool
	kids   []*node
}

// parser makes nodes from the tree of the YAML library.
type parser struct {
	text  string
	spans map[*token.Token]span
	nodes map[string]*node
}

// span is what a token takes up of the text, without the space about it.
type span struct{ from, to int }

// spansOf returns the spans of all tokens of a tree: the text is what they were written as,
// one after the other. Where it is not, the rest of it cannot be changed.
func spansOf(text string, tree ast.Node) map[*token.Token]span {
	const space = " \t\n"
	var first *token.Token
	for t := tree.GetToken(); t != nil; t = t.Prev {
		first = t
	}
	spans := map[*token.Token]span{}
	at := 0
	for t := first; t != nil && strings.HasPrefix(text[at:], t.Origin); t = t.Next {
		end := at + len(t.Origin)
		spans[t] = span{end - len(strings.TrimLeft(t.Origin, space)), at + len(strings.TrimRight(t.Origin, space))}
		at = end
	}
	return spans
}

// at returns the span of a token; the end of the text if it is not known.
func (p *parser) at(t *token.Token) span {
	if s, ok := p.spans[t]; ok {
		return s
	}
	return span{len(p.text), len(p.text)}
}

// node returns the entry of a tree's node.
func (p *parser) node(n ast.Node, path string, at place) *node {
	out := &node{place: at, path: path, from: at.colon, to: at.colon, kind: opaque}
	switch v := n.(type) {
	case *ast.MappingNode:
		p.group(out, v.Values, v.IsFlowStyle, v.Start, v.End)
	case *ast.MappingValueNode:
		p.group(out, []*ast.MappingValueNode{v}, false, nil, nil)
	case *ast.SequenceNode:
		p.list(out, v)
	case *ast.NullNode:
		out.kind = nothing
		p.written(out, nothing, "", v.Token, v.Token)
	case *ast.LiteralNode:
		p.written(out, word, strings.TrimRight(v.Value.Value, "\n"), v.Start, v.Value.Token)
	case *ast.StringNode:
		p.written(out, word, v.Value, v.Token, v.Token)
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
		p.written(out, word, n.GetToken().Value, n.GetToken(), n.GetToken())
	}
	p.nodes[path] = out
	return out
}

// group fills in a group of keys.
func (p *parser) group(out *node, pairs []*ast.MappingValueNode, braces bool, start, end *token.Token) {
	out.kind, out.braces = group, braces
	if braces {
		out.from, out.to = p.at(start).from, p.at(end).to
	}
	for _, pair := range pairs {
		t := pair.Key.GetToken()
		at := place{keyAt: p.at(t).from, column: t.Position.Column - 1, colon: p.at(pair.Start).to, flow: out.flow || braces}
		out.kids = append(out.kids, p.node(pair.Value, Join(out.path, t.Value), at))
	}
	p.around(out)
}

// list fills in a list.
func (p *parser) list(out *node, v *ast.SequenceNode) {
	out.kind, out.braces = list, v.IsFlowStyle
	if out.braces {
		out.from, out.to = p.at(v.Start).from, p.at(v.End).to
	}
	for i, value := range v.Values {
		at := place{flow: out.flow || out.braces}
		if !out.braces && i < len(v.Entries) {
			dash := v.Entries[i].Start
			at.keyAt, at.column = p.at(dash).from, dash.Position.Column-1
			at.colon = at.keyAt + 1
		} else {
			at.keyAt = p.at(value.GetToken()).from
			at.colon = at.keyAt
		}
		out.kids = append(out.kids, p.node(value, Nth(out.path, i+1), at))
	}
	p.around(out)
}

// around sets where a group or list without braces begins and ends: around its kids.
func (p *parser) around(out *node) {
	if !out.braces && len(out.kids) > 0 {
		out.from, out.to = out.kids[0].keyAt, out.kids[len(out.kids)-1].to
	}
}

// written fills in what stands for itself: a word, in one line or several, or nothing.
func (p *parser) written(out *node, kind kind, value string, first, last *token.Token) {
	if end, ok := p.spans[last]; ok {
		out.kind, out.value, out.from, out.to = kind, value, p.at(first).from, end.to
	}
}

// lineEnd returns where the line ends that holds the byte at.
func lineEnd(text string, at int) int {
	at = min(at, len(text))
	if i := strings.IndexByte(text[at:], '\n'); i >= 0 {
		return at + i
	}
	return len(text)
}
