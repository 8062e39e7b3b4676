package answer

import (
	"context"
	"fmt"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/gaze"
	"sightpost/mount/fit"
	"sightpost/mount/fit/tolerance"
	"sightpost/mount/fit/variation"
	"sightpost/plots"
	"sightpost/plots/units"
)

// VaryDraws is how many simulations of all errors there are unless somebody says otherwise.
const VaryDraws = 100_000

// VaryOptions say how errors are simulated.
type VaryOptions struct {
	// Draws is how many simulations of all errors there are, Seed what they are chosen by.
	Draws int
	Seed  uint64
	// Workers is how many goroutines simulate; zero means one for each processor. The answer
	// is the same for any number.
	Workers int
	// Progress, if not nil, is told how much is done of [VaryOptions.Steps].
	Progress func(done int)
}

// sharesRows is the size of the samples from which the shares of the errors are
// found.
const sharesRows = 4096

// Steps returns how many steps of work there are.
func (o VaryOptions) Steps() int { return o.Draws + sharesRows }

// Vary simulates errors of everything that was measured and set in p, all at once.
func (p *Placed) Vary(ctx context.Context, o VaryOptions) (*Varied, error) {
	v := &Varied{given: document.Varied{Case: p.Case.Case, Result: p.Result, Seed: o.Seed}}
	if o.Progress == nil {
		o.Progress = func(int) {}
	}
	if err := p.vary(ctx, o, &v.given); err != nil {
		return nil, err
	}
	v.Vary = document.NewVary(v.given)
	return v, nil
}

// Varied is the result of p when everything is a little off.
type Varied struct {
	*document.Vary
	given document.Varied
}

// Figures returns how the margin varies in the simulations: of all postures that must work
// together and, if there are several postures, of each.
func (v *Varied) Figures(u units.Units) []Figure {
	c := v.given.Case
	spread := func(name, posture string, t variation.Tally) Figure {
		title := "margin in the simulations"
		if posture != "" {
			title += ", " + posture
		}
		return Figure{name, title, func() (plots.Figure, error) {
			return plots.Distribution(t, plots.Options{Label: c.Label, Posture: posture, Units: u})
		}}
	}
	all := []Figure{spread("margin-in-simulations", "", v.given.Simulations.Together)}
	if postures := c.Job.Postures; len(postures) > 1 {
		for i, t := range v.given.Simulations.Postures {
			all = append(all, spread(fmt.Sprintf("margin-in-simulations-%d", i+1), postures[i].Name, t))
		}
	}
	return all
}

// vary fills in v.
func (p *Placed) vary(ctx context.Context, o VaryOptions, v *document.Varied) (err error) {
	job, r := &p.Job, p.Result
	budget, _ := p.Uncertainty(r)
	v.Simulations, err = variation.Simulate(ctx, r, budget, variation.Options{
		Size: o.Draws, Seed: o.Seed, Workers: o.Workers, Progress: o.Progress,
	})
	if err != nil {
		return err
	}
	v.Shares, err = variation.Shares(ctx, r, budget, variation.Options{
		Size: sharesRows, Seed: o.Seed, Workers: o.Workers,
		Progress: func(done int) { o.Progress(o.Draws + done) },
	})
	if err != nil {
		return err
	}
	if v.Curves, err = curves(ctx, r); err != nil {
		return err
	}
	alone, err := onSide(p.Stand.Side, *job)
	if err != nil {
		return err
	}
	v.Separate, err = separate(ctx, alone)
	return err
}

// curves returns the margin against every number of every posture that must work,
// only as far as its ends are told.
func curves(ctx context.Context, r *fit.Result) ([]tolerance.PostureCurve, error) {
	const ends = 2
	var out []tolerance.PostureCurve
	for _, posture := range r.Job.Postures {
		if !posture.MustWork {
			continue
		}
		of, err := curvesOf(ctx, r, posture, ends)
		if err != nil {
			return nil, err
		}
		out = append(out, of...)
	}
	return out, nil
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

// separate compares one setup with one for each posture, if several must work.
func separate(ctx context.Context, job *fit.Job) (*tolerance.SinglePostureSetups, error) {
	several := 0
	for _, posture := range job.Postures {
		if posture.MustWork {
			several++
		}
	}
	if several < 2 {
		return nil, nil
	}
	return tolerance.SeparateSetups(ctx, job)
}
