package answer

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/record"
)

// Record returns the record of p: of a code, on a day, by a version of the program,
// with a note.
func (p *Placed) Record(ctx context.Context, code string, d record.Day, version, note string) (*record.Record, error) {
	text, errText := record.Plain(p.Text)
	kit, errKit := record.Plain(p.KitText)
	rep, err := p.Report(ctx)
	if err := cmp.Or(errText, errKit, err); err != nil {
		return nil, err
	}
	return record.New(code, d, version, record.Source{Case: text, Kit: kit, Note: note}, rep), nil
}

// Reevaluate evaluates a record again, at the settings that were filed.
func Reevaluate(ctx context.Context, r *record.Record) (record.Assessment, error) {
	p, err := placed(ctx, r)
	if err != nil {
		return record.Assessment{}, err
	}
	return record.Assessment{Record: r, Case: p.Case.Case, Result: p.Result}, nil
}

// Filed returns the document of a record: how it was filed, and its result as it is
// evaluated again.
func Filed(ctx context.Context, r *record.Record) (*document.Document, error) {
	p, err := placed(ctx, r)
	if err != nil {
		return nil, err
	}
	p.Kind = r.Kind
	rep, err := p.Report(ctx)
	if err != nil {
		return nil, err
	}
	d := rep.Document()
	d.Label = r.Code + ", " + r.Name
	d.Sections = slices.Insert(d.Sections, 0, (&record.Assessment{Record: r, Result: p.Result}).Filing().Section())
	return d, nil
}

// CaseOf returns the case of a record.
func CaseOf(r *record.Record) (*Case, error) {
	return Read("case of "+r.Name, strings.NewReader(r.Case), func(string) (io.ReadCloser, error) {
		if r.Kit == "" {
			return nil, errors.New("the record holds no kit")
		}
		return io.NopCloser(strings.NewReader(r.Kit)), nil
	})
}

// placed returns the case of a record with the screen at the settings that were filed.
func placed(ctx context.Context, r *record.Record) (*Placed, error) {
	c, err := CaseOf(r)
	if err != nil {
		return nil, err
	}
	p, err := c.Place(ctx, SettingsOf(r))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", c.File(), err)
	}
	return p, nil
}

// SettingsOf returns how the mount was set when a record was filed, by the chain's own
// settings.
func SettingsOf(r *record.Record) AsFound {
	s := AsFound{Side: r.Side, Inner: true}
	for _, set := range r.Settings {
		s.Settings = append(s.Settings, Entry{Name: set.Name, Value: strconv.FormatFloat(set.Value, 'f', -1, 64) + " " + set.Unit})
	}
	return s
}

// LastTwo returns the names of the two latest records of a code.
func LastTwo(f *record.Folder, code string) (older, newer record.Name, err error) {
	names, err := f.Standing(code)
	if err == nil && len(names) < 2 {
		err = fmt.Errorf("%s has too few assessments to compare: %d", code, len(names))
	}
	if err != nil {
		return older, newer, err
	}
	return names[len(names)-2], names[len(names)-1], nil
}
