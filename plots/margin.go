package plots

import (
	"fmt"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

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
	chart, err := p.plot(bottom, top, u)
	if err != nil {
		return Figure{}, err
	}
	d.plots = [][]*plot.Plot{{chart}}
	d.keys = append(d.keys, key{look{line: lookPresent}, "set: " + set}, key{look{line: lookZero}, "works above, does not work below"})
	return d.figure(Size{170 * vg.Millimeter, 105 * vg.Millimeter}, titled(opt.Label, title)), nil
}

// figure returns the charts as a figure.
func (d charts) figure(size Size, title string) Figure {
	f := newSheet(size, title)
	f.Plot.Add(painter(func(c draw.Canvas, _ *plot.Plot) { d.paint(c) }))
	return f
}
