package cli

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/record"
)

// recordOptions are the flags of every command that looks at records.
type recordOptions struct {
	answer answerOptions
	in     string
	anyway bool
}

// addFlags adds the flags of a command whose object has the schema of the given
// name.
func (o *recordOptions) addFlags(f *pflag.FlagSet, schema string) {
	addFolderFlag(f, &o.in)
	o.answer.addFlags(f, schema)
}

// addAnyway adds the flag of commands that rely on what one record holds.
func (o *recordOptions) addAnyway(f *pflag.FlagSet) {
	f.BoolVar(&o.anyway, "anyway", false, "take a record that was edited after it was filed")
}

func addFolderFlag(f *pflag.FlagSet, in *string) {
	f.StringVar(in, "in", "", "`folder` that the clinic keeps its records in")
}

func newRecord(s Streams) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "record",
		Short: "file an assessment, list what is filed, show what changed",
		Long: `Record keeps assessments in a folder that the clinic chooses, each as one dated
YAML file that is never changed: FOLDER/CODE/2026-11-25.yaml, a second one of that
day 2026-11-25-2.yaml. A file holds the case and its kit word for word, the settings
and the result. It names no person, only a code. To forget a person, remove the folder
of the code.`,
		Example: `  sightpost record file case.yaml --in records
  sightpost record compare --in records bench-07`,
		Args: knownCommand,
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	cmd.SuggestionsMinimumDistance = 2
	cmd.AddCommand(newRecordFile(s), newRecordList(s), newRecordShow(s), newRecordCompare(s))
	return cmd
}

// openRecords opens the folder of records.
func openRecords(in string) (*record.Folder, error) {
	if in == "" {
		return nil, withHint(errors.New("the folder of the records is missing"), "name their folder by --in FOLDER")
	}
	f, err := record.Open(in)
	if errors.Is(err, record.ErrNone) {
		err = withHint(err, "make the folder first, so that a typing error does not begin a second one")
	}
	return f, err
}

// read returns the record of a code that text names.
func (o *recordOptions) read(f *record.Folder, code, text string) (*record.Record, error) {
	n, err := f.Find(code, text)
	if err != nil {
		return nil, err
	}
	r, err := f.Read(code, n)
	if err != nil {
		return nil, err
	}
	if r.Edited && !o.anyway {
		return nil, withHint(fmt.Errorf("%s: was edited after it was filed: its checksum does not fit", f.Path(code, n)),
			"add --anyway to take it as it is")
	}
	return r, nil
}

// recordFileOptions are the flags of "record file".
type recordFileOptions struct {
	settings settingsOptions
	in       string
	code     string
	day      record.Day
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
	o.day = record.DayOf(time.Now())
	addParsed(f, &o.day, "date", "", "`day` of the assessment, such as 2026-11-25; today if left out", readDay)
	f.StringVar(&o.note, "note", "", "`text` to keep with it; no names")
	o.settings.addFlags(f)
	return cmd
}

// runRecordFile files the assessment of a case and prints the name of its file.
func runRecordFile(ctx context.Context, s Streams, o recordFileOptions, name string) error {
	f, err := openRecords(o.in)
	if err != nil {
		return err
	}
	defer f.Close()
	note, err := record.Plain([]byte(o.note))
	if err != nil {
		return fmt.Errorf("--note: %w", err)
	}
	p, err := place(ctx, s, o.settings, name)
	if err != nil {
		return err
	}
	code := cmp.Or(o.code, p.Label)
	if err := record.CheckCode(code); err != nil {
		return withHint(err, "choose the code to file it under by --code")
	}
	r, err := p.Record(code, o.day, version(), note)
	if err != nil {
		return err
	}
	n, err := f.File(ctx, r)
	if err != nil {
		return err
	}
	if _, err := fmt.Fprintln(s.Out, f.Path(code, n)); err != nil {
		return err
	}
	return verdict(p.Label, p.Result.Works)
}

// readDay reads the day of an assessment.
func readDay(text string) (record.Day, error) {
	d, err := record.ParseDay(text)
	if err != nil {
		return d, fmt.Errorf("--date: %s", strings.TrimPrefix(err.Error(), "record: "))
	}
	return d, nil
}

func newRecordList(s Streams) *cobra.Command {
	var o recordOptions
	cmd := &cobra.Command{
		Use:   "list --in FOLDER [CODE]",
		Short: "list the codes of a folder, or the assessments of a code",
		Long: `List prints the codes that have records, how many, and from when to when; of one
code, all its assessments with their margins, oldest first. A file that cannot be
read is named on standard error; the others are still listed.`,
		Example: `  sightpost record list --in records
  sightpost record list --in records bench-07`,
		Args: atMostOne("code"),
		RunE: func(cmd *cobra.Command, args []string) error { return runRecordList(cmd.Context(), s, o, args) },
	}
	o.addFlags(cmd.Flags(), "records")
	return cmd
}

// runRecordList lists the codes, or the records of the one code in args.
func runRecordList(ctx context.Context, s Streams, o recordOptions, args []string) error {
	f, err := openRecords(o.in)
	if err != nil {
		return err
	}
	defer f.Close()
	read := f.ListCodes
	if len(args) == 1 {
		read = func() (*document.Records, []error) { return f.List(args[0]) }
	}
	list, failed := read()
	for _, err := range failed {
		tell(s.Err, err)
	}
	if len(failed) > 0 && len(list.Codes) == 0 && len(list.Records) == 0 {
		return errSaid
	}
	if err := o.answer.print(ctx, s, list); err != nil {
		return err
	}
	if len(failed) > 0 {
		return errSaid
	}
	return nil
}

// recordShowOptions are the flags of "record show".
type recordShowOptions struct {
	recordOptions
	text string
}

func newRecordShow(s Streams) *cobra.Command {
	var o recordShowOptions
	cmd := &cobra.Command{
		Use:   "show --in FOLDER CODE [DATE|latest]",
		Short: "show one assessment as filed",
		Long: `Show prints what was filed: the verdict, the settings, where the screen was and the
margins; of a code alone, the latest assessment. --text prints the case or the kit,
word for word, so that it can be solved again.`,
		Example: `  sightpost record show --in records bench-07 latest
  sightpost record show --in records bench-07 2026-11-25-2 --text case > case.yaml`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) < 1 || len(args) > 2 {
				return seeHelp(cmd, fmt.Errorf("show needs a code, and takes a date or %q", record.Latest))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			return runRecordShow(cmd.Context(), s, o, args[0], firstOr(args[1:], record.Latest))
		},
	}
	o.addFlags(cmd.Flags(), "record")
	o.addAnyway(cmd.Flags())
	cmd.Flags().StringVar(&o.text, "text", "", "print only this `part`, word for word: case or kit")
	return cmd
}

// runRecordShow prints a record, or a part of it.
func runRecordShow(ctx context.Context, s Streams, o recordShowOptions, code, when string) error {
	f, err := openRecords(o.in)
	if err != nil {
		return err
	}
	defer f.Close()
	r, err := o.read(f, code, when)
	if err != nil {
		return err
	}
	if o.text != "" {
		return o.printPart(s, r)
	}
	if o.answer.json {
		return o.answer.print(ctx, s, r)
	}
	d, err := answer.Filed(ctx, r)
	if err != nil {
		return fmt.Errorf("%w; --json prints the record as it was filed", err)
	}
	return o.answer.print(ctx, s, d)
}

// printPart prints the case or the kit.
func (o *recordShowOptions) printPart(s Streams, r *record.Record) error {
	text := r.Case
	switch o.text {
	case "case":
	case "kit":
		text = r.Kit
	default:
		return fmt.Errorf("there is no part %q: choose case or kit", o.text)
	}
	if text == "" {
		return errors.New("the record holds no kit of its own: the case has it in place, or has none")
	}
	_, err := io.WriteString(s.Out, text)
	return err
}
