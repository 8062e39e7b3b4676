package plots

import (
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// table is rows of words, each with bars on one scale under them, in one column or in two.
type table struct {
	width  vg.Length // of a column
	many   vg.Length // columns
	low    float64   // where the scale begins; it ends at 1
	grid   []float64 // lines of the scale
	rows   []tableRow
	scales []tableScale
	keys   []key
}

// tableRow is a row of a table: words in lines, all along, then at the left and at the right,
// and bars under them.
type tableRow struct {
	all, left, right []string
	bars             []bar
}

// bar is a bar from one part of the scale to another or, between the same, a line across.
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

// tableEdge is how far the scale ends from the edges of a table, for its numbers.
// barGap is between words and bars.
const tableEdge, barGap = 6 * vg.Millimeter, vg.Millimeter / 2

// barred returns the height of the bars of a row.
func (r tableRow) barred() vg.Length {
	tall := vg.Length(0)
	for _, b := range r.bars {
		tall = max(tall, b.tall)
	}
	return tall
}

// height returns the height of a row.
func (r tableRow) height() vg.Length {
	return rowHigh*vg.Length(len(r.all)+max(len(r.left), len(r.right))) + r.barred() + barGap + air
}

// leastColumn is the width of a column that has space for words at both ends.
const leastColumn = 85 * vg.Millimeter

// newTable returns a table of a figure's width that is filled: in two columns if it were higher
// in one than the figure may be, and they are wide enough.
func newTable(opt Options, fill func(*table)) *table {
	t := &table{width: opt.width(Landscape().Width), many: 1}
	fill(t)
	if half := t.width / 2; opt.Size.Height > 0 && t.height() > opt.Size.Height && half >= leastColumn {
		t = &table{width: half, many: 2}
		fill(t)
	}
	return t
}

// columns returns the rows of each column. The second begins with a row without bars, which is
// over those that follow: one of its own or, if there is none, that of the first.
func (t *table) columns() [][]tableRow {
	if t.many == 1 || len(t.rows) == 0 {
		return [][]tableRow{t.rows}
	}
	over := func(r tableRow) bool { return r.bars == nil }
	best, least, parted := [][]tableRow{t.rows}, rowsHeight(t.rows), slices.ContainsFunc(t.rows[1:], over)
	for i := 1; i < len(t.rows); i++ {
		second := t.rows[i:]
		if !over(t.rows[i]) {
			second = append([]tableRow{t.rows[0]}, second...)
		}
		if high := max(rowsHeight(t.rows[:i]), rowsHeight(second)); high < least && over(t.rows[i]) == parted {
			best, least = [][]tableRow{t.rows[:i], second}, high
		}
	}
	return best
}

func rowsHeight(rows []tableRow) (high vg.Length) {
	for _, r := range rows {
		high += r.height()
	}
	return high
}

// lines returns words in lines, each as wide as a part of the table lets it be.
func (t *table) lines(part vg.Length, words ...string) []string {
	const most = 5
	var lines []string
	for _, w := range words {
		lines = append(lines, wrapped(legible(w), part*(t.width-6*air), most)...)
	}
	return lines
}

// figure returns the table under a title.
func (t *table) figure(title string) Figure {
	size := Size{t.many * t.width, Landscape().Height}
	f := newSheet(size.around(vg.Point{X: size.Width - air, Y: t.height()}, title), title)
	f.Plot.Add(painter(t.paint))
	return f
}

// height returns the height of rows, scales and key.
func (t *table) height() vg.Length {
	high := vg.Length(0)
	for _, rows := range t.columns() {
		high = max(high, rowsHeight(rows))
	}
	return high + 2*rowHigh*vg.Length(len(t.scales)) + flowed(t.keys, t.many*t.width-2*air).height() + air
}

// paint draws the table.
func (t *table) paint(c draw.Canvas, _ *plot.Plot) {
	all := t.columns()
	wide := (c.Max.X - c.Min.X) / vg.Length(len(all))
	for i, rows := range all {
		t.column(draw.Crop(c, vg.Length(i)*wide, vg.Length(i+1-len(all))*wide, 0, 0), rows)
	}
	left, right := c.Min.X+air, c.Max.X-air
	rows := flowed(t.keys, right-left)
	(&pen{c: c}).key(rows, vg.Point{X: left, Y: c.Min.Y + rows.height()})
}

// column draws the rows of a column and the scales under them.
func (t *table) column(c draw.Canvas, rows []tableRow) {
	k := &pen{c: c}
	left, right := c.Min.X+air, c.Max.X-air
	at := func(part float64) vg.Length {
		return left + tableEdge + vg.Length((min(part, 1)-t.low)/(1-t.low))*(right-left-2*tableEdge)
	}
	pale, y := stroke(grey(0.7), 0.4), c.Max.Y
	words := func(lines []string, x, part vg.Length) {
		for i, line := range lines {
			k.put(x, y-vg.Length(i)*rowHigh-0.8*rowHigh, part, line)
		}
	}
	for _, r := range rows {
		words(r.all, left, 0)
		y -= rowHigh * vg.Length(len(r.all))
		words(r.left, left, 0)
		words(r.right, right, 1)
		y -= rowHigh * vg.Length(max(len(r.left), len(r.right)))
		tall := r.barred()
		for _, v := range t.grid {
			if tall > 0 {
				c.StrokeLine2(pale, at(v), y-barGap-tall, at(v), y-barGap)
			}
		}
		for _, b := range r.bars {
			k.box(at(b.from), y-barGap-(tall+b.tall)/2, at(b.to), y-barGap-(tall-b.tall)/2, b.look)
		}
		y -= tall + barGap + air
		if tall == 0 || len(r.all) > 0 {
			c.StrokeLine2(pale, left, y+air/2, right, y+air/2)
		}
	}
	for _, s := range t.scales {
		y -= rowHigh
		for i, label := range s.labels {
			k.put(at(t.grid[i]), y, 0.5, label)
		}
		y -= rowHigh
		k.put((left+right)/2, y, 0.5, s.name)
	}
}
