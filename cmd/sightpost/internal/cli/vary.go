package cli

import (
	"context"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"sightpost/cmd/sightpost/internal/answer"
)

// varyOptions are the flags of "vary".
type varyOptions struct {
	answer   answerOptions
	settings settingsOptions
	save     saveOptions
	vary     answer.VaryOptions
}

func (o *varyOptions) addFlags(f *pflag.FlagSet) {
	o.answer.addFlags(f, "vary")
	o.settings.addFlags(f)
	o.save.addFlags(f, "")
	o.vary.Draws = answer.VaryDraws
	addSimulations(f, &o.vary.Draws, &o.vary.Seed, "`number` of simulations of all errors")
}

func newVary(s Streams) *cobra.Command {
	var o varyOptions
	cmd := &cobra.Command{
		Use:   "vary CASE",
		Short: "count how often the tracker works when everything is a little off",
		Long: `Vary simulates errors of everything that was measured and set, all at once. It
counts how often the tracker works in every posture; names the error that costs most;
gives the range of tilt, recline, slump and head angles that the screen serves, with
the mount on the seat and on the base; and compares one setup for all postures with
one for each. The case gives the size of the errors under "uncertainty".

Without --set or --settings, the mount is set as solve finds. The same seed gives the
same answer on any machine.`,
		Example: `  sightpost vary case.yaml
  sightpost vary case.yaml --settings settings.csv --simulations 1000000 --seed 7
  sightpost vary case.yaml --out sheet --format svg,pdf`,
		Args: oneCase,
		RunE: func(cmd *cobra.Command, args []string) error { return runVary(cmd.Context(), s, o, args[0]) },
	}
	o.addFlags(cmd.Flags())
	return cmd
}

// runVary prints how a case fares when everything is a little off.
func runVary(ctx context.Context, s Streams, o varyOptions, name string) error {
	p, err := place(ctx, s, o.settings, name)
	if err != nil {
		return err
	}
	bar := newProgress(s.Err, "simulations", o.vary.Steps())
	o.vary.Progress = bar.set
	v, err := p.Vary(ctx, o.vary)
	bar.finish()
	if err != nil {
		return err
	}
	if o.save.out != "" {
		files, err := o.save.withObject(v.Figures(o.answer.units), "vary.json", v.Vary)
		if err != nil {
			return err
		}
		if err := o.save.write(s, files); err != nil {
			return err
		}
	}
	return o.answer.conclude(ctx, s, v, p.Label, p.Result.Works)
}
