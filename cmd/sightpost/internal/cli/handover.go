package cli

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/disk"
	"sightpost/cmd/sightpost/internal/record"
	"sightpost/cmd/sightpost/internal/sheet"
)

func newPack() *cobra.Command {
	c := &command{Command: described("pack CASE", oneCase)}
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
		u := c.unitsOr(p.Units())
		data, err := p.HandOver(c.Context(), string(p.Text), answer.Look{Units: u}, sheet.PaperFor(u), version(), filed)
		if err != nil {
			return err
		}
		name := answer.HandOverName(p.Label, record.DayOf(time.Now()))
		return c.deliver(c.written([]disk.File{{Name: filepath.Join(c.out, name), Text: data}}, nil, unseen(p.Label, p.Result.Works)))
	})
	return &c.Command
}

func newUnpack() *cobra.Command {
	c := &command{Command: described("unpack FILE.zip", takes(func(n int) bool { return n == 1 }, "one file that pack wrote: name it", ""))}
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
		files := h.Files
		for i := range files {
			files[i].Name = filepath.Join(c.out, filepath.FromSlash(files[i].Name))
		}
		if err := c.ready(files); err != nil { // before anything is filed
			return err
		}
		if len(h.Records) > 0 {
			c.in = filepath.Join(c.out, answer.RecordsFolder)
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
				return fmt.Errorf("%s: %w", args[0], err)
			}
			note(&c.Command, "filed %d new assessments into %s", n, c.in)
		}
		return c.deliver(c.written(files, nil, nil))
	}
	return &c.Command
}
