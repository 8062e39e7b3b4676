package cli

import (
	"context"
	"errors"
	"path/filepath"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"sightpost/cmd/sightpost/internal/answer"
)

// varyOptions are the flags of "vary".
type varyOptions struct {
	answer      answerOptions
	settings    settingsOptions
	save        saveOptions
	simulations int
	seed        uint64
}

func (o *varyOptions) addFlags(f *pflag.FlagSet) {
	o.answer.addFlagsFor(f, "vary")
	o.settings.addFlags(f)
	o.save.addFlags(f, "")
	f.IntVar(&o.simulations, "simulations", answer.VaryDraws, "`number` of simulations of all errors")
	f.Uint64Var(&o.seed, "seed", 1, "`number` that the simulations start from")
}

func newVary(s Streams) *cobra.Command {
	var o varyOptions
	cmd := &cobra.Command{
		Use:   "vary CASE",
		Short: "count how often it tracks when everything is a little off",
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
	if _, err := o.answer.parsedUnits(); err != nil {
		return err
	}
	if err := checkFormats(o.save.format); err != nil {
		return err
	}
	if o.simulations < 1 {
		return withHint(errors.New("--simulations must be at least 1"), "leave it out for %d", answer.VaryDraws)
	}
	p, err := place(ctx, s, o.settings, name)
	if err != nil {
		return err
	}
	opt := answer.VaryOptions{Draws: o.simulations, Seed: o.seed}
	bar := newProgress(s.Err, "simulations", opt.Steps())
	opt.Progress = bar.set
	v, err := p.Vary(ctx, opt)
	bar.finish()
	if err != nil {
		return err
	}
	if o.save.out != "" {
		files, err := o.files(v)
		if err != nil {
			return err
		}
		if err := o.save.write(s, files); err != nil {
			return err
		}
	}
	return conclusion(ctx, s, p, o.answer, v)
}

// files returns the answer as an object, and its figures.
func (o *varyOptions) files(v *answer.Varied) ([]file, error) {
	u, err := o.answer.parsedUnits()
	if err != nil {
		return nil, err
	}
	object, err := answer.JSON(v.Vary, true)
	if err != nil {
		return nil, err
	}
	files, err := drawn(o.save.out, o.save.format, v.Figures(u))
	if err != nil {
		return nil, err
	}
	return append(files, file{filepath.Join(o.save.out, "vary.json"), object}), nil
}
