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
	f.IntVar(&o.draws, "draws", answer.VaryDraws, "`number` of times that all errors are drawn")
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
over one for all. How large the errors are is said under "uncertainty" in the case.

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
		return withHint(errors.New("--draws must be at least 1"), "leave it out for %d", answer.VaryDraws)
	}
	p, err := place(s, o.settings, name)
	if err != nil {
		return err
	}
	var v *answer.Varied
	err = untilDone(ctx, func() (err error) {
		opt := answer.VaryOptions{Draws: o.draws, Seed: o.seed}
		bar := newSlowBar(s.Err, "draws", opt.Steps())
		defer bar.finish()
		opt.Progress = bar.set
		v, err = p.Vary(opt)
		return err
	})
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
