package plots

import "gonum.org/v1/plot/vg"

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
	// keyText is how wide the words of the key may be where it stands beside the
	// drawing, and keyLines how many lines an entry has at most.
	keyText  = 58 * vg.Millimeter
	keyLines = 8
)

// explain adds an entry to the key, once.
func (b *board) explain(l look, text string) {
	for _, k := range b.keys {
		if k.text == text {
			return
		}
	}
	b.keys = append(b.keys, key{l, text})
}

// lines returns an entry of the key in lines whose words are no wider than width.
func (l *layout) lines(k key, width vg.Length) []keyLine {
	var all []keyLine
	for i, text := range wrapped(l.words, k.text, width, keyLines) {
		all = append(all, keyLine{key{k.look, text}, i > 0})
	}
	return all
}

// keyColumn returns the width of the key where it stands beside the drawing.
func (l *layout) keyColumn() vg.Length {
	widest := vg.Length(0)
	for _, k := range l.keys {
		for _, line := range l.lines(k, keyText) {
			widest = max(widest, l.keyWidth(line.key))
		}
	}
	return widest
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
		lines := l.lines(k, space)
		for _, line := range lines {
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
func (l *layout) keyWidth(k key) vg.Length { return sample + l.words.Width(k.text) + 2.5*air }

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
			k.text(vg.Point{X: x + sample + 0.75*air, Y: y - 0.36*k.words.Font.Size}, 0, e.text)
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
	k.shape([]vg.Point{{X: x, Y: y - h}, {X: x + sample, Y: y - h}, {X: x + sample, Y: y + h}, {X: x, Y: y + h}}, true, l)
}
