package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"path/filepath"

	"sightpost/cmd/sightpost/internal/report"
	"sightpost/mount/fit"
	"sightpost/plots"
)

// checkFormats returns an error if one of the formats of figures is unknown.
func checkFormats(formats []string) error {
	for _, f := range formats {
		if _, err := figureWriter(f); err != nil {
			return err
		}
	}
	return nil
}

// figureWriter returns what writes figures in the given format.
func figureWriter(format string) (func(io.Writer, plots.Figure) error, error) {
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

// drawing is a figure and the name of its file, without its format.
type drawing struct {
	name string
	draw func() (plots.Figure, error)
}

// drawings returns the figures that p gives rise to.
func (p *placed) drawings() []drawing {
	job, opt := &p.given.Job, plots.SceneOptions{Label: p.given.Label}
	var all []drawing
	for _, v := range []struct {
		name string
		view plots.View
	}{{"side", plots.Side}, {"top", plots.Top}, {"front", plots.Front}} {
		all = append(all,
			drawing{v.name + "-view", func() (plots.Figure, error) { return plots.Scene(p.result, job, v.view, opt) }},
			drawing{v.name + "-room", func() (plots.Figure, error) { return plots.Region(p.result, job, v.view, opt) }})
	}
	for _, v := range []struct {
		name string
		over fit.Motion
	}{{"margin-over-distance", fit.OverDistance}, {"margin-over-tilt", fit.OverTilt}} {
		all = append(all, drawing{v.name, func() (plots.Figure, error) { return p.marginOver(v.over) }})
	}
	all = append(all, drawing{"margin-over-posture", p.marginOverPosture})
	if p.result.Set != nil {
		all = append(all, drawing{"tolerances", p.tolerances})
	}
	return all
}

// sweepSamples is how finely a margin's curve is drawn: a corner of it every
// other mm on paper, and a sample where the screen is.
const sweepSamples = 81

// marginOver returns the figure of the margin against one motion of the screen.
func (p *placed) marginOver(over fit.Motion) (plots.Figure, error) {
	sweep, err := fit.MarginSweep(&p.given.Job, p.result, over, sweepSamples)
	if err != nil {
		return plots.Figure{}, err
	}
	return plots.Margin(sweep, plots.MarginOptions{Label: p.given.Label})
}

// marginOverPosture returns the figure of the margin against every number of the
// leading posture.
func (p *placed) marginOverPosture() (plots.Figure, error) {
	job := &p.given.Job
	lead := job.Leading()
	if lead < 0 {
		return plots.Figure{}, errors.New("no posture must work")
	}
	var all []fit.PostureCurve
	for _, v := range fit.PostureVariables() {
		low, high := report.Looked(v, v.Of(job.Postures[lead]))
		c, err := fit.CurvePosture(job, p.result, fit.PostureSweep{Variable: v, Low: low, High: high, Points: curvePoints})
		if err != nil {
			return plots.Figure{}, err
		}
		all = append(all, c)
	}
	return plots.Postures(all, plots.PostureOptions{Label: p.given.Label})
}

// curvePoints is how finely a curve over a posture is drawn: a corner of it every
// half degree over the widest range.
const curvePoints = 241

// tolerances returns the figure of how far each setting may be off.
func (p *placed) tolerances() (plots.Figure, error) {
	all, err := fit.Tolerances(&p.given.Job, p.result)
	if err != nil {
		return plots.Figure{}, err
	}
	return plots.Tolerances(all, &p.given.Job, plots.ToleranceOptions{Label: p.given.Label})
}

// figures returns the figures of p as files in a folder, in every format.
func (p *placed) figures(folder string, formats []string) ([]file, error) {
	files, err := drawn(folder, formats, p.drawings())
	if err != nil {
		return nil, fmt.Errorf("%s: %w", p.given.Label, err)
	}
	return files, nil
}

// drawn returns figures as files in a folder, in every format.
func drawn(folder string, formats []string, all []drawing) ([]file, error) {
	var files []file
	for _, d := range all {
		fig, err := d.draw()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", d.name, err)
		}
		for _, format := range formats {
			write, err := figureWriter(format)
			if err != nil {
				return nil, err
			}
			var text bytes.Buffer
			if err := write(&text, fig); err != nil {
				return nil, fmt.Errorf("%s: %w", d.name, err)
			}
			files = append(files, file{filepath.Join(folder, d.name+"."+format), text.Bytes()})
		}
	}
	return files, nil
}
