package plots

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"

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
// turns on another, so that the shortest bar is the setting to take most care
// with. The scales end at 60 mm and 30° at most; a bar that goes on beyond has a
// point in place of an end. The figure has no world scale. The error wraps
// [ErrFigure]: for no settings, for a number that is not finite, and for
// ends that are not about the set value.
func Tolerances(all []tolerance.Tolerance, job *fit.Job, ended func(tolerance.Bound) string, opt Options) (Figure, error) {
	if len(all) == 0 || job == nil {
		return Figure{}, fmt.Errorf("%w: there are no settings whose tolerance could be drawn", ErrFigure)
	}
	d := toleranceTable{units: opt.Units, main: words(textSize), small: words(smallSize)}
	for i := range all {
		row, err := newToleranceRow(&all[i], job, ended, opt.Units)
		if err != nil {
			return Figure{}, err
		}
		d.rows = append(d.rows, row)
	}
	d.scale()
	d.columns()
	f := newSheet(Size{190 * vg.Millimeter, d.height()}, opt.Label, "tolerance of each setting")
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
func newToleranceRow(t *tolerance.Tolerance, job *fit.Job, ended func(tolerance.Bound) string, u units.Units) (toleranceRow, error) {
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
			r.why[i] += ", " + spoken(job.Postures[e.Posture].Name)
		}
	}
	if t.Why != nil {
		r.fails = said(tolerance.Bound{Reason: *t.Why})
		r.off = [2]float64{}
	}
	return r, nil
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
	text := settingWords(u, j, math.Abs(end-set))
	return settingWords(u, j, end) + offWords(strings.TrimSuffix(strings.TrimSuffix(text, " "+u.String()), "°"), end-set)
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
