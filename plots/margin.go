package plots

import (
	"fmt"
	"strings"

	"gonum.org/v1/plot/vg"

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
	title, number := "margin against the distance of the screen", u.Length
	p := &panel{name: fmt.Sprintf("distance from the eyes along the line of sight, posture %q", spoken(s.Leading)), present: s.Chosen}
	if s.Motion == tolerance.OverTilt {
		title, number = "margin against the screen's tilt", func(v float64) string { return units.Fixed(v/inUnits(true, u), 0) + "°" }
		p.name, p.turns = "turn of the screen about its middle, from where it is, positive face up", true
	}
	d := panels{units: u}
	said := []string{"Set at " + number(s.Chosen) + "."}
	for i, c := range s.Curves {
		name := spoken(c.Posture.Name)
		curve, err := newCurve(c.Samples, fmt.Sprintf("posture %q", name))
		if err != nil {
			return Figure{}, err
		}
		p.curves, p.lines = append(p.curves, curve), append(p.lines, curveLook(i))
		d.keys = append(d.keys, key{look{line: curveLook(i)}, name})
		text := fmt.Sprintf("Posture %s: margin %s there", name, u.Length(curve.near(s.Chosen)))
		if run := curve.positive(s.Chosen); len(run) > 0 {
			text += fmt.Sprintf(", not negative from %s to %s", number(run[0].X), number(run[len(run)-1].X))
		}
		said = append(said, text+".")
	}
	if err := d.add(p); err != nil {
		return Figure{}, err
	}
	d.keys = append(d.keys, key{look{line: lookPresent}, "set: " + number(s.Chosen)}, key{look{line: lookZero}, "works above, does not work below"})
	f := newSheet(Size{170 * vg.Millimeter, 105 * vg.Millimeter}, opt.Label, title)
	f.Plot.Add(painter(d.paint))
	f.Desc = strings.Join(said, " ")
	return f, nil
}
