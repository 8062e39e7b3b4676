package plots

import (
	"fmt"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"sightpost/plots/units"
)

// loads are the curves along a mount and the table under them.
type loads struct {
	units units.Units
	// sag is how far places along all tubes move (mm), moment what bends and twists them
	// (N·m).
	sag, moment curve
	from, to    float64
	tubes       []stretch
	parts       []sitting
	rows        []loadRow
	most        float64 // end of the scale of the bars, 1 being the limit
}

// stretch is a tube along the mount and the greatest moment in it (N·m).
type stretch struct {
	part       string
	from, to   float64
	mostMoment float64
}

// sitting is where other parts sit along the mount.
type sitting struct {
	name string
	at   float64
}

// loadRow is a load and what bears it, or the head of rows of a kind.
type loadRow struct {
	kind, name  string
	head        bool
	acts, bears float64 // bears is 0 if not known
	times       float64 // how often the load counts: rough ground and safety
	used        float64 // what the load then takes up of what bears it; 0 if not known
	unit        string
	fails       string // what happens beyond the limit
	more        string
	weakest     bool // of all joints
}

const (
	// mostShare is where the scale of the bars ends at the latest.
	mostShare = 2
	// curveHeight is that of a curve with its axis.
	curveHeight = 30 * vg.Millimeter
	// nameColumn and saidColumn are the widths of the columns of words.
	nameColumn, saidColumn = 50 * vg.Millimeter, 94 * vg.Millimeter
)

func (d *loads) line() vg.Length { return 1.3 * textSize }

// tableHeight returns the height of the rows and of the scale under them.
func (d *loads) tableHeight() vg.Length {
	lines := vg.Length(len(d.rows) + 2)
	for _, r := range d.rows {
		if r.head {
			lines += 0.4
		}
	}
	return lines * d.line()
}

// namesHeight returns the height of the names above the curves.
func (d *loads) namesHeight() vg.Length { return 2.8 * d.line() }

// height returns what the figure needs, its title included.
func (d *loads) height() vg.Length {
	return d.namesHeight() + 2*curveHeight + d.tableHeight() + 2*air + 8*vg.Millimeter
}

// paint draws names, curves and table, from above down.
func (d *loads) paint(c draw.Canvas, _ *plot.Plot) {
	rows, curves, names := c, c, c
	rows.Max.Y = c.Min.Y + d.tableHeight()
	curves.Min.Y = rows.Max.Y + air
	curves.Max.Y -= d.namesHeight()
	names.Min.Y = curves.Max.Y
	// the ends of the axes need space for their numbers
	curves.Min.X += air
	curves.Max.X -= lettering.Width("0000")
	middle := (curves.Min.Y + curves.Max.Y) / 2
	upper, lower := curves, curves
	upper.Min.Y, lower.Max.Y = middle+air/2, middle-air/2

	sag := d.curve(axisName("moves by", d.units), d.sag, d.units.MM())
	moment := d.curve("moment (N·m)", d.moment, 1)
	moment.X.Label.Text = axisName("along the tubes from the clamp outward", d.units)
	// the numbers of the two differ in width, their insides begin level
	a, b := sag.DataCanvas(upper).Min.X, moment.DataCanvas(lower).Min.X
	upper.Min.X += max(0, b-a)
	lower.Min.X += max(0, a-b)
	sag.Draw(upper)
	moment.Draw(lower)
	inside := moment.DataCanvas(lower)
	across, _ := moment.Transforms(&inside)
	d.names(newPen(names), across)
	d.table(newPen(rows))
}

// curve returns the plot of a curve with its axes, and where parts sit.
func (d *loads) curve(name string, y curve, unit float64) *plot.Plot {
	inner := newPlot()
	ruled(&inner.X, "", d.from, d.to, d.units.MM(), 8)
	ruled(&inner.Y, name, 0, max(y.peak().Y*1.08, 1e-3*unit), unit, 5)
	inner.Add(painter(func(c draw.Canvas, inner *plot.Plot) {
		k := newPen(c).within(inner)
		for _, p := range d.parts {
			c.StrokeLine2(lookPresent, k.trX(p.at), k.trY(0), k.trX(p.at), k.trY(inner.Y.Max))
		}
		k.shape(k.all(slices.Concat(curve{{X: d.from}}, y, curve{{X: d.to}})), true, lookWorks)
		c.StrokeLines(stroke(okabeBlue, 1.5), k.all(y))
	}))
	return inner
}

// names writes above the curves which tube is where, and which parts sit between.
func (d *loads) names(k *pen, across func(float64) vg.Length) {
	c := k.c
	upper, lower := c.Min.Y+1.6*d.line(), c.Min.Y+0.35*d.line()
	for _, t := range d.tubes {
		a, b := across(t.from), across(t.to)
		k.put((a+b)/2, lower, 0.5, fitted(spoken(t.part), b-a-air))
	}
	var want []vg.Length
	var texts []string
	space := (c.Max.X - c.Min.X) / vg.Length(max(1, len(d.parts)))
	for _, p := range d.parts {
		want, texts = append(want, across(p.at)), append(texts, fitted(p.name, space-air))
	}
	gap := widest(texts...) + air
	for i, x := range spread(want, gap, c.Min.X+(gap+air)/2, c.Max.X-(gap+air)/2) {
		k.leader(vg.Point{X: want[i], Y: c.Min.Y}, vg.Point{X: want[i], Y: lower + 0.7*d.line()}, vg.Point{X: x, Y: upper - 0.15*d.line()})
		k.put(x, upper, 0.5, texts[i])
	}
}

// table draws the rows and, under them, the scale.
func (d *loads) table(k *pen) {
	left, right := k.c.Min.X+air+nameColumn+air, k.c.Max.X-air-saidColumn-air
	scale := func(share float64) vg.Length { return left + vg.Length(min(share, d.most)/d.most)*(right-left) }
	y := k.c.Max.Y
	for _, r := range d.rows {
		if r.head {
			y -= 0.4 * d.line()
		}
		y -= d.line()
		base := y + 0.24*d.line()
		if r.head {
			k.put(k.c.Min.X+air, base, 0, r.name)
			k.rule(y)
			continue
		}
		k.put(k.c.Min.X+2.5*air, base, 0, fitted(r.name, nameColumn-1.5*air))
		k.put(right+air, base, 0, fitted(r.said(), saidColumn))
		d.bar(k, &r, y, scale)
	}
	d.scale(k, y, scale)
}

// rule draws a line across a table.
func (k *pen) rule(y vg.Length) {
	k.c.StrokeLine2(stroke(grey(0.6), 0.4), k.c.Min.X+air, y, k.c.Max.X-air, y)
}

// bar draws how much of what it bears a load takes up.
func (d *loads) bar(k *pen, r *loadRow, y vg.Length, scale func(float64) vg.Length) {
	share := r.used
	if share == 0 {
		return
	}
	box := func(from, to float64, l look) {
		k.box(scale(from), y+0.15*d.line(), scale(to), y+0.85*d.line(), l)
	}
	within := lookGood
	if r.weakest {
		within = lookWeakest
	}
	box(0, min(share, 1), within)
	if share > 1 {
		box(1, share, lookBad)
	}
	if share > d.most { // goes on
		x, h := scale(d.most), 0.35*d.line()
		m := y + 0.5*d.line()
		k.shape([]vg.Point{{X: x, Y: m - h}, {X: x + h, Y: m}, {X: x, Y: m + h}}, true, look{fill: ink})
	}
}

// scale draws the scale of the bars under the table and the limit over it.
func (d *loads) scale(k *pen, foot vg.Length, at func(float64) vg.Length) {
	base := foot - 1.1*d.line()
	step := 0.25
	if d.most > 1.5 {
		step = 0.5
	}
	for v := 0.0; v <= d.most+1e-9; v += step {
		k.c.StrokeLine2(stroke(grey(0.6), 0.4), at(v), foot, at(v), foot-air/2)
		k.put(at(v), base, 0.5, fmt.Sprintf("%.0f%%", 100*v))
	}
	k.c.StrokeLine2(stroke(ink, 1.2, 4, 2), at(1), foot-air/2, at(1), k.c.Max.Y-0.2*d.line())
	text := "utilization: beyond 100% slips, yields or is overloaded"
	k.put(k.c.Max.X-air-saidColumn, base, 0, fitted(text, saidColumn))
}
