package casefile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"

	"sightpost/cmd/sightpost/internal/disk"
)

// Bounds of a file. A case with a line of comment for every entry takes some
// hundred lines; the parser's time grows with the square of the tokens, so that
// a hostile file must be stopped before it.
const (
	MaxBytes  = 256 << 10
	maxTokens = 10_000
	maxNested = 20  // braces and brackets within each other
	maxColumn = 200 // of keys and dashes outside of braces: each level takes a column
)

// parse reads src and returns the root of its one document, with comments, or nil
// after reporting what is wrong with the text as such.
func (r *reader) parse(src io.Reader) ast.Node {
	text, ok := r.text(src)
	if !ok {
		return nil
	}
	tokens := lexer.Tokenize(lineEnds(text))
	if !r.plain(tokens) {
		return nil
	}
	file, err := parseTokens(tokens)
	if err != nil {
		r.syntax(err)
		return nil
	}
	return r.root(file)
}

// lineEnds makes every end of a line a line feed, as YAML 1.2.2, 5.4 asks. The parser
// counts a carriage return after a comment as a line of its own.
func lineEnds(text string) string {
	return strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text)
}

// text returns src as UTF-8 without a byte order mark.
func (r *reader) text(src io.Reader) (string, bool) {
	text, err := ReadText(src, MaxBytes)
	var control *ControlError
	switch {
	case err == nil:
		return text, true
	case errors.As(err, &control):
		r.add(spot{File: r.top.File, Line: control.Line, Column: control.Column}, fmt.Sprintf("the control character %q", control.Rune), "text only")
	case errors.Is(err, disk.ErrTooLarge):
		r.whole(fmt.Sprintf("more than %d bytes", MaxBytes), "a file of at most that size")
	case errors.Is(err, ErrNotText):
		r.whole("bytes that are not text", "YAML text in UTF-8, or in UTF-16 with a byte order mark")
	default:
		r.whole("a file that cannot be read", "one that can: "+oneLine(err))
	}
	return "", false
}

// ErrNotText reports a file that is no text.
var ErrNotText = errors.New("bytes that are not text")

// ControlError reports a control character that no text file has.
type ControlError struct {
	Rune         rune
	Line, Column int // from 1
}

func (e *ControlError) Error() string {
	return fmt.Sprintf("the control character %q in line %d", e.Rune, e.Line)
}

// ReadText reads a text file of at most so many bytes, and returns it in UTF-8 without a
// byte order mark, from UTF-8 or, with a mark, UTF-16. The error is that of src,
// [disk.ErrTooLarge], [ErrNotText] or a [ControlError].
func ReadText(src io.Reader, most int) (string, error) {
	raw, err := disk.All(src, most)
	if err != nil {
		return "", err
	}
	text, _, err := transform.Bytes(unicode.BOMOverride(transform.Nop), raw)
	if err != nil || !utf8.Valid(text) {
		return "", ErrNotText
	}
	if at := bytes.IndexFunc(text, isControl); at >= 0 {
		c, _ := utf8.DecodeRune(text[at:])
		return "", &ControlError{
			Rune: c, Line: 1 + bytes.Count(text[:at], []byte("\n")),
			Column: 1 + utf8.RuneCount(text[bytes.LastIndexByte(text[:at], '\n')+1:at]),
		}
	}
	return string(text), nil
}

// isControl reports control characters that no text file has.
func isControl(c rune) bool {
	return c < ' ' && c != '\n' && c != '\r' && c != '\t' || c == 0x7f
}

// plain reports what a case has no use for: anchors and aliases (which can make a
// small file enormous), tags, merges, directives, further documents; and nesting
// or length beyond the bounds.
func (r *reader) plain(tokens token.Tokens) bool {
	before := len(r.problems)
	nested := 0
	for i, t := range tokens {
		at := r.top.token(t)
		switch t.Type {
		case token.SequenceStartType, token.MappingStartType:
			nested++
		case token.SequenceEndType, token.MappingEndType:
			nested--
		case token.AnchorType, token.AliasType, token.TagType, token.MergeKeyType, token.DirectiveType, token.MappingKeyType:
			r.add(at, "the YAML mark "+quoted(t.Value), "plain keys and values; put text that begins so in quotes")
		case token.DocumentHeaderType:
			if i > 0 && tokens[i-1].Type != token.CommentType {
				r.add(at, "a second document", "one document in a file")
			}
		}
		switch {
		case nested == 0 && startColumn(t) > maxColumn:
			r.add(at, fmt.Sprintf("an entry beyond column %d", maxColumn), "fewer levels within each other")
		case nested > maxNested:
			r.add(at, fmt.Sprintf("more than %d levels of braces", maxNested), "fewer levels within each other")
		case i > maxTokens:
			r.add(at, fmt.Sprintf("more than %d words and marks", maxTokens), "a shorter file")
		default:
			continue
		}
		return false
	}
	return len(r.problems) == before
}

// startColumn returns the column in which the entry of a dash or colon begins; 0 for other
// tokens.
func startColumn(t *token.Token) int {
	switch {
	case t.Type == token.MappingValueType && t.Prev != nil:
		return t.Prev.Position.Column
	case t.Type == token.SequenceEntryType, t.Type == token.MappingValueType:
		return t.Position.Column
	}
	return 0
}

// parseTokens turns a panic of the parser into an error: whatever a file holds,
// the program must go on.
func parseTokens(tokens token.Tokens) (file *ast.File, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = errors.New("text that the YAML parser cannot read")
		}
	}()
	return parser.Parse(tokens, parser.ParseComments, parser.AllowDuplicateMapKey())
}

// syntax reports an error of the parser at its place.
func (r *reader) syntax(err error) {
	var at *yaml.SyntaxError
	if errors.As(err, &at) && at.Token != nil {
		r.add(r.top.token(at.Token), "invalid YAML ("+at.Message+")",
			"key: value, a space after the colon, equal indentation by spaces, text with marks in quotes")
		return
	}
	message, _, _ := strings.Cut(err.Error(), "\n")
	r.whole("invalid YAML ("+message+")", "key: value, with equal indentation by spaces")
}

// root returns the body of the only document.
func (r *reader) root(file *ast.File) ast.Node {
	var root ast.Node
	for _, doc := range file.Docs {
		switch {
		case doc.Body == nil || doc.Body.Type() == ast.CommentType || doc.Body.Type() == ast.NullType:
		case root != nil:
			r.add(r.top.node(doc.Body), "a second document", "one document in a file")
			return nil
		default:
			root = doc.Body
		}
	}
	if root == nil {
		r.whole("nothing", "keys and values; the command new writes an example")
	}
	return root
}

// token returns s where a token is.
func (s spot) token(t *token.Token) spot {
	s.Line, s.Column = max(t.Position.Line, 1), max(t.Position.Column, 1)
	return s
}

// node returns s where a node begins. The token of a mapping is
// its first colon, so its first key is asked instead.
func (s spot) node(n ast.Node) spot {
	switch v := n.(type) {
	case *ast.MappingNode:
		if !v.IsFlowStyle && len(v.Values) > 0 {
			return s.node(v.Values[0].Key)
		}
	case *ast.MappingValueNode:
		return s.node(v.Key)
	}
	if t := n.GetToken(); t != nil && t.Position != nil {
		return s.token(t)
	}
	s.Line, s.Column = 1, 1
	return s
}

// Decode returns the text of a file in UTF-8 without a byte order mark. The error is
// of type [Errors].
func Decode(name string, src io.Reader) (string, error) {
	r := newReader(name)
	text, _ := r.text(src)
	return text, r.err()
}

// Tree returns the syntax tree of a case or kit, whatever it says. Its bounds
// are those of [Read]. The error is of type [Errors].
func Tree(name, text string) (ast.Node, error) {
	r := newReader(name)
	root := r.parse(strings.NewReader(text))
	return root, r.err()
}
