package sheet

import (
	"fmt"
	"io"
	"strings"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"codeberg.org/go-pdf/fpdf"

	"sightpost/plots"
	"sightpost/plots/units"
)

// WritePDF writes the sheet as a PDF document of one to four pages; text is text and figures
// are drawn, so that both can be searched and enlarged. The same content gives
// the same bytes. The error wraps [ErrPage] or [plots.ErrFigure], or is w's own.
func (c *Content) WritePDF(w io.Writer, paper Paper) error {
	book, err := newBook(c, paper, 0)
	if err != nil {
		return err
	}
	width, height := paper.size()
	pdf := plots.NewPDF("mm", width, height)
	pdf.AddUTF8FontFromBytes(face{}.name(), "", liberationsansregular.TTF)
	pdf.AddUTF8FontFromBytes(face{bold: true}.name(), "", liberationsansbold.TTF)
	pdf.SetTitle(c.Title+" "+c.Label, true)
	pdf.SetLang("en")
	for i, l := range book {
		if i > 0 {
			pdf.AddPage()
		}
		l.print(pdf)
	}
	if err := pdf.Output(w); err != nil {
		return fmt.Errorf("sheet: write PDF: %w", err)
	}
	return nil
}

// print draws the layout: fields below, then lines, figures and text.
func (l *layout) print(pdf *fpdf.Fpdf) {
	for _, f := range l.fields {
		v := int(255*f.grey + 0.5)
		pdf.SetFillColor(v, v, v)
		pdf.SetDrawColor(0, 0, 0)
		style := "F"
		if f.frame > 0 {
			style = "FD"
			pdf.SetLineWidth(f.frame)
		}
		pdf.Rect(f.x, f.y, f.w, f.h, style)
	}
	for _, r := range l.rules {
		pdf.SetDrawColor(0, 0, 0)
		pdf.SetLineWidth(r.width)
		pdf.Line(r.x1, r.y1, r.x2, r.y2)
	}
	for _, p := range l.pictures {
		p.figure.DrawPDF(pdf, p.x, p.y)
	}
	for _, t := range l.texts {
		shade := 0
		if t.white {
			shade = 255
		}
		pdf.SetTextColor(shade, shade, shade)
		pdf.SetFont(t.face.name(), "", t.face.size)
		pdf.Text(t.x, t.y, t.words)
	}
}

// Paper is a size of paper, upright. The zero value is A4.
type Paper int

// The papers.
const (
	A4 Paper = iota
	Letter
)

// papers are the papers by name, with width and height in mm: ISO 216 for A4, and 8 1/2 by
// 11 inches.
var papers = [...]struct {
	name          string
	width, height float64
}{A4: {"A4", 210, 297}, Letter: {"letter", 215.9, 279.4}}

// PaperNamed returns the paper called name: "a4" or "letter".
func PaperNamed(name string) (Paper, error) {
	for p, of := range papers {
		if strings.ToLower(of.name) == name {
			return Paper(p), nil
		}
	}
	return A4, fmt.Errorf("unknown paper %q: choose a4 or letter", name)
}

// PaperFor returns the paper that goes with units: letter with inches.
func PaperFor(u units.Units) Paper {
	if u == units.Inch {
		return Letter
	}
	return A4
}

// String returns the name of the paper as style sheets have it.
func (p Paper) String() string { return papers[p].name }

// size returns width and height in mm.
func (p Paper) size() (width, height float64) { return papers[p].width, papers[p].height }

// edge is the margin of the page on every side (mm): what common printers leave
// blank, and a little more.
const edge = 9
