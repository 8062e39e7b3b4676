package plots

import (
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// table is rows of words with bars on a scale between them.
type table struct {
	name, before, after vg.Length // widths of the columns of words
	low                 float64   // where the scale begins; it ends at 1
	grid                []float64 // lines of the scale
	rows                []tableRow
	scales              []tableScale
	keys                []key
}

// tableRow is a row of a table: words in lines, at the left, before the bars and after them.
type tableRow struct {
	name, before, after []string
	bars                []bar
	ruled               bool // a line is under it
}

// bar is a bar from one part of the scale to another or, between the same, a line across as
// high as tall says of the row.
type bar struct {
	from, to float64
	look     look
	tall     vg.Length
}

// tableScale is a scale under the bars: its name and a label for each line of the grid.
type tableScale struct {
	name   string
	labels []string
}

// height returns the height of a row.
func (r tableRow) height() vg.Length {
	lines := max(len(r.name), len(r.before), len(r.after))
	if lines > 1 || r.ruled {
		return vg.Length(lines)*rowHigh + air
	}
	return rowHigh
}

// figure returns the table as wide as a sheet.
func (t *table) figure(title string) Figure {
	size := Landscape()
	f := newSheet(size.around(vg.Point{X: size.Width - air, Y: t.height()}, title), title)
	f.Plot.Add(painter(t.paint))
	return f
}

// height returns the height of rows, scales and key.
func (t *table) height() vg.Length {
	high := rowHigh*vg.Length(len(t.scales)) + flowed(t.keys, Landscape().Width).height() + air
	for _, r := range t.rows {
		high += r.height()
	}
	return high
}

// paint draws the table.
func (t *table) paint(c draw.Canvas, _ *plot.Plot) {
	k := &pen{c: c}
	left, right := c.Min.X+t.name+t.before+3*air, c.Max.X-t.after-2*air
	at := func(part float64) vg.Length {
		return left + vg.Length((min(part, 1)-t.low)/(1-t.low))*(right-left)
	}
	words := func(lines []string, x, y, part, width vg.Length) {
		for i, line := range lines {
			k.put(x, y-vg.Length(i)*rowHigh-0.8*rowHigh, part, fitted(line, width))
		}
	}
	pale, foot := stroke(grey(0.7), 0.4), c.Max.Y
	for _, r := range t.rows {
		foot -= r.height()
	}
	for _, v := range t.grid {
		c.StrokeLine2(pale, at(v), foot-air/2, at(v), c.Max.Y-t.rows[0].height())
	}
	y := c.Max.Y
	for _, r := range t.rows {
		wide, lower := t.name, vg.Length(0)
		if len(r.before)+len(r.after)+len(r.bars) == 0 { // a head
			wide, lower = c.Max.X-c.Min.X-2*air, 0.7*air
		}
		words(r.name, c.Min.X+air, y-lower, 0, wide)
		words(r.before, left-air, y, 1, t.before)
		words(r.after, right+air, y, 0, t.after)
		middle := y - r.height()/2
		y -= r.height()
		for _, b := range r.bars {
			half := b.tall / 2
			k.box(at(b.from), middle-half, at(b.to), middle+half, b.look)
		}
		if r.ruled {
			c.StrokeLine2(pale, c.Min.X+air, y, c.Max.X-air, y)
		}
	}
	for _, s := range t.scales {
		y -= rowHigh
		words([]string{s.name}, left-air-lettering.Width("-000"), y+0.8*rowHigh, 1, t.name+t.before)
		for i, label := range s.labels {
			k.put(at(t.grid[i]), y, 0.5, label)
		}
	}
	rows := flowed(t.keys, c.Max.X-c.Min.X)
	k.key(rows, vg.Point{X: c.Min.X + air, Y: c.Min.Y + rows.height()})
}
