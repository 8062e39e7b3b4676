package draft

import (
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
		return []string{"|" + indented(value, d.depth(path)), quoted}
	case d.isText(path) && taken(value):
		return []string{quoted}
	}
	return []string{value, quoted}
}

// taken reports whether YAML takes a word for something other than text.
func taken(value string) bool {
	return slices.Contains([]string{"true", "false", "null", "yes", "no", "on", "off", "~"}, strings.ToLower(value))
}

// depth returns how far the lines of what is at path are indented.
func (d Draft) depth(path string) int {
	if n := d.nodes[path]; n != nil {
		return n.column + 2
	}
	return 2 * len(steps(path)) // as deep as what is made on the way
}

// indented returns the lines of a text, each begun by a line end and indented.
func indented(text string, by int) string {
	var b strings.Builder
	for line := range strings.SplitSeq(text, "\n") {
		b.WriteString("\n")
		if line != "" {
			b.WriteString(strings.Repeat(" ", by) + line)
		}
	}
	return b.String()
}

// with returns the text with a value, written out, at path; false if it cannot be put
// there.
func (d Draft) with(path, written string) (string, bool) {
	if n := d.nodes[path]; n != nil {
		return d.replaced(n, written), true
	}
	// the deepest entry on the way that is there, and the way from it
	at := above(path)
	for at != "" && d.nodes[at] == nil {
		at = above(at)
	}
	n, way := d.nodes[at], steps(strings.TrimPrefix(path[len(at):], "."))
	switch {
	case n == nil || n.kind == opaque || len(way) == 0 || (way[0] == "") != (n.kind == list):
		return "", false
	case n.kind == list:
		return d.appended(n, way, written), true
	case n.kind == group:
		return d.inserted(n, way, written), true
	case n.flow || n.kind == word:
		return d.replaced(n, inFlow(way, written)), true
	}
	end := lineEnd(d.text, n.colon)
	return splice(d.text, end, end, inBlock(way, written, n.column+2)), true
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
	if strings.HasPrefix(written, "\n") {
		from = n.colon // no space is left behind the colon
	} else if n.kind == nothing || from < n.colon || !n.braces && (n.kind == group || n.kind == list) {
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
		entry := way[0] + ": " + inFlow(way[1:], written)
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
	rank := func(string) int { return -1 }
	if f := d.form.At(n.path); f != nil {
		rank = func(key string) int {
			return slices.IndexFunc(f.Fields, func(inner casefile.Entry) bool { return inner.Key == key })
		}
	}
	own := rank(key)
	var found *node
	for _, kid := range n.kids {
		if r := rank(last(kid.path)); own < 0 || r >= 0 && r < own {
			found = kid
		}
	}
	return found
}

// appended returns the text with a new entry at the end of a list.
func (d Draft) appended(n *node, way []string, written string) string {
	if n.braces {
		entry := inFlow(way[1:], written)
		if len(n.kids) > 0 {
			entry = ", " + entry
		}
		return splice(d.text, n.to-1, n.to-1, entry)
	}
	end := lineEnd(d.text, n.to)
	return splice(d.text, end, end, inBlock(way, written, n.kids[0].column))
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

// inFlow returns a value down a way, within braces or brackets.
func inFlow(way []string, written string) string {
	switch {
	case len(way) == 0:
		return written
	case way[0] == "":
		return "[" + inFlow(way[1:], written) + "]"
	}
	return "{" + way[0] + ": " + inFlow(way[1:], written) + "}"
}

// remove returns the text without the entry at path; false if it cannot be taken out.
func (d Draft) remove(path string) (string, bool) {
	n, holder := d.nodes[path], d.nodes[above(path)]
	switch {
	case path == "" || holder == nil || n.kind == opaque && n.flow || len(holder.kids) == 1 && holder.path == "":
		return "", false
	case len(holder.kids) == 1 && last(holder.path) == "": // in a list
		return d.replaced(holder, "{}"), true
	case len(holder.kids) == 1:
		return d.remove(holder.path)
	}
	at := slices.Index(holder.kids, n)
	start, end := n.keyAt-n.column, min(lineEnd(d.text, n.to)+1, len(d.text))
	behindDash := strings.TrimSpace(d.text[max(strings.LastIndexByte(d.text[:n.keyAt], '\n'), 0):n.keyAt]) != ""
	switch {
	case n.flow && at+1 == len(holder.kids):
		start, end = holder.kids[at-1].to, n.to
	case n.flow || behindDash:
		start, end = n.keyAt, holder.kids[at+1].keyAt
	}
	return splice(d.text, start, end, ""), true
}

// isText reports whether the form takes what is at path for text.
func (d Draft) isText(path string) bool {
	f := d.form.At(path)
	if f != nil && f.Kind == casefile.Either {
		f = f.Word
	}
	return f != nil && f.Kind == casefile.Words
}
