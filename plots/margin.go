package plots

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"sightpost/gaze/frame"
	"sightpost/mount/fit/tolerance"
	"sightpost/plots/units"
)

// Margin returns the figure of the margin of every posture against the distance
// or the tilt of the screen: one curve for each posture, a line at zero, below
// which the tracker does not work, and a line where the screen is. The error wraps
// [ErrFigure]: for a sweep without curves, for a curve without samples, and for
// a sample that is not finite.
func Margin(s *tolerance.Sweep, opt Options) (Figure, error) {
	if s == nil || len(s.Curves) == 0 {
		return Figure{}, fmt.Errorf("%w: the sweep has no curve", ErrFigure)
	}
	if !drawable(s.Chosen) {
		return Figure{}, fmt.Errorf("%w: the sweep's chosen place is not finite", ErrFigure)
	}
	d := marginChart{units: opt.Units, turns: s.Motion == tolerance.OverTilt, chosen: s.Chosen, words: words(textSize)}
	for _, c := range s.Curves {
		name := spoken(c.Posture.Name)
		curve, err := newCurve(c.Samples, fmt.Sprintf("posture %q", name))
		if err != nil {
			return Figure{}, err
		}
		d.curves, d.names = append(d.curves, curve), append(d.names, name)
	}
	d.bottom, d.top = heights(d.curves...)
	d.low, d.high = seen(d.chosen, 1, d.curves...)
	if !(d.high-d.low > 1e-6) {
		return Figure{}, fmt.Errorf("%w: the sweep has no width", ErrFigure)
	}
	title, across := "margin against the screen's tilt", "turn of the screen about its middle, from where it is (°; positive: face up)"
	if !d.turns {
		title = "margin against the distance of the screen"
		across = axisName(fmt.Sprintf("distance from the eyes along the line of sight, posture %q", spoken(s.Leading)), d.units)
	}
	size := Size{170 * vg.Millimeter, 105 * vg.Millimeter}
	p := newPlot(textSize)
	p.Title.Text = titled(opt.Label, title)
	ruled(&p.X, across, d.low, d.high, inUnits(d.turns, d.units), 8)
	ruled(&p.Y, axisName("margin", d.units), d.bottom, d.top, d.units.MM(), 8)
	p.X.Max += (d.high - d.low) * beside(d.words.Width(belowZero)+2*air, size.Width)
	p.Y.Max += (d.top - d.bottom) * beside(peakLead+d.words.Font.Size*1.3*vg.Length(d.rows(0.7*size.Width)), size.Height)
	p.Add(painter(d.paint))
	return Figure{Plot: p, Size: size, Title: p.Title.Text, Desc: d.describe()}, nil
}

// belowZero says what a negative margin means.
const belowZero = "does not work"

// marginChart is the margins of a sweep.
type marginChart struct {
	units                  units.Units
	turns                  bool
	low, high, bottom, top float64
	chosen                 float64
	curves                 []curve
	names                  []string
	words                  draw.TextStyle
}

// paint draws zero, the chosen place and the curves with their names, each with a line to
// its place; neighbors are in different rows where one row has no space for all.
func (d *marginChart) paint(c draw.Canvas, p *plot.Plot) {
	k := newPen(d.words, c).within(p)
	zero, right := k.trY(0), k.trX(d.high)
	c.StrokeLine2(stroke(ink, 0.9), k.trX(d.low), zero, right+air, zero)
	k.text(vg.Point{X: right + air, Y: zero + 0.5*d.words.Font.Size}, 0, "works")
	k.text(vg.Point{X: right + air, Y: zero - 1.2*d.words.Font.Size}, 0, belowZero)
	c.StrokeLine2(lookPresent, k.trX(d.chosen), k.trY(d.bottom), k.trX(d.chosen), k.trY(d.top))
	names := lane{{at: r2.Vec{X: d.chosen, Y: d.top}, text: d.setHere()}}
	for i, curve := range d.curves {
		k.curve(curveLook(i), curve)
		names = append(names, label{at: curve.peak(), text: d.names[i]})
	}
	half, rows := d.gap()/2, d.rows(right-k.trX(d.low))
	names, places := names.placed(func(l label) vg.Length { return k.trX(l.at.X) }, d.gap()/vg.Length(rows), k.trX(d.low)+half, right-half)
	for i, x := range places {
		y := k.trY(d.top) + peakLead/2 + k.row()*vg.Length(i%rows)
		k.leader(k.at(names[i].at), vg.Point{X: x, Y: y})
		k.put(x, y+0.25*k.words.Font.Size, 0.5, names[i].text)
	}
}

// setHere says where the screen is.
func (d *marginChart) setHere() string { return "set: " + d.number(d.chosen) }

// peakLead is the distance of the names from the highest curve.
const peakLead = 7 * vg.Millimeter

// gap returns how far apart names must be in one row.
func (d *marginChart) gap() vg.Length {
	return widest(d.words, append([]string{d.setHere()}, d.names...)...) + air
}

// rows returns how many rows the names need so as not to overlap.
func (d *marginChart) rows(width vg.Length) int {
	return max(1, int(math.Ceil(float64(d.gap()*vg.Length(len(d.names)+1)/width))))
}

// number tells a place on the axis across.
func (d *marginChart) number(v float64) string {
	if d.turns {
		return units.Fixed(v/inUnits(true, d.units), 0) + "°"
	}
	return d.units.Length(v)
}

// describe says the chart's numbers in words.
func (d *marginChart) describe() string {
	var b strings.Builder
	fmt.Fprintf(&b, "Set at %s.", d.number(d.chosen))
	for i, c := range d.curves {
		fmt.Fprintf(&b, " Posture %s: margin %s there", d.names[i], d.units.Length(c.near(d.chosen)))
		if run := c.positive(d.chosen); len(run) > 0 {
			fmt.Fprintf(&b, ", not negative from %s to %s", d.number(run[0].X), d.number(run[len(run)-1].X))
		}
		b.WriteString(".")
	}
	return b.String()
}

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

// beside returns by what part an axis must be longer to leave a width beside the
// curves, on paper of a size.
func beside(width, paper vg.Length) float64 {
	share := min(0.5, float64(width/paper)*1.15) // of the paper, less the numbers of the axis
	return share / (1 - share)
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

// heights returns the part of the scale of margin that shows curves.
func heights(curves ...curve) (bottom, top float64) {
	top = highestMM
	for _, p := range slices.Concat(curves...) {
		bottom, top = min(bottom, p.Y), max(top, p.Y)
	}
	return max(bottom, deepestMM), top
}

// seen returns the part of the axis across in which any curve is above the deepest
// margin, with more samples on either side, and a present value; where none is, all of
// it.
func seen(present float64, more int, curves ...curve) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, c := range curves {
		for i, p := range c {
			if p.Y >= deepestMM {
				low, high = min(low, c[max(i-more, 0)].X), max(high, c[min(i+more, len(c)-1)].X)
			}
		}
	}
	if low < high {
		return min(low, present), max(high, present)
	}
	for _, c := range curves {
		low, high = min(low, c[0].X), max(high, c[len(c)-1].X)
	}
	return low, high
}

// peak returns the place of the greatest margin.
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

// within returns the part of a curve between two values.
func (c curve) within(low, high float64) curve {
	return slices.Concat(clipped(c, r2.Vec{X: low, Y: -farthest}, r2.Vec{X: high, Y: farthest})...)
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

// curve draws what a chart shows of a curve.
func (k *pen) curve(l draw.LineStyle, c curve) {
	for _, piece := range clipped(c, r2.Vec{X: -farthest, Y: deepestMM}, r2.Vec{X: farthest, Y: farthest}) {
		k.c.StrokeLines(l, k.all(piece))
	}
}
