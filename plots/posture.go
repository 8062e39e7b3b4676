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

	"sightpost/gaze"
	"sightpost/mount/fit/tolerance"
	"sightpost/plots/units"
)

// mostPanels is how many panels a figure has space for, panelsAcross how many a row.
const mostPanels, panelsAcross = 12, 3

// Postures returns the figure of the margin against one number of a posture
// after another: a panel for each curve, three in a row, all on one scale of
// margin.
//
// Each panel has the margin with the screen carried as it is as a solid line,
// with the other carrier as a dashed one; the range about the present value in
// which the screen works is shaded, and the present value marked. Where both
// carriers come to the same there is one range for both. The error wraps
// [ErrFigure]: for no curves or more than 12, for curves of different postures or
// of one point only, and for numbers that are not finite.
func Postures(curves []tolerance.PostureCurve, opt Options) (Figure, error) {
	if len(curves) == 0 || len(curves) > mostPanels {
		return Figure{}, fmt.Errorf("%w: %d curves of a posture: need 1 to %d", ErrFigure, len(curves), mostPanels)
	}
	name := curves[0].Posture.Name
	d := panels{units: opt.Units, text: words(smallSize)}
	var all []curve
	for i := range curves {
		if curves[i].Posture.Name != name {
			return Figure{}, fmt.Errorf("%w: curves of the postures %q and %q in one figure", ErrFigure, name, curves[i].Posture.Name)
		}
		p, err := newPanel(&curves[i], opt.Units)
		if err != nil {
			return Figure{}, err
		}
		d.all = append(d.all, p)
		all = append(all, p.carried[0].curve, p.carried[1].curve)
	}
	d.bottom, d.top = heights(all...)
	size := Landscape()
	if n := vg.Length(len(curves)); n <= panelsAcross {
		size.Width, size.Height = size.Width*n/panelsAcross, size.Height/2
	}
	f := newSheet(size, opt.Label, fmt.Sprintf("margin against the numbers of posture %q", spoken(name)))
	f.Plot.Add(painter(d.paint))
	f.Desc = d.describe()
	return f, nil
}

// panels are curves of a posture side by side on one scale of margin.
type panels struct {
	units       units.Units
	all         []*panel
	bottom, top float64
	text        draw.TextStyle
}

// panel is one curve of a posture.
type panel struct {
	name      string
	units     units.Units
	turns     bool
	low, high float64
	present   float64
	works     bool
	from, to  float64    // ends of the range that works, with the screen carried as it is
	carried   [2]carried // as it is, and the other way
}

// carried is the curve with one carrier.
type carried struct {
	curve
	carrier string
	words   string // in which range about the present value the screen works
}

// newPanel returns the panel of a curve.
func newPanel(c *tolerance.PostureCurve, u units.Units) (*panel, error) {
	as := &c.AsCarried
	p := &panel{
		name: c.Variable.String(), units: u, turns: c.Variable.Turns(), present: c.Present,
		works: as.Works, from: as.Low.At, to: as.High.At,
	}
	for i, from := range [2]*tolerance.CarriedCurve{as, &c.OtherCarrier} {
		curve, err := newCurve(from.Points, p.name)
		if err != nil {
			return nil, err
		}
		if !drawable(from.Low.At, from.High.At) {
			return nil, fmt.Errorf("%w: %s: the range that works is not finite", ErrFigure, p.name)
		}
		p.carried[i] = carried{curve: curve, carrier: "on the base", words: p.rangeWords(from)}
		if from.Carrier == gaze.Seat {
			p.carried[i].carrier = "on the seat"
		}
	}
	c0 := p.carried[0].curve
	p.low, p.high = seen(p.present, 0, c0, p.carried[1].curve)
	air := 0.1 * (p.high - p.low)
	p.low, p.high = max(c0[0].X, p.low-air), min(c0[len(c0)-1].X, p.high+air)
	if !drawable(p.present) || !(p.high-p.low > 1e-6) {
		return nil, fmt.Errorf("%w: %s: the present value is not finite, or the range has no width", ErrFigure, p.name)
	}
	return p, nil
}

// number tells a value on the axis across.
func (p *panel) number(v float64) string {
	if p.turns {
		return decimals(math.Round(v/inUnits(true, p.units)*10)/10) + "°"
	}
	return p.units.Length(v)
}

// rangeWords says in which range about the present value the screen works.
func (p *panel) rangeWords(c *tolerance.CarriedCurve) string {
	switch {
	case !c.Works:
		return "does not work now: " + endWords(c.Low.Condition.Kind)
	case c.Low.Limit && c.High.Limit:
		return "works all along"
	case c.Low.Limit:
		return "works up to " + p.number(c.High.At)
	case c.High.Limit:
		return "works from " + p.number(c.Low.At) + " up"
	}
	return "works from " + p.number(c.Low.At) + " to " + p.number(c.High.At)
}

// alikeMM is the margin by which two curves may differ and still be drawn as
// one: less than the width of a line.
const alikeMM = 0.2

// alike reports whether the carrier makes no difference.
func (p *panel) alike() bool {
	return slices.EqualFunc(p.carried[0].curve, p.carried[1].curve, func(a, b r2.Vec) bool {
		return math.Abs(a.X-b.X) <= 1e-6 && math.Abs(a.Y-b.Y) <= alikeMM
	})
}

// paint draws the panels and, under them, the key.
func (d *panels) paint(c draw.Canvas, _ *plot.Plot) {
	p := d.all[0]
	key := &pen{c: c, layout: keyed(d.text, c.Max.X-c.Min.X,
		key{look{line: lookCarried[0]}, "screen " + p.carried[0].carrier + ", as it is"},
		key{look{line: lookCarried[1]}, "screen " + p.carried[1].carrier + " instead"},
		key{lookWorks, "works with the screen as it is (margin not negative)"},
		key{look{line: lookPresent}, "present value"})}
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
	k := newPen(d.text, c)
	head := []string{p.name + ", now " + p.number(p.present)}
	if p.alike() {
		head = append(head, "on seat and base alike: "+p.carried[0].words, "")
	} else {
		for _, c := range p.carried {
			head = append(head, c.carrier+": "+c.words)
		}
	}
	for _, text := range head {
		c.Max.Y -= k.row()
		k.text(vg.Point{X: c.Min.X + 2*air, Y: c.Max.Y}, 0, fitted(d.text, text, c.Max.X-c.Min.X-2*air))
	}
	c.Max.Y -= air / 2
	inner := newPlot(smallSize)
	ruled(&inner.X, quantity(p.name, p.turns, d.units), p.low, p.high, inUnits(p.turns, d.units), 7)
	ruled(&inner.Y, axisName("margin", d.units), d.bottom, d.top, d.units.MM(), 6)
	inner.Add(painter(func(c draw.Canvas, inner *plot.Plot) { d.inside(newPen(d.text, c).within(inner), p) }))
	inner.Draw(c)
}

// inside draws the range that works, with short bars at its ends, zero, the curves and the
// present value.
func (d *panels) inside(k *pen, p *panel) {
	zero := k.trY(0)
	if p.works {
		a, b := k.trX(max(p.from, p.low)), k.trX(min(p.to, p.high))
		k.box(a, k.trY(d.bottom), b, k.trY(d.top), lookWorks)
		const half = 1.2 * vg.Millimeter
		for _, x := range []vg.Length{a, b} {
			k.c.StrokeLine2(stroke(ink, 1.3), x, zero-half, x, zero+half)
		}
		k.c.StrokeLine2(stroke(ink, 1.8), a, zero, b, zero)
	}
	k.c.StrokeLine2(stroke(ink, 0.8), k.trX(p.low), zero, k.trX(p.high), zero)
	x := k.trX(p.present)
	k.c.StrokeLine2(lookPresent, x, k.trY(d.bottom), x, k.trY(d.top))
	for i, c := range p.carried {
		k.curve(lookCarried[i], c.within(p.low, p.high))
	}
	if y := p.carried[0].near(p.present); y >= d.bottom {
		k.mark(mark{at: r2.Vec{X: p.present, Y: y}, glyph: ring.glyph, inner: true})
	}
}

// describe says the figure's numbers in words.
func (d *panels) describe() string {
	var said []string
	for _, p := range d.all {
		as, other := p.carried[0], p.carried[1]
		text := as.carrier + ", " + as.words + "; " + other.carrier + ", " + other.words
		if p.alike() {
			text = as.words + ", on seat and base alike"
		}
		said = append(said, fmt.Sprintf("%s, now %s: %s.", p.name, p.number(p.present), text))
	}
	return strings.Join(said, " ")
}
