package page

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"html/template"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/disk"
	"sightpost/cmd/sightpost/internal/record"
	"sightpost/mount/fit"
	"sightpost/plots"
)

// recordsFolder is the folder within the page's folder that records are filed in.
const recordsFolder = "records"

// records are what is filed of a code, the newest first.
type records struct {
	Code  string
	Names []string
	// Head and Rows are the list of them, Course the chart of their margins if there are several.
	Head   []string
	Rows   []recordRow
	Course template.HTML
	Wrong  string
	Today  string
}

// recordRow is a record in the list: its cells, and what was noted.
type recordRow struct {
	Name, Note string
	Cells      []string
	Withdrawn  bool
}

// records looks up what is filed under the code of the case, of which so much margin is
// required.
func (s *Server) records(q *request, requiredMM float64) *records {
	all := &records{Today: string(record.DayOf(time.Now()))}
	if q.draft.Text() == "" {
		all.Wrong = "Filed assessments are listed once the text of the case can be read."
		return all
	}
	all.Code, _ = q.draft.Word("label")
	if all.Code == "" {
		return all
	}
	err := s.inRecords(func(f *record.Folder) error { return all.list(f, requiredMM, q.look(inCard)) })
	if err != nil && !errors.Is(err, disk.ErrNone) {
		all.Wrong = plainWords(err)
	}
	return all
}

// list lists the records of the code, and draws the margins of those that count.
func (r *records) list(f *record.Folder, requiredMM float64, l answer.Look) (err error) {
	all, failed := f.List(r.Code)
	table := all.Document().Sections[0]
	r.Head = table.Head
	var found []plots.Found
	for i, one := range slices.Backward(all.Records) {
		r.Rows = append(r.Rows, recordRow{one.Name, strings.TrimSpace(one.Note), table.Rows[i].In(l.Units), one.Withdrawn})
		r.Names = append(r.Names, one.Name)
		if day, err := time.Parse(time.DateOnly, one.Day); err == nil && !one.Withdrawn {
			found = append(found, plots.Found{Day: day, MarginMM: one.MarginMM})
		}
	}
	if slices.Reverse(found); len(found) > 1 {
		draw := func() (plots.Figure, error) { return plots.Course(found, requiredMM, l) }
		r.Course, err = inline(answer.Figure{Name: "course", Draw: draw}, "course")
	}
	return errors.Join(append(failed, err)...)
}

// filedCode is a code with records, for the first page.
type filedCode struct{ Code, Latest string }

// filed returns the codes with records and the latest of each, the newest first.
func (s *Server) filed() []filedCode {
	var all []filedCode
	_ = s.inRecords(func(f *record.Folder) error { // there may be none
		codes, err := f.Codes()
		for _, code := range codes[:min(len(codes), maxListed)] {
			if n, err := f.Find(code, record.Latest); err == nil {
				all = append(all, filedCode{code, n.String()})
			}
		}
		return err
	})
	slices.SortStableFunc(all, func(a, b filedCode) int { return strings.Compare(b.Latest, a.Latest) })
	return all
}

// newRecords opens the folder of records, which it makes if need be.
func (s *Server) newRecords() (*record.Folder, error) {
	const mode fs.FileMode = 0o770
	if err := s.opt.Folder.Mkdir(recordsFolder, mode); err != nil && !errors.Is(err, fs.ErrExist) {
		return nil, fileError(recordsFolder, err)
	}
	var f *record.Folder
	err := s.kept.saving(func() (err error) {
		f, err = openRecords(s.opt.Folder)
		return err
	})
	return f, err
}

// inRecords does what has to do with the folder of records. The error wraps [disk.ErrNone] if
// there is none.
func (s *Server) inRecords(do func(*record.Folder) error) error {
	f, err := openRecords(s.opt.Folder)
	if err != nil {
		return err
	}
	defer f.Close()
	return do(f)
}

// openRecords opens the folder of records in that of a page. It is reached by its path, so
// that it must not be a link.
func openRecords(in *os.Root) (*record.Folder, error) {
	info, err := in.Lstat(recordsFolder)
	if err == nil && info.Mode().Type() == fs.ModeSymlink {
		err = disk.ErrLink
	}
	if err != nil {
		return nil, fileError(recordsFolder, err)
	}
	return record.Open(filepath.Join(in.Name(), recordsFolder))
}

// fileRecord files the case as it was worked out.
func (s *Server) fileRecord(ctx context.Context, q *request, v *view) error {
	today := record.DayOf(time.Now())
	day, err := record.ParseDay(cmp.Or(q.Form.Get("date"), string(today)))
	note, bad := record.Plain([]byte(q.Form.Get("record-note")))
	if err := cmp.Or(err, bad, q.wrong); err != nil {
		return err
	}
	w, err := s.work(ctx, &q.state)
	if err == nil && w.placed != nil && len(w.given.Carried) > 0 {
		if err = q.sayCarried(w.given.Carried); err == nil {
			w, err = s.work(ctx, &q.state)
		}
	}
	switch {
	case err != nil:
		return err
	case w.problems() != nil:
		return errors.New("cannot be filed while a measure is missing or not valid")
	case w.err != nil:
		return w.err
	}
	code := w.placed.Label
	if err := record.CheckCode(code); err != nil {
		return err
	}
	r, err := w.placed.Record(ctx, code, day, s.opt.Version, note)
	if err != nil {
		return err
	}
	r.Case = withUnconfirmed(r.Case, q.unconfirmed)
	f, err := s.newRecords()
	if err != nil {
		return err
	}
	defer f.Close()
	if same := twin(f, r); same != "" {
		return fmt.Errorf("already filed as %s; change the date or the note to file it again", same)
	}
	n, err := f.File(ctx, r)
	if err != nil {
		return err
	}
	for _, field := range []string{"date", "record-note", "older", "newer", "recalled"} {
		q.Form.Del(field) // the next one is of its own day, and is the newest
	}
	q.Filed = q.sum()
	v.Notice = fmt.Sprintf("Filed as %s.", path.Join(recordsFolder, code, n.String()+".yaml"))
	if doubt := day.Doubt(today); doubt != "" {
		v.Notice += " " + doubt + "."
	}
	return nil
}

// twin returns the name of a record of the same day that says the same as r; "" if there is
// none.
func twin(f *record.Folder, r *record.Record) string {
	names, _ := f.Standing(r.Code) // there may be none
	for _, n := range names {
		if n.Day != r.Day {
			continue
		}
		if was, err := f.Read(r.Code, n); err == nil && was.Case == r.Case && was.Kit == r.Kit && was.Note == r.Note && slices.Equal(was.Settings, r.Settings) {
			return n.String()
		}
	}
	return ""
}

// markRecord withdraws a record, takes that back, or changes its note.
func (s *Server) markRecord(ctx context.Context, q *request, v *view) error {
	code, name, _ := strings.Cut(q.Target, "/")
	r, err := s.recordOf(code, name)
	if err != nil {
		return err
	}
	m := record.Mark{Withdrawn: r.Withdrawn, Note: r.Note}
	if q.Action == "withdraw" {
		m.Withdrawn = !m.Withdrawn
	} else if m.Note, err = record.Plain([]byte(q.Form.Get("note " + name))); err != nil {
		return err
	}
	err = s.inRecords(func(f *record.Folder) error {
		n, err := f.Find(code, name)
		if err == nil {
			err = f.Mark(ctx, code, n, m)
		}
		return err
	})
	v.Notice = fmt.Sprintf("Changed what is said of the assessment of %s.", name)
	return err
}

// recorded reads the record of the case's code that a field chooses.
func (s *Server) recorded(q *request, field string) (*record.Record, error) {
	if q.wrong != nil {
		return nil, q.wrong
	}
	code, _ := q.draft.Word("label")
	return s.recordOf(code, q.Form.Get(field))
}

// recordOf reads the record of a code and a name.
func (s *Server) recordOf(code, name string) (r *record.Record, err error) {
	err = s.inRecords(func(f *record.Folder) error {
		n, err := f.Find(code, name)
		if err == nil {
			r, err = f.Read(code, n)
		}
		return err
	})
	return r, err
}

// compare says what changed between two records of the case's code.
func (s *Server) compare(ctx context.Context, q *request) (*told, error) {
	var both [2]record.Assessment
	for i, field := range []string{"older", "newer"} {
		r, err := s.recorded(q, field)
		if err != nil {
			return nil, err
		}
		if both[i], err = answer.Reevaluate(ctx, r); err != nil {
			return nil, err
		}
	}
	c, err := record.Compare(ctx, both[0], both[1])
	if err != nil {
		return nil, err
	}
	t := tellOf(c, q.Units)
	all, err := answer.ChangeFigures(both[0], both[1], q.look(inCard))
	if errors.Is(err, answer.ErrNothingShared) {
		return t, nil
	}
	if err != nil {
		return nil, err
	}
	return t, t.draw(all, "changed")
}

// reopen opens the case of a record, to be worked on again.
func (s *Server) reopen(ctx context.Context, q *request, v *view) error {
	code, name, _ := strings.Cut(q.Target, "/")
	r, err := s.recordOf(code, name)
	if err != nil {
		return err
	}
	found, err := answer.Reevaluate(ctx, r)
	if err != nil {
		return err
	}
	q.open(r.Case, r.Kit, "")
	q.takeAsFound(found)
	q.Filed = q.sum()
	v.Notice = fmt.Sprintf("Opened the case as filed on %s, with its settings as found. Enter only what has changed, then press “What to change”.", r.Name)
	return nil
}

// recall puts in the settings of a record as the settings as found. The measures stay.
func (s *Server) recall(ctx context.Context, q *request, v *view) error {
	r, err := s.recorded(q, "recalled")
	if err != nil {
		return err
	}
	if len(r.Settings) == 0 {
		return fmt.Errorf("the assessment of %s has no mount and so no settings", r.Name)
	}
	found, err := answer.Reevaluate(ctx, r)
	if err != nil {
		return err
	}
	q.takeAsFound(found)
	v.Notice = fmt.Sprintf("The settings of the assessment of %s are now the settings as found. The measures have not changed.", r.Name)
	return nil
}

// takeAsFound takes the settings of an assessment for those on the mount.
func (q *request) takeAsFound(a record.Assessment) {
	q.setAs(a.Result)
	q.Earlier = path.Join(a.Record.Code, a.Record.Name)
}

// setAs takes the settings of a result for those on the mount.
func (q *request) setAs(r *fit.Result) {
	as := answer.Typed(r, q.Units)
	q.Settings, q.AsFound, q.Side = as.Settings, as.Given(), ""
	if m := r.Job.Mount; m != nil && len(m.Mountings) > 1 { // else the page has no field for it
		q.Side = as.Side
	}
}

// earlier returns the case of the record that the settings as found were taken from; nil if
// they were taken from none.
func (s *Server) earlier(st *state) (*casefile.Case, error) {
	code, name, from := strings.Cut(st.Earlier, "/")
	if !from || !st.AsFound {
		return nil, nil //nolint:nilnil // there may be none
	}
	r, err := s.recordOf(code, name)
	if err != nil {
		return nil, err
	}
	c, err := answer.CaseOf(r)
	if err != nil {
		return nil, err
	}
	return c.Case, nil
}

// sayCarried writes into the case what is taken as moved along with the seat, so that it
// says so by itself.
func (q *request) sayCarried(all []casefile.Carried) error {
	d := q.draft
	for _, c := range all {
		for _, p := range c.Now {
			var err error
			if d, err = d.Set(c.Path+"."+p.Name, p.Value.String()); err != nil {
				return err
			}
		}
	}
	return q.edit(d, nil)
}
