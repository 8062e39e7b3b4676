package cli

import (
	"context"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"sightpost/cmd/sightpost/internal/record"
)

// recordFileOptions are the flags of "record file".
type recordFileOptions struct {
	settings settingsOptions
	in       string
	code     string
	date     string
	note     string
}

func newRecordFile(s Streams) *cobra.Command {
	var o recordFileOptions
	cmd := &cobra.Command{
		Use:   "file CASE --in FOLDER",
		Short: "file an assessment under today's date",
		Long: `File writes one assessment into the folder and prints the name of its file: with
--set or --settings, the mount as found; without, as solve finds it. Nothing is ever
overwritten: a second assessment of a day gets a file of its own. A case whose
requirements are not met is filed as well.

The code is the label of the case unless --code gives another: up to 64 letters,
digits and the marks - _ . The folder must exist.`,
		Example: `  sightpost record file case.yaml --in records
  sightpost record file case.yaml --in records --settings as-found.csv --date 2026-11-25`,
		Args: oneCase,
		RunE: func(cmd *cobra.Command, args []string) error { return runRecordFile(cmd.Context(), s, o, args[0]) },
	}
	f := cmd.Flags()
	addFolderFlag(f, &o.in)
	f.StringVar(&o.code, "code", "", "`code` to file it under; the label of the case if left out")
	f.StringVar(&o.date, "date", "", "`day` of the assessment, such as 2026-11-25; today if left out")
	f.StringVar(&o.note, "note", "", "`text` to keep with it; no names")
	o.settings.addFlags(f)
	return cmd
}

// runRecordFile files the assessment of a case and prints the name of its file.
func runRecordFile(ctx context.Context, s Streams, o recordFileOptions, name string) error {
	day, err := o.day()
	if err != nil {
		return err
	}
	f, err := openRecords(o.in)
	if err != nil {
		return err
	}
	defer f.Close()
	note, err := record.Plain([]byte(o.note))
	if err != nil {
		return fmt.Errorf("--note: %w", recordError(err))
	}
	p, err := place(ctx, s, o.settings, name)
	if err != nil {
		return err
	}
	code := o.code
	if code == "" {
		code = p.Label
	}
	if err := record.CheckCode(code); err != nil {
		return withHint(recordError(err), "choose the code to file it under by --code")
	}
	r, err := p.Record(code, day, version(), note)
	if err != nil {
		return recordError(err)
	}
	n, err := f.File(ctx, r)
	if err != nil {
		return recordError(err)
	}
	if _, err := fmt.Fprintln(s.Out, f.Path(code, n)); err != nil {
		return err
	}
	return verdict(p)
}

// day returns the day of the assessment.
func (o *recordFileOptions) day() (record.Day, error) {
	if o.date == "" {
		return record.DayOf(time.Now()), nil
	}
	d, err := record.ParseDay(o.date)
	if err != nil {
		return "", fmt.Errorf("--date: %w", recordError(err))
	}
	return d, nil
}
