package sheet

import (
	"errors"
	"fmt"
	"html/template"
	"slices"

	"gonum.org/v1/plot/vg"

	"sightpost/plots"
)

// ErrPage marks a sheet of which a part does not fit on a page at the smallest letters.
var ErrPage = errors.New("sheet: does not fit on a page")

// text is a line of text on the page; x, y is the start of its baseline (mm).
type text struct {
	x, y  float64
	face  face
	white bool
	words string
}

// line is a straight line; field is a rectangle, filled with a grey from 0, black,
// to 1, white, and framed if it has a frame.
type line struct{ x1, y1, x2, y2, width float64 }

type field struct {
	x, y, w, h float64
	grey       float64
	frame      float64 // width of the frame's line, mm
}

// picture is a figure whose upper left corner is at x, y.
type picture struct {
	x, y   float64
	figure plots.Figure
}

// step is one of the sizes in which a sheet is tried.
type step struct {
	text   float64 // body (points)
	value  float64 // settings' values (points)
	figure float64 // least height of a row of figures (mm)
	gap    float64 // between parts (mm)
}

// steps returns the sizes from the most generous to the smallest that can be read
// without effort at arm's length.
func steps() []step {
	return []step{
		{text: 9.5, value: 18, figure: 85, gap: 3},
		{text: 9, value: 17, figure: 85, gap: 2.6},
		{text: 9, value: 15, figure: 80, gap: 2.2},
		{text: 8.5, value: 15, figure: 75, gap: 2},
		{text: 8, value: 14, figure: 65, gap: 1.6},
		{text: 7.5, value: 13, figure: 60, gap: 1.4},
		{text: 7.5, value: 9, figure: 50, gap: 0.6},
	}
}

// single is the smallest body (points) for which a page is saved.
const single = 8.5

// Part is a part of a page, never parted between two: one of its fields says what.
type Part struct {
	// Head is the title with room for date and name, and the verdict.
	Head bool
	// Wide are sections over the page; Left and Right are in two columns, and Columns those
	// that are to be put there.
	Wide, Columns, Left, Right []Section
	// Figures are in a row; nil for none.
	Figures []drawing
	// Remarks is room for them, as tall as the page leaves it.
	Remarks bool

	y        float64 // of its upper edge
	tall     float64 // height of its figures: a share of that of the step, then what is kept for them until they are drawn
	pictures []plots.Figure
	Drawn    []template.HTML // as elements of a page
}

// drawing draws a figure.
type drawing func(plots.Options) (plots.Figure, error)

// layout is a page of a sheet with everything in its place.
type layout struct {
	*fonts
	step
	Number, Of int // of the page, and how many there are
	Parts      []Part
	paper      Paper
	texts      []text
	rules      []line
	fields     []field
	pictures   []picture
}

// newBook places c on pages, on as few as it takes in letters that are easily read, with some
// height (mm) to spare on each. The error wraps [ErrPage], or is that of the figures.
func newBook(c *Content, paper Paper, spare float64) ([]*layout, error) {
	f, err := newFonts()
	if err != nil {
		return nil, err
	}
	var pages [][]Part
	var at step
	over := 0.0
	for _, s := range steps() {
		if pages != nil && s.text < single {
			break
		}
		var parted [][]Part
		if parted, over = c.parted(f, paper, s, spare); over <= 0 && (pages == nil || len(parted) < len(pages)) {
			pages, at = parted, s
		}
	}
	if pages == nil {
		return nil, fmt.Errorf("%w: %s is %.0f mm too long for %s even in the smallest letters; shorten notes, names and the words for reading settings",
			ErrPage, c.Label, over, paper)
	}
	var book []*layout
	for i, parts := range pages {
		l := &layout{fonts: f, step: at, paper: paper, Number: i + 1, Of: len(pages), Parts: parts}
		if err := l.drawn(c, spare); err != nil {
			return nil, fmt.Errorf("sheet: %s: %w", c.Label, err)
		}
		book = append(book, l)
	}
	return book, nil
}

// parted returns the parts on each page at one step; if one does not fit on a page, how much
// it is too long (mm).
func (c *Content) parted(f *fonts, paper Paper, s step, spare float64) (pages [][]Part, over float64) {
	tooLong := func(parts ...Part) float64 {
		const many = 9 // pages: a number as wide as any
		l := &layout{fonts: f, step: s, paper: paper, Number: many, Of: many, Parts: slices.Clone(parts)}
		return l.fill(c) + spare
	}
	pages = [][]Part{nil}
	for _, part := range c.parts {
		part.tall *= s.figure
		last := len(pages) - 1
		switch over = tooLong(append(slices.Clone(pages[last]), part)...); {
		case over <= 0:
			pages[last] = append(pages[last], part)
			continue
		case len(pages[last]) == 0:
			return nil, over
		}
		if over = tooLong(part); over > 0 {
			return nil, over
		}
		pages = append(pages, []Part{part})
	}
	return pages, over
}

// drawn fills the page and draws its figures, which get the height that all else leaves.
func (l *layout) drawn(c *Content, spare float64) error {
	rows := 0
	for _, p := range l.Parts {
		if p.Figures != nil {
			rows++
		}
	}
	blank := *l
	blank.Parts = slices.Clone(l.Parts)
	const most = 140 // of height for figures: more only moves the rest down
	left := -(blank.fill(c) + spare)
	for k := range l.Parts {
		p := &l.Parts[k]
		if p.Figures == nil {
			continue
		}
		var err error
		if p.pictures, err = c.figures(p.Figures, l.share(p), min(p.tall+left/float64(rows), most)); err != nil {
			return err
		}
		tall := 0.0
		for _, f := range p.pictures {
			tall = max(tall, float64(f.Size.Height/vg.Millimeter))
		}
		left, rows, p.tall = left-(tall-p.tall), rows-1, tall // what a row leaves is the next one's
	}
	l.fill(c)
	l.place()
	return nil
}

func (l *layout) body() face  { return face{size: l.step.text} }
func (l *layout) bold() face  { return face{size: l.step.text, bold: true} }
func (l *layout) large() face { return face{size: l.value, bold: true} }

// write places a line of text with its upper edge at y, and returns its width.
func (l *layout) write(x, y float64, words string, in face) float64 {
	return l.put(text{x: x, y: y, face: in, words: l.printable(words)})
}

// put places t, whose y is that of its upper edge, and returns its width.
func (l *layout) put(t text) float64 {
	if t.words == "" {
		return 0
	}
	t.y += rise * t.face.size * mmPerPoint
	l.texts = append(l.texts, t)
	return l.width(t.words, t.face)
}

// rule draws a horizontal line.
func (l *layout) rule(x, y, w, width float64) {
	l.rules = append(l.rules, line{x, y, x + w, y, width})
}

// tick draws a box to tick as high as letters of a face, with its upper edge where
// theirs is.
func (l *layout) tick(x, y float64, in face) {
	side := tickSide(in)
	y += 0.18 * in.size * mmPerPoint
	l.fields = append(l.fields, field{x, y, side, side, 1, 0.25})
}

// tickSide returns the side of a box to tick.
func tickSide(in face) float64 { return 0.75 * in.size * mmPerPoint }

// figures draws figures, each no larger than width and height (mm).
func (c *Content) figures(all []drawing, width, height float64) ([]plots.Figure, error) {
	var drawn []plots.Figure
	for _, draw := range all {
		f, err := draw(plots.Options{
			Size: plots.Size{Width: vg.Length(width) * vg.Millimeter, Height: vg.Length(height) * vg.Millimeter}, Compact: true, Units: c.source.Units,
		})
		if err != nil {
			return nil, err
		}
		drawn = append(drawn, f)
	}
	return drawn, nil
}

// share returns the width that each figure of a part may have, less the space between (mm).
func (l *layout) share(p *Part) float64 {
	width, _ := l.paper.size()
	n := float64(len(p.Figures))
	return (width - 2*edge - (n-1)*apart) / n
}

// apart is the space between figures in a row (mm).
const apart = 2

// place puts each figure into the middle of its share of its row.
func (l *layout) place() {
	for k := range l.Parts {
		p := &l.Parts[k]
		for i, f := range p.pictures {
			w, h := float64(f.Size.Width/vg.Millimeter), float64(f.Size.Height/vg.Millimeter)
			x := edge + float64(i)*(l.share(p)+apart) + (l.share(p)-w)/2
			y := p.y + (p.tall-h)/2
			l.pictures = append(l.pictures, picture{x, y, f})
		}
	}
}
