package cli

import (
	"context"

	"github.com/spf13/cobra"
)

// checkOptions are the flags of "check".
type checkOptions struct {
	answer   answerOptions
	settings settingsOptions
}

func newCheck(s Streams) *cobra.Command {
	var o checkOptions
	cmd := &cobra.Command{
		Use:   "check CASE --set NAME=VALUE...",
		Short: "find the head-movement margin of a mount as set",
		Long: `Check is the reverse of solve: from the settings as found on the mount to the
position of the screen and the head-movement margin in every posture. Give every
setting by --set, by --settings, or both; --set wins.`,
		Example: `  sightpost check case.yaml --settings settings.csv
  sightpost check case.yaml --settings settings.csv --set post.height=412mm --set joint.tilt=-12deg`,
		Args: oneCase,
		RunE: func(cmd *cobra.Command, args []string) error { return runCheck(cmd.Context(), s, o, args[0]) },
	}
	o.answer.addFlags(cmd.Flags(), "result")
	o.settings.addFlags(cmd.Flags())
	return cmd
}

// runCheck prints how the screen of a case fares at given settings.
func runCheck(ctx context.Context, s Streams, o checkOptions, name string) error {
	if err := o.settings.needed("check"); err != nil {
		return err
	}
	p, err := place(ctx, s, o.settings, name)
	if err != nil {
		return err
	}
	rep, err := p.Report()
	if err != nil {
		return err
	}
	return o.answer.conclude(ctx, s, rep, p.Label, p.Result.Works)
}
