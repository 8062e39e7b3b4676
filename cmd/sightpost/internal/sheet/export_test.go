package sheet

import (
	"slices"

	"gonum.org/v1/plot/vg"
)

// Box is a rectangle of a layout (mm from the upper left corner of the page).
type Box struct {
	What       string
	X, Y, W, H float64
}

// Edge is the margin of the page (mm), Smallest the size of the smallest letters.
const (
	Edge     = edge
	Smallest = smallest
)

// Boxes lays the sheet out and returns what is placed on each page, the least size of
// letters (points), and how many figures there are.
func (c *Content) Boxes(paper Paper) (pages [][]Box, letters float64, figures int, err error) {
	book, err := newBook(c, paper, 0)
	if err != nil {
		return nil, 0, 0, err
	}
	letters = book[0].texts[0].face.size
	for _, l := range book {
		for _, t := range l.texts {
			letters = min(letters, t.face.size)
		}
		pages, figures = append(pages, l.boxes()), figures+len(l.pictures)
	}
	return pages, letters, figures, nil
}

// boxes returns the texts and figures of a page, and the room for ticks and handwriting.
func (l *layout) boxes() []Box {
	var boxes []Box
	for _, t := range l.texts {
		tall := t.face.size * mmPerPoint
		boxes = append(boxes, Box{t.words, t.x, t.y - rise*tall, l.width(t.words, t.face), (rise + fall) * tall})
	}
	for _, f := range l.fields {
		room := Box{"room", f.x, f.y, f.w, f.h}
		for _, b := range boxes { // below its name
			if b.X > f.x && b.Y > f.y && b.X < f.x+f.w && b.Y < f.y+1 {
				room = Box{"room for " + b.What, f.x, b.Y + b.H, f.w, f.y + f.h - b.Y - b.H}
			}
		}
		if f.frame > 0 {
			boxes = append(boxes, room)
		}
	}
	for _, r := range l.rules {
		if r.width == writing {
			boxes = append(boxes, Box{"room to write", r.x1, r.y1 + 0.3 - l.bold().row(), r.x2 - r.x1, l.bold().row()})
		}
	}
	for _, p := range l.pictures {
		boxes = append(boxes, Box{p.figure.Title, p.x, p.y, float64(p.figure.Size.Width / vg.Millimeter), float64(p.figure.Size.Height / vg.Millimeter)})
	}
	return boxes
}

// Size returns width and height of the paper (mm).
func (p Paper) Size() (width, height float64) { return p.size() }

// Lines breaks text as the sheet does.
func Lines(text string, size, width float64) (lines []string, widths []float64, err error) {
	f, err := newFonts()
	if err != nil {
		return nil, nil, err
	}
	lines = f.lines(text, face{size: size}, width)
	for _, s := range lines {
		widths = append(widths, f.width(s, face{size: size}))
	}
	return lines, widths, nil
}

// LeftOf returns how many of several heights go to the left column.
func LeftOf(tall []float64) int { return leftOf(tall) }

// Sections are all but those to set.
func (c *Content) Sections() []Section {
	var all []Section
	for _, p := range c.parts {
		all = slices.Concat(all, p.Wide, p.Left, p.Right, p.Columns)
	}
	return slices.DeleteFunc(all, func(s Section) bool { return s.Settings != nil })
}

// Table is what to set.
func (c *Content) Table() Section {
	for _, p := range c.parts {
		if len(p.Wide) > 0 && p.Wide[0].Settings != nil {
			return p.Wide[0]
		}
	}
	return Section{}
}
