package casefile

import (
	"cmp"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// node is what a file says of an entry, or what is assumed for it. A nil node is that of
// an entry that is left out: it says nothing, and its numbers are 0.
type node struct {
	row *Entry
	at  spot
	// Value is that of a word or number if it is valid: read without a problem.
	Value
	text           string // a quantity as it is written
	valid, assumed bool
	kids           map[string]*node // of a group, by key
	items          []*node          // of a list
}

// get returns what is said below n at a dotted path, or nil; n itself at "".
func (n *node) get(path string) *node {
	if path == "" || n == nil {
		return n
	}
	key, rest, _ := strings.Cut(path, ".")
	return n.kids[key].get(rest)
}

// has reports whether there is an entry at a path.
func (n *node) has(path string) bool { return n.get(path) != nil }

// ok reports whether there is a word or number, and no problem with it.
func (n *node) ok() bool { return n != nil && n.valid }

// isGroup reports whether a group is given where a word would do.
func (n *node) isGroup() bool { return n != nil && n.kids != nil }

// span returns the ends of a range.
func (n *node) span(path string) (low, high float64) {
	if n = n.get(path); n == nil {
		return 0, 0
	}
	return n.Low, n.High
}

// number returns a quantity in the first unit of its kind.
func (n *node) number(path string) float64 {
	low, _ := n.span(path)
	return low
}

func (n *node) angle(path string) frame.Angle { return frame.Angle(n.number(path)) * frame.Degree }

// size returns a length in mm, an angle in radians.
func (n *node) size(path string) float64 {
	if own := n.get(path); own != nil && own.Unit == angle.first() {
		return n.angle(path).Radians()
	}
	return n.number(path)
}

func (n *node) word(path string) string {
	if n = n.get(path); n == nil {
		return ""
	}
	return n.Word
}

func (n *node) yes(path string) bool { return n.word(path) == "yes" }

func (n *node) list(path string) []*node {
	if n = n.get(path); n == nil {
		return nil
	}
	return n.items
}

// put puts a value under a key of a group.
func (n *node) put(key string, v Value) *node {
	own := n.kids[key]
	if own == nil {
		own = &node{row: n.row.At(key), at: n.at.under(key), valid: true}
		n.kids[key] = own
	}
	own.Value, own.text = v, v.String()
	return own
}

// over returns the group n with what it leaves out from another.
func (n *node) over(other *node) *node {
	both := &node{row: n.row, kids: maps.Clone(other.kids)}
	maps.Copy(both.kids, n.kids)
	return both
}

// named returns the entry of a list that has a name, or nil.
func (n *node) named(path, name string) *node {
	for _, item := range n.list(path) {
		if item.word("name") == name {
			return item
		}
	}
	return nil
}

// vec returns a point in chair axes.
func (n *node) vec(path string) r3.Vec { return n.xyz(path, "forward", "left", "up") }

// xyz returns three lengths of a group.
func (n *node) xyz(path, x, y, z string) r3.Vec {
	n = n.get(path)
	return r3.Vec{X: n.number(x), Y: n.number(y), Z: n.number(z)}
}

// part returns the one entry of a group of alternatives.
func (n *node) part() *node {
	for _, key := range n.row.One {
		if kid := n.kids[key]; kid != nil {
			return kid
		}
	}
	return nil
}

// name returns the name of an entry of a list, or of the part that it is.
func (n *node) name() *node {
	if own := n.get("name"); own != nil {
		return own
	}
	return n.part().get("name")
}

// leaf returns the row of a word or number.
func (n *node) leaf() *Entry {
	if n.row.Word != nil {
		return n.row.Word
	}
	return n.row
}

// maxText bounds a text, in characters.
const maxText = 4000

// partName is the pattern of the name of a part, which becomes half of the name of a
// setting, "post.height": without what separates names on a command line.
const partName = `^[^ .,=\t\r\n]{1,40}$`

// read takes the text of a word or number, or says what is wrong with it: with the text
// itself where Found is empty.
func (n *node) read(text string) *Problem {
	e := n.leaf()
	switch e.Kind {
	case Number, Span:
		return n.quantity(text)
	case Choice, YesNo:
		words, different := e.Options, len(e.Options)
		if e.Kind == YesNo {
			words, different = []string{"yes", "no", "true", "false"}, 2
		}
		at := slices.Index(words, text)
		if at < 0 {
			return &Problem{Expected: "one of " + strings.Join(words, ", "), Nearest: Nearest(text, words)}
		}
		n.Word = words[at%different]
	case Version:
		if text != "1" {
			return &Problem{Expected: "1, the only version of the format so far"}
		}
		n.Word = text
	default:
		n.Word = strings.TrimSpace(text)
		switch {
		case e.pattern != "" && !matches(e.pattern, text):
			return &Problem{Expected: "a name of at most 40 characters without space, dot, comma or equals sign"}
		case n.Word == "":
			return &Problem{Expected: "a few words: " + e.phrase()}
		case utf8.RuneCountInString(text) > maxText:
			return &Problem{Expected: "at most " + strconv.Itoa(maxText) + " characters"}
		}
	}
	return nil
}

// wanted says what a word or number would be: what is wrong with no text at all.
func (e *Entry) wanted() string {
	if bad := (&node{row: e}).read(""); bad != nil {
		return bad.Expected
	}
	return e.phrase()
}

// wayWords stand behind a number where its key and its sign say the way already.
var wayWords = []string{"left", "right", "forward", "back", "up", "down"}

// quantity takes the text of a number or span.
func (n *node) quantity(text string) *Problem {
	e, in := n.row, n.row.of.unitOf(text)
	low, high, bad := e.parse(text, e.sign)
	if at := strings.LastIndexByte(text, ' '); bad != nil && at > 0 && slices.Contains(wayWords, text[at+1:]) {
		if _, ok := e.of.written(text[:at]); ok {
			bad.Expected = quoted(text[:at])
			if e.sign == anySign && strings.IndexAny(text, "+-−") != 0 {
				bad.Expected += ", or " + quoted("-"+text[:at]) + " for the way opposite to " + e.Key
			}
		}
	}
	if bad != nil && (!bad.sense || e.within == bounds{}) { // bounds of its own are narrower, and say more
		if bad.far {
			bad.Nearest = e.meantWords(low, in)
		}
		return bad
	}
	n.text, n.Low, n.High, n.Unit = strings.TrimSpace(text), low.Value, high.Value, e.of.first()
	var expected string
	switch {
	case n.Low > n.High:
		expected = "the lower end first"
	case e.within != bounds{} && (n.Low < e.within[0] || n.High > e.within[1]):
		expected = e.of.name + " within " + in.atLeast(e.within[0]) + " to " + in.atMost(e.within[1])
	case e.below != 0 && n.High >= e.below:
		expected = e.of.name + " below " + in.atMost(e.below)
	case e.whole && n.Low != math.Trunc(n.Low):
		expected = "a whole number"
	default:
		return nil
	}
	return &Problem{Expected: expected, sense: true, Nearest: e.meantWords(low, in)}
}

// allSaid returns what is said at n and below it.
func (n *node) allSaid() []Said { return n.values(nil, "", "") }

// values appends what is said at n and below it, whose path in the file is given and that
// of the steady entry that it is in. What a kit is called may change.
func (n *node) values(to []Said, path, steady string) []Said {
	if n == nil {
		return to
	}
	switch {
	case n.row.Key == "note" || n.row.Key == "name" || n.row == kitTable() && n.valid:
		steady = ""
	case n.row.steady && steady == "":
		steady = path
	}
	if n.valid {
		to = append(to, Said{Path: path, Row: n.row.Path, Value: n.Value, Assumed: n.assumed, steady: steady})
	}
	for i, item := range n.items {
		name := strconv.Itoa(i + 1)
		if own := item.name(); own != nil {
			name = cmp.Or(own.Word, name)
		}
		to = item.values(to, path+"["+name+"]", steady)
	}
	for _, f := range n.row.Fields {
		to = n.kids[f.Key].values(to, joinKey(path, f.Key), steady)
	}
	return to
}
