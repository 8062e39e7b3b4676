package plots

import (
	"fmt"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"

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
// which the screen works is shaded, and the present value marked. The error wraps
// [ErrFigure]: for no curves or more than 12, for curves of different postures or
// of one point only, and for numbers that are not finite.
func Postures(curves []tolerance.PostureCurve, opt Options) (Figure, error) {
	n := len(curves)
	if n == 0 || n > mostPanels {
		return Figure{}, fmt.Errorf("%w: %d curves of a posture: need 1 to %d", ErrFigure, n, mostPanels)
	}
	name := curves[0].Posture.Name
	d := charts{keys: []key{
		{look{line: lookCarried[0]}, "screen " + carrierWords(&curves[0].AsCarried) + ", as it is"},
		{look{line: lookCarried[1]}, "screen " + carrierWords(&curves[0].OtherCarrier) + " instead"},
		{lookWorks, "works with the screen as it is (margin not negative)"},
		{look{line: lookPresent}, "present value"},
	}}
	panels := make([]*panel, n)
	bottom, top := 0.0, 0.0
	for i := range curves {
		c := &curves[i]
		if c.Posture.Name != name {
			return Figure{}, fmt.Errorf("%w: curves of the postures %q and %q in one figure", ErrFigure, name, c.Posture.Name)
		}
		p := &panel{name: c.Variable.String(), turns: c.Variable.Turns(), present: c.Present, curves: []marginCurve{
			{c.AsCarried.Points, lookCarried[0]}, {c.OtherCarrier.Points, lookCarried[1]},
		}}
		if c.AsCarried.Works {
			p.works = []float64{c.AsCarried.Low.At, c.AsCarried.High.At}
		}
		low, high, err := p.fit()
		if err != nil {
			return Figure{}, err
		}
		panels[i], bottom, top = p, min(bottom, low), max(top, high)
	}
	across := min(panelsAcross, n)
	size := Size{Landscape().Width * vg.Length(across) / panelsAcross, Landscape().Height}
	if n <= panelsAcross {
		size.Height /= 2
	}
	for i, p := range panels {
		chart, err := p.plot(bottom, top, opt.Units)
		if err != nil {
			return Figure{}, err
		}
		chart.Title.Text = curveWords(&curves[i], opt.Units, size.Width/vg.Length(across)-5*air)
		chart.Title.TextStyle.Font = sans(textSize)
		if i%across == 0 {
			d.plots = append(d.plots, make([]*plot.Plot, across))
		}
		d.plots[i/across][i%across] = chart
	}
	return d.figure(size, titled(opt.Label, fmt.Sprintf("margin against the numbers of posture %q", spoken(name)))), nil
}

// carrierWords says what the screen is on.
func carrierWords(c *tolerance.CarriedCurve) string {
	if c.Carrier == gaze.Seat {
		return "on the seat"
	}
	return "on the base"
}

// curveWords says in lines no wider than width what the present value is and in which range
// about it the screen works.
func curveWords(c *tolerance.PostureCurve, u units.Units, width vg.Length) string {
	turns := c.Variable.Turns()
	as, other := &c.AsCarried, &c.OtherCarrier
	words := [2]string{carrierWords(as) + ": " + rangeWords(as, turns, u), carrierWords(other) + ": " + rangeWords(other, turns, u)}
	if rangeWords(as, turns, u) == rangeWords(other, turns, u) {
		words = [2]string{"on seat and base alike:", rangeWords(as, turns, u)}
	}
	return fitted("now "+tenths(c.Present, turns, u), width) + "\n" + fitted(words[0], width) + "\n" + fitted(words[1], width)
}

// tenths returns a length, or an angle to a tenth of a degree.
func tenths(v float64, turns bool, u units.Units) string {
	if turns {
		return decimals(math.Round(v/inUnits(true, u)*10)/10) + "°"
	}
	return u.Length(v)
}

// rangeWords says in which range about the present value the screen works.
func rangeWords(c *tolerance.CarriedCurve, turns bool, u units.Units) string {
	low, high := tenths(c.Low.At, turns, u), tenths(c.High.At, turns, u)
	switch {
	case !c.Works:
		return "does not work now: " + endWords[c.Low.Condition.Kind]
	case c.Low.Limit && c.High.Limit:
		return "works all along"
	case c.Low.Limit:
		return "works up to " + high
	case c.High.Limit:
		return "works from " + low + " up"
	}
	return "works from " + low + " to " + high
}
