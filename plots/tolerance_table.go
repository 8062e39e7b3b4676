package plots

import (
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"sightpost/plots/units"
)

// toleranceTable is the rows of a figure of tolerances.
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
	// of some millimeters is seen: who may be further off need not care how far.
	widestStepMM, widestStepTurn = 20, 10
	// widestColumn keeps the columns of words from taking all.
	widestColumn = 44 * vg.Millimeter
)

// scale chooses the scales from the farthest ends.
func (d *toleranceTable) scale() {
	least, widest := [2]float64{d.units.Of(1), 1}, [2]float64{d.units.Of(widestStepMM), widestStepTurn}
	most := least
	for _, r := range d.rows {
		k := r.scale
		most[k] = max(most[k], -r.off[0]/divisions, r.off[1]/divisions)
		d.step[k] = roundStep(min(widest[k], most[k]))
	}
}

// rowHeight returns the height of a row: three lines of text.
func (d *toleranceTable) rowHeight() vg.Length { return 3*d.line() + 1.5*vg.Millimeter }

func (d *toleranceTable) line() vg.Length { return d.main.Font.Size * 1.25 }

// height returns what the figure needs: title, heads, rows, scales and key.
func (d *toleranceTable) height() vg.Length {
	lines := 3.8 * d.line()
	for _, s := range d.step {
		if s > 0 {
			lines += 1.4 * d.line()
		}
	}
	return lines + air + d.rowHeight()*vg.Length(len(d.rows)) + 6*vg.Millimeter
}

// columnHeads returns the heads of the columns but the bars'.
func columnHeads() [3]string {
	return [3]string{"setting, in order of work", "tolerance, min", "tolerance, max"}
}

// columns divides the width.
func (d *toleranceTable) columns() {
	heads := columnHeads()
	d.name, d.end = widest(d.main, heads[0]), widest(d.main, heads[1:]...)
	for _, r := range d.rows {
		d.name = max(d.name, widest(d.main, r.name), widest(d.small, r.set, r.limits))
		d.end = max(d.end, widest(d.main, r.value[:]...), widest(d.small, r.why[:]...))
	}
	d.name, d.end = min(d.name, widestColumn), min(d.end, 0.8*widestColumn)
}

// tablePen draws a table of tolerances.
type tablePen struct {
	*toleranceTable
	*pen
	fine                *pen      // of small text
	left, middle, right vg.Length // of the bars' column
}

// paint draws the table.
func (d *toleranceTable) paint(c draw.Canvas, _ *plot.Plot) {
	k := &tablePen{toleranceTable: d, pen: newPen(d.main, c), fine: newPen(d.small, c)}
	k.left = c.Min.X + air + d.name + air + d.end + air
	k.right = c.Max.X - air - d.end - air
	k.middle = (k.left + k.right) / 2
	top := c.Max.Y - d.line()
	heads := columnHeads()
	k.put(c.Min.X+air, top, 0, fitted(d.main, heads[0], d.name+air))
	k.put(k.left-air, top, 1, heads[1])
	k.put(k.right+air, top, 0, heads[2])
	k.put(k.middle, top, 0.5, "set")
	top -= 0.6 * d.line()
	foot := top - vg.Length(len(d.rows))*d.rowHeight()
	for i := -divisions; i <= divisions; i++ {
		x := k.across(float64(i) / divisions)
		c.StrokeLine2(stroke(grey(0.85), 0.4), x, foot, x, top)
	}
	for i := range d.rows {
		k.row(&d.rows[i], top-vg.Length(i)*d.rowHeight())
	}
	k.rule(foot)
	k.key(k.scales(foot))
}

// across returns the place of a part of a scale, -1 to 1.
func (k *tablePen) across(part float64) vg.Length {
	return k.middle + vg.Length(part)*(k.right-k.middle)
}

// row draws a row under its top.
func (k *tablePen) row(r *toleranceRow, top vg.Length) {
	k.rule(top)
	base := func(i int) vg.Length { return top - vg.Length(i+1)*k.line() }
	x := k.c.Min.X + air
	k.put(x, base(0), 0, fitted(k.main, r.name, k.name))
	k.fine.put(x, base(1), 0, fitted(k.small, r.set, k.name))
	k.fine.put(x, base(2), 0, fitted(k.small, r.limits, k.name))
	// write writes a value and, under it, what ends it.
	write := func(x, part, width vg.Length, value, why string) {
		k.put(x, base(0), part, fitted(k.main, value, width))
		for n, line := range wrapped(k.small, why, width, 2) {
			k.fine.put(x, base(n+1), part, line)
		}
	}
	y := top - k.rowHeight()/2
	if r.fails == "" {
		k.bar(r, y)
	}
	for i, off := range r.limit {
		if part := off / (divisions * k.step[r.scale]); math.Abs(part) <= 1+1e-9 {
			k.bracket(k.across(part), y, vg.Length(1-2*i))
		}
	}
	k.c.StrokeLine2(stroke(ink, 1.6), k.middle, y-setHalf, k.middle, y+setHalf)
	if r.fails != "" {
		x := k.middle + 2*air
		write(x, 0, k.c.Max.X-air-x, failsAsSet+":", r.fails)
		return
	}
	write(k.left-air, 1, k.end, r.value[0], r.why[0])
	write(k.right+air, 0, k.end, r.value[1], r.why[1])
}

// failsAsSet says that a setting has no tolerance.
const failsAsSet = "does not work as it is set"

const (
	barHalf = 1.7 * vg.Millimeter
	setHalf = 3.6 * vg.Millimeter
	endHalf = 2.6 * vg.Millimeter
)

// bar draws the bar of a row about the height y: with a point where it goes on
// beyond the scale.
func (k *tablePen) bar(r *toleranceRow, y vg.Length) {
	widest := divisions * k.step[r.scale]
	var x, tip [2]vg.Length
	for i, off := range r.off {
		part := min(max(off/widest, -1), 1)
		tip[i] = k.across(part)
		x[i] = tip[i]
		if math.Abs(off) > widest*(1+1e-9) {
			x[i] -= vg.Length(part) * 2 * vg.Millimeter
		}
	}
	if tip[1]-tip[0] < vg.Points(0.1) {
		return
	}
	low, high := y-barHalf, y+barHalf
	k.shape([]vg.Point{
		{X: x[0], Y: low}, {X: x[1], Y: low}, {X: tip[1], Y: y}, {X: x[1], Y: high}, {X: x[0], Y: high}, {X: tip[0], Y: y},
	}, true, lookTolerance[r.scale])
}

// bracket draws the sign of a limit, open to the side of inward.
func (k *tablePen) bracket(x, y, inward vg.Length) {
	const hook = 1.1 * vg.Millimeter
	k.c.StrokeLines(stroke(ink, 1.3), []vg.Point{
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
		k.put(k.left-3*air, y, 1, name)
		for n := -divisions; n <= divisions; n++ {
			number := decimals(float64(n) * k.step[i])
			if n > 0 {
				number = "+" + number
			}
			k.put(k.across(float64(n)/divisions), y, 0.5, number)
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
		k.fine.put(x+width+air/2, y, 0, text)
		x += width + air/2 + k.small.Width(text) + 1.5*air
	}
	half := 0.5 * barHalf
	for i, name := range [2]string{"slide", "turn"} {
		if k.step[i] > 0 {
			entry(sample/1.5, name, func(x vg.Length) {
				k.box(x, middle-half, x+sample/1.5, middle+half, lookTolerance[i])
			})
		}
	}
	entry(air/2, "set value", func(x vg.Length) {
		k.c.StrokeLine2(stroke(ink, 1.6), x+air/4, middle-barHalf, x+air/4, middle+barHalf)
	})
	entry(air/2, "limit of the setting", func(x vg.Length) { k.bracket(x+air/2, middle, -1) })
	entry(air, "goes on beyond the scale", func(x vg.Length) {
		k.c.StrokeLines(stroke(ink, 0.7), []vg.Point{{X: x, Y: middle + half}, {X: x + air, Y: middle}, {X: x, Y: middle - half}})
	})
}
