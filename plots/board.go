package plots

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

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
	title, subtitle string
	size            Size     // on paper, at most
	said            []string // the description, in sentences
	acrossName      string
	upName          string
	items           []item
	marks           []mark
	notes           []note
	tags            []tag
	left, right     lane // labels of height
	top             lane // labels of place across, written upward
	keys            []key
	scales          []int
	units           units.Units // of every number that is told
	bare            bool        // without numbers along the axes and their grid
	unlabeled       bool        // labels are told in the description alone
	problem         error
	loX, hiX        float64
	loY, hiY        float64
	started         bool
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

// note is a text along the line from a to b, at its middle.
type note struct {
	a, b r2.Vec
	text string
	// moves says that it goes aside where another would be under it.
	moves bool
}

// tag is a text beyond a place, in the direction way from it.
type tag struct {
	at, way r2.Vec
	text    string
}

// say adds a sentence to the description.
func (b *board) say(format string, args ...any) {
	b.said = append(b.said, fmt.Sprintf(format, args...))
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
	if len(i.points) == 0 {
		return
	}
	b.grow(i.points...)
	b.items = append(b.items, i)
}

// aside labels a place at the left of the drawing, or at the right from middle on.
func (b *board) aside(middle float64, l label) {
	b.grow(l.at)
	side := &b.right
	if l.at.X < middle {
		side = &b.left
	}
	*side = append(*side, l)
}

// describe returns what is said and what labels tell, in sentences.
func (b *board) describe() string {
	said := slices.Clone(b.said)
	for _, l := range slices.Concat(b.left, b.right, b.top) {
		said = append(said, capital(strings.TrimSpace(l.text+" "+l.told))+".")
	}
	return strings.Join(said, " ")
}

// arrowHead adds the filled head of an arrow that ends at a place, as long as along; slim
// is half its width by its length.
func (b *board) arrowHead(at, along r2.Vec, slim float64, l look) {
	side := r2.Scale(slim, r2.Vec{X: -along.Y, Y: along.X})
	back := r2.Sub(at, along)
	b.outline([]r2.Vec{at, r2.Add(back, side), r2.Sub(back, side)}, l)
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

// figure lays the board out on its paper, at the largest of its scales at which it fits.
func (b *board) figure() (Figure, error) {
	size := b.size
	if b.problem != nil {
		return Figure{}, b.problem
	}
	if !b.started {
		return Figure{}, fmt.Errorf("%w: there is nothing in the %s", ErrFigure, b.title)
	}
	if err := size.check(); err != nil {
		return Figure{}, err
	}
	desc := b.describe()
	if b.unlabeled {
		b.left, b.right, b.top = nil, nil, nil
	}
	for _, scale := range b.scales {
		if !b.within(size, scale) {
			continue // too large even without margins
		}
		for _, beside := range []bool{true, false} {
			l := b.measure(scale, beside)
			if f, ok := l.figure(size); ok {
				f.Desc = desc
				return f, nil
			}
		}
	}
	return Figure{}, fmt.Errorf("%w: %s: %.0f by %.0f mm does not fit on %.0f by %.0f mm at 1:%d", ErrFigure, b.title,
		b.hiX-b.loX, b.hiY-b.loY, size.Width/vg.Millimeter, size.Height/vg.Millimeter, b.scales[len(b.scales)-1])
}

// within reports whether the drawing alone has space on a size.
func (b *board) within(size Size, scale int) bool {
	perMM := vg.Millimeter / vg.Length(scale)
	return vg.Length(b.hiX-b.loX)*perMM <= size.Width && vg.Length(b.hiY-b.loY)*perMM <= size.Height
}

// layout is a board on its way to paper: the widths of its margins on paper,
// and its scale.
type layout struct {
	*board
	scale int
	// beside puts the key into a column of its own at the right; otherwise it is
	// in rows below.
	beside                   bool
	left, right, top, bottom vg.Length
	column                   vg.Length
	rows                     [][]keyLine
	spare                    vg.Point // paper that is not needed
}

const (
	air  = 2 * vg.Millimeter // around everything
	lead = 2.6 * textSize    // from the drawing to the labels beside it
)

// titleLines is how many lines the name of a drawing has at most, and what it shows.
const titleLines = 3

// measure returns the margins that the board's labels need.
func (b *board) measure(scale int, beside bool) *layout {
	l := &layout{board: b, scale: scale, beside: beside}
	l.left, l.right, l.top = l.margin(b.left), l.margin(b.right), l.margin(b.top)
	if beside {
		l.column = l.keyColumn()
		l.right += l.column + 2*air
	}
	return l
}

// margin returns how wide a lane must be.
func (l *layout) margin(labels lane) vg.Length {
	if len(labels) == 0 {
		return air
	}
	widest := vg.Length(0)
	for _, k := range labels {
		widest = max(widest, lettering.Width(k.text))
	}
	return lead + widest + air
}

// row returns the distance between lines of text.
func (l *layout) row() vg.Length { return textSize * 1.3 }

// barHeight returns the height of the scale bar with its numbers.
func (l *layout) barHeight() vg.Length { return l.row() + 2*vg.Millimeter }

// figure returns the board on paper no larger than size, cut to what it needs,
// and whether it fits at the layout's scale.
func (l *layout) figure(size Size) (Figure, bool) {
	if _, ok := l.fit(size); !ok {
		return Figure{}, false
	}
	size.Height -= l.spare.Y
	if l.beside {
		size.Width -= l.spare.X
	}
	p, ok := l.fit(size)
	return Figure{Plot: p, Size: size, Title: l.heading(", "), Scale: l.scale}, ok
}

// heading returns the title with the parts of its end set apart by sep.
func (l *layout) heading(sep string) string {
	h := l.title
	if l.subtitle != "" {
		h += sep + l.subtitle
	}
	return fmt.Sprintf("%s, 1:%d", h, l.scale)
}

// fit returns the plot on paper of a size, and whether the board fits on it. The
// widths of the axes' numbers depend on the range of the axes and the range on
// the space that they leave, so it goes round until nothing changes.
func (l *layout) fit(size Size) (*plot.Plot, bool) {
	p := newPlot()
	p.Title.Text = l.heading(", ")
	if space := titleSpace(size); lettering.Width(p.Title.Text) > space {
		var lines []string
		for line := range strings.SplitSeq(l.heading("\n"), "\n") {
			lines = append(lines, wrapped(line, space, titleLines)...)
		}
		p.Title.Text = strings.Join(lines, "\n")
	}
	if l.bare {
		p.HideAxes()
		l.acrossName, l.upName = "", ""
	}
	p.X.Label.Text, p.Y.Label.Text = axisName(l.acrossName, l.units), axisName(l.upName, l.units)
	paper := size.inside(&recorder.Canvas{})
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = l.loX, l.hiX+1, l.loY, l.hiY+1
	if !l.bare {
		p.X.Tick.Marker, p.Y.Tick.Marker = l.ticks(l.loX, l.hiX), l.ticks(l.loY, l.hiY)
	}
	for range 6 {
		l.place(p, p.DataCanvas(paper).Size())
	}
	p.Add(painter(l.paint))
	const slop = 1e-6 * vg.Millimeter // of rounding, where a figure was cut to what it needs
	return p, l.spare.X >= -slop && l.spare.Y >= -slop
}

// place sets the axes for a data area of the given size and finds how much of it
// is not needed.
func (l *layout) place(p *plot.Plot, space vg.Point) {
	l.bottom = l.flow(space.X - 2*air)
	perMM := vg.Millimeter / vg.Length(l.scale) // paper per mm of the world
	l.spare.X = space.X - l.left - l.right - vg.Length(l.hiX-l.loX)*perMM
	high := max(vg.Length(l.hiY-l.loY)*perMM+l.top+l.bottom, lettering.Width(axisName(l.upName, l.units))) // or the name leaves no space
	if l.beside {
		high = max(high, l.keyHeight()+l.bottom)
	}
	l.spare.Y = space.Y - high
	p.X.Min = l.loX - float64((l.left+l.spare.X/2)/perMM)
	p.X.Max = p.X.Min + float64(space.X/perMM)
	p.Y.Min = l.loY - float64((l.bottom+l.spare.Y/2)/perMM)
	p.Y.Max = p.Y.Min + float64(space.Y/perMM)
}

// tick returns the distance of the axes' numbers in the board's units: 10 mm or more
// on paper.
func (l *layout) tick() float64 { return roundStep(10 * l.units.Of(float64(l.scale))) }

// ticks returns the numbers of an axis from low to high (mm).
func (l *layout) ticks(low, high float64) plot.ConstantTicks {
	return ticksIn(l.units.MM(), low, high, l.tick())
}

// ticksIn returns the multiples of step, in units, from low to high.
func ticksIn(unit, low, high, step float64) plot.ConstantTicks {
	ticks := roundTicks(low/unit, high/unit, step)
	for i := range ticks {
		ticks[i].Value *= unit
	}
	return ticks
}

// roundStep returns the least of 1, 2, 5, 10, 20 and so on that is no less than
// least, which must be positive.
func roundStep(least float64) float64 { return roundTo(least, 1, 2, 5) }

// roundTo is roundStep with other digits, rising.
func roundTo(least float64, digits ...float64) float64 {
	decade := math.Pow(10, math.Floor(math.Log10(least)))
	for _, k := range digits {
		if k*decade >= least*(1-1e-9) {
			return k * decade
		}
	}
	return 10 * decade
}

// roundTicks returns the multiples of step from low to high as an axis's numbers.
func roundTicks(low, high, step float64) plot.ConstantTicks {
	decimals := int(max(0, math.Ceil(-math.Log10(step))))
	first := math.Ceil(low / step)
	var ticks plot.ConstantTicks
	for i := range int(math.Floor(high/step)-first) + 1 {
		v := (first + float64(i)) * step
		ticks = append(ticks, plot.Tick{Value: v, Label: strconv.FormatFloat(v+0, 'f', decimals, 64)})
	}
	return ticks
}
