package cli

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"sightpost/cmd/sightpost/internal/report"
	"sightpost/mount/fit"
	"sightpost/plots"
)

// varyOptions are the flags of "vary".
type varyOptions struct {
	answer   answerOptions
	settings settingsOptions
	save     saveOptions
	draws    int
	seed     uint64
}

func (o *varyOptions) addFlags(f *pflag.FlagSet) {
	o.answer.addFlagsFor(f, "vary")
	o.settings.addFlags(f)
	o.save.addFlags(f, "")
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
  sightpost vary case.yaml --settings settings.csv --draws 1000000 --seed 7
  sightpost vary case.yaml --out sheet --format svg,pdf`,
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
	if err := checkFormats(o.save.format); err != nil {
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
	answer := report.NewVary(v)
	if o.save.out != "" {
		files, err := o.files(p, &v, answer)
		if err != nil {
			return err
		}
		if err := o.save.write(s, files); err != nil {
			return err
		}
	}
	return p.answer(ctx, s, o.answer, answer)
}

// files returns the answer as an object, and how the room is spread in the draws:
// of all postures that must work together and, if there are several postures, of
// each.
func (o *varyOptions) files(p *placed, v *report.Varied, answer *report.Vary) ([]file, error) {
	object, err := asJSON(answer, true)
	if err != nil {
		return nil, err
	}
	spread := func(name, posture string, t fit.Tally) drawing {
		return drawing{name, func() (plots.Figure, error) {
			return plots.Distribution(t, plots.DistributionOptions{Label: p.given.Label, Posture: posture})
		}}
	}
	all := []drawing{spread("room-in-draws", "", v.Draws.Together)}
	if postures := p.given.Job.Postures; len(postures) > 1 {
		for i, t := range v.Draws.Postures {
			all = append(all, spread(fmt.Sprintf("room-in-draws-%d", i+1), postures[i].Name, t))
		}
	}
	files, err := drawn(o.save.out, o.save.format, all)
	if err != nil {
		return nil, err
	}
	return append(files, file{filepath.Join(o.save.out, "vary.json"), object}), nil
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
