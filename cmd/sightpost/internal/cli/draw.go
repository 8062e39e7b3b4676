package cli

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"sightpost/plots/units"
)

// drawOptions are the flags of "draw".
type drawOptions struct {
	save     saveOptions
	units    units.Units
	settings settingsOptions
}

func newDraw(s Streams) *cobra.Command {
	var o drawOptions
	cmd := &cobra.Command{
		Use:   "draw CASE",
		Short: "write the figures alone",
		Long: `Draw writes the figures of a case, one file each:

  - person, chair, mount and screen, and the region where the eyes are tracked, to
    scale: side, top and front view, and a 3-D view;
  - the display area and the targets on it;
  - the margin against distance and tilt of the screen, and against every measure of
    the first required posture;
  - with a mount: the tolerance of each setting, loads and sag along the mount, the
    parked position and the passage through a doorway;
  - for a person who drives: the floor that the screen hides.

Without --set or --settings, the mount is set as solve finds.`,
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
	p, err := place(ctx, s, o.settings, name)
	if err != nil {
		return err
	}
	files, err := o.save.drawn(p.Figures(o.units))
	if err != nil {
		return fmt.Errorf("%s: %w", p.Label, err)
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if err := o.save.write(s, files); err != nil {
		return err
	}
	return verdict(p.Label, p.Result.Works)
}
