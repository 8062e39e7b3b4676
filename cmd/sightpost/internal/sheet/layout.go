package sheet

import (
	"errors"
	"fmt"

	"gonum.org/v1/plot/vg"

	"sightpost/plots"
)

// ErrPage marks a sheet that does not fit on one page at the smallest letters.
var ErrPage = errors.New("sheet: does not fit on one page")

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
	figure float64 // least height kept for figures (mm)
	gap    float64 // between parts (mm)
	short  bool    // leave out what is told elsewhere
	brief  bool    // keep one line for remarks, not two
}

// steps returns the sizes from the most generous to the smallest that can be read
// without effort at arm's length.
func steps() []step {
	return []step{
		{text: 9.5, value: 18, figure: 80, gap: 3},
		{text: 9, value: 17, figure: 76, gap: 2.6},
		{text: 8.5, value: 16, figure: 67, gap: 2.2},
		{text: 8.5, value: 15, figure: 60, gap: 2},
		{text: 8, value: 15, figure: 55, gap: 1.8},
		{text: 8, value: 14, figure: 55, gap: 1.6},
		{text: 7.5, value: 14, figure: 50, gap: 1.6},
		{text: 7.5, value: 13, figure: 48, gap: 1.4},
		{text: 7.5, value: 12, figure: 46, gap: 1.2},
		{text: 7.5, value: 12, figure: 44, gap: 1.2, short: true},
		{text: 7.5, value: 11, figure: 44, gap: 0.8, short: true},
		{text: 7.5, value: 10, figure: 44, gap: 0.6, short: true, brief: true},
		{text: 7.5, value: 9, figure: 44, gap: 0.6, short: true, brief: true},
	}
}

// layout is a sheet placed on a page.
type layout struct {
	*fonts
	step
	paper    Paper
	texts    []text
	rules    []line
	fields   []field
	pictures []picture
	row      float64 // upper edge of the figures, mm
	boxes    []box
	// The sections before the settings, and those of the left and the right column.
	lead, left, right []Section
}

// newLayout places c on a page at the largest step at which all of it fits, with some
// height (mm) to spare. The error wraps [ErrPage], or is that of the figures.
func newLayout(c *Content, f *fonts, paper Paper, spare float64) (*layout, error) {
	over := 0.0
	var figures error
	for _, s := range steps() {
		trial := &layout{fonts: f, step: s, paper: paper}
		if over = trial.fill(c) + spare; over > 0 {
			continue
		}
		const most = 95 // of height for figures: more only moves the rest down
		var drawn []plots.Figure
		if drawn, figures = c.figures(trial.half(), min(s.figure-over, most)); figures != nil {
			continue
		}
		l := &layout{fonts: f, step: s, paper: paper}
		l.figure = height(drawn)
		l.fill(c)
		l.place(drawn)
		return l, f.pdf.Error()
	}
	if figures != nil {
		return nil, fmt.Errorf("sheet: %s: %w", c.Label, figures)
	}
	return nil, fmt.Errorf("%w: %s is %.0f mm too long for %s even in the smallest letters; shorten notes, names and the words for reading settings",
		ErrPage, c.Label, over, paper)
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

// figures returns the views from the side and from above, each no larger than
// width and height (mm).
func (c *Content) figures(width, height float64) ([]plots.Figure, error) {
	size := plots.Size{Width: vg.Length(width) * vg.Millimeter, Height: vg.Length(height) * vg.Millimeter}
	var all []plots.Figure
	for _, view := range []plots.View{plots.Side, plots.Top} {
		f, err := plots.Scene(c.source.Result, view, plots.Options{Size: size, Compact: true, Units: c.source.Units})
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

// half returns the width of half the page, less the space between (mm).
func (l *layout) half() float64 {
	width, _ := l.paper.size()
	return (width-2*edge)/2 - 1
}

// place puts each figure into the middle of its half of their row.
func (l *layout) place(figures []plots.Figure) {
	for i, f := range figures {
		w, h := float64(f.Size.Width/vg.Millimeter), float64(f.Size.Height/vg.Millimeter)
		x := edge + float64(i)*(l.half()+2) + (l.half()-w)/2
		y := l.row + (l.figure-h)/2
		l.pictures = append(l.pictures, picture{x, y, f})
		l.boxes = append(l.boxes, box{f.Title, x, y, w, h})
	}
}
