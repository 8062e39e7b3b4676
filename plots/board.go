package plots

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/recorder"

	"sightpost/plots/units"
)

// board is a drawing to scale before it is laid out: everything in mm of the
// world, in the axes of one view, in the order of drawing.
type board struct {
	title              string
	size               Size // on paper, at most
	acrossName, upName string
	items              []item
	marks              []mark
	notes              []note
	avoid              []r2.Vec // places that notes do not cover if they move
	left, right        lane     // labels
	keys               []key
	scales             []int
	units              units.Units // of every number
	bare               bool        // with a scale bar in place of axes and grid
	lists              bool        // its labels may be told in the key, so that it is larger
	edge               vg.Length   // at either side of a drawing whose labels are told in the key
	problem            error
	loX, hiX           float64
	loY, hiY           float64
	started            bool
}

// item is a line or an outline.
type item struct {
	points []r2.Vec
	closed bool
	look   look
}

// mark is a sign of fixed size on paper.
type mark struct {
	at    r2.Vec
	glyph draw.GlyphStyle
	inner bool // has a white middle
}

// note is a text at a place of the drawing.
type note struct {
	at    r2.Vec
	text  string
	along r2.Vec // the direction in which it is written; zero means level
	way   r2.Vec // the direction in which it is beside its place; zero means on it
	moves bool   // it goes aside where another would be under it
}

// outline adds a closed outline.
func (b *board) outline(points []r2.Vec, l look) { b.add(item{points: points, closed: true, look: l}) }

// line adds an open line.
func (b *board) line(l draw.LineStyle, points ...r2.Vec) {
	b.add(item{points: points, look: look{line: l}})
}

// sign adds a mark.
func (b *board) sign(at r2.Vec, m mark) {
	m.at = at
	b.grow(at)
	b.marks = append(b.marks, m)
}

// add adds an item; one without points is left out.
func (b *board) add(i item) {
	if len(i.points) > 0 {
		b.grow(i.points...)
		b.items = append(b.items, i)
	}
}

// aside labels a place at the left of the drawing, or at the right from middle on.
func (b *board) aside(middle float64, at r2.Vec, text string) {
	b.grow(at)
	side := &b.right
	if at.X < middle {
		side = &b.left
	}
	*side = append(*side, label{at, text})
}

// explain adds an entry to the key, once.
func (b *board) explain(l look, text string) {
	if !slices.ContainsFunc(b.keys, func(k key) bool { return k.text == text }) {
		b.keys = append(b.keys, key{l, text})
	}
}

// arrow draws an arrow from each point to the next, with a filled head at the last, as long
// as head.
func (b *board) arrow(l draw.LineStyle, head float64, points ...r2.Vec) {
	b.line(l, points...)
	end := points[len(points)-1]
	way := r2.Sub(end, points[len(points)-2])
	if n := r2.Norm(way); n > 0 {
		along := r2.Scale(head/n, way)
		side, back := r2.Scale(0.35, r2.Vec{X: -along.Y, Y: along.X}), r2.Sub(end, along)
		b.outline([]r2.Vec{end, r2.Add(back, side), r2.Sub(back, side)}, look{fill: l.Color})
	}
}

// farthest is how far from the origin (mm) anything drawn may be: so far that no
// scale shows it, and near enough for its digits to be kept.
const farthest = 1e6

// drawable reports whether all of numbers are finite and near enough to be drawn.
func drawable(numbers ...float64) bool {
	return !slices.ContainsFunc(numbers, func(v float64) bool { return !(math.Abs(v) <= farthest) })
}

// fail keeps the first error met while drawing; [board.figure] returns it.
func (b *board) fail(err error) {
	if b.problem == nil {
		b.problem = err
	}
}

// grow widens what is drawn so that it holds the points.
func (b *board) grow(points ...r2.Vec) {
	for _, p := range points {
		if !drawable(p.X, p.Y) {
			b.fail(fmt.Errorf("%w: %s: a place is not finite, or more than %.0f m away", ErrFigure, b.title, farthest/1000))
			return
		}
		if !b.started {
			b.loX, b.hiX, b.loY, b.hiY, b.started = p.X, p.X, p.Y, p.Y, true
		}
		b.loX, b.hiX = min(b.loX, p.X), max(b.hiX, p.X)
		b.loY, b.hiY = min(b.loY, p.Y), max(b.hiY, p.Y)
	}
}

// figure lays the board out on its paper, at the largest of its scales at which it fits,
// with the key beside it or else below.
func (b *board) figure() (Figure, error) {
	if b.problem != nil {
		return Figure{}, b.problem
	}
	if !b.started {
		return Figure{}, fmt.Errorf("%w: there is nothing in the %s", ErrFigure, b.title)
	}
	if err := b.size.check(); err != nil {
		return Figure{}, err
	}
	f, err := b.laid()
	if b.lists {
		listed := *b
		listed.list()
		if l, e := listed.laid(); e == nil && (err != nil || float64(f.Scale) > worthLabels*float64(l.Scale)) {
			return l, nil
		}
	}
	return f, err
}

// worthLabels is how much smaller a drawing may be for its labels.
const worthLabels = 1.5

// laid returns the board laid out with what it has.
func (b *board) laid() (Figure, error) {
	besides := []bool{true, false}
	if b.lists { // all figures of a screen have it below
		besides = besides[1:]
	}
	for _, scale := range b.scales {
		for _, beside := range besides {
			l := &layout{board: b, scale: scale, perMM: vg.Millimeter / vg.Length(scale), beside: beside}
			if f, ok := l.figure(); ok {
				return f, nil
			}
		}
	}
	return Figure{}, fmt.Errorf("%w: %s: %.0f by %.0f mm does not fit on %.0f by %.0f mm at 1:%d", ErrFigure, b.title,
		b.hiX-b.loX, b.hiY-b.loY, b.size.Width/vg.Millimeter, b.size.Height/vg.Millimeter, b.scales[len(b.scales)-1])
}

// listedEdge holds a number.
const listedEdge = 4 * vg.Millimeter

// list has the labels told in the key, from top to bottom, each with its number beside its
// place.
func (b *board) list() {
	b.bare, b.edge, b.scales = true, listedEdge, []int{1, 2, 3, 4, 5, 6, 7, 8, 10, 12, 14, 16, 18, 20, 22, 25, 30, 35, 40, 50, 75, 100, 150, 200, 300}
	b.notes, b.keys = slices.Clip(b.notes), slices.Clip(b.keys)
	all := slices.Concat(b.left, b.right)
	slices.SortStableFunc(all, func(l, m label) int { return cmp.Or(cmp.Compare(m.at.Y, l.at.Y), cmp.Compare(l.text, m.text)) })
	for i, l := range all {
		way := r2.Vec{X: 1}
		if l.at.X < (b.loX+b.hiX)/2 {
			way.X = -1
		}
		b.notes = append(b.notes, note{at: l.at, text: strconv.Itoa(i + 1), way: way, moves: true})
		b.keys = append(b.keys, key{look{}, fmt.Sprintf("%d: %s", i+1, l.text)})
	}
	b.left, b.right = nil, nil
}

// layout is a board on its way to paper.
type layout struct {
	*board
	scale  int
	perMM  vg.Length // paper per mm of the world
	beside bool      // the key is at the right; otherwise below
	rows   keyRows
	inner  *plot.Plot // the drawing with its labels and axes
	size   vg.Point   // of that on paper
}

const (
	air     = 2 * vg.Millimeter // around everything
	lead    = 2.6 * textSize    // from the drawing to the labels beside it
	rowHigh = 1.3 * textSize    // distance between lines of text
	barHigh = 6 * vg.Millimeter // scale bar with its numbers
)

// figure returns the board on paper, cut to what it needs, and whether it fits at the
// layout's scale.
func (l *layout) figure() (Figure, bool) {
	drawn := vg.Point{X: vg.Length(l.hiX-l.loX) * l.perMM, Y: vg.Length(l.hiY-l.loY) * l.perMM}
	left, right, low, high := max(l.edge, l.left.width()), max(l.edge, l.right.width()), 2*air, air
	if left+drawn.X+right > l.board.size.Width || low+drawn.Y+high > l.board.size.Height {
		return Figure{}, false
	}
	p := newPlot()
	if l.bare {
		p.HideAxes()
		low += barHigh
	} else {
		p.X.LineStyle.Width, p.Y.LineStyle.Width = 0, 0
		p.X.Label.Text, p.Y.Label.Text = axisName(l.acrossName, l.units), axisName(l.upName, l.units)
		p.X.Tick.Marker, p.Y.Tick.Marker = l.ticks(l.loX, l.hiX), l.ticks(l.loY, l.hiY)
		high = max(high, lettering.Width(p.Y.Label.Text)-low-drawn.Y)
	}
	p.X.Min, p.X.Max = l.loX-float64(left/l.perMM), l.hiX+float64(right/l.perMM)
	p.Y.Min, p.Y.Max = l.loY-float64(low/l.perMM), l.hiY+float64(high/l.perMM)
	p.Add(painter(l.paint))
	inside := vg.Point{X: left + drawn.X + right, Y: low + drawn.Y + high}
	l.inner, l.size = p, inside
	for range 4 { // what axes take depends a little on the size
		data := p.DataCanvas(draw.NewCanvas(&recorder.Canvas{}, l.size.X, l.size.Y)).Size()
		l.size = l.size.Sub(data).Add(inside)
	}
	most, all := l.board.size.Width-air, l.size
	if l.beside {
		l.rows = flowed(l.keys, keyColumn)
		all = vg.Point{X: all.X + l.rows.width(), Y: max(all.Y, l.rows.height())}
	} else {
		l.rows = flowed(l.keys, most)
		all = vg.Point{X: max(all.X, l.rows.width()), Y: all.Y + l.rows.height() + air}
	}
	title := fmt.Sprintf("%s, 1:%d", l.title, l.scale)
	all.X = max(all.X, min(most, lettering.Width(title)*titleSize/textSize+1))
	size := l.board.size.around(all, title)
	f := newSheet(size, title)
	f.Scale = l.scale
	f.Plot.Add(painter(l.draw))
	const slop = 1e-6 // of rounding
	return f, size.Width <= l.board.size.Width+slop && size.Height <= l.board.size.Height+slop
}

// draw draws the drawing and its key.
func (l *layout) draw(c draw.Canvas, _ *plot.Plot) {
	key, wide := vg.Point{X: c.Max.X - l.rows.width(), Y: c.Max.Y}, c.Max.X-l.rows.width()
	if !l.beside {
		key, wide = vg.Point{X: c.Min.X, Y: c.Min.Y + l.rows.height()}, c.Max.X
	}
	at := vg.Point{X: (c.Min.X + wide - l.size.X) / 2, Y: c.Max.Y - l.size.Y}
	l.inner.Draw(draw.Canvas{Canvas: c.Canvas, Rectangle: vg.Rectangle{Min: at, Max: at.Add(l.size)}})
	(&pen{c: c}).key(l.rows, key)
}

// tick returns the distance of the axes' numbers in the board's units: 10 mm or more
// on paper.
func (l *layout) tick() float64 { return roundTo(10*l.units.Of(float64(l.scale)), 1, 2, 5) }

// ticks returns the numbers of an axis from low to high (mm).
func (l *layout) ticks(low, high float64) plot.ConstantTicks {
	return ticksIn(l.units.MM(), low, high, l.tick())
}

// ticksIn returns the multiples of step, in units, from low to high.
func ticksIn(unit, low, high, step float64) plot.ConstantTicks {
	digits := int(max(0, math.Ceil(-math.Log10(step))))
	var ticks plot.ConstantTicks
	for i := math.Ceil(low / unit / step); i <= math.Floor(high/unit/step); i++ {
		ticks = append(ticks, plot.Tick{Value: i * step * unit, Label: units.Fixed(i*step, digits)})
	}
	return ticks
}

// roundTo returns the least of digits, which rise, and ten, hundred and so on times them that
// is no less than least, which must be positive.
func roundTo(least float64, digits ...float64) float64 {
	decade := math.Pow(10, math.Floor(math.Log10(least)))
	for _, k := range digits {
		if k*decade >= least*(1-1e-9) {
			return k * decade
		}
	}
	return 10 * decade
}
