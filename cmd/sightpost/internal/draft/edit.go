package draft

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"sightpost/cmd/sightpost/internal/casefile"
)

// writings returns how a word may be written at path, the plainest first. Which of
// them YAML takes for the word is found by trying.
func (d Draft) writings(path, value string) []string {
	quoted := strconv.Quote(value)
	switch {
	case strings.Contains(value, "\n"):
		column := 2 * len(steps(path)) // as deep as what is made on the way
		if n := d.nodes[path]; n != nil {
			column = n.column + 2
		}
		return []string{blockOf(value, column), quoted}
	case d.sortOf(path) == casefile.Words && taken(value):
		return []string{quoted}
	}
	return []string{value, quoted}
}

// taken reports whether YAML takes a word for something other than text.
func taken(value string) bool {
	switch strings.ToLower(value) {
	case "true", "false", "null", "yes", "no", "on", "off", "~":
		return true
	}
	return false
}

// blockOf returns a text as a block of lines, each indented.
func blockOf(value string, indent int) string {
	var b strings.Builder
	b.WriteString("|")
	for line := range strings.SplitSeq(value, "\n") {
		b.WriteString("\n")
		if line != "" {
			b.WriteString(strings.Repeat(" ", indent) + line)
		}
	}
	return b.String()
}

// put returns the text with a value, written out, at path.
func (d Draft) put(path, written string) (string, error) {
	if n := d.nodes[path]; n != nil {
		return d.replaced(n, written), nil
	}
	// the deepest entry on the way that is there, and the way from it
	at := above(path)
	for at != "" && d.nodes[at] == nil {
		at = above(at)
	}
	n := d.nodes[at]
	if n == nil || n.kind == opaque {
		return "", fmt.Errorf("%s: %w", path, ErrEntry)
	}
	way := steps(strings.TrimPrefix(path[len(at):], "."))
	if n.kind == list {
		return d.appended(n, way, written)
	}
	if len(way) == 0 || way[0] == "" {
		return "", fmt.Errorf("%s: %w", path, ErrEntry)
	}
	switch {
	case n.kind == group:
		return d.inserted(n, way, written), nil
	case n.flow || n.kind == word:
		return d.replaced(n, "{"+inFlow(way, written)+"}"), nil
	}
	return splice(d.text, lineEnd(d.text, n.colon), lineEnd(d.text, n.colon), inBlock(way, written, n.column+2)), nil
}

// steps parts a path that leads down into its keys; "" stands for the next entry of a
// list.
func steps(path string) []string {
	var way []string
	for _, part := range strings.Split(path, ".") {
		key, _, entry := strings.Cut(part, "[")
		if key != "" {
			way = append(way, key)
		}
		if entry {
			way = append(way, "")
		}
	}
	return way
}

// splice returns text with what lies between two places replaced.
func splice(text string, from, to int, by string) string { return text[:from] + by + text[to:] }

// replaced returns the text with another value for n.
func (d Draft) replaced(n *node, written string) string {
	from, to := n.from, n.to
	if n.kind == nothing || from < n.colon || !n.braces && (n.kind == group || n.kind == list) {
		from = n.colon
		written = " " + written
	}
	return splice(d.text, from, max(to, from), written)
}

// inserted returns the text with a new entry in a group, after the one that comes
// before it in the form.
func (d Draft) inserted(n *node, way []string, written string) string {
	before := d.before(n, way[0])
	if n.flow || n.braces {
		entry := inFlow(way, written)
		switch {
		case len(n.kids) == 0:
			return splice(d.text, n.from+1, n.to-1, entry)
		case before == nil:
			return splice(d.text, n.kids[0].keyAt, n.kids[0].keyAt, entry+", ")
		}
		return splice(d.text, before.to, before.to, ", "+entry)
	}
	column := n.kids[0].column
	if before == nil {
		first := n.kids[0].keyAt
		entry := strings.TrimLeft(inBlock(way, written, column), "\n ")
		return splice(d.text, first, first, entry+"\n"+strings.Repeat(" ", column))
	}
	end := lineEnd(d.text, before.to)
	return splice(d.text, end, end, inBlock(way, written, column))
}

// before returns the last entry of a group that comes before key in the form, or nil.
// Keys that the form does not know come last.
func (d Draft) before(n *node, key string) *node {
	rank := d.ranks(n.path)
	own, known := rank[key]
	var found *node
	for _, kid := range n.kids {
		r, ok := rank[last(kid.path)]
		if !known || ok && r < own {
			found = kid
		}
	}
	return found
}

// ranks returns the places of the keys of the group at path in the form.
func (d Draft) ranks(path string) map[string]int {
	f := d.form
	for _, key := range steps(path) {
		if key != "" && f != nil {
			f = f.Under(key)
		}
	}
	rank := map[string]int{}
	if f != nil {
		for i, inner := range f.Fields {
			rank[inner.Key] = i
		}
	}
	return rank
}

// appended returns the text with a new entry at the end of a list.
func (d Draft) appended(n *node, way []string, written string) (string, error) {
	if len(way) == 0 || way[0] != "" {
		return "", fmt.Errorf("%s: %w", n.path, ErrEntry)
	}
	if n.braces {
		entry := inFlow(way[1:], written)
		if len(way) > 1 {
			entry = "{" + entry + "}"
		}
		if len(n.kids) > 0 {
			entry = ", " + entry
		}
		return splice(d.text, n.to-1, n.to-1, entry), nil
	}
	end := lineEnd(d.text, n.to)
	return splice(d.text, end, end, inBlock(way, written, n.kids[0].column)), nil
}

// inBlock returns the lines that lead down a way to a value, each begun by a line
// end.
func inBlock(way []string, written string, column int) string {
	line := "\n" + strings.Repeat(" ", column)
	for i, key := range way {
		switch {
		case key == "" && i+1 == len(way):
			return line + "- " + written
		case key == "":
			line += "- "
			column += 2
		case i+1 == len(way):
			return line + key + ": " + written
		default:
			column += 2
			line += key + ":\n" + strings.Repeat(" ", column)
		}
	}
	return line
}

// inFlow returns what leads down a way to a value within braces.
func inFlow(way []string, written string) string {
	if len(way) == 0 {
		return written
	}
	if way[0] == "" {
		if len(way) > 1 {
			return "{" + inFlow(way[1:], written) + "}"
		}
		return written
	}
	if len(way) == 1 {
		return way[0] + ": " + written
	}
	if way[1] == "" {
		return way[0] + ": [" + inFlow(way[1:], written) + "]"
	}
	return way[0] + ": {" + inFlow(way[1:], written) + "}"
}

// remove returns the text without the entry at path.
func (d Draft) remove(path string) (string, error) {
	n, holder := d.nodes[path], d.nodes[above(path)]
	switch {
	case path == "" || holder == nil || n.kind == opaque && n.flow:
		return "", fmt.Errorf("%s: %w", path, ErrEntry)
	case len(holder.kids) == 1 && holder.path == "":
		return "", fmt.Errorf("%s: %w", path, ErrEntry)
	case len(holder.kids) == 1 && last(holder.path) == "": // in a list
		return d.replaced(holder, "{}"), nil
	case len(holder.kids) == 1:
		return d.remove(holder.path)
	}
	at := slices.Index(holder.kids, n)
	switch {
	case n.flow && at+1 < len(holder.kids):
		return splice(d.text, n.keyAt, holder.kids[at+1].keyAt, ""), nil
	case n.flow:
		return splice(d.text, holder.kids[at-1].to, n.to, ""), nil
	}
	start := n.keyAt - n.column
	if strings.TrimSpace(d.text[max(strings.LastIndexByte(d.text[:n.keyAt], '\n'), 0):n.keyAt]) != "" {
		return splice(d.text, n.keyAt, holder.kids[at+1].keyAt, ""), nil // behind a dash
	}
	return splice(d.text, start, min(lineEnd(d.text, n.to)+1, len(d.text)), ""), nil
}

// sortOf returns the sort of the entry at path, "" if the form does not know it.
func (d Draft) sortOf(path string) casefile.Kind {
	f := d.form
	for _, key := range steps(path) {
		if key != "" && f != nil {
			f = f.Under(key)
		}
	}
	if f == nil {
		return ""
	}
	if f.Kind == casefile.Either {
		return f.Word.Kind
	}
	return f.Kind
}
