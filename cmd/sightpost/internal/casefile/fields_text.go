package casefile

import (
	"io"
	"strings"

	"github.com/goccy/go-yaml/ast"
)

// Decode returns the text of a file in UTF-8 without a byte order mark. The error is
// of type [Errors].
func Decode(name string, src io.Reader) (string, error) {
	r := newReader(name)
	text, ok := r.text(src)
	if !ok {
		return "", r.problems.sorted()
	}
	return text, nil
}

// Tree takes the text of a case or kit apart without asking what it says. Its bounds
// are those of [Read]. The error is of type [Errors].
func Tree(name, text string) (ast.Node, error) {
	r := newReader(name)
	root := r.parse(strings.NewReader(text))
	if root == nil || len(r.problems) > 0 {
		return nil, r.problems.sorted()
	}
	return root, nil
}
