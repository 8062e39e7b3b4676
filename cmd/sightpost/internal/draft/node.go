package draft

import (
	"strings"
	"unicode/utf8"

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

// place is where an entry stands. All places are bytes in the text.
type place struct {
	keyAt  int  // where its key begins, or its dash; -1 for the root
	colon  int  // after the colon or dash
	column int  // of the key or dash, in characters from 0
	flow   bool // it stands within braces
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

// parser makes nodes from the tree of the YAML library, which knows where things
// begin but not where they end.
type parser struct {
	text   string
	starts []int // of lines
	nodes  map[string]*node
}

// lineStarts returns where the lines of text begin.
func lineStarts(text string) []int {
	starts := []int{0}
	for i := range len(text) {
		if text[i] == '\n' {
			starts = append(starts, i+1)
		}
	}
	return starts
}

// at returns the place of a token in bytes, which the library gives in lines and
// characters.
func (p *parser) at(t *token.Token) int {
	if t == nil || t.Position == nil || t.Position.Line < 1 || t.Position.Line > len(p.starts) {
		return len(p.text)
	}
	at := p.starts[t.Position.Line-1]
	for range t.Position.Column - 1 {
		if at >= len(p.text) || p.text[at] == '\n' {
			break
		}
		_, size := utf8.DecodeRuneInString(p.text[at:])
		at += size
	}
	return at
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
		p.null(out, v)
	case *ast.LiteralNode:
		p.block(out, v)
	case *ast.StringNode:
		p.word(out, v.Token, v.Value)
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
		p.word(out, n.GetToken(), n.GetToken().Value)
	}
	p.nodes[path] = out
	return out
}

// group fills in a group of keys.
func (p *parser) group(out *node, pairs []*ast.MappingValueNode, braces bool, start, end *token.Token) {
	out.kind, out.braces = group, braces
	if braces {
		out.from, out.to = p.at(start), p.at(end)+1
	}
	for _, pair := range pairs {
		t := pair.Key.GetToken()
		at := place{keyAt: p.at(t), column: t.Position.Column - 1, colon: p.at(pair.Start) + 1, flow: out.flow || braces}
		out.kids = append(out.kids, p.node(pair.Value, below(out.path, t.Value), at))
	}
	p.around(out)
}

// list fills in a list.
func (p *parser) list(out *node, v *ast.SequenceNode) {
	out.kind, out.braces = list, v.IsFlowStyle
	if out.braces {
		out.from, out.to = p.at(v.Start), p.at(v.End)+1
	}
	for i, value := range v.Values {
		at := place{flow: out.flow || out.braces}
		if !out.braces && i < len(v.Entries) {
			dash := v.Entries[i].Start
			at.keyAt, at.column = p.at(dash), dash.Position.Column-1
			at.colon = at.keyAt + 1
		} else {
			at.keyAt = p.at(value.GetToken())
			at.colon = at.keyAt
		}
		out.kids = append(out.kids, p.node(value, entryPath(out.path, i+1), at))
	}
	p.around(out)
}

// around sets where a group or list without braces begins and ends: around its kids.
func (p *parser) around(out *node) {
	if !out.braces && len(out.kids) > 0 {
		out.from, out.to = out.kids[0].keyAt, out.kids[len(out.kids)-1].to
	}
}

// null fills in what stands for nothing, which may be written out.
func (p *parser) null(out *node, v *ast.NullNode) {
	out.kind = nothing
	if at := p.at(v.Token); v.Token.Type != token.ImplicitNullType && strings.HasPrefix(p.text[at:], v.Token.Value) {
		out.from, out.to = at, at+len(v.Token.Value)
	}
}

// word fills in a word: quoted, or plain in one line or several, which YAML folds.
func (p *parser) word(out *node, t *token.Token, value string) {
	out.from = p.at(t)
	rest := p.text[out.from:]
	switch {
	case strings.HasPrefix(rest, `"`) && t.Type == token.DoubleQuoteType:
		out.to = out.from + quotedEnd(rest, '"')
	case strings.HasPrefix(rest, "'") && t.Type == token.SingleQuoteType:
		out.to = out.from + quotedEnd(rest, '\'')
	case strings.HasPrefix(rest, value):
		out.to = out.from + len(value)
	default:
		length, ok := foldedEnd(rest, value)
		if !ok {
			out.to = p.lastLine(out)
			return
		}
		out.to = out.from + length
	}
	out.kind, out.value = word, value
}

// foldedEnd returns the length of the lines that s begins with and YAML folds to
// value: between words there is any space or line end.
func foldedEnd(s, value string) (length int, ok bool) {
	for _, w := range strings.Fields(value) {
		rest := strings.TrimLeft(s[length:], " \t\n")
		if !strings.HasPrefix(rest, w) {
			return 0, false
		}
		length = len(s) - len(rest) + len(w)
	}
	return length, length > 0
}

// quotedEnd returns the length of the quoted text that s begins with.
func quotedEnd(s string, mark byte) int {
	for i := 1; i < len(s); i++ {
		switch {
		case mark == '"' && s[i] == '\\':
			i++
		case s[i] == mark && mark == '\'' && i+1 < len(s) && s[i+1] == mark:
			i++
		case s[i] == mark:
			return i + 1
		}
	}
	return len(s)
}

// block fills in a text written as a block of lines.
func (p *parser) block(out *node, v *ast.LiteralNode) {
	out.kind = word
	out.value = strings.TrimRight(v.Value.Value, "\n")
	out.from = p.at(v.Start)
	out.to = p.lastLine(out)
}

// lastLine returns where the last line ends that belongs to the entry because it is
// indented beyond the key.
func (p *parser) lastLine(n *node) int {
	end := lineEnd(p.text, n.from)
	for next := end; next < len(p.text); {
		start := next + 1
		stop := lineEnd(p.text, start)
		line := p.text[start:stop]
		if indent := len(line) - len(strings.TrimLeft(line, " ")); strings.TrimSpace(line) != "" {
			if indent <= n.column {
				break
			}
			end = stop
		}
		next = stop
	}
	return end
}

// lineEnd returns where the line ends that holds the byte at.
func lineEnd(text string, at int) int {
	if at >= len(text) {
		return len(text)
	}
	if i := strings.IndexByte(text[at:], '\n'); i >= 0 {
		return at + i
	}
	return len(text)
}
