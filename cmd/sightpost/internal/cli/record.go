package cli

import (
	"cmp"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/disk"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/record"
	"sightpost/plots/units"
)

func newRecord() *cobra.Command {
	c := described("record", nil)
	c.RunE = func(cmd *cobra.Command, _ []string) error { return cmd.Help() }
	return family(c, newRecordFile(), newRecordList(), newRecordShow(), newRecordCompare())
}

// onRecords is a run of a command on the folder of records.
func (c *command) onRecords(do func(f *record.Folder, args []string) error) func(*cobra.Command, []string) error {
	return func(_ *cobra.Command, args []string) error {
		f, err := c.openRecords()
		if err != nil {
			return err
		}
		defer f.Close()
		return do(f, args)
	}
}

// openRecords opens the folder of records.
func (c *command) openRecords() (*record.Folder, error) {
	if c.in == "" {
		return nil, errors.New("name the folder of the records by --in FOLDER")
	}
	f, err := record.Open(c.in)
	if errors.Is(err, disk.ErrNone) {
		err = withHint(err, "create the folder first: a mistyped name must not start a second one")
	}
	return f, err
}

// readRecord returns the record of a code that text names.
func (c *command) readRecord(f *record.Folder, code, text string) (*record.Record, error) {
	n, err := f.Find(code, text)
	if err != nil {
		return nil, err
	}
	r, err := f.Read(code, n)
	if err != nil {
		return nil, err
	}
	if r.Edited && !c.anyway {
		return nil, withHint(fmt.Errorf("%s: was edited after it was filed: its checksum does not match", f.Path(code, n)),
			"add --anyway to accept it")
	}
	return r, nil
}

func newRecordFile() *cobra.Command {
	c := &command{Command: described("file CASE --in FOLDER", oneCase)}
	var code, note string
	today := record.DayOf(time.Now())
	day := today
	c.addRecords()
	c.Flags().StringVar(&code, "code", "", "`code` to file it under; the label of the case if left out")
	addParsed(c.Flags(), &day, "date", "", "`day` of the assessment, such as 2026-11-25; today if left out", func(text string) (record.Day, error) {
		d, err := record.ParseDay(text)
		if err != nil {
			err = fmt.Errorf("--date: %s", strings.TrimPrefix(err.Error(), "record: "))
		}
		return d, err
	})
	c.Flags().StringVar(&note, "note", "", "`text` to keep with it; no names")
	c.addSettings()
	c.RunE = c.onRecords(func(f *record.Folder, args []string) error {
		note, err := record.Plain([]byte(note))
		if err != nil {
			return fmt.Errorf("--note: %w", err)
		}
		p, err := c.place(args[0])
		if err != nil {
			return err
		}
		code := cmp.Or(code, p.Label)
		if err := record.CheckCode(code); err != nil {
			return withHint(err, "choose the code to file it under by --code")
		}
		r, err := p.Record(c.Context(), code, day, version(), note)
		if err != nil {
			return err
		}
		c.sayDoubts(f, r, p)
		if doubt := day.Doubt(today); doubt != "" {
			say(c.ErrOrStderr(), "%s", doubt)
		}
		n, err := f.File(c.Context(), r)
		if err != nil {
			return err
		}
		if _, err := fmt.Fprintln(c.OutOrStdout(), f.Path(code, n)); err != nil {
			return err
		}
		return unseen(p.Label, p.Result.Works)
	})
	return &c.Command
}

// sayDoubts says what the latest record of a code and the next one, r of p, cannot both be
// right about. An earlier record that cannot be read keeps no other from being filed.
func (c *command) sayDoubts(f *record.Folder, r *record.Record, p *answer.Placed) {
	n, err := f.Find(r.Code, record.Latest)
	if err != nil || n.Day > r.Day {
		return
	}
	latest, err := f.Read(r.Code, n)
	if err != nil {
		return
	}
	before, err := answer.CaseOf(latest)
	if err != nil {
		return
	}
	for _, t := range document.Doubts(before.Case, p.Case.Case) {
		say(c.ErrOrStderr(), "compared with %s: %s", n, t.In(c.unitsOr(p.Units())))
	}
}

func newRecordList() *cobra.Command {
	c := &command{Command: described("list --in FOLDER [CODE]", atMostOne("code"))}
	c.addRecords()
	c.addAnswer("records")
	c.RunE = c.onRecords(func(f *record.Folder, args []string) error {
		read, u := f.ListCodes, c.units
		if len(args) == 1 {
			read = func() (*document.Records, []error) { return f.List(args[0]) }
			if n, err := f.Find(args[0], record.Latest); err == nil {
				u = c.unitsFiled(f.Read(args[0], n))
			}
		}
		list, failed := read()
		if len(failed) == 0 {
			return c.conclude(list, u, nil, nil)
		}
		for _, err := range failed {
			tell(c.ErrOrStderr(), err)
		}
		if len(list.Codes) == 0 && len(list.Records) == 0 {
			return errSaid
		}
		return c.conclude(list, u, nil, errSaid)
	})
	return &c.Command
}

func newRecordShow() *cobra.Command {
	c := &command{Command: described("show --in FOLDER CODE [DATE|latest]", takes(func(n int) bool { return n == 1 || n == 2 }, `a code, and takes a date or "`+record.Latest+`"`, ""))}
	var part string
	c.addRecords()
	c.addAnswer("record")
	c.addAnyway()
	c.Flags().StringVar(&part, "text", "", "print only this `part`, word for word: case or kit")
	c.RunE = c.onRecords(func(f *record.Folder, args []string) error {
		r, err := c.readRecord(f, args[0], firstOr(args[1:], record.Latest))
		if err != nil {
			return err
		}
		switch {
		case part != "":
			text, err := partOf(r, part)
			if err != nil {
				return err
			}
			return c.deliver(outcome{text: []byte(text)})
		case c.json:
			return c.conclude(r, c.units, nil, nil)
		}
		d, err := answer.Filed(c.Context(), r)
		if err != nil {
			return fmt.Errorf("%w; --json prints the record as it was filed", err)
		}
		return c.conclude(d, c.unitsFiled(r, nil), nil, nil)
	})
	return &c.Command
}

// unitsFiled returns the units in which a record, if it could be read, is told: see unitsOr.
func (c *command) unitsFiled(r *record.Record, err error) units.Units {
	if err == nil {
		if k, err := answer.CaseOf(r); err == nil {
			return c.unitsOr(k.Units())
		}
	}
	return c.units
}

// partOf returns the case or the kit of a record.
func partOf(r *record.Record, part string) (string, error) {
	text, ok := map[string]string{"case": r.Case, "kit": r.Kit}[part]
	switch {
	case !ok:
		return "", fmt.Errorf("there is no part %q: choose case or kit", part)
	case text == "":
		return "", errors.New("the record has no separate kit: the case contains it, or has none")
	}
	return text, nil
}

func newRecordCompare() *cobra.Command {
	c := &command{Command: described("compare --in FOLDER CODE [OLD NEW]", takes(func(n int) bool { return n == 1 || n == 3 }, "a code, and takes the dates of two assessments", ""))}
	c.addRecords()
	c.addAnswer("comparison")
	c.addAnyway()
	c.addSave("")
	c.RunE = c.onRecords(func(f *record.Folder, args []string) error {
		before, after, err := c.readBoth(f, args)
		if err != nil {
			return err
		}
		changes, err := record.Compare(c.Context(), before, after)
		if err != nil {
			return err
		}
		u := c.unitsOr(after.Case.Units())
		if c.out == "" {
			return c.conclude(changes, u, nil, nil)
		}
		figures, err := answer.ChangeFigures(before, after, answer.Look{Units: u})
		if errors.Is(err, answer.ErrNothingShared) {
			err = fmt.Errorf("%w; leave out --out", err)
		}
		if err != nil {
			return err
		}
		files, err := c.withObject(c.out, figures, "comparison.json", changes)
		if err != nil {
			return err
		}
		return c.conclude(changes, u, files, nil)
	})
	return &c.Command
}

// readBoth returns the two assessments that args name, the older first.
func (c *command) readBoth(f *record.Folder, args []string) (before, after record.Assessment, err error) {
	if len(args) == 1 {
		older, newer, err := answer.LastTwo(f, args[0])
		if err != nil {
			return before, after, err
		}
		args = []string{args[0], older.String(), newer.String()}
	}
	for i, into := range []*record.Assessment{&before, &after} {
		r, err := c.readRecord(f, args[0], args[1+i])
		if err != nil {
			return before, after, err
		}
		if *into, err = answer.Reevaluate(c.Context(), r); err != nil {
			return before, after, err
		}
	}
	return before, after, nil
}
