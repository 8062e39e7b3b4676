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

// Assessment is a record evaluated again: the job of its case, all that case and kit
// say, and the result that this version of the tool finds at its settings.
type Assessment struct {
	Record *Record
	Job    *fit.Job
	Says   []casefile.Said
	Result *fit.Result
}

// Filing returns how a was filed.
func (a *Assessment) Filing() *document.Filing {
	r := a.Record
	return &document.Filing{
		Name: r.Name, Day: string(r.Day), Tool: r.Tool, Note: r.Note, Kind: r.Kind, Mounted: len(r.Settings) > 0,
		Edited: r.Edited, MarginMM: r.Result.MarginMM, NowMM: a.Result.MarginMM(),
	}
}

// Compare returns what changed from one assessment to another of the same code. The
// error says that the two are not in order, or that a job cannot be worked on.
func Compare(ctx context.Context, before, after Assessment) (*document.Comparison, error) {
	if err := inOrder(before.Record, after.Record); err != nil {
		return nil, err
	}
	c := &document.Comparison{
		Version: 1, Code: after.Record.Code,
		Old: before.Record.Name, New: after.Record.Name,
		Days:     before.Record.Day.DaysUntil(after.Record.Day),
		Settings: settingChanges(before.Record, after.Record),
		Screen:   screenChanges(before.Record.Result.Screen, after.Record.Result.Screen),
		Margins:  changes(margins(before.Record.Result), margins(after.Record.Result), unchangedToo),
		Remarks:  append(before.Filing().Remarks(), after.Filing().Remarks()...),
	}
	c.Person, c.Things = saidChanges(before.Says, after.Says)
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

// number is one number of an assessment.
type number struct {
	key, what, unit string
	value           float64
}

// The differences from which a number counts as changed.
const (
	unchangedToo = -1.0
	sameAs       = 1e-6 // more than the same measure in other units can make
	shownFrom    = 0.05 // half of the last digit of computed numbers
)

// changes returns the numbers that differ by more than a bound, and those that only one
// of the lists has.
func changes(before, after []number, bound float64) []document.Difference {
	all := []document.Difference{}
	had := func(list []number, key string) *number {
		if i := slices.IndexFunc(list, func(n number) bool { return n.key == key }); i >= 0 {
			return &list[i]
		}
		return nil
	}
	for i := range after {
		now, was := &after[i], had(before, after[i].key)
		if was == nil {
			all = append(all, document.Difference{Key: now.key, What: now.what, Unit: now.unit, After: &now.value})
		} else if math.Abs(now.value-was.value) > bound {
			all = append(all, document.Difference{Key: now.key, What: now.what, Unit: now.unit, Before: &was.value, After: &now.value})
		}
	}
	for i := range before {
		if was := &before[i]; had(after, was.key) == nil {
			all = append(all, document.Difference{Key: was.key, What: was.what, Unit: was.unit, Before: &was.value})
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

// settingChanges returns the settings that differ.
func settingChanges(before, after *Record) []document.Difference {
	numbers := func(r *Record) []number {
		var all []number
		for _, s := range r.Settings {
			all = append(all, number{s.Name, strings.NewReplacer(".", " ", "_", " ").Replace(s.Name), s.Unit, s.Value})
		}
		return all
	}
	return append(changes(numbers(before), numbers(after), sameAs), wording("side", "side of the clamp", before.Side, after.Side)...)
}

// screenChanges returns what changed of the screen's position and attitude, as filed.
func screenChanges(before, after Screen) []document.Difference {
	numbers := func(s Screen) []number {
		return []number{
			{"forward_mm", "middle of the display, forward", "mm", s.ForwardMM},
			{"left_mm", "middle of the display, to the person's left", "mm", s.LeftMM},
			{"up_mm", "middle of the display, above the floor", "mm", s.UpMM},
			{"tilt_deg", "tilt, back", "deg", s.TiltDeg},
			{"rotation_deg", "rotation, toward the person's left", "deg", s.RotationDeg},
			{"roll_deg", "roll, the viewer's right end up", "deg", s.RollDeg},
			{"from_eyes_mm", "eyes to the middle of the display", "mm", s.FromEyesMM},
		}
	}
	return changes(numbers(before), numbers(after), shownFrom)
}

// margins returns the margins as they were filed.
func margins(r Result) []number {
	all := []number{{"margin_mm", "all required postures", "mm", r.MarginMM}}
	for _, p := range r.Postures {
		all = append(all, number{p.Posture, p.Posture, "mm", p.MarginMM})
	}
	return all
}

// saidChanges returns what changed between two cases and their kits, of the person and
// of all else. What both leave open is not told: it follows from what they say.
func saidChanges(before, after []casefile.Said) (person, things []document.Difference) {
	person, things = []document.Difference{}, []document.Difference{}
	group := make(map[string]string)
	for _, e := range casefile.Table() {
		group[e.Path] = e.Group
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
		switch group[s.Row] {
		case "person", "measured", "postures":
			person = append(person, valueChanges(s.Path, a, b)...)
		default:
			things = append(things, valueChanges(s.Path, a, b)...)
		}
	}
	return person, things
}

// valueChanges returns what changed of an entry; nil where a case does not have it. A
// range changes at its ends.
func valueChanges(path string, before, after *casefile.Said) []document.Difference {
	var words [2]string
	var ends, whole [2][]number
	ranged := false
	what := strings.NewReplacer("_", " ", ".", ", ", "[", " ", "]", "").Replace(path) // "postures rested, seat tilt"
	for i, s := range []*casefile.Said{before, after} {
		if s == nil {
			continue
		}
		words[i] = s.Word
		ranged = ranged || s.Low != s.High
		whole[i] = []number{{path, what, s.Unit, s.Low}}
		ends[i] = []number{{path + ".min", what + ", min", s.Unit, s.Low}, {path + ".max", what + ", max", s.Unit, s.High}}
	}
	switch {
	case words != [2]string{}:
		return wording(path, what, words[0], words[1])
	case ranged:
		return changes(ends[0], ends[1], sameAs)
	}
	return changes(whole[0], whole[1], sameAs)
}

func byPath(all []casefile.Said) map[string]*casefile.Said {
	by := make(map[string]*casefile.Said, len(all))
	for i := range all {
		by[all[i].Path] = &all[i]
	}
	return by
}
