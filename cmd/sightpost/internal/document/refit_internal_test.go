package document

import (
	"testing"

	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// TestMissedWords says everything that settings can miss, in inches.
func TestMissedWords(t *testing.T) {
	for _, tt := range []struct {
		missed *fit.Reason
		want   string
	}{
		{nil, ""},
		{&fit.Reason{Kind: fit.OutOfRange}, "preferred ranges of the screen"},
		{&fit.Reason{Kind: fit.FaceTooClose, Limit: 254}, "housing at least 10 in from the eyes"},
		{&fit.Reason{Kind: fit.TooClose, Part: "housing", Zone: "tray", Limit: 25.4}, "housing at least 1 in from the tray"},
		{&fit.Reason{Kind: fit.TooClose, Part: "tubes", Zone: "tray", Limit: 25.4}, "mount at least 1 in from the tray"},
		{&fit.Reason{Kind: fit.NearFloor, Limit: 40}, "tubes at least 1 9/16 in above the floor"},
	} {
		if got := missedWords(&fit.Result{Job: &fit.Job{}}, tt.missed).In(units.Inch); got != tt.want {
			t.Errorf("%q, want %q", got, tt.want)
		}
	}
}

// TestRefitTellsParked: where the mount is parked is said with the changes, and where it was
// if that differs.
func TestRefitTellsParked(t *testing.T) {
	at := func(deg float64) *Report {
		d := dial{mount.Joint{Name: "post.swing", Motion: mount.Turn}, Sign{"left", "right", "above"}}
		return &Report{Kind: Check, Mount: &Mount{}, SwingClear: &SwingClear{Joint: "post.swing", Unit: "deg", InUse: -30, Parked: deg, From: SwingEnd{Limit: true}, dial: d}}
	}
	for was, want := range map[float64]string{
		15: "Move post swing from 30° right to 15° left.",
		20: "Move post swing from 30° right to 15° left. CHANGED: until now it was parked at post swing 20° left. Tell everyone who helps.",
	} {
		r := &Refit{Restored: true, Needed: true, before: at(was), after: at(15)}
		for _, s := range r.Document().Sections {
			if s.ID == SectionParked {
				if got := Join(" ", each(s.Short().Lines, func(l Line) Text { return l.Text })...).In(units.MM); got != want {
					t.Errorf("%q, want %q", got, want)
				}
				want = ""
			}
		}
		if want != "" {
			t.Errorf("nothing said, want %q", want)
		}
	}
}
