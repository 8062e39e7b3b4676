package plots

import (
	"cmp"
	"errors"
	"fmt"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/recorder"

	"sightpost/plots/units"
)

// ErrFigure marks data that cannot be drawn: empty, not finite, or too large for
// the paper.
var ErrFigure = errors.New("plots: cannot be drawn")

// Size is a size on paper.
type Size struct{ Width, Height vg.Length }

// Landscape returns an A4 sheet on its side less margins of 10 mm.
func Landscape() Size { return Size{277 * vg.Millimeter, 190 * vg.Millimeter} }

// Options adjust a figure. The zero value is usable; a figure ignores what it has no
// use for.
type Options struct {
	// Label names the case in the title; empty means no name.
	Label string
	// Posture names the posture that is shown; empty means the leading one.
	Posture string
	// Size is the largest size on paper of a figure that is to scale, which is cut to
	// what it needs, and the greatest width of others; zero means [Landscape]. Where it is
	// narrow, numbers lead from the places of a drawing to its key.
	Size Size
	// Compact draws a [Scene] or a [View3D] for small paper: without key, other postures,
	// tracking volume, keep-clear zones and names of the axes, and with fewer labels.
	Compact bool
	// Units are those of every length in the figure.
	Units units.Units
	// Swing words a value of the setting that swings the mount clear; nil: a number with its sign.
	Swing func(v float64) string
}

// width returns that of a figure that is own wide where there is space.
func (o Options) width(own vg.Length) vg.Length { return min(own, cmp.Or(o.Size.Width, own)) }

// narrow is the width of paper below which labels have no space beside a drawing.
const narrow = 110 * vg.Millimeter

// most is the largest side of a figure: more than any paper, and small enough
// for a picture of it to be made.
const most = 2000 * vg.Millimeter

// check returns nil if s is a size that paper can have.
func (s Size) check() error {
	for _, l := range []vg.Length{s.Width, s.Height} {
		if !(l >= 20*vg.Millimeter && l <= most) {
			return fmt.Errorf("%w: size %.4g by %.4g mm is outside 20 to 2000 mm",
				ErrFigure, s.Width/vg.Millimeter, s.Height/vg.Millimeter)
		}
	}
	return nil
}

// inside returns c as paper of size s within an edge that keeps letters whole.
func (s Size) inside(c vg.Canvas) draw.Canvas {
	const edge = vg.Millimeter
	return draw.Crop(draw.NewCanvas(c, s.Width, s.Height), edge, -edge, edge, -edge)
}

// Figure is a plot laid out for a size.
type Figure struct {
	Plot *plot.Plot
	Size Size
	// Title says what is shown.
	Title string
	// Scale is N where the figure is drawn 1:N, and zero where it has no scale.
	Scale int
}

// drawOn draws f on c, whose lower left corner becomes the figure's.
func (f Figure) drawOn(c vg.Canvas) {
	f.Plot.Draw(f.Size.inside(c))
}

// check returns nil if f can be written.
func (f Figure) check() error {
	if f.Plot == nil {
		return fmt.Errorf("%w: the figure is empty", ErrFigure)
	}
	return f.Size.check()
}

// Sizes of text on paper: 9 points are read at arm's length, a choice.
const (
	titleSize = 11 * vg.Length(1)
	textSize  = 9 * vg.Length(1)
)

// sans returns the sans-serif face in a size (points).
func sans(size vg.Length) font.Font {
	return font.Font{Typeface: "Liberation", Variant: "Sans", Size: size}
}

// lettering is the style of all text but titles.
var lettering = draw.TextStyle{Color: ink, Font: sans(textSize), Handler: plot.DefaultTextHandler}

// spaced writes lines one below the other, a little further apart than the library does,
// which lets them touch.
type spaced struct{ text.Handler }

// lineSpace is the distance of lines, of the size of their letters.
const lineSpace = 1.15

// Box implements [text.Handler].
func (s spaced) Box(words string, f font.Font) (width, height, depth vg.Length) {
	width, height, depth = s.Handler.Box(words, f)
	return width, height + (lineSpace-1)*f.Size*vg.Length(strings.Count(words, "\n")), depth
}

// Draw implements [text.Handler].
func (s spaced) Draw(c vg.Canvas, words string, style text.Style, at vg.Point) {
	lines := strings.Split(words, "\n")
	more := vg.Length(len(lines) - 1)
	for i, line := range lines {
		below := more*(1+vg.Length(style.YAlign)) - vg.Length(i)
		s.Handler.Draw(c, line, style, vg.Point{X: at.X, Y: at.Y + below*lineSpace*style.Font.Size})
	}
}

// newPlot returns an empty plot in the house's fonts and lines.
//
// The fonts are set on every text of the plot rather than through the library's
// package variables, which belong to the whole program.
func newPlot() *plot.Plot {
	p := plot.New()
	p.Title.TextStyle.Font = sans(titleSize)
	p.Title.TextStyle.Color = ink
	p.Title.TextStyle.Handler = spaced{plot.DefaultTextHandler}
	p.Title.Padding = vg.Points(4)
	p.Legend.TextStyle = lettering
	for _, axis := range []*plot.Axis{&p.X, &p.Y} {
		axis.Label.TextStyle.Font = sans(textSize)
		axis.Label.TextStyle.Color = ink
		axis.Label.TextStyle.Handler = spaced{plot.DefaultTextHandler}
		axis.Tick.Label.Font = sans(textSize)
		axis.Tick.Label.Color = ink
		axis.LineStyle.Width = vg.Points(0.5)
		axis.LineStyle.Color = ink
		axis.Tick.LineStyle = draw.LineStyle{Color: ink, Width: vg.Points(0.5)}
		axis.Tick.Length = vg.Points(4)
		axis.Padding = 0
	}
	return p
}

// titleLines is how many lines a title has at most.
const titleLines = 3

// newSheet returns a figure without axes, for a plotter that draws on paper.
func newSheet(size Size, title string) Figure {
	p := newPlot()
	p.HideAxes()
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, 1, 0, 1
	p.Title.Text = strings.Join(wrapped(title, (size.Width-air)*textSize/titleSize, titleLines), "\n")
	return Figure{Plot: p, Size: size, Title: title}
}

// around returns the size of a sheet with space for content under a title.
func (s Size) around(content vg.Point, title string) Size {
	s.Width = content.X + s.Width - s.inside(&recorder.Canvas{}).Size().X
	return Size{s.Width, content.Y + s.Height - newSheet(s, title).Plot.DataCanvas(s.inside(&recorder.Canvas{})).Size().Y}
}

// titled returns a title with the name of the case in front, if it has one.
func titled(label, title string) string {
	if label = plain(label); label != "" {
		return label + ": " + title
	}
	return title
}
