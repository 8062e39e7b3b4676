package answer

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"

	"gonum.org/v1/plot/vg"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/tolerance"
	"sightpost/plots"
	"sightpost/plots/units"
)

// Figure is a figure of an answer, not drawn yet.
type Figure struct {
	// Name is that of its file, without the format; Title says in a few words what it
	// shows.
	Name, Title string
	Draw        func() (plots.Figure, error)
}

// Look says in which units figures are drawn, and on paper of which size.
type Look = plots.Options

// OnScreen returns the look of figures that are so many dots wide on a screen, of 96 to an
// inch, so that their letters are as large as on paper.
func OnScreen(u units.Units, dots int) Look {
	const (
		dot         = vg.Inch / 96
		least, most = 240, 1040
		column      = 420 // less is higher than it is wide
	)
	l := Look{Units: u, Size: plots.Size{Width: vg.Length(min(max(dots, least), most)) * dot, Height: 150 * vg.Millimeter}}
	if dots < column {
		l.Size.Height = 230 * vg.Millimeter
	}
	return l
}

// Figures returns the figures that p gives rise to, to be drawn under ctx. A new figure of a case takes a
// line here and is then written by commands and shown by the page; one that a case
// may not have is appended where it has it.
func (p *Placed) Figures(ctx context.Context, opt Look) []Figure {
	r := p.Result
	opt.Label = p.Label
	views := func(draw func(*fit.Result, plots.View, plots.Options) (plots.Figure, error), v plots.View) func() (plots.Figure, error) {
		return func() (plots.Figure, error) { return draw(r, v, opt) }
	}
	whole := func(draw func(*fit.Result, plots.Options) (plots.Figure, error)) func() (plots.Figure, error) {
		return func() (plots.Figure, error) { return draw(r, opt) }
	}
	all := []Figure{
		{"side-view", "from the side", views(plots.Scene, plots.Side)},
		{"side-eyes", "where the eyes may be, from the side", views(plots.Region, plots.Side)},
		{"top-view", "from above", views(plots.Scene, plots.Top)},
		{"top-eyes", "where the eyes may be, from above", views(plots.Region, plots.Top)},
		{"front-view", "from the front", views(plots.Scene, plots.Front)},
		{"front-eyes", "where the eyes may be, from the front", views(plots.Region, plots.Front)},
		p.View3D(plots.TurnedTo(r), opt),
		{"screen", "screen and targets", whole(plots.ScreenTargets)},
		{"margin-over-distance", "margin over distance", p.margin(tolerance.OverDistance, opt)},
		{"margin-over-tilt", "margin over tilt", p.margin(tolerance.OverTilt, opt)},
		{"margin-over-posture", "margin over posture", p.marginOverPosture(ctx, opt)},
	}
	if r.Set != nil {
		all = append(all,
			Figure{"tolerances", "tolerance of every setting", p.tolerances(ctx, opt)},
			Figure{"loads", "loads and sag along the mount", whole(plots.Loads)})
	}
	if r.SwingClear != nil {
		opt.Swing = document.SwingWords(r, opt.Units)
		all = append(all, Figure{"swing-clear", "swing clear", whole(plots.SwingClear)})
		if p.Job.Passage.WidthMM > 0 {
			all = append(all, Figure{"passage", "passage of chair and mount", whole(plots.Passage)})
		}
	}
	if p.Job.Drives {
		all = append(all, Figure{"hidden-floor", "floor that the screen hides", whole(plots.HiddenFloor)})
	}
	return all
}

// mostSideBySide bounds the postures that are drawn side by side.
const mostSideBySide = 6

// SideBySide returns the side view of every posture, named after it, of a case that has several.
func (p *Placed) SideBySide(opt Look) []Figure {
	opt.Compact = true
	var all []Figure
	for _, at := range p.Job.Postures[:min(len(p.Job.Postures), mostSideBySide)] {
		own := opt
		own.Posture = at.Name
		all = append(all, Figure{"side-view", at.Name, func() (plots.Figure, error) { return plots.Scene(p.Result, plots.Side, own) }})
	}
	if len(all) < 2 {
		return nil
	}
	return all
}

// KitFigure returns the figure of a kit alone.
func KitFigure(kit mount.Kit, u units.Units) Figure {
	return Figure{"kit", "the mount with its settings numbered", func() (plots.Figure, error) {
		return plots.Kit(kit, plots.Options{Units: u})
	}}
}

// View3D returns the figure of everything seen from any direction.
func (p *Placed) View3D(view plots.Turned, opt Look) Figure {
	opt.Label = p.Label
	return Figure{"view3d", "3-D view", func() (plots.Figure, error) { return plots.View3D(p.Result, view, opt) }}
}

// sweepSamples is how finely a margin's curve is drawn: a corner of it every
// other mm on paper, and a sample where the screen is.
const sweepSamples = 81

// margin returns the figure of the margin against one motion of the screen.
func (p *Placed) margin(over tolerance.Motion, opt plots.Options) func() (plots.Figure, error) {
	return func() (plots.Figure, error) {
		sweep, err := tolerance.MarginSweep(p.Result, over, sweepSamples)
		if err != nil {
			return plots.Figure{}, err
		}
		return plots.Margin(sweep, opt)
	}
}

// curvePoints is how finely a curve over a posture is drawn: a corner of it every
// half degree over the widest range.
const curvePoints = 241

// marginOverPosture returns the figure of the margin against every number of the
// leading posture.
func (p *Placed) marginOverPosture(ctx context.Context, opt plots.Options) func() (plots.Figure, error) {
	return func() (plots.Figure, error) {
		lead := p.Job.Leading()
		if lead < 0 {
			return plots.Figure{}, errors.New("no posture must work")
		}
		all, err := curvesOf(ctx, p.Result, p.Job.Postures[lead], curvePoints)
		if err != nil {
			return plots.Figure{}, err
		}
		return plots.Postures(all, opt)
	}
}

// tolerances returns the figure of how far each setting may be off.
func (p *Placed) tolerances(ctx context.Context, opt plots.Options) func() (plots.Figure, error) {
	return func() (plots.Figure, error) {
		all, err := tolerance.Of(ctx, p.Result)
		if err != nil {
			return plots.Figure{}, err
		}
		if all, err = tolerance.Told(ctx, p.Result, all); err != nil {
			return plots.Figure{}, err
		}
		words := make([]plots.ToleranceWords, len(all))
		for i := range all {
			w := &words[i]
			w.Setting, w.Low, w.High = document.ToleranceWords(p.Result, all[i], opt.Units)
		}
		return plots.Tolerances(all, words, opt)
	}
}

// figureWriters are what writes figures, by format.
var figureWriters = map[string]func(io.Writer, plots.Figure) error{"svg": plots.WriteSVG, "pdf": plots.WritePDF, "png": plots.WritePNG}

// FigureWriter returns what writes figures in the given format: "svg", "pdf" or "png".
func FigureWriter(format string) (func(io.Writer, plots.Figure) error, error) {
	write := figureWriters[format]
	if write == nil {
		return nil, fmt.Errorf("unknown format %q of figures: choose from svg, pdf and png", format)
	}
	return write, nil
}

// Drawn draws the figure and returns it in the given formats, in their order. The
// error names the figure.
func (f Figure) Drawn(formats ...string) ([][]byte, error) {
	fig, err := f.Draw()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", f.Name, err)
	}
	var files [][]byte
	for _, format := range formats {
		write, err := FigureWriter(format)
		if err != nil {
			return nil, err
		}
		var text bytes.Buffer
		if err := write(&text, fig); err != nil {
			return nil, fmt.Errorf("%s: %w", f.Name, err)
		}
		files = append(files, text.Bytes())
	}
	return files, nil
}
