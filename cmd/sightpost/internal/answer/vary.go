package answer

import (
	"context"
	"fmt"
	"slices"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/gaze"
	"sightpost/mount/fit"
	"sightpost/mount/fit/tolerance"
	"sightpost/mount/fit/variation"
	"sightpost/plots"
)

// VarySimulations is how many simulations of all errors there are unless someone says otherwise.
const VarySimulations = 100_000

// VaryOptions say how errors are simulated.
type VaryOptions = variation.Options

// shareRows is the size of the samples from which the shares of the errors are found: 4096, or
// as many as the simulations, if these are fewer, down to 1024.
func shareRows(simulations int) int { return min(max(simulations, 1024), 4096) }

// VarySteps returns how many steps of work so many simulations are.
func VarySteps(simulations int) int { return simulations + shareRows(simulations) }

// Vary simulates errors of everything that was measured and set in p, all at once. Progress is
// told how much is done of [VarySteps].
func (p *Placed) Vary(ctx context.Context, o VaryOptions) (*Varied, error) {
	given := document.Varied{Case: p.Case.Case, Result: p.Result, Seed: o.Seed}
	budget, _ := p.Uncertainty(p.Result)
	var err error
	if given.Simulations, err = variation.Simulate(ctx, p.Result, budget, o); err != nil {
		return nil, err
	}
	shares := o
	shares.Size = shareRows(o.Size)
	if o.Progress != nil {
		shares.Progress = func(done int) { o.Progress(o.Size + done) }
	}
	if given.Shares, err = variation.Shares(ctx, p.Result, budget, shares); err != nil {
		return nil, err
	}
	if given.Curves, err = curves(ctx, p.Result); err != nil {
		return nil, err
	}
	if given.Separate, err = p.separate(ctx); err != nil {
		return nil, err
	}
	return &Varied{document.NewVary(given), given}, nil
}

// Varied is the result of p when everything is a little off.
type Varied struct {
	*document.Vary
	given document.Varied
}

// Figures returns how the margin varies in the simulations: of all postures that must work
// together and, if there are several postures, of each.
func (v *Varied) Figures(opt Look) []Figure {
	c := v.given.Case
	opt.Label = c.Label
	spread := func(name, posture string, t variation.Tally) Figure {
		title := "margin in the simulations"
		if posture != "" {
			title += ", " + posture
		}
		opt := opt
		opt.Posture = posture
		return Figure{name, title, func() (plots.Figure, error) { return plots.Distribution(t, opt) }}
	}
	all := []Figure{spread("margin-in-simulations", "", v.given.Simulations.Together)}
	if postures := c.Job.Postures; len(postures) > 1 {
		for i, t := range v.given.Simulations.Postures {
			all = append(all, spread(fmt.Sprintf("margin-in-simulations-%d", i+1), postures[i].Name, t))
		}
	}
	return all
}

// curves returns the margin against every number of every posture that must work,
// only as far as its ends are told.
func curves(ctx context.Context, r *fit.Result) ([]tolerance.PostureCurve, error) {
	const ends = 2
	var out []tolerance.PostureCurve
	for _, posture := range required(r.Job) {
		of, err := curvesOf(ctx, r, posture, ends)
		if err != nil {
			return nil, err
		}
		out = append(out, of...)
	}
	return out, nil
}

// required returns the postures that must work.
func required(job *fit.Job) []gaze.Posture {
	return slices.DeleteFunc(slices.Clone(job.Postures), func(p gaze.Posture) bool { return !p.MustWork })
}

// curvesOf returns the margin against every number of a posture, at so many points.
func curvesOf(ctx context.Context, r *fit.Result, p gaze.Posture, points int) ([]tolerance.PostureCurve, error) {
	var out []tolerance.PostureCurve
	for _, v := range tolerance.PostureVariables() {
		low, high := document.SweepRange(v, v.Of(p))
		c, err := tolerance.CurvePosture(ctx, r, tolerance.PostureSweep{Posture: p.Name, Variable: v, Low: low, High: high, Points: points})
		if err != nil {
			return nil, err
		}
		out = append(out, c)
	}
	return out, nil
}

// separate compares one setup with one for each posture, if several must work, with the
// mount on one side alone if one is named.
func (p *Placed) separate(ctx context.Context) (*tolerance.SinglePostureSetups, error) {
	if len(required(&p.Job)) < 2 {
		return nil, nil
	}
	job := p.Job
	if p.AsFound.Side != "" {
		at, err := Mounting(&job, p.AsFound.Side)
		if err != nil {
			return nil, err
		}
		one := *job.Mount
		one.Mountings = one.Mountings[at : at+1]
		job.Mount = &one
	}
	return tolerance.SeparateSetups(ctx, &job)
}
