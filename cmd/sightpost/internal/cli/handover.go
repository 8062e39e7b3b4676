package cli

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/disk"
	"sightpost/cmd/sightpost/internal/record"
	"sightpost/cmd/sightpost/internal/sheet"
)

func newPack() *cobra.Command {
	c := &command{Command: cobra.Command{
		Use:   "pack CASE",
		Short: "write one file to hand over",
		Long: `Pack writes one file, "CODE DATE.zip", with the case, its kit, the settings, the
setup sheet, the figures and, with --in, the assessments of its code. The page opens it
on another computer, and unpack takes it apart.`,
		Example: `  sightpost pack case.yaml --in records`,
		Args:    oneCase,
	}}
	c.Flags().StringVar(&c.in, "in", "", "`folder` of the records")
	c.addOut(".", "write the file into this `folder`")
	c.addUnits()
	c.addSettings()
	c.RunE = c.onCase(func(p *answer.Placed) error {
		if err := record.CheckCode(p.Label); err != nil {
			return err
		}
		var filed []disk.File
		if c.Flags().Changed("in") {
			f, err := c.openRecords()
			if err != nil {
				return err
			}
			defer f.Close()
			if filed, err = f.Files(p.Label); err != nil && !errors.Is(err, disk.ErrNone) {
				return err
			}
			if len(filed) == 0 {
				say(c.ErrOrStderr(), "%s: no assessments of %s", c.in, p.Label)
			}
		}
		data, err := p.HandOver(c.Context(), string(p.Text), answer.Look{Units: c.units}, sheet.PaperFor(c.units), version(), filed)
		if err != nil {
			return err
		}
		name := answer.HandOverName(p.Label, record.DayOf(time.Now()))
		return c.finish([]file{{filepath.Join(c.out, name), data}}, nil, unseen(p.Label, p.Result.Works))
	})
	return &c.Command
}

// recordsIn is the folder of the records within what is unpacked.
const recordsIn = "records/"

func newUnpack() *cobra.Command {
	c := &command{Command: cobra.Command{
		Use:   "unpack FILE.zip",
		Short: "take apart a file that was handed over",
		Long: `Unpack writes what pack put into one file: the case and its kit, which solve as they
are, the settings, the sheet, the figures, and the assessments in the folder records.`,
		Example: `  sightpost unpack "K-31 2026-11-28.zip" --out k-31`,
		Args:    takes(func(n int) bool { return n == 1 }, "one file that pack wrote: name it", ""),
	}}
	c.addOut(".", "write what it holds into this `folder`")
	c.RunE = func(_ *cobra.Command, args []string) error {
		const most = 64 << 20
		data, err := disk.Read(disk.Anywhere, args[0], most)
		if err != nil {
			return disk.PathError(args[0], err)
		}
		h, err := answer.OpenHandOver(data)
		if err != nil {
			return disk.PathError(args[0], err)
		}
		folders, order := map[string][]file{}, []string{}
		for _, f := range h.All {
			if slices.ContainsFunc(h.Records, func(r disk.File) bool { return f.Name == recordsIn+r.Name }) {
				continue // they are taken with their own permissions
			}
			f := file{filepath.Join(c.out, filepath.FromSlash(f.Name)), f.Text}
			in := filepath.Dir(f.name)
			if folders[in] == nil {
				order = append(order, in)
			}
			folders[in] = append(folders[in], f)
		}
		for _, in := range order { // before anything is written
			if err := refuseExisting(folders[in]); err != nil && !c.force {
				return err
			}
		}
		if len(h.Records) > 0 {
			c.in = filepath.Join(c.out, recordsIn)
			if err := os.MkdirAll(c.in, 0o770); err != nil {
				return disk.PathError(c.in, err)
			}
			f, err := c.openRecords()
			if err != nil {
				return err
			}
			defer f.Close()
			n, err := f.Take(c.Context(), h.Code, h.Records)
			if err != nil {
				return err
			}
			note(&c.Command, "filed %d new assessments into %s", n, c.in)
		}
		for _, in := range order {
			if err := c.finish(folders[in], nil, nil); err != nil {
				return err
			}
		}
		return nil
	}
	return &c.Command
}
