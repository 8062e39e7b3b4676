package plots

import (
	"fmt"
	"math"
	"time"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"sightpost/gaze"
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
	u := opt.Units
	title, set := "margin against the distance of the screen", u.Length(s.Chosen)
	p := &panel{name: fmt.Sprintf("distance from the eyes along the line of sight, posture %q", spoken(s.Leading)), present: s.Chosen}
	if s.Motion == tolerance.OverTilt {
		title, set = "margin against the screen's tilt", units.Fixed(s.Chosen/inUnits(true, u), 0)+"°"
		p.name, p.turns = "turn of the screen about its middle, from where it is, positive face up", true
	}
	var d charts
	for i, c := range s.Curves {
		p.curves = append(p.curves, marginCurve{c.Samples, curveLook(i)})
		d.keys = append(d.keys, key{look{line: curveLook(i)}, spoken(c.Posture.Name)})
	}
	bottom, top, err := p.fit()
	if err != nil {
		return Figure{}, err
	}
	d.plots = [][]*plot.Plot{{p.plot(bottom, top, u, opt.chartSize().Width)}}
	d.keys = append(d.keys, key{look{line: lookPresent}, "set: " + set}, key{look{line: lookZero}, "works above, does not work below"})
	return d.figure(opt.chartSize(), titled(opt.Label, title))
}

// chartSize returns the size of one chart by itself.
func (o Options) chartSize() Size {
	return Size{o.width(170 * vg.Millimeter), 105 * vg.Millimeter}
}

// mostPanels is how many panels a figure has space for, panelsAcross how many a
// row at most, panelWide how much each takes of it.
const mostPanels, panelsAcross, panelWide = 12, 3, 90 * vg.Millimeter

// Postures returns the figure of the margin against one number of a posture
// after another: a panel for each curve, as many in a row as it is wide, all on one scale of
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
	across := min(max(1, int(opt.width(Landscape().Width)/panelWide)), n)
	size := Size{opt.width(Landscape().Width * vg.Length(across) / panelsAcross), Landscape().Height}
	if rows := (n + across - 1) / across; rows == 1 {
		size.Height /= 2
	} else if across < panelsAcross {
		size.Height *= vg.Length(rows) / panelsAcross
	}
	for i, p := range panels {
		chart := p.plot(bottom, top, opt.Units, size.Width/vg.Length(across))
		chart.Title.Text = curveWords(&curves[i], opt.Units, size.Width/vg.Length(across)-5*air)
		chart.Title.TextStyle.Font = sans(textSize)
		if i%across == 0 {
			d.plots = append(d.plots, make([]*plot.Plot, across))
		}
		d.plots[i/across][i%across] = chart
	}
	return d.figure(size, titled(opt.Label, fmt.Sprintf("margin against the numbers of posture %q", spoken(name))))
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
		words = [2]string{"on seat or base:", rangeWords(as, turns, u)}
	}
	return fitted("now "+halves(c.Present, turns, u), width) + "\n" + fitted(words[0], width) + "\n" + fitted(words[1], width)
}

// halves returns a length, or an angle to half a degree, as it is told elsewhere.
func halves(v float64, turns bool, u units.Units) string {
	if turns {
		return units.UpTo(math.Round(v/inUnits(true, u)*2)/2, 1) + "°"
	}
	return u.Length(v)
}

// rangeWords says in which range about the present value the screen works.
func rangeWords(c *tolerance.CarriedCurve, turns bool, u units.Units) string {
	low, high := halves(c.Low.At, turns, u), halves(c.High.At, turns, u)
	switch {
	case !c.Works:
		return "does not work now: " + endWords[c.Low.Condition.Kind]
	case c.Low.Limit && c.High.Limit:
		return "works throughout"
	case c.Low.Limit:
		return "works up to " + high
	case c.High.Limit:
		return "works from " + low + " up"
	}
	return "works from " + low + " to " + high
}

// Found is a margin (mm) as it was found on a day.
type Found struct {
	Day      time.Time
	MarginMM float64
}

// Course returns the chart of margins over the days on which they were found, which must be in
// order, with a line at what is required (mm). The error wraps [ErrFigure]: for none, and for
// what is not finite or out of order.
func Course(all []Found, requiredMM float64, opt Options) (Figure, error) {
	size := Size{opt.width(130 * vg.Millimeter), 65 * vg.Millimeter}
	day := func(f Found) float64 { return f.Day.Sub(all[0].Day).Hours() / 24 }
	points := make(plotter.XYs, len(all))
	low, high := 0.0, requiredMM+highestMM
	for i, f := range all {
		if i > 0 && f.Day.Before(all[i-1].Day) || !drawable(f.MarginMM) {
			return Figure{}, fmt.Errorf("%w: the margin of a day is not finite, or out of order", ErrFigure)
		}
		points[i] = plotter.XY{X: day(f), Y: max(f.MarginMM, deepestMM)}
		low, high = min(low, points[i].Y), max(high, points[i].Y+highestMM)
	}
	if len(all) == 0 {
		return Figure{}, fmt.Errorf("%w: there is no margin", ErrFigure)
	}
	last := points[len(points)-1].X
	edge := max(1, 0.08*last)
	chart := newChart(axis{"", -edge, last + edge, 1, 1, 0}, axis{axisName("margin", opt.Units), low, high, opt.Units.MM(), 8, 0})
	apart := (last + 2*edge) * float64(24*vg.Millimeter/size.Width) // of dates, which are 16 mm wide
	var dates plot.ConstantTicks
	for i := len(all) - 1; i >= 0; i-- {
		if len(dates) == 0 || dates[len(dates)-1].Value-points[i].X >= apart {
			dates = append(dates, plot.Tick{Value: points[i].X, Label: all[i].Day.Format(time.DateOnly)})
		}
	}
	chart.X.Tick.Marker = dates
	works, required := curveLook(0), stroke(okabeVermilion, 1.2, 5, 2.5)
	chart.Add(horizontal(required, requiredMM, -edge, last+edge), line(works, points...), unranged{&plotter.Scatter{XYs: points, GlyphStyle: signOf(ink, 2.6, draw.CircleGlyph{}).glyph}})
	d := charts{plots: [][]*plot.Plot{{chart}}, keys: []key{{look{line: works}, "head-movement margin"}, {look{line: required}, "required: " + opt.Units.Length(requiredMM)}}}
	return d.figure(size, titled(opt.Label, "margin of the assessments"))
}
