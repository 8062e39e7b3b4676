package plots

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
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
// which the screen works is shaded, and the present value marked. Where both
// carriers come to the same there is one range for both. The error wraps
// [ErrFigure]: for no curves or more than 12, for curves of different postures or
// of one point only, and for numbers that are not finite.
func Postures(curves []tolerance.PostureCurve, opt Options) (Figure, error) {
	if len(curves) == 0 || len(curves) > mostPanels {
		return Figure{}, fmt.Errorf("%w: %d curves of a posture: need 1 to %d", ErrFigure, len(curves), mostPanels)
	}
	name := curves[0].Posture.Name
	d := panels{units: opt.Units, keys: []key{
		{look{line: lookCarried[0]}, "screen " + carrierWords(&curves[0].AsCarried) + ", as it is"},
		{look{line: lookCarried[1]}, "screen " + carrierWords(&curves[0].OtherCarrier) + " instead"},
		{lookWorks, "works with the screen as it is (margin not negative)"},
		{look{line: lookPresent}, "present value"},
	}}
	var said []string
	for i := range curves {
		if curves[i].Posture.Name != name {
			return Figure{}, fmt.Errorf("%w: curves of the postures %q and %q in one figure", ErrFigure, name, curves[i].Posture.Name)
		}
		text, err := d.addPosture(&curves[i])
		if err != nil {
			return Figure{}, err
		}
		said = append(said, text)
	}
	size := Landscape()
	if n := vg.Length(len(curves)); n <= panelsAcross {
		size.Width, size.Height = size.Width*n/panelsAcross, size.Height/2
	}
	f := newSheet(size, opt.Label, fmt.Sprintf("margin against the numbers of posture %q", spoken(name)))
	f.Plot.Add(painter(d.paint))
	f.Desc = strings.Join(said, " ")
	return f, nil
}

// carrierWords says what the screen is on.
func carrierWords(c *tolerance.CarriedCurve) string {
	if c.Carrier == gaze.Seat {
		return "on the seat"
	}
	return "on the base"
}

// addPosture adds the panel of a curve and says its numbers in words.
func (d *panels) addPosture(c *tolerance.PostureCurve) (string, error) {
	p := &panel{name: c.Variable.String(), turns: c.Variable.Turns(), present: c.Present, lines: lookCarried[:]}
	var ranges []string
	for _, from := range [2]*tolerance.CarriedCurve{&c.AsCarried, &c.OtherCarrier} {
		curve, err := newCurve(from.Points, p.name)
		if err != nil {
			return "", err
		}
		if !drawable(from.Low.At, from.High.At) {
			return "", fmt.Errorf("%w: %s: the range that works is not finite", ErrFigure, p.name)
		}
		p.curves, ranges = append(p.curves, curve), append(ranges, rangeWords(from, p.turns, d.units))
	}
	if c.AsCarried.Works {
		p.works = []float64{c.AsCarried.Low.At, c.AsCarried.High.At}
	}
	if err := d.add(p); err != nil {
		return "", err
	}
	as, other, now := carrierWords(&c.AsCarried), carrierWords(&c.OtherCarrier), p.name+", now "+tenths(c.Present, p.turns, d.units)
	if alike(p.curves[0], p.curves[1]) {
		p.head = []string{now, "on seat and base alike: " + ranges[0], ""}
		return fmt.Sprintf("%s: %s, on seat and base alike.", now, ranges[0]), nil
	}
	p.head = []string{now, as + ": " + ranges[0], other + ": " + ranges[1]}
	return fmt.Sprintf("%s: %s, %s; %s, %s.", now, as, ranges[0], other, ranges[1]), nil
}

// tenths tells a length, or an angle to a tenth of a degree.
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
		return "does not work now: " + endWords(c.Low.Condition.Kind)
	case c.Low.Limit && c.High.Limit:
		return "works all along"
	case c.Low.Limit:
		return "works up to " + high
	case c.High.Limit:
		return "works from " + low + " up"
	}
	return "works from " + low + " to " + high
}

// alike reports whether two curves are drawn as one: whether the carrier makes no
// difference but by less than the width of a line.
func alike(a, b curve) bool {
	const alikeMM = 0.2
	return slices.EqualFunc(a, b, func(p, q r2.Vec) bool {
		return math.Abs(p.X-q.X) <= 1e-6 && math.Abs(p.Y-q.Y) <= alikeMM
	})
}
