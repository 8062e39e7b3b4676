package record

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/mount/fit"
)

// Assessment is a record evaluated again: its case, and the result that this version of the
// tool finds at its settings.
type Assessment struct {
	Record *Record
	Case   *casefile.Case
	Result *fit.Result
}

// Filing returns how a was filed.
func (a *Assessment) Filing() *document.Filing {
	r := a.Record
	return &document.Filing{
		Name: r.Name, Day: string(r.Day), Tool: r.Tool, Note: r.Note, Kind: r.Kind, Mounted: len(r.Settings) > 0,
		Edited: r.Edited, Withdrawn: r.Withdrawn, MarginMM: r.Result.MarginMM, NowMM: a.Result.MarginMM(),
	}
}

// Compare returns what changed from one assessment to another of the same code. The
// error says that the two are not in order, or that a job cannot be worked on.
func Compare(ctx context.Context, before, after Assessment) (*document.Comparison, error) {
	if err := inOrder(before.Record, after.Record); err != nil {
		return nil, err
	}
	was, is := before.Record, after.Record
	c := &document.Comparison{
		Version: 1, Code: is.Code, Old: was.Name, New: is.Name, Days: was.Day.DaysUntil(is.Day),
		Settings: append(changes(settings(before.Result), settings(after.Result), sameAs), wording("side", "side of the clamp", was.Side, is.Side)...),
		Screen:   changes(place(before), place(after), shownFrom),
		Margins:  changes(margins(was), margins(is), unchangedToo),
		Remarks:  append(before.Filing().Remarks(), after.Filing().Remarks()...),
	}
	c.Remarks = append(c.Remarks, document.Doubts(before.Case, after.Case)...)
	c.Person, c.Things = saidChanges(before.Case.Values(), after.Case.Values())
	if before.Result.Set == nil || after.Result.Set == nil {
		return c, nil
	}
	var err error
	if c.Alone, err = alone(ctx, before, after); err != nil {
		return nil, err
	}
	c.Next, err = expect(ctx, before, after)
	return c, err
}

// inOrder returns an error unless the first record is older than the second.
func inOrder(before, after *Record) error {
	a, errA := ParseName(before.Name)
	b, errB := ParseName(after.Name)
	if err := errors.Join(errA, errB); err != nil {
		return err
	}
	if compareNames(a, b) >= 0 {
		return fmt.Errorf("record: %s is not older than %s; name the older one first", before.Name, after.Name)
	}
	return nil
}

// number returns a number of an assessment as the newer one of a difference.
func number(key, what, unit string, value float64) document.Difference {
	return document.Difference{Key: key, What: what, Unit: unit, After: &value}
}

// The differences from which a number counts as changed.
const (
	unchangedToo = -1.0
	sameAs       = 1e-6 // more than the same measure in other units can make
	shownFrom    = 0.05 // half of the last digit of computed numbers
)

// changes returns the numbers that differ by more than a bound, and those that only one
// of the lists has.
func changes(before, after []document.Difference, bound float64) []document.Difference {
	all := []document.Difference{}
	old := map[string]*document.Difference{}
	for i, d := range before {
		old[d.Key] = &before[i]
	}
	for _, d := range after {
		if was := old[d.Key]; was != nil {
			d.Before, d.Signs[0] = was.After, was.Signs[1]
		}
		delete(old, d.Key)
		if d.Before == nil || math.Abs(*d.After-*d.Before) > bound {
			all = append(all, d)
		}
	}
	for _, d := range before {
		if old[d.Key] != nil {
			d.Before, d.After, d.Signs[0] = d.After, nil, d.Signs[1]
			all = append(all, d)
		}
	}
	return all
}

// wording returns a change told in words, if there is one.
func wording(key, what, was, is string) []document.Difference {
	if was == is {
		return nil
	}
	const absent = "none"
	return []document.Difference{{Key: key, What: what, Was: cmp.Or(was, absent), Is: cmp.Or(is, absent)}}
}

// settings returns what a mount is set to, as a person reads it.
func settings(r *fit.Result) []document.Difference {
	var all []document.Difference
	for _, s := range document.SettingsTold(r) {
		all = append(all, s.Difference())
	}
	return all
}

// place returns the screen's position, as filed, its attitude, which records filed by
// earlier versions give along the normal of the glass, and where it is parked.
func place(a Assessment) []document.Difference {
	s, turned := a.Record.Result.Screen, document.AttitudeOf(a.Result)
	signed := func(d document.Difference, plus, minus string) document.Difference {
		d.Signs[1] = document.Sign{Plus: plus, Minus: minus}
		return d
	}
	return append([]document.Difference{
		signed(number("forward_mm", "middle of the display, from seat and back", "mm", s.ForwardMM), "forward", "back"),
		signed(number("left_mm", "middle of the display, from the midline", "mm", s.LeftMM), "left", "right"),
		number("up_mm", "middle of the display, above the floor", "mm", s.UpMM),
		signed(number("tilt_deg", "tilt", "deg", micrometer(turned.TiltDeg)), "back", "forward"),
		signed(number("rotation_deg", "rotation", "deg", micrometer(turned.RotationDeg)), "left", "right"),
		signed(number("roll_deg", "roll", "deg", micrometer(turned.RollDeg)), "right up", "right down"),
		number("from_eyes_mm", "eyes to the middle of the display", "mm", s.FromEyesMM),
	}, document.Parked(a.Result)...)
}

// margins returns the margins as they were filed.
func margins(r *Record) []document.Difference {
	all := []document.Difference{number("margin_mm", "all required postures", "mm", r.Result.MarginMM)}
	for _, p := range r.Result.Postures {
		all = append(all, number(p.Posture, p.Posture, "mm", p.MarginMM))
	}
	return all
}

// saidChanges returns what changed between two cases and their kits, of the person and
// of all else. What both leave open is not told: it follows from what they say.
func saidChanges(before, after []casefile.Said) (person, things []document.Difference) {
	person, things = []document.Difference{}, []document.Difference{}
	rows := make(map[string]casefile.Entry)
	table := casefile.Fields()
	for _, e := range table.Rows() {
		rows[e.Path] = e
	}
	old, now := byPath(before), byPath(after)
	for _, s := range slices.Concat(after, before) {
		a, b := old[s.Path], now[s.Path]
		delete(old, s.Path) // told once
		delete(now, s.Path)
		if a == nil && b == nil || a != nil && b != nil && a.Assumed && b.Assumed {
			continue
		}
		switch s.Row {
		case "label", "note", "mount.kit.note":
			continue
		}
		switch row := rows[s.Row]; row.Group {
		case "person", "measured", "postures":
			person = append(person, valueChanges(s.Path, row, a, b)...)
		default:
			things = append(things, valueChanges(s.Path, row, a, b)...)
		}
	}
	return person, things
}

// valueChanges returns what changed of an entry; nil where a case does not have it. A
// range changes at its ends. A sign is told in words.
func valueChanges(path string, row casefile.Entry, before, after *casefile.Said) []document.Difference {
	what := strings.TrimPrefix(strings.TrimPrefix(path, "measured."), "person.")
	what = strings.NewReplacer("postures[", "posture ", "_", " ", ".", ", ", "[", " ", "]", "").Replace(what) // "posture rested, seat tilt"
	was, is := cmp.Or(before, &casefile.Said{}), cmp.Or(after, &casefile.Said{})
	if was.Word+is.Word != "" {
		return wording(path, what, was.Word, is.Word)
	}
	numbers := func(s *casefile.Said) []document.Difference {
		switch {
		case s == nil:
			return nil
		case was.Low != was.High || is.Low != is.High:
			return []document.Difference{number(path+".min", what+", min", s.Unit, s.Low), number(path+".max", what+", max", s.Unit, s.High)}
		}
		return []document.Difference{number(path, what, s.Unit, s.Low)}
	}
	all := changes(numbers(before), numbers(after), sameAs)
	for i, d := range all {
		if min(*cmp.Or(d.Before, d.After), *cmp.Or(d.After, d.Before)) < 0 {
			sign := document.Sign{Plus: row.Ways[0], Minus: row.Ways[1]}
			all[i].Signs = [2]document.Sign{sign, sign}
		}
	}
	return all
}

func byPath(all []casefile.Said) map[string]*casefile.Said {
	by := make(map[string]*casefile.Said, len(all))
	for i := range all {
		by[all[i].Path] = &all[i]
	}
	return by
}
