package draft

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"sightpost/cmd/sightpost/internal/casefile"
)

// Draft is the text of a case and where its entries are in it. It is a value:
// changes return another draft. The zero Draft holds nothing and cannot be changed.
type Draft struct {
	text  string // with plain line ends
	crlf  bool   // the file has those of Windows
	nodes map[string]*node
	form  *casefile.Entry
}

// ErrEntry marks a change that the text does not allow: an entry written in a way
// that cannot be changed piecemeal, or no entry at all.
var ErrEntry = errors.New("draft: this entry cannot be changed here; change it in the text of the case")

// Empty is the text of a case that says nothing yet.
const Empty = "sightpost: 1\n"

// Read takes the text of a case apart. Name is what messages call it, form describes
// its entries, as [casefile.Fields] does. The error is of type [casefile.Errors].
func Read(name, text string, form *casefile.Entry) (Draft, error) {
	d := Draft{text: text, form: form, nodes: map[string]*node{}}
	if d.crlf = strings.Contains(text, "\r\n"); d.crlf {
		d.text = strings.ReplaceAll(text, "\r\n", "\n")
	}
	tree, err := casefile.Tree(name, d.text)
	if err != nil {
		return Draft{}, err
	}
	p := parser{text: d.text, spans: spansOf(d.text, tree), nodes: d.nodes}
	p.node(tree, "", place{keyAt: -1})
	return d, nil
}

// Text returns the text.
func (d Draft) Text() string {
	if d.crlf {
		return strings.ReplaceAll(d.text, "\n", "\r\n")
	}
	return d.text
}

// Has reports whether there is an entry at path.
func (d Draft) Has(path string) bool { return d.nodes[path] != nil }

// Word returns the word, number or text at path as it is written, and whether there
// is one.
func (d Draft) Word(path string) (string, bool) {
	n := d.nodes[path]
	if n == nil || n.kind != word {
		return "", false
	}
	return n.value, true
}

// IsGroup reports whether the entry at path is a group of keys.
func (d Draft) IsGroup(path string) bool {
	n := d.nodes[path]
	return n != nil && n.kind == group
}

// Len returns the number of entries of the list at path.
func (d Draft) Len(path string) int {
	n := d.nodes[path]
	if n == nil || n.kind != list {
		return 0
	}
	return len(n.kids)
}

// Set returns the draft with the given word at path. Groups that are missing on the
// way are made; a list grows by an entry if the path names the one after its last.
// The error wraps [ErrEntry].
func (d Draft) Set(path, value string) (Draft, error) {
	if was, ok := d.Word(path); ok && was == value {
		return d, nil
	}
	want := d.leadingTo(path)
	want[path] = value
	return d.put(path, want, d.writings(path, value)...)
}

// Group returns the draft with an empty group at path, if there is none.
func (d Draft) Group(path string) (Draft, error) {
	if d.IsGroup(path) {
		return d, nil
	}
	return d.put(path, d.leadingTo(path), "{}")
}

// Remove returns the draft without the entry at path, and without the groups that
// are left empty by that. Removing what is not there changes nothing. The error wraps
// [ErrEntry].
func (d Draft) Remove(path string) (Draft, error) {
	if !d.Has(path) {
		return d, nil
	}
	want := map[string]string{}
	for p, v := range d.without(path) {
		want[Renamed(p, path)] = v
	}
	text, ok := d.remove(path)
	if !ok {
		return d, fmt.Errorf("%s: %w", path, ErrEntry)
	}
	return d.changed(text, path, want)
}

// SetText returns the draft with another text of YAML as the group at path, its lines
// and comments as they are. The error wraps [ErrEntry], or is that of the text.
func (d Draft) SetText(path, text string) (Draft, error) {
	inner, err := Read(path, text, d.form)
	if err != nil {
		return d, err
	}
	want := d.without(path)
	for p, v := range inner.words() {
		want[Join(path, p)] = v
	}
	return d.put(path, want, indented(strings.TrimRight(inner.text, "\n"), d.depth(path)))
}

// put returns the draft with a value at path, in the first of several writings that gives
// the words wanted and nothing else.
func (d Draft) put(path string, want map[string]string, writings ...string) (Draft, error) {
	for _, written := range writings {
		if text, ok := d.with(path, written); ok {
			if next, err := d.changed(text, path, want); err == nil {
				return next, nil
			}
		}
	}
	return d, fmt.Errorf("%s: %w", path, ErrEntry)
}

// changed takes a changed text apart and makes sure that nothing changed but what
// was meant to.
func (d Draft) changed(text, path string, want map[string]string) (Draft, error) {
	next, err := Read("the case", text, d.form)
	if err != nil || !maps.Equal(next.words(), want) {
		return d, fmt.Errorf("%s: %w", path, ErrEntry)
	}
	next.crlf = d.crlf
	return next, nil
}

// Words returns the paths of every word.
func (d Draft) Words() []string { return slices.Sorted(maps.Keys(d.words())) }

// words returns every word of d by its path.
func (d Draft) words() map[string]string {
	all := make(map[string]string, len(d.nodes))
	for path, n := range d.nodes {
		if n.kind == word {
			all[path] = n.value
		}
	}
	return all
}

// without returns the words of d without those at path and below it.
func (d Draft) without(path string) map[string]string {
	all := d.words()
	maps.DeleteFunc(all, func(p, _ string) bool { return path != "" && Within(p, path) })
	return all
}

// leadingTo returns the same without a word in whose place a group comes on the way.
func (d Draft) leadingTo(path string) map[string]string {
	all := d.without(path)
	for at := path; at != ""; at = above(at) {
		delete(all, at)
	}
	return all
}

// Renamed returns what the entry at path p is called once the one at removed is gone.
func Renamed(p, removed string) string {
	list := above(removed)
	at, _, ok := entryOf(removed, list)
	if n, rest, is := entryOf(p, list); ok && is && n > at {
		return Nth(list, n-1) + rest
	}
	return p
}

// above returns the path of what holds the entry at path: "a.b[2]" for "a.b[2].c",
// "a.b" for "a.b[2]", "" for "a".
func above(path string) string {
	return path[:max(strings.LastIndexAny(path, ".["), 0)]
}

// Within reports whether p is the path of an entry or lies below it, as all does below "".
func Within(p, path string) bool {
	rest, ok := strings.CutPrefix(p, path)
	return ok && (path == "" || rest == "" || rest[0] == '.' || rest[0] == '[')
}

// last returns the key at the end of path; "" for a list entry.
func last(path string) string {
	if strings.HasSuffix(path, "]") {
		return ""
	}
	return path[strings.LastIndexByte(path, '.')+1:]
}

// Join returns the path of key under path.
func Join(path, key string) string { return strings.TrimPrefix(path+"."+key, ".") }

// Nth returns the path of entry n, from 1, of the list at path.
func Nth(path string, n int) string { return path + "[" + strconv.Itoa(n) + "]" }

// entryOf returns the number of the entry of the list in that path leads through, and
// the rest of the path.
func entryOf(path, in string) (nth int, rest string, ok bool) {
	inside, within := strings.CutPrefix(path, in+"[")
	number, rest, closed := strings.Cut(inside, "]")
	nth, err := strconv.Atoi(number)
	return nth, rest, within && closed && err == nil && nth >= 1
}
