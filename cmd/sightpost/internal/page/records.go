package page

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"
	"time"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/draft"
	"sightpost/cmd/sightpost/internal/record"
	"sightpost/cmd/sightpost/internal/text"
)

// recordsFolder is the folder within the page's folder that records are filed in.
const recordsFolder = "records"

// records are what is filed of a code.
type records struct {
	Code  string
	Names []string
	Wrong []string
	Today string
}

// Several reports whether there are two to compare.
func (r *records) Several() bool { return len(r.Names) > 1 }

// records looks up what is filed under the code of the case.
func (v *view) records(s *Server) {
	v.Records = &records{Today: string(record.DayOf(time.Now()))}
	d, err := draft.Read(v.name(), v.Text, &s.form)
	if err != nil {
		v.Records.Wrong = []string{"Filed assessments are listed once the text of the case can be read."}
		return
	}
	if v.Records.Code, _ = d.Word("label"); v.Records.Code == "" {
		return
	}
	names, err := s.recordsOf(v.Records.Code)
	if err != nil && !errors.Is(err, record.ErrNone) {
		v.Records.Wrong = []string{plainWords(err)}
	}
	for i := range names {
		v.Records.Names = append(v.Records.Names, names[len(names)-1-i].String())
	}
}

// recordsOf returns the names of what is filed under a code, the oldest first. The
// error wraps [record.ErrNone] if that is nothing.
func (s *Server) recordsOf(code string) ([]record.Name, error) {
	f, err := s.openRecords(false)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return f.Names(code)
}

// openRecords opens the folder of records, and makes it if it is to be written to.
func (s *Server) openRecords(written bool) (*record.Folder, error) {
	if written {
		const mode fs.FileMode = 0o770
		if err := s.opt.Folder.Mkdir(recordsFolder, mode); err != nil && !errors.Is(err, fs.ErrExist) {
			return nil, fileError(recordsFolder, err)
		}
	}
	// the folder is reached by its path below, so that it must not be a link
	info, err := s.opt.Folder.Lstat(recordsFolder)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("%s: %w", recordsFolder, record.ErrNone)
	case err != nil:
		return nil, fileError(recordsFolder, err)
	case info.Mode().Type() == fs.ModeSymlink:
		return nil, fmt.Errorf("%s: %w", recordsFolder, record.ErrLink)
	}
	return record.Open(filepath.Join(s.opt.Folder.Name(), recordsFolder))
}

// fileRecord files the case as it was worked out.
func (s *Server) fileRecord(ctx context.Context, q *request) func(*view) {
	name, err := s.filed(ctx, q)
	if err != nil {
		return failing(err)
	}
	for _, field := range []string{"date", "record-note", "older", "newer", "stood"} {
		q.Form.Del(field) // the next one is of its own day, and is the newest
	}
	return func(v *view) { v.say("Filed as %s.", name) }
}

// filed files a record and returns the path of its file in the folder.
func (s *Server) filed(ctx context.Context, q *request) (string, error) {
	day := record.DayOf(time.Now())
	if text := q.Form.Get("date"); text != "" {
		var err error
		if day, err = record.ParseDay(text); err != nil {
			return "", err
		}
	}
	note, err := record.Plain([]byte(q.Form.Get("record-note")))
	if err != nil {
		return "", err
	}
	d, err := q.changed()
	if err != nil {
		return "", err
	}
	st := q.state
	st.Text = d.Text()
	w, err := s.work(ctx, &st)
	switch {
	case err != nil:
		return "", err
	case len(w.problems) > 0:
		return "", errors.New("cannot be filed while a measure is missing or not valid")
	case w.err != nil:
		return "", w.err
	}
	if err := record.CheckCode(w.placed.Label); err != nil {
		return "", err
	}
	r, err := w.placed.Record(w.placed.Label, day, s.opt.Version, note)
	if err != nil {
		return "", err
	}
	f, err := s.openRecords(true)
	if err != nil {
		return "", err
	}
	defer f.Close()
	n, err := f.File(ctx, r)
	if err != nil {
		return "", err
	}
	return strings.Join([]string{recordsFolder, w.placed.Label, n.String() + ".yaml"}, "/"), nil
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
	var words strings.Builder
	if err := text.Write(&words, c.Document(), text.Options{Units: q.Units}); err != nil {
		return nil, err
	}
	t := &told{Text: words.String()}
	all, err := answer.ChangeFigures(both[0], both[1], q.Units)
	if errors.Is(err, answer.ErrNothingShared) {
		return t, nil
	}
	if err != nil {
		return nil, err
	}
	return t, t.draw(all, "changed")
}

// recorded reads the record of the case's code that a field chooses.
func (s *Server) recorded(q *request, field string) (*record.Record, error) {
	d, err := q.changed()
	if err != nil {
		return nil, err
	}
	code, _ := d.Word("label")
	f, err := s.openRecords(false)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	n, err := f.Find(code, q.Form.Get(field))
	if err != nil {
		return nil, err
	}
	return f.Read(code, n)
}

// reopen opens the case of a record, to be worked on again.
func (s *Server) reopen(_ context.Context, q *request) func(*view) {
	r, err := s.recorded(q, "newer")
	if err != nil {
		return failing(err)
	}
	q.hold(plainEnds(r.Case), false, plainEnds(r.Kit), "")
	stood := answer.SettingsOf(r)
	q.Settings, q.Stands, q.Side = stood.Settings, len(stood.Settings) > 0, stood.Side
	return func(v *view) {
		v.say("Opened the case as filed on %s, with its settings as found. Enter the new measures, then see what to change.", r.Name)
	}
}

// recall puts in the settings of a record as those that stand. The measures stay.
func (s *Server) recall(_ context.Context, q *request) func(*view) {
	r, err := s.recorded(q, "stood")
	if err != nil {
		return failing(err)
	}
	stood := answer.SettingsOf(r)
	if len(stood.Settings) == 0 {
		return failing(fmt.Errorf("the assessment of %s has no mount and so no settings", r.Name))
	}
	q.Settings, q.Stands, q.Side = stood.Settings, true, stood.Side
	return func(v *view) {
		v.say("The settings of the assessment of %s are now the settings as found. The measures have not changed.", r.Name)
	}
}
