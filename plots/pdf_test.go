package plots_test

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"testing"

	"codeberg.org/go-pdf/fpdf"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"sightpost/plots"
)

// TestPDFLooksAlike draws every figure as PDF, has pdftoppm of Poppler make a
// picture of it, and compares that with the PNG. It needs pdftoppm and runs where
// SIGHTPOST_PDFTOPPM names it.
func TestPDFLooksAlike(t *testing.T) {
	tool := os.Getenv("SIGHTPOST_PDFTOPPM")
	if tool == "" {
		t.Skip("SIGHTPOST_PDFTOPPM names no program that turns PDF into PNG")
	}
	all := figures(t)
	all["every stroke"] = strokes(t)
	for name, f := range all {
		t.Run(name, func(t *testing.T) {
			var pdf, direct bytes.Buffer
			if err := plots.WritePDF(&pdf, f); err != nil {
				t.Fatal(err)
			}
			if err := plots.WritePNG(&direct, f); err != nil {
				t.Fatal(err)
			}
			dir := t.TempDir()
			in := filepath.Join(dir, "figure.pdf")
			if err := os.WriteFile(in, pdf.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
			out, err := exec.Command(tool, "-r", "150", "-png", "-singlefile", in, filepath.Join(dir, "figure")).CombinedOutput()
			if err != nil {
				t.Fatalf("%v: %s", err, out)
			}
			through, err := os.ReadFile(filepath.Join(dir, "figure.png"))
			if err != nil {
				t.Fatal(err)
			}
			off := unlike(t, direct.Bytes(), through)
			t.Logf("%.2f %% of what is drawn differs", 100*off)
			if off > unlikeTol {
				t.Errorf("%.2f %% of what is drawn differs, more than %.1f %%", 100*off, 100*unlikeTol)
			}
		})
	}
}

// unlikeTol is the part of what is drawn that may differ: the two programs smooth
// edges and text differently, to the tune of 0.0003.
const unlikeTol = 0.005

// unlike returns the part of 8 by 8 squares whose mean gray differs by more than
// a sixth of the way from black to white, of those that are not white in both.
func unlike(t *testing.T, a, b []byte) float64 {
	t.Helper()
	p, q := decoded(t, a), decoded(t, b)
	size := p.Bounds().Size()
	if d := q.Bounds().Size().Sub(size); d.X*d.X > 1 || d.Y*d.Y > 1 {
		t.Fatalf("sizes %v and %v", size, q.Bounds().Size())
	}
	const square, sixth, white = 8, 255 / 6, 254
	off, all := 0, 0
	for y := 0; y+square < size.Y; y += square {
		for x := 0; x+square < size.X; x += square {
			v, w := mean(p, x, y, square), mean(q, x, y, square)
			if v < white || w < white {
				all++
			}
			if math.Abs(v-w) > sixth {
				off++
			}
		}
	}
	return float64(off) / float64(all)
}

func decoded(t *testing.T, data []byte) image.Image {
	t.Helper()
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// mean returns the mean gray (0 to 255) of a square.
func mean(img image.Image, x0, y0, n int) float64 {
	sum := 0.0
	for y := y0; y < y0+n; y++ {
		for x := x0; x < x0+n; x++ {
			at := img.Bounds().Min.Add(image.Pt(x, y))
			sum += float64(color.GrayModel.Convert(img.At(at.X, at.Y)).(color.Gray).Y)
		}
	}
	return sum / float64(n*n)
}

// strokes returns a figure of what a canvas can do and the others do not use.
func strokes(t *testing.T) plots.Figure {
	t.Helper()
	p := plot.New()
	p.HideAxes()
	p.Add(oddments{})
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, 1, 0, 1
	return plots.Figure{Plot: p, Size: plots.Size{Width: 70 * vg.Millimeter, Height: 130 * vg.Millimeter}}
}

// oddments draws arcs and curves, turned and scaled.
type oddments struct{}

// Plot draws on the left part of the canvas.
func (oddments) Plot(c draw.Canvas, _ *plot.Plot) {
	at := func(x, y vg.Length) vg.Point { return vg.Point{X: c.Min.X + x, Y: c.Min.Y + y} }
	c.Push()
	defer c.Pop()
	c.SetColor(color.NRGBA{R: 200, A: 120})
	var wedge vg.Path
	wedge.Move(at(60, 150))
	wedge.Arc(at(60, 150), 30, 0.3, 4)
	wedge.Close()
	c.Fill(wedge)
	c.SetLineWidth(2)
	c.SetLineDash([]vg.Length{4, 2}, 1)
	var bows vg.Path
	bows.Arc(at(60, 240), 30, 1, -5)
	bows.Move(at(20, 300))
	bows.QuadTo(at(60, 340), at(100, 300))
	bows.CubeTo(at(120, 260), at(20, 260), at(20, 300))
	c.Stroke(bows)
	c.Translate(at(140, 160))
	c.Rotate(0.7)
	c.Scale(1.5, 1.5)
	var box vg.Path
	box.Move(vg.Point{})
	box.Line(vg.Point{X: 20})
	box.Line(vg.Point{X: 20, Y: 10})
	box.Close()
	c.Fill(box)
}

// TestPDFCanvasBesideOthers draws a figure into a document in millimeters that
// holds other text, and checks that both are there and the document is sound.
func TestPDFCanvasBesideOthers(t *testing.T) {
	f := figures(t)["scene-compact"]
	pdf := fpdf.New("P", "mm", "A4", "")
	pdf.SetCompression(false)
	pdf.AddPage()
	pdf.SetFont("Helvetica", "", 12)
	pdf.Text(20, 20, "before")
	f.DrawPDF(pdf, 20, 30)
	pdf.SetFont("Helvetica", "", 12)
	pdf.Text(20, 200, "after")
	if a, _ := pdf.GetAlpha(); a != 1 {
		t.Errorf("opacity is left at %v", a)
	}
	var buf bytes.Buffer
	if err := pdf.Output(&buf); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"(before) Tj", "(after) Tj"} {
		if !bytes.Contains(buf.Bytes(), []byte(want)) {
			t.Errorf("the document lacks %s", want)
		}
	}
}

// TestWhiteTextBesideFigure: white text after a figure whose last fill was white, too, is
// written in white.
func TestWhiteTextBesideFigure(t *testing.T) {
	pdf := plots.NewPDF("pt", 200, 100)
	pdf.SetCompression(false)
	p := plot.New()
	p.HideAxes()
	p.Add(draws(func(c draw.Canvas, _ *plot.Plot) {
		c.FillPolygon(color.White, []vg.Point{{}, {X: 10}, {Y: 10}})
	}))
	plots.Figure{Plot: p, Size: plots.Size{Width: 100, Height: 100}}.DrawPDF(pdf, 0, 0)
	pdf.SetTextColor(255, 255, 255)
	pdf.SetFont("Helvetica", "", 12)
	pdf.Text(120, 50, "white")
	var out bytes.Buffer
	if err := pdf.Output(&out); err != nil {
		t.Fatal(err)
	}
	if !regexp.MustCompile(`q 1\.000 g BT [^\n]*\(white\)`).Match(out.Bytes()) {
		t.Error("the text takes the color that was set before the figure")
	}
}

// draws is a plotter made of a function.
type draws func(c draw.Canvas, p *plot.Plot)

// Plot draws.
func (f draws) Plot(c draw.Canvas, p *plot.Plot) { f(c, p) }
