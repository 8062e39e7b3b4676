package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/record"
	"sightpost/cmd/sightpost/internal/report"
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
		Long: `File writes one assessment into the folder and prints the name of its file. With
--set or --settings it files the mount as it stands, without any as solve finds it.
Nothing that is there is ever overwritten: a second assessment of a day is filed
beside the first. A case that cannot be met is filed as well.

The code is the label of the case unless --code gives another: letters, digits and
the marks - _ . up to 64 of them. The folder has to be there.`,
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
	src, p, err := o.assess(s, name)
	if err != nil {
		return err
	}
	rep, err := p.report()
	if err != nil {
		return err
	}
	code := o.code
	if code == "" {
		code = p.given.Label
	}
	if err := record.CheckCode(code); err != nil {
		return withHint(recordError(err), "choose the code to file it under by --code")
	}
	r := record.New(code, day, version(), src, rep)
	n, err := f.File(ctx, r)
	if err != nil {
		return recordError(err)
	}
	if _, err := fmt.Fprintln(s.Out, f.Path(code, n)); err != nil {
		return err
	}
	return p.verdict()
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

// assess reads a case and works it out, and keeps what it was made from.
func (o *recordFileOptions) assess(s Streams, name string) (record.Source, *placed, error) {
	if name == stdinName && o.settings.file == stdinName {
		return record.Source{}, nil, errors.New("the case and the settings cannot both come from standard input")
	}
	src, c, err := readSource(s, name)
	if err != nil {
		return src, nil, err
	}
	if src.Note, err = record.Plain([]byte(o.note)); err != nil {
		return src, nil, fmt.Errorf("--note: %w", recordError(err))
	}
	p, err := placeCase(s, o.settings, c)
	return src, p, err
}

// placeCase is [place] for a case that is read already.
func placeCase(s Streams, o settingsOptions, c *casefile.Case) (*placed, error) {
	if o.given() {
		r, err := checked(s, o, &c.Job)
		return &placed{kind: report.Check, given: c, result: r}, err
	}
	r, err := solved(o, c.Job)
	return &placed{kind: report.Solve, given: c, result: r}, err
}

// readSource reads a case and keeps the texts of the case and of its kit: the very
// bytes that were read, whatever becomes of the files meanwhile.
func readSource(s Streams, name string) (src record.Source, c *casefile.Case, err error) {
	in, shown, folder := io.NopCloser(s.In), "standard input", "."
	if name != stdinName {
		shown, folder = name, filepath.Dir(name)
		if in, err = openFile(name); err != nil {
			return src, nil, err
		}
	}
	defer in.Close() // only read: nothing can be lost by closing
	var caseText, kitText bytes.Buffer
	open := openBeside(folder)
	c, err = casefile.Read(shown, io.TeeReader(in, &caseText), func(kit string) (io.ReadCloser, error) {
		f, err := open(kit)
		if err != nil {
			return nil, err
		}
		return &teed{Reader: io.TeeReader(f, &kitText), Closer: f}, nil
	})
	if err != nil {
		return src, nil, err
	}
	if src.Case, err = record.Plain(caseText.Bytes()); err == nil {
		src.Kit, err = record.Plain(kitText.Bytes())
	}
	return src, c, err
}

// teed is a file of which a copy is kept while it is read.
type teed struct {
	io.Reader
	io.Closer
}
