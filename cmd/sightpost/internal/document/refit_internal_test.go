package document

import (
	"testing"

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
