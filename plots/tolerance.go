package plots

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
)

// ToleranceOptions adjust [Tolerances]. The zero value is usable.
type ToleranceOptions struct {
	// Label names the case in the title; empty means no name.
	Label string
	// Size is the figure's size on paper; zero means 190 mm by what the rows need.
	Size Size
}

// Tolerances returns the figure of how far each setting may be off, the others
// as set, before the result no longer works: a row for each setting
// in the order given, with the set value in the middle, a bar from the lowest to
// the highest value that works, both values as they are read off the joint, and
// what ends the bar in words.
//
// Rows are drawn by how far a setting is off, all slides on one scale and all
// turns on another, so that the shortest bar is the setting to take most care
// with. The scales end at 60 mm and 30° at most; a bar that goes on beyond has a
// point in place of an end. The figure has no world scale. The error wraps
// [ErrFigure]: for no settings, for a number that is not finite, for ends that
// are not about the set value, and for rows that do not fit the size.
func Tolerances(all []fit.Tolerance, job *fit.Job, opt ToleranceOptions) (Figure, error) {
	if len(all) == 0 || job == nil {
		return Figure{}, fmt.Errorf("%w: there are no settings whose tolerance could be drawn", ErrFigure)
	}
	d := toleranceTable{main: words(textSize), small: words(smallSize)}
	for i := range all {
		row, err := newToleranceRow(&all[i], job)
		if err != nil {
			return Figure{}, err
		}
		d.rows = append(d.rows, row)
	}
	d.scale()
	size := opt.Size.or(Size{190 * vg.Millimeter, d.height()})
	if err := size.check(); err != nil {
		return Figure{}, err
	}
	if err := d.columns(size); err != nil {
		return Figure{}, err
	}
	f := newSheet(size, opt.Label, "how far each setting may be off")
	f.Plot.Add(&d)
	f.Desc = d.describe()
	return f, nil
}

// toleranceRow is the tolerance of a setting in the reader's units: mm for a
// slide, degrees for a turn. Of each pair the first is the low side.
type toleranceRow struct {
	name, set, limits string
	turns             bool
	off               [2]float64 // exact ends, from the set value
	limit             [2]float64 // limits, from the set value
	value             [2]string  // last readable values
	why               [2]string  // what ends it
	fails             string     // why there is none
}

// newToleranceRow turns a tolerance into the reader's units.
func newToleranceRow(t *fit.Tolerance, job *fit.Job) (toleranceRow, error) {
	j := t.Joint
	r := toleranceRow{name: jointWords(j), turns: j.Motion == mount.Turn}
	unit := 1.0
	if r.turns {
		unit = 1 / frame.Degree.Radians()
	}
	for _, v := range []float64{t.Set, j.Low, j.High, t.Low.At, t.High.At, t.Low.Readable, t.High.Readable} {
		if !(math.Abs(v*unit) <= farthest) {
			return r, fmt.Errorf("%w: setting %q: a value is not finite, or beyond 1e6", ErrFigure, r.name)
		}
	}
	const slack = 1e-6 // mm or degrees, of a unit conversion
	r.off = [2]float64{(t.Low.At - t.Set) * unit, (t.High.At - t.Set) * unit}
	if r.off[0] > slack || r.off[1] < -slack {
		return r, fmt.Errorf("%w: setting %q: the tolerance is not about the set value", ErrFigure, r.name)
	}
	r.limit = [2]float64{(j.Low - t.Set) * unit, (j.High - t.Set) * unit}
	r.set, r.limits = "set "+j.Format(t.Set), "limits "+j.Format(j.Low)+" to "+j.Format(j.High)
	for i, e := range []fit.ToleranceEnd{t.Low, t.High} {
		r.value[i] = j.Format(e.Readable) + offWords(j, e.Readable-t.Set)
		r.why[i] = boundWords(e.Bound, job)
	}
	if t.Why != nil {
		r.fails = reasonWords(t.Why)
		r.off = [2]float64{}
	}
	return r, nil
}

// offWords says how far an end is from the set value.
func offWords(j mount.Joint, off float64) string {
	text := strings.TrimSuffix(strings.TrimSuffix(j.Format(math.Abs(off)), " mm"), "°")
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
