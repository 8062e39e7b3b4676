package plots

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/tolerance"
	"sightpost/plots/units"
)

// Tolerances returns the figure of how far each setting may be off, the others
// as set, before the result no longer works: a row for each setting
// in the order given, with the set value in the middle, a bar from the lowest to
// the highest value that works, both values as they are read off the joint, and
// what ends the bar in the words of ended.
//
// Rows are drawn by how far a setting is off, all slides on one scale and all
// turns on another, each as long as its longest bar, so that the shortest bar is the
// setting to take most care with. The figure has no world scale. The error wraps
// [ErrFigure]: for no settings, for a number that is not finite, and for
// ends that are not about the set value.
func Tolerances(all []tolerance.Tolerance, job *fit.Job, ended func(tolerance.Bound) string, opt Options) (Figure, error) {
	if len(all) == 0 || job == nil {
		return Figure{}, fmt.Errorf("%w: there are no settings whose tolerance could be drawn", ErrFigure)
	}
	d := toleranceTable{units: opt.Units}
	for i := range all {
		row, err := newToleranceRow(&all[i], job, ended, opt.Units)
		if err != nil {
			return Figure{}, err
		}
		d.rows = append(d.rows, row)
	}
	d.scale()
	f := newSheet(Size{Landscape().Width, d.height()}, opt.Label, "tolerance of each setting")
	f.Plot.Add(painter(d.paint))
	f.Desc = d.describe()
	return f, nil
}

// toleranceRow is the tolerance of a setting in the reader's units: a length for a
// slide, degrees for a turn. Of each pair the first is the low side.
type toleranceRow struct {
	name, set, limits string
	scale             int        // 0 of slides, 1 of turns
	off               [2]float64 // exact ends, from the set value
	limit             [2]float64 // limits, from the set value
	value             [2]string  // last readable values
	why               [2]string  // what ends it
	fails             string     // why there is none
}

// newToleranceRow turns a tolerance into the reader's units.
func newToleranceRow(whole *tolerance.Tolerance, job *fit.Job, ended func(tolerance.Bound) string, u units.Units) (toleranceRow, error) {
	t := onScale(*whole)
	j := t.Joint
	r := toleranceRow{name: jointWords(j)}
	if j.Motion == mount.Turn {
		r.scale = 1
	}
	unit := 1 / inUnits(r.scale == 1, u)
	if !drawable(t.Set*unit, j.Low*unit, j.High*unit, t.Low.At*unit, t.High.At*unit, t.Low.Readable*unit, t.High.Readable*unit) {
		return r, fmt.Errorf("%w: setting %q: a value is not finite, or beyond 1e6", ErrFigure, r.name)
	}
	const slack = 1e-6 // of a unit conversion
	r.off = [2]float64{(t.Low.At - t.Set) * unit, (t.High.At - t.Set) * unit}
	if r.off[0] > slack || r.off[1] < -slack {
		return r, fmt.Errorf("%w: setting %q: the tolerance is not about the set value", ErrFigure, r.name)
	}
	r.limit = [2]float64{(j.Low - t.Set) * unit, (j.High - t.Set) * unit}
	r.set, r.limits = "set "+settingWords(u, j, t.Set), "limits "+settingWords(u, j, j.Low)+" to "+settingWords(u, j, j.High)
	said := func(b tolerance.Bound) string { return legible(strings.ReplaceAll(ended(b), "_", " ")) }
	for i, e := range []tolerance.End{t.Low, t.High} {
		r.value[i] = readableWords(u, j, e.Readable, t.Set)
		r.why[i] = said(e.Bound)
		if mustWork(job.Postures) > 1 && !e.Limit && e.Posture >= 0 && e.Posture < len(job.Postures) {
			r.why[i] += fmt.Sprintf(", posture %q", spoken(job.Postures[e.Posture].Name))
		}
	}
	if t.Why != nil {
		r.fails = said(tolerance.Bound{Reason: *t.Why})
		r.off = [2]float64{}
	}
	return r, nil
}

// onScale returns a tolerance in the numbers that the part's own scale shows.
func onScale(t tolerance.Tolerance) tolerance.Tolerance {
	for _, v := range []*float64{&t.Joint.Low, &t.Joint.High, &t.Set, &t.Low.At, &t.Low.Readable, &t.High.At, &t.High.Readable} {
		*v = t.Joint.Scale.Shown(*v)
	}
	if t.Joint.Scale.Falls {
		t.Joint.Low, t.Joint.High, t.Low, t.High = t.Joint.High, t.Joint.Low, t.High, t.Low
	}
	t.Joint.Scale = mount.Scale{Given: t.Joint.Scale.Given}
	return t
}

// readableWords returns an end of a tolerance as it is read, and how far it is from the
// set value. A sixteenth of an inch is rounded toward the set value, so that it is not
// outside the tolerance; where none is within, decimals of an inch are.
func readableWords(u units.Units, j mount.Joint, end, set float64) string {
	if u == units.Inch && j.Motion == mount.Slide && end != set {
		const rounding = 1e-9
		toward := func(parts float64) float64 {
			if end > set {
				return math.Floor(u.Of(end)*parts+rounding) / parts * u.MM()
			}
			return math.Ceil(u.Of(end)*parts-rounding) / parts * u.MM()
		}
		tape := toward(16)
		if (tape-set)*(end-set) < 0 {
			fine := toward(100)
			return u.Fine(fine, 1) + offWords(u.FineNumber(math.Abs(fine-set), 1), fine-set)
		}
		end = tape
	}
	words := settingWords(u, j, end)
	j.Indexed = false // how far off is no stop
	text := settingWords(u, j, math.Abs(end-set))
	return words + offWords(strings.TrimSuffix(strings.TrimSuffix(text, " "+u.String()), "°"), end-set)
}

// offWords says how far an end is from the set value.
func offWords(text string, off float64) string {
	switch {
	case strings.Trim(text, "0.") == "":
		return " (as set)"
	case off < 0:
		return " (-" + text + ")"
	}
	return " (+" + text + ")"
}

// describe says the figure's numbers in words.
func (d *toleranceTable) describe() string {
	var b strings.Builder
	b.WriteString("One setting off, the others as set.")
	for _, r := range d.rows {
		if fmt.Fprintf(&b, " %s, %s", r.name, r.set); r.fails != "" {
			fmt.Fprintf(&b, ": %s: %s.", failsAsSet, r.fails)
			continue
		}
		fmt.Fprintf(&b, ": from %s, %s, to %s, %s.", r.value[0], r.why[0], r.value[1], r.why[1])
	}
	return b.String()
}

// toleranceTable is the rows of a figure of tolerances.
type toleranceTable struct {
	rows  []toleranceRow
	units units.Units
	// step is how much a division of the scale of slides (in units) and of turns
	// (degrees) stands for; zero where there are none.
	step [2]float64
}

const (
	// divisions is how many divisions a scale has on either side.
	divisions = 3
	// nameWide and endWide are the widths of the columns of names and of ends.
	nameWide, endWide = 54 * vg.Millimeter, 68 * vg.Millimeter
)

// scale chooses the scales from the farthest ends.
func (d *toleranceTable) scale() {
	least := [2]float64{d.units.Of(divisions), divisions}
	for _, r := range d.rows {
		most := max(least[r.scale], -r.off[0], r.off[1])
		d.step[r.scale] = max(d.step[r.scale], roundTo(most/divisions, 1, 1.5, 2, 3, 4, 5, 8))
	}
}

// rowHeight returns the height of a row: three lines of text.
func (d *toleranceTable) rowHeight() vg.Length { return 3*d.line() + 1.5*vg.Millimeter }

func (d *toleranceTable) line() vg.Length { return textSize * 1.25 }

// height returns what the figure needs: title, heads, rows, scales and key.
func (d *toleranceTable) height() vg.Length {
	lines := 3.8 * d.line()
	for _, s := range d.step {
		if s > 0 {
			lines += 1.4 * d.line()
		}
	}
	return lines + air + d.rowHeight()*vg.Length(len(d.rows)) + 6*vg.Millimeter
}

// tablePen draws a table of tolerances.
type tablePen struct {
	*toleranceTable
	*pen
	left, middle, right vg.Length // of the bars' column
}

// paint draws the table.
func (d *toleranceTable) paint(c draw.Canvas, _ *plot.Plot) {
	k := &tablePen{toleranceTable: d, pen: newPen(c)}
	k.left = c.Min.X + air + nameWide + air + endWide + air
	k.right = c.Max.X - air - endWide - air
	k.middle = (k.left + k.right) / 2
	top := c.Max.Y - d.line()
	k.put(c.Min.X+air, top, 0, "setting, in order of work")
	k.put(k.left-air, top, 1, "tolerance, min")
	k.put(k.right+air, top, 0, "tolerance, max")
	k.put(k.middle, top, 0.5, "set")
	top -= 0.6 * d.line()
	foot := top - vg.Length(len(d.rows))*d.rowHeight()
	for i := -divisions; i <= divisions; i++ {
		x := k.across(float64(i) / divisions)
		c.StrokeLine2(stroke(grey(0.85), 0.4), x, foot, x, top)
	}
	for i := range d.rows {
		k.row(&d.rows[i], top-vg.Length(i)*d.rowHeight())
	}
	k.rule(foot)
	k.scales(foot)
	(&pen{c: c, layout: keyed(c.Max.X-c.Min.X, key{lookTolerance[0], "slide"}, key{lookTolerance[1], "turn"},
		key{look{}, "thick line: set value; bracket: limit of the setting"})}).key()
}

// across returns the place of a part of a scale, -1 to 1.
func (k *tablePen) across(part float64) vg.Length {
	return k.middle + vg.Length(part)*(k.right-k.middle)
}

// row draws a row under its top.
func (k *tablePen) row(r *toleranceRow, top vg.Length) {
	k.rule(top)
	base := func(i int) vg.Length { return top - vg.Length(i+1)*k.line() }
	x := k.c.Min.X + air
	k.put(x, base(0), 0, fitted(r.name, nameWide))
	k.put(x, base(1), 0, fitted(r.set, nameWide))
	k.put(x, base(2), 0, fitted(r.limits, nameWide))
	// write writes a value and, under it, what ends it.
	write := func(x, part, width vg.Length, value, why string) {
		k.put(x, base(0), part, fitted(value, width))
		for n, line := range wrapped(why, width, 2) {
			k.put(x, base(n+1), part, line)
		}
	}
	y := top - k.rowHeight()/2
	if r.fails == "" {
		k.bar(r, y)
	}
	for i, off := range r.limit {
		if part := off / (divisions * k.step[r.scale]); math.Abs(part) <= 1+1e-9 {
			k.bracket(k.across(part), y, vg.Length(1-2*i))
		}
	}
	k.c.StrokeLine2(stroke(ink, 1.6), k.middle, y-setHalf, k.middle, y+setHalf)
	if r.fails != "" {
		x := k.middle + 2*air
		write(x, 0, k.c.Max.X-air-x, failsAsSet+":", r.fails)
		return
	}
	write(k.left-air, 1, endWide, r.value[0], r.why[0])
	write(k.right+air, 0, endWide, r.value[1], r.why[1])
}

// failsAsSet says that a setting has no tolerance.
const failsAsSet = "does not work as it is set"

const (
	barHalf = 1.7 * vg.Millimeter
	setHalf = 3.6 * vg.Millimeter
	endHalf = 2.6 * vg.Millimeter
)

// bar draws the bar of a row about the height y.
func (k *tablePen) bar(r *toleranceRow, y vg.Length) {
	most := divisions * k.step[r.scale]
	low, high := k.across(r.off[0]/most), k.across(r.off[1]/most)
	if high-low > vg.Points(0.1) {
		k.box(low, y-barHalf, high, y+barHalf, lookTolerance[r.scale])
	}
}

// bracket draws the sign of a limit, open to the side of inward.
func (k *tablePen) bracket(x, y, inward vg.Length) {
	const hook = 1.1 * vg.Millimeter
	k.c.StrokeLines(stroke(ink, 1.3), []vg.Point{
		{X: x + inward*hook, Y: y - endHalf}, {X: x, Y: y - endHalf}, {X: x, Y: y + endHalf}, {X: x + inward*hook, Y: y + endHalf},
	})
}

// scales draws the scales under the rows.
func (k *tablePen) scales(y vg.Length) {
	for i, name := range [2]string{axisName("slides, off by", k.units), "turns, off by (°)"} {
		if k.step[i] == 0 {
			continue
		}
		y -= 1.4 * k.line()
		k.put(k.left-3*air, y, 1, name)
		for n := -divisions; n <= divisions; n++ {
			number := decimals(float64(n) * k.step[i])
			if n > 0 {
				number = "+" + number
			}
			k.put(k.across(float64(n)/divisions), y, 0.5, number)
		}
	}
}
