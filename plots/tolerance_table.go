package plots

import (
	"fmt"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"sightpost/plots/units"
)

// toleranceTable is the rows of a figure of tolerances, as a plotter.
type toleranceTable struct {
	rows        []toleranceRow
	units       units.Units
	main, small draw.TextStyle
	// step is how much a division of the scale of slides (in units) and of turns
	// (degrees) stands for; zero where there are none.
	step [2]float64
	// name and end are the widths of the columns of names and of ends.
	name, end vg.Length
}

const (
	// divisions is how many divisions a scale has on either side.
	divisions = 3
	// widestStepMM and widestStepTurn (degrees) keep the scales so fine that a bar
	// of some millimetres is seen: who may be further off need not care how far.
	widestStepMM, widestStepTurn = 20, 10
	// leastChart is the least width of the bars' column.
	leastChart = 30 * vg.Millimeter
	// widestColumn keeps the columns of words from taking all.
	widestColumn = 44 * vg.Millimeter
)

// scale chooses the scales from the farthest ends.
func (d *toleranceTable) scale() {
	most := [2]float64{}
	has := [2]bool{}
	for _, r := range d.rows {
		k := r.unit()
		most[k] = max(most[k], -r.off[0], r.off[1])
		has[k] = true
	}
	least := [2]float64{d.units.Of(1), 1}
	for k, widest := range [2]float64{d.units.Of(widestStepMM), widestStepTurn} {
		if has[k] {
			d.step[k] = roundStep(min(widest, max(least[k], most[k]/divisions)))
		}
	}
}

// unit returns the place of the row's scale in the table's steps.
func (r *toleranceRow) unit() int {
	if r.turns {
		return 1
	}
	return 0
}

// rowHeight returns the height of a row: three lines of text.
func (d *toleranceTable) rowHeight() vg.Length { return 3*d.line() + 1.5*vg.Millimeter }

func (d *toleranceTable) line() vg.Length { return d.main.Font.Size * 1.25 }

// around returns the height of what is above and below the rows: heads, scales
// and key.
func (d *toleranceTable) around() vg.Length {
	scales := vg.Length(0)
	for _, s := range d.step {
		if s > 0 {
			scales += 1.4 * d.line()
		}
	}
	return 1.6*d.line() + scales + 2.2*d.line() + air
}

// height returns what the figure needs, its title included.
func (d *toleranceTable) height() vg.Length {
	return d.around() + d.rowHeight()*vg.Length(len(d.rows)) + 6*vg.Millimeter
}

// columns divides the width.
func (d *toleranceTable) columns(size Size) error {
	for _, r := range d.rows {
		d.name = max(d.name, d.main.Width(r.name), d.small.Width(r.set), d.small.Width(r.limits))
		for i := range r.value {
			d.end = max(d.end, d.main.Width(r.value[i]), d.small.Width(r.why[i]))
		}
	}
	d.name = max(d.name, d.main.Width(columnHeads()[0]))
	d.end = max(d.end, d.main.Width(columnHeads()[1]), d.main.Width(columnHeads()[2]))
	d.name, d.end = min(d.name, widestColumn), min(d.end, 0.8*widestColumn)
	if need := d.name + 2*d.end + leastChart + 6*air; size.Width < need {
		return fmt.Errorf("%w: the tolerances need a width of %.0f mm", ErrFigure, math.Ceil(float64(need/vg.Millimeter)))
	}
	if need := d.height(); size.Height < need-1e-6 {
		return fmt.Errorf("%w: %d settings need a height of %.0f mm", ErrFigure, len(d.rows), math.Ceil(float64(need/vg.Millimeter)))
	}
	return nil
}

// columnHeads returns the heads of the columns but the bars'.
func columnHeads() [3]string {
	return [3]string{"setting, in order of work", "tolerance, min", "tolerance, max"}
}

// Plot draws the table.
func (d *toleranceTable) Plot(c draw.Canvas, _ *plot.Plot) {
	k := &tablePen{toleranceTable: d, pen: newPen(d.main, c)}
	k.left = c.Min.X + air + d.name + air + d.end + air
	k.right = c.Max.X - air - d.end - air
	k.middle = (k.left + k.right) / 2
	top := c.Max.Y - d.line()
	h := columnHeads()
	k.text(vg.Point{X: c.Min.X + air, Y: top}, 0, fitted(d.main, h[0], d.name+air))
	k.text(vg.Point{X: k.left - air - d.main.Width(h[1]), Y: top}, 0, h[1])
	k.text(vg.Point{X: k.right + air, Y: top}, 0, h[2])
	k.text(vg.Point{X: k.middle - d.main.Width("set")/2, Y: top}, 0, "set")
	top -= 0.6 * d.line()
	foot := top - vg.Length(len(d.rows))*d.rowHeight()
	k.grid(top, foot)
	for i := range d.rows {
		k.row(&d.rows[i], top-vg.Length(i)*d.rowHeight())
	}
	k.rule(foot)
	k.key(k.scales(foot))
}

// tablePen draws a table of tolerances.
type tablePen struct {
	*toleranceTable
	*pen
	left, middle, right vg.Length // of the bars' column
}

// across returns the place of a part of a scale, -1 to 1.
func (k *tablePen) across(part float64) vg.Length {
	return k.middle + vg.Length(part)*(k.right-k.middle)
}

// grid draws pale lines at the divisions.
func (k *tablePen) grid(top, foot vg.Length) {
	for i := -divisions; i <= divisions; i++ {
		x := k.across(float64(i) / divisions)
		k.c.StrokeLine2(stroke(grey(0.85), 0.4), x, foot, x, top)
	}
}

// rule draws a line across the table.
func (k *tablePen) rule(y vg.Length) {
	k.c.StrokeLine2(stroke(grey(0.6), 0.4), k.c.Min.X+air, y, k.c.Max.X-air, y)
}

// row draws a row under its top.
func (k *tablePen) row(r *toleranceRow, top vg.Length) {
	k.rule(top)
	base := func(i int) vg.Length { return top - vg.Length(i+1)*k.line() }
	x := k.c.Min.X + air
	k.text(vg.Point{X: x, Y: base(0)}, 0, fitted(k.main, r.name, k.name))
	k.fine(vg.Point{X: x, Y: base(1)}, fitted(k.small, r.set, k.name))
	k.fine(vg.Point{X: x, Y: base(2)}, fitted(k.small, r.limits, k.name))
	y := top - k.rowHeight()/2
	if r.fails == "" {
		k.bar(r, y)
	}
	k.limits(r, y)
	k.c.StrokeLine2(stroke(ink(), 1.6), k.middle, y-setHalf, k.middle, y+setHalf)
	if r.fails != "" {
		k.failure(r.fails, base)
		return
	}
	for i := range r.value {
		at := func(style draw.TextStyle, text string) vg.Length {
			if i == 0 {
				return k.left - air - style.Width(text)
			}
			return k.right + air
		}
		value := fitted(k.main, r.value[i], k.end)
		k.text(vg.Point{X: at(k.main, value), Y: base(0)}, 0, value)
		for n, line := range wrapped(k.small, r.why[i], k.end, 2) {
			k.fine(vg.Point{X: at(k.small, line), Y: base(n + 1)}, line)
		}
	}
}

// failure writes why there is no tolerance at the right of the set value.
func (k *tablePen) failure(why string, base func(int) vg.Length) {
	x := k.middle + 2*air
	k.text(vg.Point{X: x, Y: base(0)}, 0, failsAsSet+":")
	for n, line := range wrapped(k.small, why, k.c.Max.X-air-x, 2) {
		k.fine(vg.Point{X: x, Y: base(n + 1)}, line)
	}
}

// failsAsSet says that a setting has no tolerance.
const failsAsSet = "does not work as it is set"

// fine writes small text.
func (k *tablePen) fine(p vg.Point, text string) {
	newPen(k.small, k.c).text(p, 0, text)
}

const (
	barHalf = 1.7 * vg.Millimeter
	setHalf = 3.6 * vg.Millimeter
	endHalf = 2.6 * vg.Millimeter
)

// lookTolerance is how bars of slides and of turns are drawn.
func lookTolerance(turns bool) look {
	l := look{fill: faint(okabe(okabeSky), 0.55), line: stroke(ink(), 0.7)}
	if turns {
		l.fill = grey(1)
		l.hatch = stroke(ink(), 0.35)
	}
	return l
}

// bar draws the bar of a row about the height y: with a point where it goes on
// beyond the scale.
func (k *tablePen) bar(r *toleranceRow, y vg.Length) {
	widest := divisions * k.step[r.unit()]
	var x, tip [2]vg.Length
	for i, off := range r.off {
		part := min(max(off/widest, -1), 1)
		x[i] = k.across(part)
		tip[i] = x[i]
		if math.Abs(off) > widest*(1+1e-9) {
			x[i] -= vg.Length(part) * 2 * vg.Millimeter
		}
	}
	if tip[1]-tip[0] < vg.Points(0.1) {
		return
	}
	k.shape([]vg.Point{
		{X: x[0], Y: y - barHalf},
		{X: x[1], Y: y - barHalf},
		{X: tip[1], Y: y},
		{X: x[1], Y: y + barHalf},
		{X: x[0], Y: y + barHalf},
		{X: tip[0], Y: y},
	}, true, lookTolerance(r.turns))
}

// limits marks the limits of a setting that are on the scale by brackets.
func (k *tablePen) limits(r *toleranceRow, y vg.Length) {
	widest := divisions * k.step[r.unit()]
	for i, off := range r.limit {
		part := off / widest
		if math.Abs(part) > 1+1e-9 {
			continue
		}
		k.bracket(k.across(part), y, vg.Length(1-2*i))
	}
}

// bracket draws the sign of a limit, open to the side of inward.
func (k *tablePen) bracket(x, y, inward vg.Length) {
	const hook = 1.1 * vg.Millimeter
	k.c.StrokeLines(stroke(ink(), 1.3), []vg.Point{
		{X: x + inward*hook, Y: y - endHalf}, {X: x, Y: y - endHalf}, {X: x, Y: y + endHalf}, {X: x + inward*hook, Y: y + endHalf},
	})
}

// scales draws the scales under the rows and returns where they end.
func (k *tablePen) scales(y vg.Length) vg.Length {
	for i, name := range [2]string{axisName("slides, off by", k.units), "turns, off by (°)"} {
		if k.step[i] == 0 {
			continue
		}
		y -= 1.4 * k.line()
		k.text(vg.Point{X: k.left - 3*air - k.main.Width(name), Y: y}, 0, name)
		for n := -divisions; n <= divisions; n++ {
			number := decimals(float64(n) * k.step[i])
			if n > 0 {
				number = "+" + number
			}
			x := k.across(float64(n)/divisions) - k.main.Width(number)/2
			k.text(vg.Point{X: x, Y: y}, 0, number)
		}
	}
	return y
}

// key says what the signs mean, in a row under y.
func (k *tablePen) key(y vg.Length) {
	y -= 1.6 * k.line()
	middle := y + 0.36*k.small.Font.Size
	x := k.c.Min.X + air
	entry := func(width vg.Length, text string, sign func(x vg.Length)) {
		sign(x)
		k.fine(vg.Point{X: x + width + air/2, Y: y}, text)
		x += width + air/2 + k.small.Width(text) + 1.5*air
	}
	half := 0.5 * barHalf
	for i, name := range [2]string{"slide", "turn"} {
		if k.step[i] == 0 {
			continue
		}
		entry(sample/1.5, name, func(x vg.Length) {
			k.box(x, middle-half, x+sample/1.5, middle+half, lookTolerance(i == 1))
		})
	}
	entry(air/2, "set value", func(x vg.Length) {
		k.c.StrokeLine2(stroke(ink(), 1.6), x+air/4, middle-barHalf, x+air/4, middle+barHalf)
	})
	entry(air/2, "limit of the setting", func(x vg.Length) { k.bracket(x+air/2, middle, -1) })
	entry(air, "goes on beyond the scale", func(x vg.Length) {
		k.c.StrokeLines(stroke(ink(), 0.7), []vg.Point{{X: x, Y: middle + half}, {X: x + air, Y: middle}, {X: x, Y: middle - half}})
	})
}
