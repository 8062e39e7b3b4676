package sheet

import (
	"errors"
	"fmt"
	"slices"

	"gonum.org/v1/plot/vg"

	"sightpost/plots"
)

// ErrPage marks a sheet that does not fit on three pages at the smallest letters.
var ErrPage = errors.New("sheet: does not fit on three pages")

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

// box is a rectangle that nothing else may overlap.
type box struct {
	what       string
	x, y, w, h float64
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
		{text: 9.5, value: 18, figure: 70, gap: 3},
		{text: 9, value: 17, figure: 68, gap: 2.6},
		{text: 9, value: 15, figure: 64, gap: 2.2},
		{text: 8.5, value: 15, figure: 60, gap: 2},
		{text: 8, value: 14, figure: 55, gap: 1.6},
		{text: 7.5, value: 13, figure: 50, gap: 1.4},
		{text: 7.5, value: 12, figure: 46, gap: 1.2},
		{text: 7.5, value: 10, figure: 44, gap: 0.8},
		{text: 7.5, value: 9, figure: 44, gap: 0.6},
	}
}

// single is the smallest body (points) for which a second page is saved.
const single = 8.5

// Part is a part of a page: one of its fields says what.
type Part struct {
	// Head is the title with room for date and name, and the verdict.
	Head bool
	// Wide are sections over the page; Left and Right are in two columns, and Columns those
	// that are to be put there.
	Wide, Columns, Left, Right []Section
	// Table is that of the settings.
	Table bool
	// Figures are views in a row; nil for none.
	Figures []string
	// Remarks is room for them, as tall as the page leaves it.
	Remarks bool

	y        float64 // of its upper edge
	pictures []plots.Figure
}

// parts returns the parts of one page, of two, or of three: the first for what fails alone.
func (c *Content) parts(pages int) [][]Part {
	front := []Part{{Head: true}, {Wide: c.Lead}, {Columns: c.Front}, {Table: true}}
	back := []Part{{Wide: c.Work}}
	var views Part
	for _, v := range plots.Views(c.source.Result) {
		views.Figures = append(views.Figures, v.String())
	}
	if c.numbered {
		front, back = append(front, Part{Figures: []string{mountView}}), append(back, views)
	} else {
		front = append(front, views)
	}
	results := []Part{{Columns: c.Sections}, {Remarks: true}}
	switch pages {
	case 1:
		return [][]Part{slices.Concat(front, back, results)}
	case 2:
		return [][]Part{front, slices.Concat(back, results)}
	}
	return [][]Part{front[:2], front[2:], slices.Concat(back, results)}
}

// mountView is the figure of a sheet that is no view of the whole scene.
const mountView = "mount"

// layout is a page of a sheet with everything in its place.
type layout struct {
	*fonts
	step
	paper     Paper
	page, of  int
	parts     []Part
	texts     []text
	rules     []line
	fields    []field
	pictures  []picture
	boxes     []box
	figuresMM float64 // height of a row of figures
}

// newBook places c on one page or, where that takes small letters, on two, at the largest
// step at which all of it fits, with some height (mm) to spare on each; on three what does not
// fit on two. The error wraps
// [ErrPage], or is that of the figures.
func newBook(c *Content, f *fonts, paper Paper, spare float64) ([]*layout, error) {
	over := 0.0
	var err error
	for _, pages := range []int{1, 2, 3} {
		for _, s := range steps() {
			if pages == 1 && s.text < single {
				break
			}
			var book []*layout
			if book, over, err = c.laid(f, paper, s, pages, spare); book != nil {
				return book, f.pdf.Error()
			}
		}
	}
	if err != nil {
		return nil, fmt.Errorf("sheet: %s: %w", c.Label, err)
	}
	return nil, fmt.Errorf("%w: %s is %.0f mm too long for %s even in the smallest letters; shorten notes, names and the words for reading settings",
		ErrPage, c.Label, over, paper)
}

// laid returns the pages at one step; nil if they do not fit, with what is too long (mm),
// or with the error of a figure.
func (c *Content) laid(f *fonts, paper Paper, s step, pages int, spare float64) (book []*layout, over float64, err error) {
	for i, parts := range c.parts(pages) {
		blank := func(figuresMM float64) *layout {
			return &layout{fonts: f, step: s, paper: paper, page: i + 1, of: pages, parts: slices.Clone(parts), figuresMM: figuresMM}
		}
		if over = blank(s.figure).fill(c) + spare; over > 0 {
			return nil, over, nil
		}
		rows := 0
		for _, p := range parts {
			if p.Figures != nil {
				rows++
			}
		}
		const most = 110 // of height for figures: more only moves the rest down
		l := blank(min(s.figure-over/float64(max(rows, 1)), most))
		tallest := 0.0
		for k := range l.parts {
			p := &l.parts[k]
			if p.pictures, err = c.figures(p.Figures, l.share(p), l.figuresMM); err != nil {
				return nil, 0, err
			}
			tallest = max(tallest, height(p.pictures))
		}
		l.figuresMM = tallest
		l.fill(c)
		l.place()
		book = append(book, l)
	}
	return book, 0, nil
}

func (l *layout) body() face  { return face{size: l.step.text} }
func (l *layout) bold() face  { return face{size: l.step.text, bold: true} }
func (l *layout) large() face { return face{size: l.value, bold: true} }

// write places a line of text with its upper edge at y, and keeps its box.
func (l *layout) write(x, y float64, words string, in face) float64 {
	return l.put(text{x: x, y: y, face: in, words: l.printable(words)})
}

// put places t, whose y is that of its upper edge, and returns its width.
func (l *layout) put(t text) float64 {
	if t.words == "" {
		return 0
	}
	w, top := l.width(t.words, t.face), t.y
	l.boxes = append(l.boxes, box{t.words, t.x, top, w, (rise + fall) * t.face.size * mmPerPoint})
	t.y += rise * t.face.size * mmPerPoint
	l.texts = append(l.texts, t)
	return w
}

// rule draws a horizontal line.
func (l *layout) rule(x, y, w, width float64) {
	l.rules = append(l.rules, line{x, y, x + w, y, width})
}

// blank keeps a box free for handwriting.
func (l *layout) blank(what string, x, y, w, h float64) {
	l.boxes = append(l.boxes, box{what, x, y, w, h})
}

// tick draws a box to tick as high as letters of a face, with its upper edge where
// theirs is.
func (l *layout) tick(x, y float64, in face) {
	side := tickSide(in)
	y += 0.18 * in.size * mmPerPoint
	l.fields = append(l.fields, field{x, y, side, side, 1, 0.25})
	l.blank("tick", x, y, side, side)
}

// tickSide returns the side of a box to tick.
func tickSide(in face) float64 { return 0.75 * in.size * mmPerPoint }

// figures draws figures, each no larger than width and height (mm).
func (c *Content) figures(names []string, width, height float64) ([]plots.Figure, error) {
	r := c.source.Result
	opt := plots.Options{
		Size: plots.Size{Width: vg.Length(width) * vg.Millimeter, Height: vg.Length(height) * vg.Millimeter}, Compact: true, Units: c.source.Units,
	}
	draw := map[string]func() (plots.Figure, error){
		mountView: func() (plots.Figure, error) {
			lead := &r.Postures[max(r.Job.Leading(), 0)]
			return plots.Numbered(r.Set.Chain, r.Set.Settings, lead.InCarrier.Carrier, r.Job.Device.Screen, opt)
		},
	}
	for _, v := range plots.Views(r) {
		draw[v.String()] = func() (plots.Figure, error) { return plots.Scene(r, v, opt) }
	}
	var all []plots.Figure
	for _, name := range names {
		f, err := draw[name]()
		if err != nil {
			return nil, err
		}
		all = append(all, f)
	}
	return all, nil
}

// height returns the height of the tallest figure (mm).
func height(figures []plots.Figure) float64 {
	tallest := 0.0
	for _, f := range figures {
		tallest = max(tallest, float64(f.Size.Height/vg.Millimeter))
	}
	return tallest
}

// share returns the width that each figure of a part may have, less the space between (mm).
func (l *layout) share(p *Part) float64 {
	width, _ := l.paper.size()
	n := float64(max(len(p.Figures), 1))
	return (width-2*edge)/n - (n-1)*1
}

// place puts each figure into the middle of its share of its row.
func (l *layout) place() {
	for k := range l.parts {
		p := &l.parts[k]
		for i, f := range p.pictures {
			w, h := float64(f.Size.Width/vg.Millimeter), float64(f.Size.Height/vg.Millimeter)
			x := edge + float64(i)*(l.share(p)+2) + (l.share(p)-w)/2
			y := p.y + (l.figuresMM-h)/2
			l.pictures = append(l.pictures, picture{x, y, f})
			l.boxes = append(l.boxes, box{f.Title, x, y, w, h})
		}
	}
}
