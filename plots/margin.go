package plots

import (
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
	size := opt.Size.or(Size{170 * vg.Millimeter, 105 * vg.Millimeter})
	if err := size.check(); err != nil {
		return Figure{}, err
	}
	d, err := newChart(s, opt.Units)
	if err != nil {
		return Figure{}, err
	}
	p := newPlot(textSize)
	p.Title.Text = titled(opt.Label, d.title)
	p.X.Label.Text, p.Y.Label.Text = d.acrossName, axisName("margin", opt.Units)
	d.words = p.Legend.TextStyle
	p.X.Tick.Marker = roundTicks(d.low, d.high, roundStep((d.high-d.low)/8))
	p.Y.Tick.Marker = roundTicks(d.bottom, d.top, roundStep((d.top-d.bottom)/8))
	p.X.Min, p.Y.Min = d.low, d.bottom
	p.X.Max = d.high + (d.high-d.low)*beside(d.words.Width(belowZero)+2*air, size.Width)
	p.Y.Max = d.top + (d.top-d.bottom)*beside(peakLead+d.words.Font.Size*1.3*vg.Length(d.rows(size)), size.Height)
	p.Add(d)
	return Figure{Plot: p, Size: size, Title: p.Title.Text, Desc: d.describe()}, nil
}

// beside returns by what part an axis must be longer to leave a width beside the
// curves, on paper of a size.
func beside(width, paper vg.Length) float64 {
	share := min(0.5, float64(width/paper)*1.15) // of the paper, less the numbers of the axis
	return share / (1 - share)
}

// belowZero says what a negative margin means.
const belowZero = "does not work"

// marginChart is a sweep in the units of its axes, as a plotter.
type marginChart struct {
	title, acrossName      string
	units                  units.Units
	turns                  bool
	low, high, bottom, top float64
	chosen                 float64
	curves                 []chartCurve
	words                  draw.TextStyle
}

// chartCurve is a curve in the units of the axes.
type chartCurve struct {
	name string
	x, y []float64
}

// deepest is how far below zero (mm) a chart shows: a negative margin is right in
// sign only.
const deepest = -40

// newChart turns a sweep into the units of the axes.
func newChart(s *tolerance.Sweep, u units.Units) (*marginChart, error) {
	if s == nil || len(s.Curves) == 0 {
		return nil, fmt.Errorf("%w: the sweep has no curve", ErrFigure)
	}
	d := &marginChart{units: u, low: math.Inf(1), high: math.Inf(-1)}
	unit := u.Of(1)
	if s.Motion == tolerance.OverTilt {
		d.title, d.turns = "margin against the screen's tilt", true
		d.acrossName = "turn of the screen about its middle, from where it is (°; positive: face up)"
		unit = 1 / frame.Degree.Radians()
	} else {
		d.title = "margin against the distance of the screen"
		d.acrossName = axisName(fmt.Sprintf("distance from the eyes along the line of sight, posture %q", spoken(s.Leading)), u)
	}
	d.chosen = s.Chosen * unit
	if !drawable(d.chosen) {
		return nil, fmt.Errorf("%w: the sweep's chosen place is not finite", ErrFigure)
	}
	for _, c := range s.Curves {
		if err := d.addCurve(c, unit); err != nil {
			return nil, err
		}
	}
	d.bottom, d.top = max(d.bottom, u.Of(deepest)), max(d.top, u.Of(10))
	d.crop()
	if !(d.high-d.low > 1e-6) {
		return nil, fmt.Errorf("%w: the sweep has no width", ErrFigure)
	}
	return d, nil
}

// crop narrows the axis across to where any curve can be seen, and to the chosen
// place; where none can it leaves the axis alone.
func (d *marginChart) crop() {
	low, high := math.Inf(1), math.Inf(-1)
	for _, c := range d.curves {
		for i, y := range c.y {
			if y >= d.bottom {
				low, high = min(low, c.x[max(i-1, 0)]), max(high, c.x[min(i+1, len(c.x)-1)])
			}
		}
	}
	if low < high {
		d.low, d.high = min(low, d.chosen), max(high, d.chosen)
	}
}

// addCurve adds a posture's curve and widens the axes to hold it.
func (d *marginChart) addCurve(c tolerance.Curve, unit float64) error {
	curve, err := newCurve(c.Samples, fmt.Sprintf("posture %q", spoken(c.Posture.Name)), unit, d.units)
	if err != nil {
		return err
	}
	curve.name = spoken(c.Posture.Name)
	d.low, d.high = min(d.low, slices.Min(curve.x)), max(d.high, slices.Max(curve.x))
	d.bottom, d.top = min(d.bottom, slices.Min(curve.y)), max(d.top, slices.Max(curve.y))
	d.curves = append(d.curves, curve)
	return nil
}

// newCurve turns samples into the units of the axes; whose names them in an error.
func newCurve(samples []tolerance.Sample, whose string, unit float64, u units.Units) (chartCurve, error) {
	var c chartCurve
	if len(samples) < 2 {
		return c, fmt.Errorf("%w: %s: %d samples of the margin", ErrFigure, whose, len(samples))
	}
	for i, s := range samples {
		x, y := s.At*unit, u.Of(s.MarginMM)
		if !drawable(x, y) {
			return c, fmt.Errorf("%w: %s: a sample of the margin is not finite, or beyond %.0f m", ErrFigure, whose, farthest/1000)
		}
		if i > 0 && x < c.x[i-1] {
			return c, fmt.Errorf("%w: %s: the samples of the margin are out of order", ErrFigure, whose)
		}
		c.x, c.y = append(c.x, x), append(c.y, y)
	}
	return c, nil
}

// nearest returns the place of the sample nearest to x.
func (c chartCurve) nearest(x float64) int {
	at := 0
	for i := range c.x {
		if math.Abs(c.x[i]-x) < math.Abs(c.x[at]-x) {
			at = i
		}
	}
	return at
}

// Plot draws zero, the chosen place and the curves with their names.
func (d *marginChart) Plot(c draw.Canvas, p *plot.Plot) {
	k := newPen(d.words, c).within(p)
	trX, trY := k.trX, k.trY
	zero, right := trY(0), trX(d.high)
	c.StrokeLine2(stroke(ink(), 0.9), trX(d.low), zero, right+air, zero)
	k.text(vg.Point{X: right + air, Y: zero + 0.5*d.words.Font.Size}, 0, "works")
	k.text(vg.Point{X: right + air, Y: zero - 1.2*d.words.Font.Size}, 0, belowZero)
	c.StrokeLine2(lookPresent(), trX(d.chosen), trY(d.bottom), trX(d.chosen), trY(d.top))
	names := lane{{at: r2.Vec{X: d.chosen, Y: d.top}, text: d.setHere()}}
	for i, curve := range d.curves {
		for _, piece := range curve.above(d.bottom) {
			c.StrokeLines(curveLook(i), k.all(piece))
		}
		names = append(names, label{at: curve.peak(), text: curve.name})
	}
	d.name(k, names)
}

// setHere says where the screen is.
func (d *marginChart) setHere() string { return "set: " + d.number(d.chosen) }

// above returns the pieces of c above a margin, cut where they cross it.
func (c chartCurve) above(bottom float64) [][]r2.Vec {
	var pieces [][]r2.Vec
	open := false
	for i := range c.x {
		at := r2.Vec{X: c.x[i], Y: c.y[i]}
		inside := at.Y >= bottom
		var crossing r2.Vec
		if i > 0 && inside != (c.y[i-1] >= bottom) {
			t := (bottom - c.y[i-1]) / (at.Y - c.y[i-1])
			crossing = r2.Vec{X: c.x[i-1] + t*(at.X-c.x[i-1]), Y: bottom}
		}
		switch {
		case inside && !open && i > 0:
			pieces = append(pieces, []r2.Vec{crossing, at})
		case inside && !open:
			pieces = append(pieces, []r2.Vec{at})
		case inside:
			pieces[len(pieces)-1] = append(pieces[len(pieces)-1], at)
		case open:
			pieces[len(pieces)-1] = append(pieces[len(pieces)-1], crossing)
		}
		open = inside
	}
	return pieces
}

// peak returns the place of the greatest margin.
func (c chartCurve) peak() r2.Vec {
	top := slices.Index(c.y, slices.Max(c.y))
	return r2.Vec{X: c.x[top], Y: c.y[top]}
}

// peakLead is the distance of the names from the highest curve.
const peakLead = 7 * vg.Millimeter

// gap returns how far apart names must be that stand in one row.
func (d *marginChart) gap() vg.Length {
	widest := d.words.Width(d.setHere())
	for _, c := range d.curves {
		widest = max(widest, d.words.Width(c.name))
	}
	return widest + air
}

// rows returns in how many rows the names must stand so as not to overlap.
func (d *marginChart) rows(size Size) int {
	need := d.gap() * vg.Length(len(d.curves)+1)
	return max(1, int(math.Ceil(float64(need/(0.7*size.Width)))))
}

// name writes names above the curves, each with a line to its place; neighbours
// stand in different rows where one row has no space for all.
func (d *marginChart) name(k *pen, names lane) {
	low, high := k.trX(d.low), k.trX(d.high)
	rows := max(1, int(math.Ceil(float64(d.gap()*vg.Length(len(names))/(high-low)))))
	half := d.gap() / 2
	k.captions(names, d.gap()/vg.Length(rows), low+half, high-half, func(i int) vg.Length {
		return k.trY(d.top) + peakLead/2 + k.row()*vg.Length(i%rows)
	})
}

// number prints a place on the axis across.
func (d *marginChart) number(v float64) string {
	if d.turns {
		return units.Fixed(v, 0) + "°"
	}
	return d.units.Length(v * d.units.MM())
}

// describe says the chart's numbers in words.
func (d *marginChart) describe() string {
	var b strings.Builder
	fmt.Fprintf(&b, "Set at %s.", d.number(d.chosen))
	for _, c := range d.curves {
		fmt.Fprintf(&b, " Posture %s: margin %s there", c.name, d.units.Length(c.y[c.nearest(d.chosen)]*d.units.MM()))
		if low, high, ok := c.positive(d.chosen); ok {
			fmt.Fprintf(&b, ", not negative from %s to %s", d.number(low), d.number(high))
		}
		b.WriteString(".")
	}
	return b.String()
}

// positive returns the first and the last sample of the run about x at which the
// margin is not negative.
func (c chartCurve) positive(x float64) (low, high float64, ok bool) {
	at := c.nearest(x)
	if c.y[at] < 0 {
		return 0, 0, false
	}
	from, to := at, at
	for from > 0 && c.y[from-1] >= 0 {
		from--
	}
	for to < len(c.y)-1 && c.y[to+1] >= 0 {
		to++
	}
	return c.x[from], c.x[to], true
}
