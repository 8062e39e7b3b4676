package record

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// Assessment is a record evaluated again: the job of its case, all that case and kit
// say, and the result that this version of the tool finds at its settings.
type Assessment struct {
	Record *Record
	Job    *fit.Job
	Says   []casefile.Said
	Result *fit.Result
}

// Comparison is what changed between two assessments.
type Comparison struct {
	// Version of this form.
	Version int `json:"sightpost_comparison" jsonschema:"const=1"`
	// The clinic's code for the person.
	Code string `json:"code"`
	// Names of the older and of the newer record.
	Old string `json:"old"`
	New string `json:"new"`
	// Days between the two.
	Days int `json:"days"`
	// What of the person changed: measures and postures.
	Person []Change `json:"person"`
	// What of chair, screen, tracker, mount, keep-clear zones and preferences changed.
	Things []Change `json:"things"`
	// The settings that changed, and the side of the clamp.
	Settings []Change `json:"settings"`
	// What changed of the position and attitude of the screen.
	Screen []Change `json:"screen"`
	// Margins, of all that must work and of each posture, changed or not.
	Margins []Change `json:"margins"`
	// What the change of the person alone did to the margin; absent without a mount.
	Alone *PersonEffect `json:"person_effect,omitempty"`
	// What to expect if it goes on; absent without a mount.
	Next *Next `json:"next,omitempty"`
	// What to know of the two records.
	Remarks []string `json:"remarks"`
}

// Change is what became of one thing: a number, or words.
type Change struct {
	// Entry of the case, name of the setting or of the posture.
	Key string `json:"key"`
	// The same in words.
	What string `json:"what"`
	// Unit of the numbers; empty for plain numbers and for words.
	Unit string `json:"unit,omitempty"`
	// The numbers; absent where there was or is none.
	Before *float64 `json:"before,omitempty"`
	After  *float64 `json:"after,omitempty"`
	// The words; absent where there are numbers.
	Was string `json:"was,omitempty"`
	Is  string `json:"is,omitempty"`

	margin bool // below zero its size is approximate
}

// PersonEffect is what the person's change alone does: the newer person with the older
// screen and mount.
type PersonEffect struct {
	// Least margin of the older assessment as it was.
	BeforeMM float64 `json:"before_mm"`
	// Least margin with the newer one's person in it.
	AfterMM float64 `json:"after_mm"`
	// The limiting posture and condition then.
	Tightest string `json:"limiting"`
}

// Compare returns what changed from one assessment to another of the same code. The
// error says that the two are not in order, or that a job cannot be worked on.
func Compare(ctx context.Context, before, after Assessment) (*Comparison, error) {
	if err := inOrder(before.Record, after.Record); err != nil {
		return nil, err
	}
	c := &Comparison{
		Version: 1, Code: after.Record.Code,
		Old: before.Record.Name, New: after.Record.Name,
		Days:     before.Record.Day.DaysUntil(after.Record.Day),
		Settings: settingChanges(before.Record, after.Record),
		Screen:   screenChanges(before.Record.Result.Screen, after.Record.Result.Screen),
		Margins:  marginChanges(before.Record.Result, after.Record.Result),
		Remarks:  remarks(before, after),
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

// remarks returns what to know of the two records before trusting a comparison.
func remarks(before, after Assessment) []string {
	notes := []string{}
	for _, a := range []Assessment{before, after} {
		r := a.Record
		if r.Edited {
			notes = append(notes, r.Name+" was edited after it was filed: its checksum does not fit")
		}
		if t := r.differs(a.Result.MarginMM()); !t.Empty() {
			notes = append(notes, t.In(units.MM))
		}
	}
	return notes
}

// sameAs is the difference (mm, degrees) up to which numbers count as the same:
// more than the same measure in other units can make, less than anybody measures.
const sameAs = 1e-6

// shownFrom is the difference from which computed numbers count as changed: half of
// the last digit that is shown.
const shownFrom = 0.05

// cellChanges returns the measures that differ, and those that only one has.
func cellChanges(before, after []cell) []Change {
	return slices.DeleteFunc(pairs(before, after), func(c Change) bool {
		return c.Before != nil && c.After != nil && math.Abs(*c.Before-*c.After) <= sameAs
	})
}

// pairs returns every measure that either list has, with both of its values.
func pairs(before, after []cell) []Change {
	changes := []Change{}
	old := make(map[string]cell, len(before))
	for _, c := range before {
		old[c.key] = c
	}
	for _, c := range after {
		now := c.value()
		change := Change{Key: c.key, What: c.what, Unit: c.unit, After: &now}
		if o, ok := old[c.key]; ok {
			was := o.value()
			change.Before = &was
			delete(old, c.key)
		}
		changes = append(changes, change)
	}
	for _, c := range before {
		if _, left := old[c.key]; left {
			was := c.value()
			changes = append(changes, Change{Key: c.key, What: c.what, Unit: c.unit, Before: &was})
		}
	}
	return changes
}

// wording adds a change told in words, if there is one.
func wording(changes []Change, key, what, was, is string) []Change {
	if was == is {
		return changes
	}
	return append(changes, Change{Key: key, What: what, Was: cmp.Or(was, absent), Is: cmp.Or(is, absent)})
}

// absent stands for what is not there.
const absent = "none"

// settingChanges returns the settings that differ.
func settingChanges(before, after *Record) []Change {
	cells := func(r *Record) []cell {
		all := make([]cell, 0, len(r.Settings))
		for i := range r.Settings {
			s := &r.Settings[i]
			all = append(all, cell{key: s.Name, what: s.Name, unit: s.Unit, plain: &s.Value})
		}
		return all
	}
	changes := cellChanges(cells(before), cells(after))
	return wording(changes, "side", "side of the clamp", before.Side, after.Side)
}

// screenChanges returns what changed of the screen's position and attitude, as filed.
func screenChanges(before, after Screen) []Change {
	changes := []Change{}
	for _, row := range []struct {
		key, what, unit string
		was, is         float64
	}{
		{"forward_mm", "middle of the display, forward", "mm", before.ForwardMM, after.ForwardMM},
		{"left_mm", "middle of the display, to the person's left", "mm", before.LeftMM, after.LeftMM},
		{"up_mm", "middle of the display, above the floor", "mm", before.UpMM, after.UpMM},
		{"tilt_deg", "tilt, back", "deg", before.TiltDeg, after.TiltDeg},
		{"rotation_deg", "rotation, toward the person's left", "deg", before.RotationDeg, after.RotationDeg},
		{"roll_deg", "roll, the viewer's right end up", "deg", before.RollDeg, after.RollDeg},
		{"from_eyes_mm", "eyes to the middle of the display", "mm", before.FromEyesMM, after.FromEyesMM},
	} {
		if math.Abs(row.is-row.was) >= shownFrom {
			changes = append(changes, Change{Key: row.key, What: row.what, Unit: row.unit, Before: &row.was, After: &row.is})
		}
	}
	return changes
}

// marginChanges returns the margins as they were filed, changed or not.
func marginChanges(before, after Result) []Change {
	changes := []Change{{
		Key: "margin_mm", What: "all required postures", Unit: "mm",
		Before: &before.MarginMM, After: &after.MarginMM,
	}}
	margins := func(r Result) []cell {
		all := make([]cell, 0, len(r.Postures))
		for i := range r.Postures {
			p := &r.Postures[i]
			all = append(all, lengthAt(p.Posture, p.Posture, &p.MarginMM))
		}
		return all
	}
	changes = append(changes, pairs(margins(before), margins(after))...)
	for i := range changes {
		changes[i].margin = true
	}
	return changes
}
