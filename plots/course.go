package plots

import (
	"fmt"
	"time"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

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
	chart, err := newChart(axis{"", -edge, last + edge, 1, 1, 0}, axis{axisName("margin", opt.Units), low, high, opt.Units.MM(), 8, 0})
	if err != nil {
		return Figure{}, err
	}
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
	return d.figure(size, titled(opt.Label, "margin of the assessments")), nil
}
