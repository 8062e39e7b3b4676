package plots

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/plot/vg"
)

// lane is a strip along one side of a drawing that holds the labels of that
// side, each level with what it tells of or, where that would make labels
// overlap, as near to it as the others allow.
type lane []label

// label is a text at the side of a drawing and the place it tells of (mm, in
// the view).
type label struct {
	at   r2.Vec
	text string
	told string // what follows it in the description
}

// legible returns a text as a figure can show it: on one line, without characters that
// a drawing cannot hold.
func legible(text string) string {
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r >= utf8.RuneError {
			return ' '
		}
		return r
	}, text))
}

// plain returns a name as a figure can show it, and no longer than a margin has space
// for.
func plain(name string) string {
	const longest = 32
	name = legible(name)
	if r := []rune(name); len(r) > longest {
		name = string(r[:longest-1]) + "…"
	}
	return strings.TrimSpace(name)
}

// placed returns the lane in the order in which place has its labels, and where they go:
// [spread] from low to high.
func (l lane) placed(place func(label) vg.Length, gap, low, high vg.Length) (lane, []vg.Length) {
	out := slices.Clone(l)
	slices.SortStableFunc(out, func(a, b label) int {
		return cmp.Or(cmp.Compare(place(a), place(b)), cmp.Compare(a.text, b.text))
	})
	want := make([]vg.Length, len(out))
	for i, l := range out {
		want[i] = place(l)
	}
	return out, spread(want, gap, low, high)
}

// spread returns places for labels that want to be at the rising places want, at
// least gap apart and within low to high, with the least sum of squared moves.
// Where they do not fit between low and high the gap shrinks.
//
// With q(i) = place(i) - i gap the condition is that q does not fall, so this is
// isotonic regression: runs of labels that want to overlap share their mean.
//
// Reference: M. Ayer, H. D. Brunk, G. M. Ewing, W. T. Reid and E. Silverman, "An
// empirical distribution function for sampling with incomplete information",
// Annals of Mathematical Statistics 26, 1955, 641-647, from memory.
func spread[T ~float64](want []T, gap, low, high T) []T {
	n := len(want)
	if n == 0 {
		return nil
	}
	if n > 1 {
		gap = min(gap, (high-low)/T(n-1))
	}
	type run struct {
		sum T
		n   int
	}
	var runs []run
	for i, w := range want {
		runs = append(runs, run{w - T(i)*gap, 1})
		for len(runs) > 1 {
			a, b := runs[len(runs)-2], runs[len(runs)-1]
			if a.sum/T(a.n) <= b.sum/T(b.n) {
				break
			}
			runs = append(runs[:len(runs)-2], run{a.sum + b.sum, a.n + b.n})
		}
	}
	places := make([]T, 0, n)
	top := high - T(n-1)*gap
	for _, r := range runs {
		q := min(max(r.sum/T(r.n), low), top)
		for range r.n {
			places = append(places, q+T(len(places))*gap)
		}
	}
	return places
}

// key is an entry of the list that says what lines and fills mean.
type key struct {
	look look
	text string
}

// keyLine is a line of an entry of the key.
type keyLine struct {
	key
	more bool // goes on the line before, and has no sample
}

const (
	sample = 9 * vg.Millimeter // line sample of the key
	// keyText is how wide the words of the key may be where it is beside the
	// drawing, and keyLines how many lines an entry has at most.
	keyText  = 58 * vg.Millimeter
	keyLines = 8
)

// explain adds an entry to the key, once.
func (b *board) explain(l look, text string) {
	if !slices.ContainsFunc(b.keys, func(k key) bool { return k.text == text }) {
		b.keys = append(b.keys, key{l, text})
	}
}

// state adds an entry to the key, and a sentence to the description.
func (b *board) state(l look, text string) {
	b.explain(l, text)
	b.say("%s.", capital(text))
}

// keyColumn returns the width of the key where it is beside the drawing.
func (l *layout) keyColumn() vg.Length {
	most := vg.Length(0)
	for _, k := range l.keys {
		for _, text := range wrapped(k.text, keyText, keyLines) {
			most = max(most, l.keyWidth(key{text: text}))
		}
	}
	return most
}

// flow sets the key in rows no wider than width, or in a column, and returns the
// height of what is below the drawing, the scale bar included. An entry of several
// lines has rows of its own.
func (l *layout) flow(width vg.Length) vg.Length {
	l.rows = nil
	used, space := width, width-l.keyWidth(key{})
	if l.beside {
		space = keyText
	}
	for _, k := range l.keys {
		lines := wrapped(k.text, space, keyLines)
		for i, text := range lines {
			line := keyLine{key{k.look, text}, i > 0}
			need := l.keyWidth(line.key)
			if l.beside || line.more || used+need > width {
				l.rows = append(l.rows, nil)
				used = 0
			}
			used += need
			l.rows[len(l.rows)-1] = append(l.rows[len(l.rows)-1], line)
		}
		if len(lines) > 1 {
			used = width
		}
	}
	if l.beside {
		return l.barHeight() + 2*air
	}
	return l.keyHeight() + l.barHeight() + 2*air
}

// keyHeight returns the height of the key's rows.
func (l *layout) keyHeight() vg.Length { return l.row() * vg.Length(len(l.rows)) }

// keyWidth returns the width of an entry of the key.
func (l *layout) keyWidth(k key) vg.Length { return sample + lettering.Width(k.text) + 2.5*air }

// key draws the list of what lines and fills mean, below the drawing or at its
// right.
func (k *pen) key() {
	left, y := k.c.Min.X+air, k.c.Min.Y+air+k.keyHeight()-0.65*k.row()
	if k.beside {
		left, y = k.c.Max.X-k.column, k.c.Max.Y-0.65*k.row()
	}
	for _, row := range k.rows {
		x := left
		for _, e := range row {
			if !e.more {
				k.keySample(x, y, e.look)
			}
			k.text(vg.Point{X: x + sample + 0.75*air, Y: y - 0.36*textSize}, 0, e.text)
			x += k.keyWidth(e.key)
		}
		y -= k.row()
	}
}

// keySample draws a sample of a look from x to the right, about the height y.
func (k *pen) keySample(x, y vg.Length, l look) {
	if l.fill == nil {
		if l.line.Width > 0 {
			k.c.StrokeLine2(l.line, x, y, x+sample, y)
		}
		return
	}
	h := 0.35 * k.row()
	k.box(x, y-h, x+sample, y+h, l)
}
