package plots

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
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
	k.captions(names, d.gap()/vg.Length(rows), k.trX(d.low)+half, right-half, func(i int) vg.Length {
		return k.trY(d.top) + peakLead/2 + k.row()*vg.Length(i%rows)
	})
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
