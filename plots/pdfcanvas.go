package plots

import (
	"bytes"
	"fmt"
	"hash/fnv"
	"image"
	"image/color"
	"image/png"
	"math"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

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

// PDFCanvas draws a figure into a rectangle of a page of a PDF document, beside
// whatever else the document holds. Text stays text: it can be searched and
// copied, in any script that the font has.
//
// It keeps its own transform and hands the document places on the page, so that
// the document's coordinate system is never changed. It changes the document's
// font, colours and line style; opacity and dashes are put back after every
// stroke.
type PDFCanvas struct {
	pdf           *fpdf.Fpdf
	width, height vg.Length
	state         pdfState
	saved         []pdfState
}

// pdfState is what Push saves: a transform from figure points to page units, and
// the pen.
type pdfState struct {
	// page = (xx x + xy y + x0, yx x + yy y + y0)
	xx, xy, yx, yy, x0, y0 float64
	colour                 color.Color
	line                   vg.Length
	dashes                 []vg.Length
	offset                 vg.Length
}

// NewPDFCanvas returns a canvas on the current page of pdf whose upper left
// corner is at x, y and whose size is w by h, all in the document's unit.
func NewPDFCanvas(pdf *fpdf.Fpdf, x, y, w, h float64) *PDFCanvas {
	unit := 1 / pdf.GetConversionRatio() // page units per point
	c := &PDFCanvas{pdf: pdf, width: vg.Length(w / unit), height: vg.Length(h / unit)}
	c.state = pdfState{xx: unit, yy: -unit, x0: x, y0: y + h}
	vg.Initialize(c)
	return c
}

// Size returns the canvas's width and height.
func (c *PDFCanvas) Size() (w, h vg.Length) { return c.width, c.height }

// SetLineWidth sets the width of lines.
func (c *PDFCanvas) SetLineWidth(w vg.Length) { c.state.line = w }

// SetLineDash sets the dash pattern of lines.
func (c *PDFCanvas) SetLineDash(pattern []vg.Length, offset vg.Length) {
	c.state.dashes, c.state.offset = pattern, offset
}

// SetColor sets the colour of lines, fills and text; nil is black.
func (c *PDFCanvas) SetColor(clr color.Color) { c.state.colour = clr }

// Rotate turns what follows counterclockwise by radians.
func (c *PDFCanvas) Rotate(radians float64) {
	s, k := math.Sincos(radians)
	t := &c.state
	t.xx, t.xy = t.xx*k+t.xy*s, t.xy*k-t.xx*s
	t.yx, t.yy = t.yx*k+t.yy*s, t.yy*k-t.yx*s
}

// Translate moves what follows.
func (c *PDFCanvas) Translate(p vg.Point) { c.state.x0, c.state.y0 = c.at(p) }

// Scale scales what follows. Text and line widths follow the mean of both.
func (c *PDFCanvas) Scale(x, y float64) {
	t := &c.state
	t.xx, t.yx = t.xx*x, t.yx*x
	t.xy, t.yy = t.xy*y, t.yy*y
}

// Push saves transform and pen.
func (c *PDFCanvas) Push() { c.saved = append(c.saved, c.state) }

// Pop restores what the last Push saved.
func (c *PDFCanvas) Pop() {
	last := len(c.saved) - 1
	c.state, c.saved = c.saved[last], c.saved[:last]
}

// Stroke draws the line along a path.
func (c *PDFCanvas) Stroke(path vg.Path) {
	if c.state.line <= 0 {
		return
	}
	r, g, b, opacity := components(c.state.colour)
	k := c.magnification()
	c.pdf.SetDrawColor(r, g, b)
	c.pdf.SetLineWidth(c.state.line.Points() * k)
	dashes := make([]float64, len(c.state.dashes))
	for i, d := range c.state.dashes {
		dashes[i] = d.Points() * k
	}
	c.pdf.SetDashPattern(dashes, c.state.offset.Points()*k)
	c.draw(path, "D", opacity)
	c.pdf.SetDashPattern(nil, 0)
}

// Fill fills a path.
func (c *PDFCanvas) Fill(path vg.Path) {
	r, g, b, opacity := components(c.state.colour)
	c.pdf.SetFillColor(r, g, b)
	c.draw(path, "F", opacity)
}

// FillString writes text with its baseline starting at p.
func (c *PDFCanvas) FillString(face font.Face, p vg.Point, text string) {
	if face.Font.Size <= 0 || text == "" || !c.useFont(face) {
		return
	}
	r, g, b, opacity := components(c.state.colour)
	c.pdf.SetTextColor(r, g, b)
	x, y := c.at(p)
	angle := math.Atan2(-c.state.yx, c.state.xx)
	c.faded(opacity, func() {
		if angle == 0 {
			c.pdf.Text(x, y, text)
			return
		}
		c.pdf.TransformBegin()
		c.pdf.TransformRotate(angle*180/math.Pi, x, y)
		c.pdf.Text(x, y, text)
		c.pdf.TransformEnd()
	})
}

// useFont makes face the document's font, embedding it the first time, and
// reports whether that could be done.
func (c *PDFCanvas) useFont(face font.Face) bool {
	name := face.Name()
	if c.pdf.GetFontDesc(name, "") == (fpdf.FontDescType{}) {
		var raw bytes.Buffer
		if _, err := face.Face.WriteSourceTo(nil, &raw); err != nil {
			c.pdf.SetError(fmt.Errorf("plots: font %q: %w", name, err))
			return false
		}
		c.pdf.AddUTF8FontFromBytes(name, "", raw.Bytes())
	}
	points := face.Font.Size.Points() * c.magnification() * c.pdf.GetConversionRatio()
	c.pdf.SetFont(name, "", points)
	return c.pdf.Ok()
}

// DrawImage draws a picture in a rectangle of the canvas, upright even where the
// canvas is turned.
func (c *PDFCanvas) DrawImage(rect vg.Rectangle, img image.Image) {
	var buf bytes.Buffer
	if err := png.Encode(&buf, img); err != nil {
		c.pdf.SetError(fmt.Errorf("plots: picture: %w", err))
		return
	}
	h := fnv.New64a()
	h.Write(buf.Bytes())
	name := fmt.Sprintf("picture-%016x", h.Sum64())
	opts := fpdf.ImageOptions{ImageType: "png"}
	c.pdf.RegisterImageOptionsReader(name, opts, &buf)
	x0, y0 := c.at(rect.Min)
	x1, y1 := c.at(rect.Max)
	c.pdf.ImageOptions(name, min(x0, x1), min(y0, y1), math.Abs(x1-x0), math.Abs(y1-y0), false, opts, 0, "")
}

// at returns the place of p on the page.
func (c *PDFCanvas) at(p vg.Point) (x, y float64) {
	t := &c.state
	px, py := p.X.Points(), p.Y.Points()
	return t.xx*px + t.xy*py + t.x0, t.yx*px + t.yy*py + t.y0
}

// magnification returns page units per point of a length.
func (c *PDFCanvas) magnification() float64 {
	t := &c.state
	return math.Sqrt(math.Abs(t.xx*t.yy - t.xy*t.yx))
}

// faded runs f with the document's opacity set, and sets it back.
func (c *PDFCanvas) faded(opacity float64, f func()) {
	if opacity == 1 {
		f()
		return
	}
	c.pdf.SetAlpha(opacity, "Normal")
	f()
	c.pdf.SetAlpha(1, "Normal")
}

// draw traces a path and paints it.
func (c *PDFCanvas) draw(path vg.Path, paint string, opacity float64) {
	c.faded(opacity, func() {
		started := false
		for _, comp := range path {
			switch comp.Type {
			case vg.MoveComp:
				c.pdf.MoveTo(c.at(comp.Pos))
			case vg.LineComp:
				c.pdf.LineTo(c.at(comp.Pos))
			case vg.ArcComp:
				c.arc(comp, started)
			case vg.CurveComp:
				c.curve(comp)
			case vg.CloseComp:
				c.pdf.ClosePath()
			}
			started = true
		}
		if started {
			c.pdf.DrawPath(paint)
		}
	})
}

// curve traces a quadratic or a cubic Bézier curve.
func (c *PDFCanvas) curve(comp vg.PathComp) {
	x, y := c.at(comp.Pos)
	switch len(comp.Control) {
	case 1:
		cx, cy := c.at(comp.Control[0])
		c.pdf.CurveTo(cx, cy, x, y)
	case 2:
		ax, ay := c.at(comp.Control[0])
		bx, by := c.at(comp.Control[1])
		c.pdf.CurveBezierCubicTo(ax, ay, bx, by, x, y)
	}
}

// arc traces an arc of a circle as Bézier curves of at most a quarter turn, whose
// control points lie 4/3 tan(a/4) of the radius along the tangents for an arc
// of angle a; they leave the circle by less than 0.03 % of its radius.
//
// Reference: M. Goldapp, "Approximation of circular arcs by cubic polynomials",
// Computer Aided Geometric Design 8(3), 1991, 227-238, from memory.
func (c *PDFCanvas) arc(comp vg.PathComp, started bool) {
	on := func(a, r, tangent float64) vg.Point {
		s, k := math.Sincos(a)
		return vg.Point{X: comp.Pos.X + vg.Length(r*k-tangent*s), Y: comp.Pos.Y + vg.Length(r*s+tangent*k)}
	}
	r, a := comp.Radius.Points(), comp.Start
	if started {
		c.pdf.LineTo(c.at(on(a, r, 0)))
	} else {
		c.pdf.MoveTo(c.at(on(a, r, 0)))
	}
	n := max(1, int(math.Ceil(math.Abs(comp.Angle)/(math.Pi/2))))
	step := comp.Angle / float64(n)
	lead := r * 4 / 3 * math.Tan(step/4)
	for range n {
		ax, ay := c.at(on(a, r, lead))
		bx, by := c.at(on(a+step, r, -lead))
		x, y := c.at(on(a+step, r, 0))
		c.pdf.CurveBezierCubicTo(ax, ay, bx, by, x, y)
		a += step
	}
}

// components returns a colour as the document takes it: red, green and blue not
// multiplied by opacity, and opacity.
func components(clr color.Color) (r, g, b int, opacity float64) {
	if clr == nil {
		return 0, 0, 0, 1
	}
	n := color.NRGBAModel.Convert(clr).(color.NRGBA)
	return int(n.R), int(n.G), int(n.B), float64(n.A) / 255
}
