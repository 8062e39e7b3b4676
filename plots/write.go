package plots

import (
	"fmt"
	"hash/fnv"
	"html"
	"io"
	"regexp"
	"strings"

	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"
)

// fontFamily is what viewers look for: Arial has the widths of Liberation Sans, so
// the layout holds where only one of them is installed.
const fontFamily = "font-family:Liberation Sans,Arial,Helvetica,sans-serif"

// WriteSVG writes f as an SVG drawing of its size. The drawing carries the
// figure's title and description for screen readers, under ids made from all that
// it holds, so that different drawings can be on one page. The same figure gives
// the same bytes. The error wraps [ErrFigure] or is w's own.
func WriteSVG(w io.Writer, f Figure) error {
	return writeSVG(w, f, `<?xml version="1.0" encoding="UTF-8"?>`+"\n", "")
}

// WriteInlineSVG writes f as an svg element for the middle of a page: as
// [WriteSVG] does, without the line that a document begins with, and with ids that
// begin with id. An id that no other element's begins with keeps them unique on the
// page even where a figure is on it twice. It is a letter followed by letters,
// digits and hyphens (ASCII).
func WriteInlineSVG(w io.Writer, f Figure, id string) error {
	if !regexp.MustCompile(`^[A-Za-z][A-Za-z0-9-]*$`).MatchString(id) {
		return fmt.Errorf("%w: id %q is not a letter followed by letters, digits and hyphens", ErrFigure, id)
	}
	return writeSVG(w, f, "", id)
}

// writeSVG writes a first line and f as an svg element; without an id its ids are made
// from all that it holds.
func writeSVG(w io.Writer, f Figure, first, id string) error {
	if err := f.check(); err != nil {
		return err
	}
	c := vgsvg.New(f.Size.Width, f.Size.Height)
	f.drawOn(c)
	var buf strings.Builder
	if _, err := c.WriteTo(&buf); err != nil {
		return fmt.Errorf("plots: write SVG: %w", err)
	}
	body := buf.String()[strings.Index(buf.String(), "<svg"):]
	if id == "" {
		h := fnv.New64a()
		_, _ = io.WriteString(h, f.Title+"\x00"+f.Desc+"\x00"+body) // a hash never fails
		id = fmt.Sprintf("figure-%016x", h.Sum64())
	}
	body = strings.ReplaceAll(body, "font-family:Liberation Sans", fontFamily)
	end := strings.Index(body, ">") + 1
	_, err := fmt.Fprintf(w, `%s<svg role="img" aria-labelledby="%[2]s-title" aria-describedby="%[2]s-desc"%[3]s`+
		"\n<title id=\"%[2]s-title\">%[4]s</title>\n<desc id=\"%[2]s-desc\">%[5]s</desc>%[6]s",
		first, id, body[len("<svg"):end], html.EscapeString(f.Title), html.EscapeString(f.Desc), body[end:])
	if err != nil {
		return fmt.Errorf("plots: write SVG: %w", err)
	}
	return nil
}

// WritePDF writes f as a PDF document of one page of the figure's size. The same
// figure gives the same bytes: the document carries no date of its own. The
// error wraps [ErrFigure] or is w's own.
func WritePDF(w io.Writer, f Figure) error {
	if err := f.check(); err != nil {
		return err
	}
	width, height := f.Size.Width.Points(), f.Size.Height.Points()
	pdf := NewPDF("pt", width, height)
	pdf.SetTitle(f.Title, true)
	pdf.SetSubject(f.Desc, true)
	f.DrawPDF(pdf, 0, 0)
	if err := pdf.Output(w); err != nil {
		return fmt.Errorf("plots: write PDF: %w", err)
	}
	return nil
}

// pngDPI is the resolution of pictures: sharp on a screen, readable in print.
const pngDPI = 150

// WritePNG writes f as a picture of 150 dots per inch. The same figure gives the
// same bytes on the same kind of processor. The error wraps [ErrFigure] or is w's
// own.
func WritePNG(w io.Writer, f Figure) error {
	if err := f.check(); err != nil {
		return err
	}
	c := vgimg.PngCanvas{Canvas: vgimg.NewWith(vgimg.UseWH(f.Size.Width, f.Size.Height), vgimg.UseDPI(pngDPI))}
	f.drawOn(c)
	if _, err := c.WriteTo(w); err != nil {
		return fmt.Errorf("plots: write PNG: %w", err)
	}
	return nil
}
