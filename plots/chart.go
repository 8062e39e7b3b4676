package plots

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
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

// axis is what an axis of a chart measures, from low to high, with about so many numbers in
// units; fewer and a name of two lines where it is not long enough.
type axis struct {
	name                     string
	low, high, unit, numbers float64
	long                     vg.Length // zero for one of any length
}

// newChart returns a plot with axes, those that have a width with numbers.
func newChart(x, y axis) *plot.Plot {
	p := newPlot()
	for to, from := range map[*plot.Axis]axis{&p.X: x, &p.Y: y} {
		if to.Label.Text, to.Min, to.Max = from.name, from.low, from.high; !hasWidth(to) {
			continue
		}
		if from.long > 0 {
			to.Label.Text = strings.Join(wrapped(from.name, from.long, 2), "\n")
			from.numbers = min(from.numbers, float64(from.long/(9*vg.Millimeter)))
		}
		to.Tick.Marker = ticksIn(from.unit, from.low, from.high, roundTo((from.high-from.low)/from.unit/from.numbers, 1, 2, 5))
	}
	return p
}

// hasWidth reports whether the ends of an axis are finite and apart.
func hasWidth(a *plot.Axis) bool { return drawable(a.Min, a.Max) && a.Max-a.Min > 1e-6 }

// inUnits returns one of the units in which a length (mm) or an angle (radians) is shown.
func inUnits(turns bool, u units.Units) float64 {
	if turns {
		return frame.Degree.Radians()
	}
	return u.MM()
}

// line returns a line of a chart; horizontal and vertical are straight ones.
func line(l draw.LineStyle, points ...plotter.XY) plot.Plotter {
	return unranged{&plotter.Line{XYs: points, LineStyle: l}}
}

func horizontal(l draw.LineStyle, y, from, to float64) plot.Plotter {
	return line(l, plotter.XY{X: from, Y: y}, plotter.XY{X: to, Y: y})
}

func vertical(l draw.LineStyle, x, from, to float64) plot.Plotter {
	return line(l, plotter.XY{X: x, Y: from}, plotter.XY{X: x, Y: to})
}

// unranged is a plotter that leaves the axes as they are.
type unranged struct{ plot.Plotter }

// charts are plots in a grid with a key under them.
type charts struct {
	plots [][]*plot.Plot
	keys  []key
}

// check returns an error that wraps [ErrFigure] if an axis has no width.
func (d charts) check() error {
	for _, p := range slices.Concat(d.plots...) {
		if p == nil { // at the end of a row
			continue
		}
		for _, a := range []*plot.Axis{&p.X, &p.Y} {
			if !hasWidth(a) {
				return fmt.Errorf("%w: %s from %g to %g: not finite, or without width", ErrFigure, a.Label.Text, a.Min, a.Max)
			}
		}
	}
	return nil
}

// figure returns the charts as a figure; the error is that of check.
func (d charts) figure(size Size, title string) (Figure, error) {
	f := newSheet(size, title)
	f.Plot.Add(painter(func(c draw.Canvas, _ *plot.Plot) { d.paint(c) }))
	return f, d.check()
}

// paint draws the plots, their insides level and of one size, and returns the inside of the
// first.
func (d charts) paint(c draw.Canvas) draw.Canvas {
	rows := flowed(d.keys, c.Max.X-c.Min.X)
	(&pen{c: c}).key(rows, vg.Point{X: c.Min.X + air, Y: c.Min.Y + rows.height()})
	c.Min.Y += rows.height()
	cells := plot.Align(d.plots, draw.Tiles{Rows: len(d.plots), Cols: len(d.plots[0]), PadX: 2 * air, PadY: air, PadBottom: air}, c)
	for i, row := range d.plots {
		for j, p := range row {
			if p != nil {
				p.Draw(cells[i][j])
			}
		}
	}
	return d.plots[0][0].DataCanvas(cells[0][0])
}

// deepestMM is how far below zero a chart shows a margin: below zero, it is right in its
// sign only. highestMM is how far above zero every chart reaches.
const deepestMM, highestMM = -40, 10

// marginCurve is how a margin goes with a length (mm) or an angle (radians).
type marginCurve struct {
	samples []tolerance.Sample
	line    draw.LineStyle
}

// panel is a chart of margins against a length or an angle.
type panel struct {
	name      string // of that number
	turns     bool
	present   float64
	works     []float64 // ends of the range that works, if it is shown
	curves    []marginCurve
	low, high float64
}

// fit sets from where to where the panel goes: where any of its curves is above the deepest
// margin, and to the present value, with some air; where none is, all. It returns the range
// of the margins that are shown. The error wraps [ErrFigure].
func (p *panel) fit() (bottom, top float64, err error) {
	low, high := math.Inf(1), math.Inf(-1)
	first, last := low, high
	top = highestMM
	for _, c := range p.curves {
		for i, s := range c.samples {
			if !drawable(s.At, s.MarginMM) || i > 0 && s.At < c.samples[i-1].At {
				return 0, 0, fmt.Errorf("%w: %s: a sample of the margin is not finite, or out of order", ErrFigure, p.name)
			}
			first, last = min(first, s.At), max(last, s.At)
			bottom, top = max(min(bottom, s.MarginMM), deepestMM), max(top, s.MarginMM)
			if s.MarginMM >= deepestMM {
				low, high = min(low, s.At), max(high, s.At)
			}
		}
	}
	if !drawable(p.works...) {
		return 0, 0, fmt.Errorf("%w: %s: an end of the range that works is not finite", ErrFigure, p.name)
	}
	p.low, p.high = first, last
	if low < high || !drawable(p.present) { // which then makes no range
		low, high = min(low, p.present), max(high, p.present)
		p.low, p.high = max(first, low-0.1*(high-low)), min(last, high+0.1*(high-low))
	}
	return bottom, top, nil
}

// plot returns the panel for a range of margins: the range that works shaded and thick on the
// line of zero, the curves and the present value; all with its axes is so wide.
func (p *panel) plot(bottom, top float64, u units.Units, width vg.Length) *plot.Plot {
	name := p.name + " (°)"
	if !p.turns {
		name = axisName(p.name, u)
	}
	chart := newChart(axis{name, p.low, p.high, inUnits(p.turns, u), 8, width - 16*vg.Millimeter}, axis{axisName("margin", u), bottom, top, u.MM(), 8, 0})
	if p.works != nil {
		a, b := max(p.works[0], p.low), min(p.works[1], p.high)
		chart.Add(unranged{&plotter.Line{XYs: plotter.XYs{{X: a, Y: top}, {X: b, Y: top}}, FillColor: lookWorks.fill}}, horizontal(stroke(ink, 2.2), 0, a, b))
	}
	chart.Add(horizontal(lookZero, 0, p.low, p.high), vertical(lookPresent, p.present, bottom, top))
	for _, c := range p.curves {
		points := make([]plotter.XY, len(c.samples))
		for i, s := range c.samples {
			points[i] = plotter.XY{X: s.At, Y: s.MarginMM}
		}
		chart.Add(line(c.line, points...))
	}
	return chart
}
