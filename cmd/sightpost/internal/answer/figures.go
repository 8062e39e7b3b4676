package answer

import (
	"bytes"
	"errors"
	"fmt"
	"io"

	"gonum.org/v1/plot/vg"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/mount/fit"
	"sightpost/plots"
)

// Figure is a figure of an answer, not drawn yet.
type Figure struct {
	// Name is that of its file, without the format; Title says in a few words what it
	// shows.
	Name, Title string
	Draw        func() (plots.Figure, error)
}

// Figures returns the figures that p gives rise to. A new figure of a case takes a
// line here and is then written by commands and shown by the page; one that a case
// may not have is appended where it has it.
func (p *Placed) Figures() []Figure {
	all := []Figure{
		{"side-view", "from the side", p.scene(plots.Side)},
		{"side-room", "room for the eyes, from the side", p.room(plots.Side)},
		{"top-view", "from above", p.scene(plots.Top)},
		{"top-room", "room for the eyes, from above", p.room(plots.Top)},
		{"front-view", "from the front", p.scene(plots.Front)},
		{"front-room", "room for the eyes, from the front", p.room(plots.Front)},
		p.View3D(plots.TurnedTo(p.Result)),
		{"screen", "screen and targets", p.screenTargets},
		{"margin-over-distance", "margin over distance", p.margin(fit.OverDistance)},
		{"margin-over-tilt", "margin over tilt", p.margin(fit.OverTilt)},
		{"margin-over-posture", "margin over posture", p.marginOverPosture},
	}
	if p.Result.Set != nil {
		all = append(all,
			Figure{"tolerances", "tolerance of every setting", p.tolerances},
			Figure{"loads", "loads and sag along the mount", p.loads})
	}
	if p.Result.SwingClear != nil {
		all = append(all, Figure{"passage", "swing aside and passage", p.passage})
	}
	if p.Job.Drives {
		all = append(all, Figure{"hidden-floor", "floor that the screen hides", p.hiddenFloor})
	}
	return all
}

// screenTargets returns the figure of the display area with what can be selected on it.
func (p *Placed) screenTargets() (plots.Figure, error) {
	return plots.ScreenTargets(p.Result, &p.Job, plots.SceneOptions{Label: p.Label})
}

// loads returns the figure of what weight does along the mount.
func (p *Placed) loads() (plots.Figure, error) {
	return plots.Loads(p.Result, &p.Job, plots.LoadsOptions{Label: p.Label})
}

// passage returns the figure of the swing aside and of what chair and mount must fit
// through.
func (p *Placed) passage() (plots.Figure, error) {
	return plots.Passage(p.Result, &p.Job, plots.PassageOptions{Label: p.Label})
}

// hiddenFloor returns the figure of the floor that a driver does not see.
func (p *Placed) hiddenFloor() (plots.Figure, error) {
	return plots.HiddenFloor(p.Result, &p.Job, plots.SceneOptions{Label: p.Label})
}

// View3D returns the figure of everything seen from any direction.
func (p *Placed) View3D(view plots.Turned) Figure {
	return Figure{"view3d", "turned", func() (plots.Figure, error) {
		return plots.View3D(p.Result, &p.Job, view, plots.SceneOptions{Label: p.Label})
	}}
}

// Small returns the figure of a name drawn for a window no wider than a hand, and
// whether it can be: views of everything with fewer labels, the turned one seen from
// a direction. The others need room and are looked at large.
func (p *Placed) Small(name string, turned plots.Turned) (Figure, bool) {
	opt := plots.SceneOptions{Label: p.Label, Compact: true, Size: plots.Size{Width: 76 * vg.Millimeter, Height: 120 * vg.Millimeter}}
	view, known := map[string]plots.View{"side-view": plots.Side, "top-view": plots.Top, "front-view": plots.Front}[name]
	switch {
	case name == "view3d":
		return Figure{name, "turned", func() (plots.Figure, error) { return plots.View3D(p.Result, &p.Job, turned, opt) }}, true
	case known:
		return Figure{name, view.String(), func() (plots.Figure, error) { return plots.Scene(p.Result, &p.Job, view, opt) }}, true
	}
	return Figure{}, false
}

// scene returns the figure of everything, to scale.
func (p *Placed) scene(v plots.View) func() (plots.Figure, error) {
	return func() (plots.Figure, error) {
		return plots.Scene(p.Result, &p.Job, v, plots.SceneOptions{Label: p.Label})
	}
}

// room returns the figure of the room in which the eyes may be, to scale.
func (p *Placed) room(v plots.View) func() (plots.Figure, error) {
	return func() (plots.Figure, error) {
		return plots.Region(p.Result, &p.Job, v, plots.SceneOptions{Label: p.Label})
	}
}

// sweepSamples is how finely a margin's curve is drawn: a corner of it every
// other mm on paper, and a sample where the screen is.
const sweepSamples = 81

// margin returns the figure of the margin against one motion of the screen.
func (p *Placed) margin(over fit.Motion) func() (plots.Figure, error) {
	return func() (plots.Figure, error) {
		sweep, err := fit.MarginSweep(&p.Job, p.Result, over, sweepSamples)
		if err != nil {
			return plots.Figure{}, err
		}
		return plots.Margin(sweep, plots.MarginOptions{Label: p.Label})
	}
}

// curvePoints is how finely a curve over a posture is drawn: a corner of it every
// half degree over the widest range.
const curvePoints = 241

// marginOverPosture returns the figure of the margin against every number of the
// leading posture.
func (p *Placed) marginOverPosture() (plots.Figure, error) {
	lead := p.Job.Leading()
	if lead < 0 {
		return plots.Figure{}, errors.New("no posture must work")
	}
	var all []fit.PostureCurve
	for _, v := range fit.PostureVariables() {
		low, high := document.SweepRange(v, v.Of(p.Job.Postures[lead]))
		c, err := fit.CurvePosture(&p.Job, p.Result, fit.PostureSweep{Variable: v, Low: low, High: high, Points: curvePoints})
		if err != nil {
			return plots.Figure{}, err
		}
		all = append(all, c)
	}
	return plots.Postures(all, plots.PostureOptions{Label: p.Label})
}

// tolerances returns the figure of how far each setting may be off.
func (p *Placed) tolerances() (plots.Figure, error) {
	all, err := fit.Tolerances(&p.Job, p.Result)
	if err != nil {
		return plots.Figure{}, err
	}
	return plots.Tolerances(all, &p.Job, plots.ToleranceOptions{Label: p.Label})
}

// FigureWriter returns what writes figures in the given format: "svg", "pdf" or "png".
func FigureWriter(format string) (func(io.Writer, plots.Figure) error, error) {
	switch format {
	case "svg":
		return plots.WriteSVG, nil
	case "pdf":
		return plots.WritePDF, nil
	case "png":
		return plots.WritePNG, nil
	}
	return nil, fmt.Errorf("unknown format %q of figures: choose from svg, pdf and png", format)
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
