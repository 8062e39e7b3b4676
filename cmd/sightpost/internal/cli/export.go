package cli

import (
	"bytes"
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"sightpost/cmd/sightpost/internal/answer"
)

// exportOptions are the flags of "export".
type exportOptions struct {
	as       string
	output   string
	force    bool
	settings settingsOptions
}

func newExport(s Streams) *cobra.Command {
	var o exportOptions
	cmd := &cobra.Command{
		Use:   "export CASE --as urdf|csv",
		Short: "write the mount as URDF, or its settings as CSV",
		Long: `Export writes the mount of a case as URDF, which robotics libraries read, or its
settings as CSV, which check reads back and whose last column says whether the case
works with them. Without --set or --settings, the settings are those that solve finds.`,
		Example: `  sightpost export case.yaml --as csv -o settings.csv
  sightpost export case.yaml --as urdf --side left`,
		Args: oneCase,
		RunE: func(cmd *cobra.Command, args []string) error { return runExport(cmd.Context(), s, o, args[0]) },
	}
	f := cmd.Flags()
	f.StringVar(&o.as, "as", "", "`form` to write: urdf or csv")
	f.StringVarP(&o.output, "output", "o", "-", "write to this `file`; - is standard output")
	f.BoolVar(&o.force, "force", false, "overwrite a file that exists")
	o.settings.addFlags(f)
	return cmd
}

// runExport writes the mount of a case in another form.
func runExport(ctx context.Context, s Streams, o exportOptions, name string) error {
	if o.as != "urdf" && o.as != "csv" {
		return fmt.Errorf("cannot export as %q: choose --as urdf or --as csv", o.as)
	}
	p, err := place(ctx, s, o.settings, name)
	if err != nil {
		return err
	}
	text, err := exported(p, o.as)
	if err != nil {
		return err
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if o.output == stdinName {
		_, err = s.Out.Write(text)
	} else {
		err = writeAll([]file{{o.output, text}}, o.force)
	}
	if err != nil {
		return err
	}
	return verdict(p.Label, p.Result.Works)
}

// exported returns the mount of p as "urdf" or "csv".
func exported(p *answer.Placed, as string) ([]byte, error) {
	set := p.Result.Set
	if set == nil {
		return nil, fmt.Errorf("%s: the case has no mount to export", p.Label)
	}
	if as == "urdf" {
		var text bytes.Buffer
		err := set.Chain.WriteURDF(&text, p.Label)
		return text.Bytes(), err
	}
	rep, err := p.Report()
	if err != nil {
		return nil, err
	}
	return rep.Mount.SettingsCSV()
}
