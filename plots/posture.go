package plots

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/fit/tolerance"
	"sightpost/plots/units"
)

// mostPanels is how many panels a figure has space for.
const mostPanels = 12

// Postures returns the figure of the margin against one number of a posture
// after another: a panel for each curve, three in a row, all on one scale of
// margin.
//
// Each panel has the margin with the screen carried as it is as a solid line,
// with the other carrier as a dashed one; the range about the present value in
// which the screen works is shaded, and the present value marked. Where both
// carriers come to the same there is one label for both. The error wraps
// [ErrFigure]: for no curves or more than 12, for curves of different postures or
// of one point only, and for numbers that are not finite.
func Postures(curves []tolerance.PostureCurve, opt Options) (Figure, error) {
	if len(curves) == 0 || len(curves) > mostPanels {
		return Figure{}, fmt.Errorf("%w: %d curves of a posture: need 1 to %d", ErrFigure, len(curves), mostPanels)
	}
	size := Landscape()
	if n := vg.Length(len(curves)); n <= panelsAcross {
		size.Width, size.Height = size.Width*n/panelsAcross, size.Height/2
	}
	size = opt.Size.or(size)
	if err := size.check(); err != nil {
		return Figure{}, err
	}
	name := curves[0].Posture.Name
	d := &panels{units: opt.Units, top: opt.Units.Of(10), text: words(smallSize)}
	for i := range curves {
		if curves[i].Posture.Name != name {
			return Figure{}, fmt.Errorf("%w: curves of the postures %q and %q in one figure", ErrFigure, name, curves[i].Posture.Name)
		}
		if err := d.add(&curves[i]); err != nil {
			return Figure{}, err
		}
	}
	d.bottom = max(d.bottom, opt.Units.Of(deepest))
	if err := d.fits(size); err != nil {
		return Figure{}, err
	}
	f := newSheet(size, opt.Label, fmt.Sprintf("margin against the numbers of posture %q", spoken(name)))
	f.Plot.Add(d)
	f.Desc = d.describe()
	return f, nil
}

// panel is one curve of a posture in the reader's units.
type panel struct {
	name      string
	units     units.Units
	turns     bool // across is in degrees, not in units
	low, high float64
	present   float64
	as, other carried
}

// carried is the curve with one carrier.
type carried struct {
	chartCurve
	carrier  string
	works    bool
	from, to float64 // ends of the range that works
	words    string  // the same in words
}

// add turns a curve into the reader's units and widens the scale of margin.
func (d *panels) add(c *tolerance.PostureCurve) error {
	p := panel{name: c.Variable.String(), units: d.units, turns: c.Variable.Turns()}
	unit := d.units.Of(1)
	if p.turns {
		unit = 1 / frame.Degree.Radians()
	}
	p.present = c.Present * unit
	var err error
	if p.as, err = p.carried(&c.AsCarried, unit); err != nil {
		return err
	}
	if p.other, err = p.carried(&c.OtherCarrier, unit); err != nil {
		return err
	}
	p.low, p.high = p.seen()
	if !drawable(p.present) || !(p.high-p.low > 1e-6) {
		return fmt.Errorf("%w: %s: the present value is not finite, or the range has no width", ErrFigure, p.name)
	}
	for _, y := range slices.Concat(p.as.y, p.other.y) {
		d.bottom, d.top = min(d.bottom, y), max(d.top, y)
	}
	d.all = append(d.all, p)
	return nil
}

// seen returns the part of the axis across in which either curve is above the
// deepest margin shown, and the present value, with some air; where neither is
// it returns all that was looked at.
func (p *panel) seen() (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, c := range []*carried{&p.as, &p.other} {
		for i, y := range c.y {
			if y >= p.units.Of(deepest) {
				low, high = min(low, c.x[i]), max(high, c.x[i])
			}
		}
	}
	first, last := p.as.x[0], p.as.x[len(p.as.x)-1]
	if !(low < high) {
		return first, last
	}
	low, high = min(low, p.present), max(high, p.present)
	const air = 0.1
	return max(first, low-air*(high-low)), min(last, high+air*(high-low))
}

// carried turns the curve with one carrier into the reader's units.
func (p *panel) carried(c *tolerance.CarriedCurve, unit float64) (carried, error) {
	out := carried{carrier: carrierWords(c.Carrier), works: c.Works, from: c.Low.At * unit, to: c.High.At * unit}
	var err error
	if out.chartCurve, err = newCurve(c.Points, p.name, unit, p.units); err != nil {
		return out, err
	}
	if !drawable(out.from, out.to) {
		return out, fmt.Errorf("%w: %s: the range that works is not finite", ErrFigure, p.name)
	}
	out.words = p.rangeWords(c, out.from, out.to)
	return out, nil
}

// carrierWords says what the screen is on.
func carrierWords(c gaze.Carrier) string {
	if c == gaze.Seat {
		return "on the seat"
	}
	return "on the base"
}

// number prints a value on the axis across.
func (p *panel) number(v float64) string {
	if p.turns {
		return decimals(math.Round(v*10)/10) + "°"
	}
	return p.units.Length(v * p.units.MM())
}

// rangeWords says in which range about the present value the screen works.
func (p *panel) rangeWords(c *tolerance.CarriedCurve, from, to float64) string {
	switch {
	case !c.Works:
		return "does not work now: " + endWords(c.Low.Condition.Kind)
	case c.Low.Limit && c.High.Limit:
		return "works all along"
	case c.Low.Limit:
		return "works up to " + p.number(to)
	case c.High.Limit:
		return "works from " + p.number(from) + " up"
	}
	return "works from " + p.number(from) + " to " + p.number(to)
}

// alikeMM is the margin by which two curves may differ and still be drawn as
// one: less than the width of a line.
const alikeMM = 0.2

// alike reports whether the carrier makes no difference.
func (p *panel) alike() bool {
	if len(p.as.y) != len(p.other.y) {
		return false
	}
	for i := range p.as.y {
		if math.Abs(p.as.x[i]-p.other.x[i]) > 1e-6 || math.Abs(p.as.y[i]-p.other.y[i]) > p.units.Of(alikeMM) {
			return false
		}
	}
	return true
}

// describe says the figure's numbers in words.
func (d *panels) describe() string {
	var b strings.Builder
	for _, p := range d.all {
		fmt.Fprintf(&b, "%s, now %s: ", p.name, p.number(p.present))
		if p.alike() {
			fmt.Fprintf(&b, "%s, on seat and base alike. ", p.as.words)
			continue
		}
		fmt.Fprintf(&b, "%s, %s; %s, %s. ", p.as.carrier, p.as.words, p.other.carrier, p.other.words)
	}
	return strings.TrimSpace(b.String())
}
