package cli

import (
	"bytes"
	"context"
	_ "embed" // for the notices
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/disk"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/guide"
	"sightpost/cmd/sightpost/internal/record"
	"sightpost/plots/units"
)

func newNew() *cobra.Command {
	c := &command{Command: described("new [FOLDER]", atMostOne("folder"))}
	c.Flags().BoolVar(&c.force, "force", false, "overwrite files that exist")
	addParsed(c.Flags(), &c.units, "units", "mm", "`unit` of the lengths: mm, cm or in", units.Named)
	asGuide := c.Flags().Bool("guide", false, "write a guide to kit files instead")
	c.RunE = func(_ *cobra.Command, args []string) error {
		folder := firstOr(args, ".")
		caseText, kitText := casefile.Starter(c.units)
		files := []disk.File{
			{Name: filepath.Join(folder, "case.yaml"), Text: caseText},
			{Name: filepath.Join(folder, "kit.yaml"), Text: kitText},
		}
		if *asGuide {
			var page bytes.Buffer
			if err := guide.Write(&page, c.units); err != nil {
				return err
			}
			files = []disk.File{{Name: filepath.Join(folder, "kit-guide.html"), Text: page.Bytes()}}
		}
		if err := c.write(files...); err != nil {
			return err
		}
		for _, f := range files {
			note(&c.Command, "wrote %s", f.Name)
		}
		return nil
	}
	return &c.Command
}

func newDraw() *cobra.Command {
	c := &command{Command: described("draw CASE|KIT", takes(func(n int) bool { return n == 1 }, "one case or kit: name its file", ""))}
	c.addSave(".")
	c.addUnits()
	c.addSettings()
	ofCase := c.onCase(func(p *answer.Placed) error {
		files, err := c.drawn(c.out, p.Figures(c.Context(), answer.Look{Units: c.unitsOr(p.Units())}))
		if err != nil {
			return fmt.Errorf("%s: %w", p.Label, err)
		}
		return c.deliver(c.written(files, nil, unseen(p.Label, p.Result.Works)))
	})
	c.RunE = func(cmd *cobra.Command, args []string) error {
		if args[0] == stdinName || !isKit(args[0]) {
			return ofCase(cmd, args)
		}
		return c.drawKit(args[0])
	}
	return &c.Command
}

// drawKit writes the figure of the kit in the file called name.
func (c *command) drawKit(name string) error {
	if c.given() || c.side != "" {
		return withHint(fmt.Errorf("%s is a kit, which is drawn at its preferred settings, on the left", name), "leave out --set, --settings and --side")
	}
	in, err := openFile(name)
	if err != nil {
		return err
	}
	defer in.Close() // only read: nothing can be lost by closing
	kit, u, err := casefile.ReadKitUnits(name, in)
	if err != nil {
		return err
	}
	files, err := c.drawn(c.out, []answer.Figure{answer.KitFigure(kit, c.unitsOr(u))})
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	return c.deliver(c.written(files, nil, nil))
}

func newExport() *cobra.Command {
	c := &command{Command: described("export CASE --as urdf|csv", oneCase)}
	var as, output string
	c.Flags().StringVar(&as, "as", "", "`format` to write: urdf or csv")
	c.Flags().StringVarP(&output, "output", "o", "-", "write to this `file`; - is standard output")
	c.Flags().BoolVar(&c.force, "force", false, "overwrite a file that exists")
	c.addSettings()
	c.PreRunE = func(*cobra.Command, []string) error {
		switch as {
		case "urdf", "csv":
			return nil
		case "":
			return errors.New("export needs --as urdf or --as csv")
		}
		return fmt.Errorf("--as %q: export needs --as urdf or --as csv", as)
	}
	c.RunE = c.onCase(func(p *answer.Placed) error {
		text, err := exported(c.Context(), p, as)
		if err != nil {
			return err
		}
		if output != stdinName {
			err, text = c.write(disk.File{Name: output, Text: text}), nil
		}
		if err != nil {
			return err
		}
		return c.deliver(outcome{text: text, err: unseen(p.Label, p.Result.Works)})
	})
	return &c.Command
}

// exported returns the mount of p as "urdf" or "csv".
func exported(ctx context.Context, p *answer.Placed, as string) ([]byte, error) {
	set := p.Result.Set
	if set == nil {
		return nil, fmt.Errorf("%s: the case has no mount to export", p.Label)
	}
	if as == "urdf" {
		var text bytes.Buffer
		err := set.Chain.WriteURDF(&text, p.Label)
		return text.Bytes(), err
	}
	rep, err := p.Report(ctx)
	if err != nil {
		return nil, err
	}
	return rep.SettingsCSV(), nil
}

func newSchema() *cobra.Command {
	// of the files that are read, then of the objects that --json gives
	names := []string{"case", "kit", "result", "vary", "refit", "match", "record", "records", "comparison"}
	listed := strings.Join(names, ", ")
	c := &command{Command: described("schema", takes(func(n int) bool { return n == 1 }, "one of: "+listed, ""))}
	c.Use, c.ValidArgs = "schema "+strings.Join(names, "|"), names
	c.RunE = func(_ *cobra.Command, args []string) error {
		if !slices.Contains(names, args[0]) {
			return fmt.Errorf("there is no schema of %q: choose one of %s", args[0], listed)
		}
		text, err := schemaOf(args[0])
		if err != nil {
			return err
		}
		return c.deliver(outcome{text: text})
	}
	return &c.Command
}

// schemaOf returns the schema of a name.
func schemaOf(name string) ([]byte, error) {
	switch name {
	case "case":
		return casefile.Schema(), nil
	case "kit":
		return casefile.KitSchema(), nil
	case "record":
		return record.Schema(), nil
	}
	return document.Schema(name)
}

// notices are the licenses of what is built in. A test writes them from the modules of
// every system's build.
//
//go:embed notices.txt
var notices []byte

func newNotices() *cobra.Command {
	c := &command{Command: described("notices", takes(func(n int) bool { return n == 0 }, "nothing", ""))}
	c.RunE = func(*cobra.Command, []string) error { return c.deliver(outcome{text: notices}) }
	return &c.Command
}
