package plots

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"sightpost/gaze/frame"
	"sightpost/mount/fit/tolerance"
	"sightpost/plots/units"
)

// painter is a figure, or the inside of a chart's axes, as a plotter.
type painter func(c draw.Canvas, p *plot.Plot)

// Plot paints.
func (f painter) Plot(c draw.Canvas, p *plot.Plot) { f(c, p) }

// inUnits returns one of the units in which a length (mm) or an angle (radians) is told.
func inUnits(turns bool, u units.Units) float64 {
	if turns {
		return frame.Degree.Radians()
	}
	return u.MM()
}

// quantity returns the name of an axis with the unit in which it is told.
func quantity(name string, turns bool, u units.Units) string {
	if turns {
		return name + " (°)"
	}
	return axisName(name, u)
}

// ruled names an axis and gives it a range and about count numbers, in units.
func ruled(a *plot.Axis, name string, low, high, unit, count float64) {
	a.Label.Text, a.Min, a.Max = name, low, high
	a.Tick.Marker = ticksIn(unit, low, high, roundStep((high-low)/unit/count))
}

// curve is how a margin (mm) goes with a length (mm) or an angle (radians).
type curve []r2.Vec

// newCurve returns the curve of samples; whose names it in an error.
func newCurve(samples []tolerance.Sample, whose string) (curve, error) {
	if len(samples) < 2 {
		return nil, fmt.Errorf("%w: %s: %d samples of the margin", ErrFigure, whose, len(samples))
	}
	var c curve
	for i, s := range samples {
		if !drawable(s.At, s.MarginMM) {
			return nil, fmt.Errorf("%w: %s: a sample of the margin is not finite, or beyond %.0f m", ErrFigure, whose, farthest/1000)
		}
		if i > 0 && s.At < c[i-1].X {
			return nil, fmt.Errorf("%w: %s: the samples of the margin are out of order", ErrFigure, whose)
		}
		c = append(c, r2.Vec{X: s.At, Y: s.MarginMM})
	}
	return c, nil
}

// deepestMM is how far below zero a chart shows a margin: below zero, it is right in its
// sign only. highestMM is how far above zero every chart reaches.
const deepestMM, highestMM = -40, 10

// peak returns the place of the greatest value.
func (c curve) peak() r2.Vec {
	return slices.MaxFunc(c, func(a, b r2.Vec) int { return cmp.Compare(a.Y, b.Y) })
}

// near returns the margin at a value, by the straight line between samples.
func (c curve) near(x float64) float64 {
	i := slices.IndexFunc(c[1:], func(p r2.Vec) bool { return x <= p.X })
	if i < 0 {
		return c[len(c)-1].Y
	}
	a, b := c[i], c[i+1]
	if !(b.X > a.X) {
		return b.Y
	}
	return a.Y + max(0, (x-a.X)/(b.X-a.X))*(b.Y-a.Y)
}

// positive returns the run of samples about x at which the margin is not negative.
func (c curve) positive(x float64) curve {
	const rounding = 1e-9
	at := max(0, slices.IndexFunc(c, func(p r2.Vec) bool { return p.X >= x-rounding }))
	if c[at].Y < 0 {
		return nil
	}
	from, to := at, at
	for from > 0 && c[from-1].Y >= 0 {
		from--
	}
	for to < len(c) && c[to].Y >= 0 {
		to++
	}
	return c[from:to]
}

// clipped returns the pieces of a line that lie inside a rectangle.
func clipped(line []r2.Vec, low, high r2.Vec) [][]r2.Vec {
	on := make([]vg.Point, len(line))
	for i, p := range line {
		on[i] = vg.Point{X: vg.Length(p.X), Y: vg.Length(p.Y)}
	}
	c := draw.Canvas{Rectangle: vg.Rectangle{
		Min: vg.Point{X: vg.Length(low.X), Y: vg.Length(low.Y)}, Max: vg.Point{X: vg.Length(high.X), Y: vg.Length(high.Y)},
	}}
	var pieces [][]r2.Vec
	for _, piece := range c.ClipLinesXY(on) {
		var back []r2.Vec
		for _, p := range piece {
			back = append(back, r2.Vec{X: float64(p.X), Y: float64(p.Y)})
		}
		pieces = append(pieces, back)
	}
	return pieces
}

// panels are charts of a margin side by side on one scale of it.
type panels struct {
	units       units.Units
	all         []*panel
	bottom, top float64
	keys        []key
}

// panel is a margin against a length (mm) or an angle (radians).
type panel struct {
	name      string // of that number
	head      []string
	turns     bool
	low, high float64
	present   float64
	works     []float64 // ends of the range that works, if it is shown
	curves    []curve
	lines     []draw.LineStyle
}

// add widens the scale of margin for a panel, and narrows the panel to where any of its
// curves is above the deepest margin, and to the present value, with some air; where none
// is, it shows all.
func (d *panels) add(p *panel) error {
	low, high := math.Inf(1), math.Inf(-1)
	first, last := low, high
	d.top = max(d.top, highestMM)
	for _, c := range p.curves {
		first, last = min(first, c[0].X), max(last, c[len(c)-1].X)
		for _, at := range c {
			d.bottom, d.top = max(min(d.bottom, at.Y), deepestMM), max(d.top, at.Y)
			if at.Y >= deepestMM {
				low, high = min(low, at.X), max(high, at.X)
			}
		}
	}
	p.low, p.high = first, last
	if low < high {
		low, high = min(low, p.present), max(high, p.present)
		air := 0.1 * (high - low)
		p.low, p.high = max(first, low-air), min(last, high+air)
	}
	if !drawable(p.present) || !(p.high-p.low > 1e-6) {
		return fmt.Errorf("%w: %s: the present value is not finite, or the range has no width", ErrFigure, p.name)
	}
	d.all = append(d.all, p)
	return nil
}

// paint draws the panels and, under them, the key.
func (d *panels) paint(c draw.Canvas, _ *plot.Plot) {
	key := &pen{c: c, layout: keyed(c.Max.X-c.Min.X, d.keys...)}
	across := min(panelsAcross, len(d.all))
	wide := (c.Max.X - c.Min.X) / vg.Length(across)
	high := (c.Max.Y - c.Min.Y - key.keyHeight() - 1.5*air) / vg.Length((len(d.all)+across-1)/across)
	for i, p := range d.all {
		cell := draw.Canvas{Canvas: c.Canvas}
		cell.Min.X = c.Min.X + wide*vg.Length(i%across)
		cell.Max.X = cell.Min.X + wide - 1.5*air
		cell.Max.Y = c.Max.Y - high*vg.Length(i/across)
		cell.Min.Y = cell.Max.Y - high + air
		d.panel(p, cell)
	}
	key.key()
}

// panel draws a panel with its head.
func (d *panels) panel(p *panel, c draw.Canvas) {
	k := newPen(c)
	for _, text := range p.head {
		c.Max.Y -= k.row()
		k.text(vg.Point{X: c.Min.X + 2*air, Y: c.Max.Y}, 0, fitted(text, c.Max.X-c.Min.X-2*air))
	}
	c.Max.Y -= air
	inner := newPlot()
	ruled(&inner.X, quantity(p.name, p.turns, d.units), p.low, p.high, inUnits(p.turns, d.units), 8)
	ruled(&inner.Y, axisName("margin", d.units), d.bottom, d.top, d.units.MM(), 8)
	inner.Add(painter(func(c draw.Canvas, inner *plot.Plot) { d.inside(newPen(c).within(inner), p) }))
	inner.Draw(c)
}

// inside draws the range that works, with short bars at its ends, zero, the curves and the
// present value.
func (d *panels) inside(k *pen, p *panel) {
	zero := k.trY(0)
	if p.works != nil {
		a, b := k.trX(max(p.works[0], p.low)), k.trX(min(p.works[1], p.high))
		k.box(a, k.trY(d.bottom), b, k.trY(d.top), lookWorks)
		const half = 1.2 * vg.Millimeter
		for _, x := range []vg.Length{a, b} {
			k.c.StrokeLine2(stroke(ink, 1.3), x, zero-half, x, zero+half)
		}
		k.c.StrokeLine2(stroke(ink, 1.8), a, zero, b, zero)
	}
	k.c.StrokeLine2(lookZero, k.trX(p.low), zero, k.trX(p.high), zero)
	x := k.trX(p.present)
	k.c.StrokeLine2(lookPresent, x, k.trY(d.bottom), x, k.trY(d.top))
	for i, c := range p.curves {
		for _, piece := range clipped(c, r2.Vec{X: p.low, Y: d.bottom}, r2.Vec{X: p.high, Y: farthest}) {
			k.c.StrokeLines(p.lines[i], k.all(piece))
		}
	}
	if y := p.curves[0].near(p.present); p.works != nil && y >= d.bottom {
		k.mark(mark{at: r2.Vec{X: p.present, Y: y}, glyph: ring.glyph, inner: true})
	}
}
