package plots

import (
	"cmp"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// Loads returns the figure of what weight does to the mount: along the middle
// lines of its tubes, from the clamp outward, how far every place moves and the
// bending and twisting moment there, in the posture in which the screen sags most;
// and under that a bar for every joint, tube and rated part, how much of what it holds,
// bears or is rated for the load takes up, each in its worst posture.
//
// Bars are on one scale, which has a line where something slips, is too weak or
// overloaded; the part of a bar beyond it is hatched. Shock factor and safety factor
// are in the bar and in the utilization beside it. The weakest joint is dark. What is not
// known to hold or bear anything has no bar. The error wraps [ErrFigure]: for a result
// without a load or a mount, and for numbers that are not finite.
func Loads(r *fit.Result, opt Options) (Figure, error) {
	if r == nil || r.Job == nil || r.Load == nil || r.Set == nil || len(r.Load.Lines) < 2 {
		return Figure{}, fmt.Errorf("%w: the result has no mount, or nothing that loads it", ErrFigure)
	}
	d := &loads{tubes: map[string][2]float64{}}
	for _, b := range r.Load.Lines {
		span, ok := d.tubes[b.Part]
		if !ok {
			span[0] = b.AlongMM
			d.order = append(d.order, b.Part)
		}
		span[1] = b.AlongMM
		d.tubes[b.Part] = span
		d.sag = append(d.sag, plotter.XY{X: b.AlongMM, Y: r3.Norm(b.Sag.ShiftMM)})
		d.moment = append(d.moment, plotter.XY{X: b.AlongMM, Y: b.MomentNM})
	}
	d.place(r.Set.Chain)
	u := opt.Units
	along := axis{low: d.sag[0].X, high: d.sag[len(d.sag)-1].X, unit: u.MM(), numbers: 8, long: opt.width(Landscape().Width) - 16*vg.Millimeter}
	upper := d.chart(along, axis{name: axisName("moves by", u), unit: u.MM(), numbers: 5}, d.sag)
	along.name = axisName("along the tubes from the clamp outward", u)
	lower := d.chart(along, axis{name: "moment (" + units.Torques.Unit(u) + ")", unit: 1 / units.Torques.Of(u, 1), numbers: 5}, d.moment)
	d.curves = charts{plots: [][]*plot.Plot{{upper}, {lower}}}
	const curvesHigh = 78 * vg.Millimeter
	opt.Size.Height = max(0, opt.Size.Height-curvesHigh)
	table, err := utilization(r, opt)
	if err = cmp.Or(d.curves.check(), err); err != nil {
		return Figure{}, err
	}
	title := "loads and sag along the mount"
	if p := r.Load.Posture; p >= 0 && p < len(r.Job.Postures) && len(r.Job.Postures) > 1 {
		title += fmt.Sprintf(", curves of posture %q", spoken(r.Job.Postures[p].Name))
	}
	title = titled(opt.Label, title)
	across := table.many * table.width
	f := newSheet(Size{across, curvesHigh}.around(vg.Point{X: across - air, Y: table.height() + curvesHigh}, title), title)
	f.Plot.Add(painter(func(c draw.Canvas, p *plot.Plot) {
		table.paint(draw.Crop(c, 0, 0, 0, -curvesHigh), p)
		d.paint(draw.Crop(c, 0, 0, table.height(), 0))
	}))
	return f, nil
}

// loads are the curves along a mount: how far places along all tubes move (mm), and what
// bends and twists them (N·m).
type loads struct {
	sag, moment plotter.XYs
	tubes       map[string][2]float64 // from where to where along the mount
	order       []string              // of the tubes
	parts       []sitting
	curves      charts
}

// sitting is where other parts sit along the mount.
type sitting struct {
	name string
	at   float64
}

// place finds where along the tubes the other parts sit: at the end of the last tube
// before them.
func (d *loads) place(c mount.Chain) {
	for _, part := range c.Rated {
		if _, isTube := d.tubes[part.Part]; isTube {
			continue
		}
		at := d.sag[0].X
		for _, s := range c.Spans {
			if span, ok := d.tubes[s.Part]; ok && s.Carrier < part.First {
				at = max(at, span[1])
			}
		}
		if n := len(d.parts); n > 0 && d.parts[n-1].at == at {
			d.parts[n-1].name += ", " + spoken(part.Part)
		} else {
			d.parts = append(d.parts, sitting{name: spoken(part.Part), at: at})
		}
	}
}

// chart returns the plot of a curve with its axes, and where parts sit.
func (d *loads) chart(x, y axis, curve plotter.XYs) *plot.Plot {
	for _, p := range curve {
		y.high = max(y.high, p.Y*1.08, 1e-3*y.unit)
	}
	p := newChart(x, y)
	for _, s := range d.parts {
		p.Add(vertical(lookPresent, s.at, 0, y.high))
	}
	p.Add(unranged{&plotter.Line{XYs: curve, FillColor: lookWorks.fill, LineStyle: stroke(okabeBlue, 1.5)}})
	return p
}

// paint draws the curves and writes above them which tube is where, and which parts sit
// between.
func (d *loads) paint(c draw.Canvas) {
	const namesHigh = 2.8 * rowHigh
	curves := draw.Crop(c, air, -lettering.Width("0000"), 0, -namesHigh)
	inside := d.curves.paint(curves)
	across, _ := d.curves.plots[0][0].Transforms(&inside)
	k := &pen{c: c}
	foot := curves.Max.Y
	for _, name := range d.order {
		a, b := across(d.tubes[name][0]), across(d.tubes[name][1])
		k.put((a+b)/2, foot+0.35*rowHigh, 0.5, fitted(spoken(name), b-a-air))
	}
	space := (c.Max.X-c.Min.X)/vg.Length(max(1, len(d.parts))) - air
	var want []vg.Length
	gap := vg.Length(0)
	for _, p := range d.parts {
		want, gap = append(want, across(p.at)), max(gap, lettering.Width(fitted(p.name, space))+air)
	}
	for i, x := range spread(want, gap, c.Min.X+(gap+air)/2, c.Max.X-(gap+air)/2) {
		k.leader(vg.Point{X: want[i], Y: foot}, vg.Point{X: want[i], Y: foot + rowHigh}, vg.Point{X: x, Y: foot + 1.45*rowHigh})
		k.put(x, foot+1.6*rowHigh, 0.5, fitted(d.parts[i].name, space))
	}
}

// bearing is what a joint, tube or part takes up of what it bears; bears is 0 if that is not
// known.
type bearing struct {
	head, name  string
	kind        units.Kind
	used, bears float64 // the share, and how much in the kind's own unit
	look        look
}

// bearings returns what every joint, tube and rated part takes up.
func bearings(r *fit.Result) []bearing {
	shock, safety := r.Job.Demand.Factors()
	joints, tubes := "joints: load of slip torque or force"+times("shock", shock), "tubes: stress of yield"+times("shock", shock)+times("safety", safety)
	var all []bearing
	for i, j := range r.Load.Joints {
		b := bearing{joints, spoken(j.Name), units.Torques, r.Job.Demand.UsedOfJoint(j.JointLoad), j.SlipLoad, lookGood}
		if j.Joint >= 0 && j.Joint < len(r.Set.Chain.Joints) {
			joint := r.Set.Chain.Joints[j.Joint]
			if b.name = jointWords(joint); joint.Motion == mount.Slide {
				b.kind = units.Forces
			}
		}
		if i == r.Load.Weakest {
			b.look = lookWeakest
		}
		all = append(all, b)
	}
	for _, t := range r.Load.Tubes {
		all = append(all, bearing{tubes, spoken(t.Part), units.Stresses, r.Job.Demand.UsedOfTube(t.Stress), t.YieldMPa, lookGood})
	}
	for _, p := range r.Load.Parts {
		all = append(all, bearing{"parts: mass carried of rated mass", spoken(p.Part), units.Masses, r.Job.Demand.UsedOfPart(p), p.RatedKG, lookGood})
	}
	return all
}

// utilization returns the table of how much of what it bears every joint, tube and part
// takes up.
func utilization(r *fit.Result, opt Options) (*table, error) {
	const mostShare = 2
	all, end := bearings(r), 1.1
	for _, b := range all {
		if !drawable(b.used, b.bears) || min(b.used, b.bears) < 0 {
			return nil, fmt.Errorf("%w: %s: a load is negative, not finite, or beyond %.0g", ErrFigure, b.name, float64(farthest))
		}
		end = min(max(end, 1.05*b.used), mostShare)
	}
	return newTable(opt, func(t *table) { t.utilization(all, end, opt.Units) }), nil
}

// utilization fills in how much is taken up, on a scale that ends at end.
func (t *table) utilization(all []bearing, end float64, u units.Units) {
	const barHigh = 0.5 * rowHigh
	t.keys = []key{{lookBad, "slips, yields or is overloaded"}, {lookWeakest, "weakest joint"}}
	head := ""
	for _, b := range all {
		if b.head != head {
			head = b.head
			t.rows = append(t.rows, tableRow{all: t.lines(1, head)})
		}
		row := tableRow{left: t.lines(0.5, b.name), right: []string{"limit not known"}, bars: []bar{{1 / end, 1 / end, look{line: stroke(ink, 1.2)}, barHigh}}}
		if b.bears > 0 {
			row.right[0] = fmt.Sprintf("%.0f%% of %s", max(0, math.Ceil(100*b.used-1e-6)), b.kind.Told(u, b.bears))
			row.bars = append(row.bars, bar{0, min(b.used, 1) / end, b.look, barHigh})
			if b.used > 1 {
				row.bars = append(row.bars, bar{1 / end, b.used / end, lookBad, barHigh})
			}
		}
		t.rows = append(t.rows, row)
	}
	s := tableScale{name: "utilization"}
	for v := 0.0; v <= end; v += 0.25 {
		t.grid, s.labels = append(t.grid, v/end), append(s.labels, fmt.Sprintf("%.0f%%", 100*v))
	}
	t.scales = []tableScale{s}
}

// times says how often a load counts, if more than once.
func times(what string, factor float64) string {
	if factor == 1 {
		return ""
	}
	return fmt.Sprintf(", × %s %s factor", units.UpTo(factor, 3), what)
}
