package cli

import (
	"context"

	"github.com/spf13/cobra"

	"sightpost/cmd/sightpost/internal/document"
)

// drawOptions are the flags of "draw".
type drawOptions struct {
	save     saveOptions
	units    string
	settings settingsOptions
}

func newDraw(s Streams) *cobra.Command {
	var o drawOptions
	cmd := &cobra.Command{
		Use:   "draw CASE",
		Short: "the figures alone",
		Long: `Draw writes the figures of a case, each to a file of its own:

  - person, chair, mount and screen, and how far the head may move, to scale
    from the side, from above and from the front; all of it once more in parallel
    projection, from ahead and above;
  - the display area of the screen, and what can be selected on it;
  - the margin against distance and tilt of the screen, and against every number of
    the leading posture;
  - with a mount, how far each setting may be off, what weight does along the mount,
    and how it swings clear and what it must pass through with the chair;
  - for a person who drives, the floor that the screen hides.

Without --set or --settings the mount is set as solve finds.`,
		Example: `  sightpost draw case.yaml --out figures --format svg,pdf
  sightpost draw case.yaml --settings settings.csv --out figures --units in`,
		Args: oneCase,
		RunE: func(cmd *cobra.Command, args []string) error { return runDraw(cmd.Context(), s, o, args[0]) },
	}
	o.save.addFlags(cmd.Flags(), ".")
	addUnits(cmd.Flags(), &o.units)
	o.settings.addFlags(cmd.Flags())
	return cmd
}

// runDraw writes the figures of a case.
func runDraw(ctx context.Context, s Streams, o drawOptions, name string) error {
	if err := checkFormats(o.save.format); err != nil {
		return err
	}
	units, err := document.UnitsNamed(o.units)
	if err != nil {
		return err
	}
	p, err := place(s, o.settings, name)
	if err != nil {
		return err
	}
	files, err := figures(p, o.save.out, o.save.format, units)
	if err != nil {
		return err
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if err := o.save.write(s, files); err != nil {
		return err
	}
	return verdict(p)
}
