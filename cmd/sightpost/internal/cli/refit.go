package cli

import (
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/mount/fit"
)

// refitOptions are the flags of "refit".
type refitOptions struct {
	answer   answerOptions
	settings settingsOptions
	marginMM float64
	before   string
}

func newRefit(s Streams) *cobra.Command {
	var o refitOptions
	cmd := &cobra.Command{
		Use:   "refit CASE --settings FILE",
		Short: "find the least to change when the person sits differently",
		Long: `Refit takes a case as the person sits now and the settings as found on the mount. It
gives the margin that is left and the settings that restore it with the least effort:
from what to what, and the steps in the order of work. --full adds which cheaper
changes are not enough. It compares them with a full re-setup.

With --before, it also gives the margin that was lost since that case was measured.`,
		Example: `  sightpost refit now.yaml --settings settings.csv --before then.yaml
  sightpost refit now.yaml --settings settings.csv --margin 20mm`,
		Args: oneCase,
		RunE: func(cmd *cobra.Command, args []string) error { return runRefit(cmd.Context(), s, o, args[0]) },
	}
	o.answer.addFlags(cmd.Flags(), "refit")
	o.settings.addFlags(cmd.Flags())
	addParsed(cmd.Flags(), &o.marginMM, "margin", "", "`margin` to restore instead of that of the case: 20mm", readMargin)
	cmd.Flags().StringVar(&o.before, "before", "", "the `case` as it was when the mount was set")
	return cmd
}

// runRefit prints what to change.
func runRefit(ctx context.Context, s Streams, o refitOptions, name string) error {
	if err := o.settings.needed("refit"); err != nil {
		return err
	}
	if o.before == stdinName {
		return errors.New("the case of --before cannot come from standard input")
	}
	p, err := place(ctx, s, o.settings, name)
	if err != nil {
		return err
	}
	before, err := o.resultBefore(ctx, s, p)
	if err != nil {
		return err
	}
	plan, err := p.Refit(ctx, o.marginMM, before)
	if err != nil {
		return err
	}
	return o.answer.conclude(ctx, s, plan, p.Label, plan.Restored)
}

// readMargin reads the margin to restore, in mm; 0 is that of the case.
func readMargin(text string) (float64, error) {
	mm, err := answer.WantedMargin(text)
	if err != nil {
		return 0, fmt.Errorf("--margin %s: %w", text, err)
	}
	return mm, nil
}

// resultBefore returns how the case of --before did with the mount set as p has it;
// nil without one.
func (o *refitOptions) resultBefore(ctx context.Context, s Streams, p *answer.Placed) (*fit.Result, error) {
	if o.before == "" {
		return nil, nil
	}
	c, err := readCase(s, o.before)
	if err != nil {
		return nil, err
	}
	r, err := p.Before(ctx, c.Case)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", o.before, withFlags(err))
	}
	return r, nil
}
