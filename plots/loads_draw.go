package plots

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"sightpost/plots/units"
)

// loads are the curves along a mount and the table under them, as a plotter.
type loads struct {
	units       units.Units
	main, small draw.TextStyle
	// along are the places along all tubes and sag is how far they move, in units;
	// moment what bends and twists them (N·m).
	along, sag, moment  []float64
	mostSag, mostMoment float64
	tubes               []stretch
	parts               []sitting
	rows                []loadRow
	lastHead            string
	screen              string  // how the screen has sagged, in words
	most                float64 // end of the scale of the bars, 1 being the limit
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

// loadRow is a load and what bears it, or the head of rows.
type loadRow struct {
	name        string
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
	// leastCurve and wantedCurve are the heights of a curve with its axis.
	leastCurve, wantedCurve = 26 * vg.Millimeter, 42 * vg.Millimeter
	// nameColumn and saidColumn are the widths of the columns of words.
	nameColumn, saidColumn = 40 * vg.Millimeter, 62 * vg.Millimeter
	leastBars              = 30 * vg.Millimeter
)

func (d *loads) line() vg.Length { return 1.45 * d.small.Font.Size }

// tableHeight returns the height of the rows and of the scale under them.
func (d *loads) tableHeight() vg.Length {
	heads := vg.Length(0)
	for _, r := range d.rows {
		if r.head {
			heads++
		}
	}
	return vg.Length(len(d.rows))*d.line() + 0.4*heads*d.line() + 2*d.line()
}

// namesHeight returns the height of the words above the curves: how the screen sags,
// then the names.
func (d *loads) namesHeight() vg.Length { return 4.3 * d.line() }

// height returns what the figure needs, its title included.
func (d *loads) height() vg.Length {
	return d.namesHeight() + 2*wantedCurve + d.tableHeight() + 2*air + 8*vg.Millimeter
}

// fits returns an error if a size is too small for the table.
func (d *loads) fits(size Size) error {
	high := d.namesHeight() + 2*leastCurve + d.tableHeight() + 2*air + 8*vg.Millimeter
	wide := nameColumn + saidColumn + leastBars + 4*air
	if size.Height < high-1e-6 || size.Width < wide-1e-6 {
		return fmt.Errorf("%w: the loads need %.0f by %.0f mm or more", ErrFigure,
			math.Ceil(float64(wide/vg.Millimeter)), math.Ceil(float64(high/vg.Millimeter)))
	}
	return nil
}

// Plot draws names, curves and table, from above down.
func (d *loads) Plot(c draw.Canvas, _ *plot.Plot) {
	rows := c
	rows.Max.Y = c.Min.Y + d.tableHeight()
	curves := c
	curves.Min.Y = rows.Max.Y + air
	names := curves
	curves.Max.Y -= d.namesHeight()
	names.Min.Y = curves.Max.Y
	// the ends of the axes need space for their numbers
	curves.Min.X += air
	curves.Max.X -= d.small.Width("0000")
	middle := (curves.Min.Y + curves.Max.Y) / 2
	upper, lower := curves, curves
	upper.Min.Y, lower.Max.Y = middle+air/2, middle-air/2

	sag := d.curve(axisName("moves by", d.units), d.sag, d.mostSag)
	moment := d.curve("moment (N·m)", d.moment, d.mostMoment)
	moment.X.Label.Text = axisName("along the tubes from the clamp outward", d.units)
	// the numbers of the two differ in width, their insides begin level
	a, b := sag.DataCanvas(upper).Min.X, moment.DataCanvas(lower).Min.X
	upper.Min.X += max(0, b-a)
	lower.Min.X += max(0, a-b)
	sag.Draw(upper)
	moment.Draw(lower)
	inside := moment.DataCanvas(lower)
	across, _ := moment.Transforms(&inside)
	d.names(newPen(d.small, names), across)
	d.table(newPen(d.small, rows))
}

// curve returns the plot of a curve with its axes.
func (d *loads) curve(name string, y []float64, most float64) *plot.Plot {
	inner := newPlot(smallSize)
	inner.Y.Label.Text = name
	inner.X.Min, inner.X.Max = d.along[0], d.along[len(d.along)-1]
	inner.Y.Min, inner.Y.Max = 0, max(most*1.08, 1e-3)
	inner.X.Tick.Marker = roundTicks(inner.X.Min, inner.X.Max, roundStep((inner.X.Max-inner.X.Min)/8))
	inner.Y.Tick.Marker = roundTicks(0, inner.Y.Max, roundStep(inner.Y.Max/5))
	inner.Add(loadCurve{loads: d, y: y})
	return inner
}

// loadCurve is the inside of a curve's axes.
type loadCurve struct {
	*loads
	y []float64
}

// Plot draws where parts sit and the curve.
func (d loadCurve) Plot(c draw.Canvas, inner *plot.Plot) {
	k := newPen(d.small, c).within(inner)
	top := inner.Y.Max
	for _, p := range d.parts {
		c.StrokeLine2(lookPresent(), k.trX(p.at), k.trY(0), k.trX(p.at), k.trY(top))
	}
	points := make([]r2.Vec, len(d.along))
	for i, x := range d.along {
		points[i] = r2.Vec{X: x, Y: d.y[i]}
	}
	under := append(append([]r2.Vec{{X: d.along[0]}}, points...), r2.Vec{X: d.along[len(d.along)-1]})
	k.shape(k.all(under), true, look{fill: faint(okabe(okabeSky), 0.22)})
	c.StrokeLines(stroke(okabe(okabeBlue), 1.5), k.all(points))
}

// names writes above the curves which tube is where, and which parts sit between.
func (d *loads) names(k *pen, across func(float64) vg.Length) {
	c := k.c
	k.text(vg.Point{X: c.Min.X + air, Y: c.Max.Y - d.line()}, 0, fitted(d.small, capital(d.screen), c.Max.X-c.Min.X-2*air))
	upper, lower := c.Min.Y+1.6*d.line(), c.Min.Y+0.35*d.line()
	for _, t := range d.tubes {
		a, b := across(t.from), across(t.to)
		text := fitted(d.small, spoken(t.part), b-a-air)
		k.text(vg.Point{X: (a + b - d.small.Width(text)) / 2, Y: lower}, 0, text)
	}
	want := make([]vg.Length, len(d.parts))
	space := (c.Max.X - c.Min.X) / vg.Length(max(1, len(d.parts)))
	widest := vg.Length(0)
	for i, p := range d.parts {
		want[i] = across(p.at)
		widest = max(widest, d.small.Width(fitted(d.small, p.name, space-air)))
	}
	for i, x := range spread(want, widest+air, c.Min.X+air+widest/2, c.Max.X-air-widest/2) {
		text := fitted(d.small, d.parts[i].name, space-air)
		k.leader(vg.Point{X: want[i], Y: c.Min.Y}, vg.Point{X: want[i], Y: lower + 0.7*d.line()}, vg.Point{X: x, Y: upper - 0.15*d.line()})
		k.text(vg.Point{X: x - d.small.Width(text)/2, Y: upper}, 0, text)
	}
}

// table draws the rows and, under them, the scale.
func (d *loads) table(k *pen) {
	left, right := k.c.Min.X+air+nameColumn+air, k.c.Max.X-air-saidColumn-air
	scale := func(share float64) vg.Length { return left + vg.Length(min(share, d.most)/d.most)*(right-left) }
	y := k.c.Max.Y
	first := y
	for _, r := range d.rows {
		if r.head {
			y -= 0.4 * d.line()
		}
		y -= d.line()
		base := y + 0.3*d.line()
		if r.head {
			k.text(vg.Point{X: k.c.Min.X + air, Y: base}, 0, r.name)
			k.c.StrokeLine2(stroke(grey(0.6), 0.4), k.c.Min.X+air, y, k.c.Max.X-air, y)
			continue
		}
		k.text(vg.Point{X: k.c.Min.X + 2.5*air, Y: base}, 0, fitted(d.small, r.name, nameColumn-1.5*air))
		k.text(vg.Point{X: right + air, Y: base}, 0, fitted(d.small, r.said(), saidColumn))
		d.bar(k, &r, y, scale)
	}
	d.scale(k, first, y, scale)
}

// lookWeakest is the bar of the weakest joint.
func lookWeakest() look { return look{fill: grey(0.25), line: stroke(ink(), 0.5)} }

// bar draws how much of what it bears a load takes up.
func (d *loads) bar(k *pen, r *loadRow, y vg.Length, scale func(float64) vg.Length) {
	share := r.used
	if share == 0 {
		return
	}
	box := func(from, to float64, l look) {
		k.box(scale(from), y+0.15*d.line(), scale(to), y+0.85*d.line(), l)
	}
	within := lookGood()
	if r.weakest {
		within = lookWeakest()
	}
	box(0, min(share, 1), within)
	if share > 1 {
		box(1, share, lookBad())
	}
	if share > d.most { // goes on
		x, h := scale(d.most), 0.35*d.line()
		m := y + 0.5*d.line()
		k.shape([]vg.Point{{X: x, Y: m - h}, {X: x + h, Y: m}, {X: x, Y: m + h}}, true, look{fill: ink()})
	}
}

// scale draws the scale of the bars and the limit.
func (d *loads) scale(k *pen, top, foot vg.Length, at func(float64) vg.Length) {
	base := foot - d.line()
	step := 0.25
	if d.most > 1.5 {
		step = 0.5
	}
	for v := 0.0; v <= d.most+1e-9; v += step {
		x := at(v)
		k.c.StrokeLine2(stroke(grey(0.6), 0.4), x, foot, x, foot-air/2)
		text := fmt.Sprintf("%.0f %%", 100*v)
		k.text(vg.Point{X: x - d.small.Width(text)/2, Y: base - 0.1*d.line()}, 0, text)
	}
	k.c.StrokeLine2(stroke(ink(), 1.2, 4, 2), at(1), foot-air/2, at(1), top-0.2*d.line())
	text := "utilization: beyond 100 % slips, yields or is overloaded"
	k.text(vg.Point{X: k.c.Max.X - air - saidColumn, Y: base - 0.1*d.line()}, 0, fitted(d.small, text, saidColumn))
}
