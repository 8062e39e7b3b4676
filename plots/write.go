package plots

import (
	"bytes"
	"compress/zlib"
	"encoding/base64"
	"fmt"
	"hash/fnv"
	"html"
	"image"
	"image/color"
	"io"
	"math"
	"regexp"
	"slices"
	"strings"
	"sync"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"
)

// fontFamily is what viewers look for: Arial has the widths of Liberation Sans, so
// the layout holds where only one of them is there.
const fontFamily = "font-family:" + FontName + ",Liberation Sans,Arial,Helvetica,sans-serif"

// WriteSVG writes f as an SVG drawing of its size. The drawing brings the letters that it
// is written in, so that it looks the same everywhere, and carries the
// figure's title and description for screen readers, under ids made from all that
// it holds, so that different drawings can be on one page. The same figure gives
// the same bytes. The error wraps [ErrFigure] or is w's own.
func WriteSVG(w io.Writer, f Figure) error {
	return writeSVG(w, f, `<?xml version="1.0" encoding="UTF-8"?>`+"\n", "")
}

// WriteInlineSVG writes f as an svg element for the middle of a page: as
// [WriteSVG] does, without the line that a document begins with and the letters, which the
// page brings ([FontRule]), and with ids that begin with id. An id that no other element's
// begins with keeps them unique on the page even where a figure is on it twice. It is a
// letter followed by letters, digits and hyphens (ASCII), or empty for the ids of [WriteSVG].
func WriteInlineSVG(w io.Writer, f Figure, id string) error {
	if !regexp.MustCompile(`^([A-Za-z][A-Za-z0-9-]*)?$`).MatchString(id) {
		return fmt.Errorf("%w: id %q is not a letter followed by letters, digits and hyphens", ErrFigure, id)
	}
	return writeSVG(w, f, "", id)
}

// texts are the texts of an SVG drawing that are words.
var texts = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`>([^<]*\pL[^<]*)</text>`) })

// writeSVG writes f as an svg element, as a document of its own with its letters after a first
// line; without an id its ids are made from all that it holds.
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
	var desc []string // what is written in the figure, but for its title and the numbers of axes
	for _, m := range texts().FindAllStringSubmatch(body, -1) {
		if text := html.UnescapeString(m[1]); !slices.Contains(strings.Split(f.Plot.Title.Text, "\n"), text) {
			desc = append(desc, text)
		}
	}
	if id == "" {
		h := fnv.New64a()
		_, _ = io.WriteString(h, f.Title+"\x00"+body) // a hash never fails
		id = fmt.Sprintf("figure-%016x", h.Sum64())
	}
	body = strings.ReplaceAll(body, "font-family:Liberation Sans", fontFamily)
	style := ""
	if first != "" {
		rule, err := FontRule(body)
		if err != nil {
			return err
		}
		style = "\n<style>" + rule + "</style>"
	}
	end := strings.Index(body, ">") + 1
	_, err := fmt.Fprintf(w, `%s<svg role="img" aria-labelledby="%[2]s-title" aria-describedby="%[2]s-desc"%[3]s`+
		"\n<title id=\"%[2]s-title\">%[4]s</title>\n<desc id=\"%[2]s-desc\">%[5]s</desc>%[6]s%[7]s",
		first, id, body[len("<svg"):end], html.EscapeString(f.Title), html.EscapeString(strings.Join(desc, "; ")), style, body[end:])
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

// NewPDF returns a document of one empty page of a size in a unit: "mm" or "pt". It
// carries no date of its own, so that the same drawing gives the same bytes.
func NewPDF(unit string, width, height float64) *fpdf.Fpdf {
	pdf := fpdf.NewCustom(&fpdf.InitType{UnitStr: unit, Size: fpdf.SizeType{Wd: width, Ht: height}})
	undated := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	pdf.SetCreationDate(undated)
	pdf.SetModificationDate(undated)
	pdf.SetCatalogSort(true)
	pdf.SetAutoPageBreak(false, 0)
	pdf.AddPage()
	return pdf
}

// DrawPDF draws f on the current page of a document, beside whatever else it holds, with
// the upper left corner at x, y in the document's unit. Text stays text: it can be
// searched and copied, in any script that the font has. It changes the document's font
// and colors; all else is put back.
func (f Figure) DrawPDF(pdf *fpdf.Fpdf, x, y float64) {
	unit := 1 / pdf.GetConversionRatio()
	c := &pdfCanvas{pdf: pdf, unit: unit, x: x, y: y + f.Size.Height.Points()*unit}
	vg.Initialize(c)
	c.Push()
	f.drawOn(c)
	c.Pop()
	pdf.SetFillColor(0, 0, 0) // else the document takes it for the last of the figure
}

// pdfCanvas is a part of a page. Turns and moves are left to the document, in whose
// coordinates the canvas's lower left corner stays at x, y.
type pdfCanvas struct {
	pdf        *fpdf.Fpdf
	unit, x, y float64 // page units per point
	now        pdfPen
	saved      []pdfPen
}

// pdfPen is how lines, fills and text are drawn.
type pdfPen struct {
	color  color.Color
	line   vg.Length
	dashes []vg.Length
	offset vg.Length
}

// SetLineWidth sets the width of lines.
func (c *pdfCanvas) SetLineWidth(w vg.Length) { c.now.line = w }

// SetLineDash sets the dash pattern of lines.
func (c *pdfCanvas) SetLineDash(pattern []vg.Length, offset vg.Length) {
	c.now.dashes, c.now.offset = pattern, offset
}

// SetColor sets the color of lines, fills and text; nil is black.
func (c *pdfCanvas) SetColor(clr color.Color) { c.now.color = clr }

// Rotate turns what follows counterclockwise by radians.
func (c *pdfCanvas) Rotate(radians float64) { c.pdf.TransformRotate(radians*180/math.Pi, c.x, c.y) }

// Translate moves what follows.
func (c *pdfCanvas) Translate(p vg.Point) { c.pdf.TransformTranslate(c.of(p.X), -c.of(p.Y)) }

// Scale scales what follows.
func (c *pdfCanvas) Scale(x, y float64) { c.pdf.TransformScale(100*x, 100*y, c.x, c.y) }

// Push saves transform and pen.
func (c *pdfCanvas) Push() {
	c.saved = append(c.saved, c.now)
	c.pdf.TransformBegin()
}

// Pop restores what the last Push saved.
func (c *pdfCanvas) Pop() {
	last := len(c.saved) - 1
	c.now, c.saved = c.saved[last], c.saved[:last]
	c.pdf.TransformEnd()
}

// of returns a length in page units.
func (c *pdfCanvas) of(l vg.Length) float64 { return c.unit * l.Points() }

// at returns the place of p on the page.
func (c *pdfCanvas) at(p vg.Point) (x, y float64) { return c.x + c.of(p.X), c.y - c.of(p.Y) }

// colored hands the pen's color to set, and paints with its opacity.
func (c *pdfCanvas) colored(set func(r, g, b int), paint func()) {
	n := color.NRGBA{A: 0xff}
	if c.now.color != nil {
		n = color.NRGBAModel.Convert(c.now.color).(color.NRGBA)
	}
	set(int(n.R), int(n.G), int(n.B))
	if n.A < 0xff {
		c.pdf.SetAlpha(float64(n.A)/0xff, "Normal")
		defer c.pdf.SetAlpha(1, "Normal")
	}
	paint()
}

// Stroke draws the line along a path.
func (c *pdfCanvas) Stroke(path vg.Path) {
	if c.now.line <= 0 {
		return
	}
	c.pdf.SetLineWidth(c.of(c.now.line))
	var dashes []float64
	for _, d := range c.now.dashes {
		dashes = append(dashes, c.of(d))
	}
	c.pdf.SetDashPattern(dashes, c.of(c.now.offset))
	c.colored(c.pdf.SetDrawColor, func() { c.draw(path, "D") })
	c.pdf.SetDashPattern(nil, 0)
}

// Fill fills a path.
func (c *pdfCanvas) Fill(path vg.Path) {
	c.colored(c.pdf.SetFillColor, func() { c.draw(path, "F") })
}

// FillString writes text with its baseline starting at p. The document embeds its font
// the first time.
func (c *pdfCanvas) FillString(face font.Face, p vg.Point, text string) {
	if face.Font.Size <= 0 || text == "" {
		return
	}
	name := face.Name()
	if c.pdf.GetFontDesc(name, "") == (fpdf.FontDescType{}) {
		var raw bytes.Buffer
		if _, err := face.Face.WriteSourceTo(nil, &raw); err != nil {
			c.pdf.SetError(fmt.Errorf("plots: font %q: %w", name, err))
			return
		}
		c.pdf.AddUTF8FontFromBytes(name, "", raw.Bytes())
	}
	c.pdf.SetFont(name, "", face.Font.Size.Points())
	x, y := c.at(p)
	c.colored(c.pdf.SetTextColor, func() { c.pdf.Text(x, y, text) })
}

// DrawImage fails: figures are lines, fills and text.
func (c *pdfCanvas) DrawImage(vg.Rectangle, image.Image) {
	c.pdf.SetError(fmt.Errorf("%w: pictures are not drawn on PDF", ErrFigure))
}

// draw traces a path and paints it.
func (c *pdfCanvas) draw(path vg.Path, paint string) {
	for i, comp := range path {
		x, y := c.at(comp.Pos)
		switch {
		case comp.Type == vg.MoveComp:
			c.pdf.MoveTo(x, y)
		case comp.Type == vg.LineComp:
			c.pdf.LineTo(x, y)
		case comp.Type == vg.ArcComp:
			c.arc(comp, i == 0)
		case comp.Type == vg.CurveComp && len(comp.Control) == 1:
			ax, ay := c.at(comp.Control[0])
			c.pdf.CurveTo(ax, ay, x, y)
		case comp.Type == vg.CurveComp:
			ax, ay := c.at(comp.Control[0])
			bx, by := c.at(comp.Control[1])
			c.pdf.CurveBezierCubicTo(ax, ay, bx, by, x, y)
		case comp.Type == vg.CloseComp:
			c.pdf.ClosePath()
		}
	}
	if len(path) > 0 {
		c.pdf.DrawPath(paint)
	}
}

// arc traces an arc of a circle, in pieces of at most a quarter turn, of which the
// document makes smooth curves.
func (c *pdfCanvas) arc(comp vg.PathComp, first bool) {
	if first {
		s, k := math.Sincos(comp.Start)
		c.pdf.MoveTo(c.at(comp.Pos.Add(vg.Point{X: vg.Length(k), Y: vg.Length(s)}.Scale(comp.Radius))))
	}
	x, y := c.at(comp.Pos)
	r, degrees := c.of(comp.Radius), 180/math.Pi
	n := math.Ceil(math.Abs(comp.Angle) / (math.Pi / 2))
	for i := 0.0; i < n; i++ {
		c.pdf.ArcTo(x, y, r, r, 0, degrees*(comp.Start+comp.Angle*i/n), degrees*(comp.Start+comp.Angle*(i+1)/n))
	}
}

// usual is the rule with the usual letters, which every drawing brings, so that nearly all
// bring the same font, made once.
var usual = sync.OnceValues(func() (string, error) { return fontRule(usualLetters) })

// usualLetters are those of English words and of what is measured.
const usualLetters = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789" +
	" \u00a0!#%&'()+,-./:;?°±·×’…−"

// FontRule returns the CSS rule by which a page brings the letters of drawings that
// [WriteInlineSVG] wrote: the subset of the font that a PDF document with their texts embeds.
func FontRule(drawings ...string) (string, error) {
	var all strings.Builder
	for _, text := range regexp.MustCompile(`>([^<]*)</text>`).FindAllStringSubmatch(strings.Join(drawings, ""), -1) {
		all.WriteString(html.UnescapeString(text[1]))
	}
	letters := all.String()
	switch {
	case letters == "":
		return "", nil
	case strings.Trim(letters, usualLetters) == "":
		return usual()
	}
	return fontRule(usualLetters + letters)
}

// fontRule returns the rule with those letters of a text that the font has.
func fontRule(text string) (string, error) {
	pdf := NewPDF("pt", most.Points(), most.Points())
	face := lettering.Handler.Cache().Lookup(lettering.Font, textSize)
	(&pdfCanvas{pdf: pdf, unit: 1}).FillString(face, vg.Point{}, text)
	var out bytes.Buffer
	if err := pdf.Output(&out); err != nil {
		return "", fmt.Errorf("plots: font: %w", err)
	}
	_, stream, _ := bytes.Cut(out.Bytes(), []byte("/Length1 ")) // only fonts have one
	_, stream, _ = bytes.Cut(stream, []byte("stream\n"))
	r, err := zlib.NewReader(bytes.NewReader(stream))
	if err != nil {
		return "", fmt.Errorf("plots: font: %w", err)
	}
	font, err := io.ReadAll(r)
	if err != nil {
		return "", fmt.Errorf("plots: font: %w", err)
	}
	return "@font-face{font-family:" + FontName + ";src:url(data:font/ttf;base64," + base64.StdEncoding.EncodeToString(font) + ")}", nil
}

// FontName is what the letters of figures are called, other than the font that may be
// installed.
const FontName = "Figure Sans"
