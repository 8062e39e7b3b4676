package plots

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"

	"sightpost/mount"
	"sightpost/mount/fit/tolerance"
	"sightpost/plots/units"
)

// ToleranceWords are what is written beside a tolerance, in lines: name, value and limits of
// the setting, and each end with what ends it. One without a tolerance has in High why, and
// nothing in Low.
type ToleranceWords struct{ Setting, Low, High []string }

// divisions is how many divisions a scale of tolerances has to either side.
const divisions = 3

// Tolerances returns the figure of how far each setting may be off, the others as set, before
// the result no longer works: a row for each setting in the order given, with its words and, under
// them, the set value in the middle of a bar from the lowest to the highest value that works.
//
// Rows are drawn by how far a setting is off, all slides on one scale and all
// turns on another, each as long as its longest bar, so that the shortest bar is the
// setting to take most care with. The figure has no world scale. The error wraps
// [ErrFigure]: for no settings or other words than settings, for a number that is not finite,
// and for ends that are not about the set value.
func Tolerances(all []tolerance.Tolerance, words []ToleranceWords, opt Options) (Figure, error) {
	if len(all) == 0 || len(words) != len(all) {
		return Figure{}, fmt.Errorf("%w: %d settings with words for %d", ErrFigure, len(all), len(words))
	}
	offs := make([][4]float64, len(all)) // of low end, high end and limits, in units
	for i := range all {
		var err error
		if offs[i], err = off(&all[i], opt.Units); err != nil {
			return Figure{}, err
		}
	}
	t := newTable(opt, func(t *table) { t.tolerances(all, offs, words, opt.Units) })
	return t.figure(titled(opt.Label, "tolerance of each setting")), nil
}

// tolerances fills in a row for each setting.
func (t *table) tolerances(all []tolerance.Tolerance, offs [][4]float64, words []ToleranceWords, u units.Units) {
	t.low = -1
	t.rows = []tableRow{{left: []string{"tolerance, min"}, right: []string{"tolerance, max"}}}
	t.keys = []key{{lookTolerance[0], "slide"}, {lookTolerance[1], "turn"}, {look{}, "thick line: set value; short line: limit of the setting"}}
	var most [2]float64 // of slides, of turns
	for i, o := range offs {
		kind := kindOf(&all[i])
		most[kind] = max(most[kind], [2]float64{u.Of(divisions), divisions}[kind], -o[0], o[1])
	}
	for n := -divisions; n <= divisions; n++ {
		t.grid = append(t.grid, float64(n)/divisions)
	}
	for kind, name := range [2]string{axisName("slides, off by", u), "turns, off by (°)"} {
		if most[kind] == 0 {
			continue
		}
		step := roundTo(most[kind]/divisions, 1, 1.5, 2, 3, 4, 5, 8)
		most[kind] = divisions * step
		s := tableScale{name: name}
		for n := -divisions; n <= divisions; n++ {
			s.labels = append(s.labels, units.UpTo(float64(n)*step, 3))
		}
		t.scales = append(t.scales, s)
	}
	for i, o := range offs {
		kind := kindOf(&all[i])
		t.rows = append(t.rows, t.tolerance(words[i], o, most[kind], lookTolerance[kind]))
	}
}

// kindOf returns 0 for a slide and 1 for a turn.
func kindOf(t *tolerance.Tolerance) int {
	if t.Joint.Motion == mount.Turn {
		return 1
	}
	return 0
}

// off returns how far the ends of a tolerance and the limits of the setting are from the
// set value, as the part's own scale shows them, the lower first.
func off(t *tolerance.Tolerance, u units.Units) ([4]float64, error) {
	shown := func(v float64) float64 { return t.Joint.Scale.Shown(v) / inUnits(kindOf(t) == 1, u) }
	var o [4]float64
	for i, v := range [4]float64{t.Low.At, t.High.At, t.Joint.Low, t.Joint.High} {
		o[i] = shown(v) - shown(t.Set)
	}
	if t.Joint.Scale.Falls {
		o = [4]float64{o[1], o[0], o[3], o[2]}
	}
	const slack = 1e-6 // of a unit conversion
	if !drawable(o[:]...) || o[0] > slack || o[1] < -slack {
		return o, fmt.Errorf("%w: setting %q: the tolerance is not finite, or not about the set value", ErrFigure, jointWords(t.Joint))
	}
	return o, nil
}

// tolerance returns the row of a setting whose ends and limits are off by so much, on a scale
// that ends at most.
func (t *table) tolerance(w ToleranceWords, off [4]float64, most float64, l look) tableRow {
	const barHigh, setHigh, limitHigh = 3 * vg.Millimeter, 5 * vg.Millimeter, 4 * vg.Millimeter
	r := tableRow{all: t.lines(1, strings.Join(w.Setting, ", ")), left: t.lines(0.5, w.Low...), right: t.lines(0.5, w.High...)}
	if len(w.Low) > 0 {
		r.bars = []bar{{off[0] / most, off[1] / most, l, barHigh}}
	}
	for _, v := range off[2:] {
		if math.Abs(v) <= most*(1+1e-9) {
			r.bars = append(r.bars, bar{v / most, v / most, look{line: stroke(ink, 1.3)}, limitHigh})
		}
	}
	r.bars = append(r.bars, bar{0, 0, look{line: stroke(ink, 2)}, setHigh})
	return r
}
