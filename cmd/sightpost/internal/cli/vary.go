package cli

import (
	"context"
	"errors"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"sightpost/cmd/sightpost/internal/report"
	"sightpost/mount/fit"
)

// varyOptions are the flags of "vary".
type varyOptions struct {
	answer   answerOptions
	settings settingsOptions
	draws    int
	seed     uint64
}

func (o *varyOptions) addFlags(f *pflag.FlagSet) {
	o.answer.addFlagsFor(f, "vary")
	o.settings.addFlags(f)
	f.IntVar(&o.draws, "draws", 100_000, "`number` of times that all errors are drawn")
	f.Uint64Var(&o.seed, "seed", 1, "`number` that the draws are chosen by")
}

func newVary(s Streams) *cobra.Command {
	var o varyOptions
	cmd := &cobra.Command{
		Use:   "vary CASE",
		Short: "how often it still tracks when everything is a little off",
		Long: `Vary draws errors of everything that was measured and set, all at once, and counts
how often the tracker still works in every posture; says which error costs most; in
which range of tilt, recline, slump and head angles the screen works as it is set,
carried by the seat and by the base; and what a setup for each posture would gain
over one for all. How large the errors are is said under "spreads" in the case.

Without --set or --settings the mount is set as solve finds. The same seed gives the
same answer on any machine with any number of processors.`,
		Example: `  sightpost vary case.yaml
  sightpost vary case.yaml --settings settings.csv --draws 1000000 --seed 7`,
		Args: oneCase,
		RunE: func(cmd *cobra.Command, args []string) error { return runVary(cmd.Context(), s, o, args[0]) },
	}
	o.addFlags(cmd.Flags())
	return cmd
}

// runVary prints how a case fares when everything is a little off.
func runVary(ctx context.Context, s Streams, o varyOptions, name string) error {
	if _, err := o.answer.parsedUnits(); err != nil {
		return err
	}
	if o.draws < 1 {
		return withHint(errors.New("--draws must be at least 1"), "leave it out for 100000")
	}
	p, err := place(s, o.settings, name)
	if err != nil {
		return err
	}
	v := report.Varied{Case: p.given, Result: p.result, Seed: o.seed}
	if err := untilDone(ctx, func() error { return p.vary(s, o, &v) }); err != nil {
		return err
	}
	return p.answer(ctx, s, o.answer, report.NewVary(v))
}

// varyRows is the size of the samples from which the shares of the errors are
// found.
const varyRows = 4096

// vary fills in v.
func (p *placed) vary(s Streams, o varyOptions, v *report.Varied) (err error) {
	job, r := &p.given.Job, p.result
	spreads, _ := p.given.Spreads(r)
	bar := newSlowBar(s.Err, "draws", o.draws+varyRows)
	defer bar.finish()
	v.Draws, err = fit.Simulate(job, r, spreads, fit.SimOptions{Draws: o.draws, Seed: o.seed, Progress: bar.set})
	if err != nil {
		return err
	}
	v.Shares, err = fit.Shares(job, r, spreads, fit.ShareOptions{
		Rows: varyRows, Seed: o.seed, Progress: func(done int) { bar.set(o.draws + done) },
	})
	if err != nil {
		return err
	}
	if v.Curves, err = curves(job, r); err != nil {
		return err
	}
	alone, err := onSide(o.settings.side, *job)
	if err != nil {
		return err
	}
	v.Separate, err = separate(alone)
	return err
}

// curves returns the margin against every number of every posture that must work,
// only as far as its ends are told.
func curves(job *fit.Job, r *fit.Result) ([]fit.PostureCurve, error) {
	var out []fit.PostureCurve
	for _, posture := range job.Postures {
		if !posture.MustWork {
			continue
		}
		for _, variable := range fit.PostureVariables() {
			const ends = 2
			sweep := fit.PostureSweep{Posture: posture.Name, Variable: variable, Points: ends}
			sweep.Low, sweep.High = report.Looked(variable, variable.Of(posture))
			c, err := fit.CurvePosture(job, r, sweep)
			if err != nil {
				return nil, err
			}
			out = append(out, c)
		}
	}
	return out, nil
}

// separate compares one setup with one for each posture, if several must work.
func separate(job *fit.Job) (*fit.Separate, error) {
	several := 0
	for _, posture := range job.Postures {
		if posture.MustWork {
			several++
		}
	}
	if several < 2 {
		return nil, nil
	}
	return fit.SeparateSetups(job)
}
