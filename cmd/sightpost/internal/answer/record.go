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
	"sightpost/gaze"
	"sightpost/mount/fit"
	"sightpost/plots"
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

// ErrNothingShared reports that two assessments have no posture in common that they
// could be drawn in.
var ErrNothingShared = errors.New("the two assessments have no posture in common that could be drawn")

// ChangeFigures returns the figures of what changed between two assessments. The error
// is [ErrNothingShared].
func ChangeFigures(before, after record.Assessment, opt Look) ([]Figure, error) {
	posture, err := sharedPosture(&before.Case.Job, &after.Case.Job)
	if err != nil {
		return nil, err
	}
	opt.Posture = posture
	view := func(v plots.View) func() (plots.Figure, error) {
		return func() (plots.Figure, error) {
			return plots.Assessments(assessed(before), assessed(after), v, opt)
		}
	}
	return []Figure{
		{"changed-side", "what changed, from the side", view(plots.Side)},
		{"changed-top", "what changed, from above", view(plots.Top)},
		{"changed-front", "what changed, from the front", view(plots.Front)},
	}, nil
}

// assessed returns an assessment as figures take it.
func assessed(a record.Assessment) plots.Assessment {
	return plots.Assessment{Label: a.Record.Code, Date: a.Record.Name, Result: a.Result}
}

// sharedPosture returns the posture to draw both assessments in: of those that both
// have, the newer one's first that must work, or else its first.
func sharedPosture(before, after *fit.Job) (string, error) {
	shared := slices.DeleteFunc(slices.Clone(after.Postures), func(p gaze.Posture) bool {
		return !slices.ContainsFunc(before.Postures, func(b gaze.Posture) bool { return b.Name == p.Name })
	})
	if len(shared) == 0 {
		return "", ErrNothingShared
	}
	return shared[max(slices.IndexFunc(shared, func(p gaze.Posture) bool { return p.MustWork }), 0)].Name, nil
}
