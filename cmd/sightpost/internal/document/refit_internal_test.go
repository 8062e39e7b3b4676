package document

import (
	"testing"

	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// TestMissedWords says everything that settings can miss, in inches.
func TestMissedWords(t *testing.T) {
	for _, tt := range []struct {
		missed fit.Missed
		want   string
	}{
		{fit.Missed{}, ""},
		{fit.Missed{Kind: fit.MissedAimRange}, "ranges of the aim"},
		{fit.Missed{Kind: fit.MissedEyes, RequiredMM: 254}, "housing at least 10 in from the eyes"},
		{fit.Missed{Kind: fit.MissedZoneHousing, Zone: "tray", RequiredMM: 25.4}, "housing at least 1 in from tray"},
		{fit.Missed{Kind: fit.MissedZoneTubes, Zone: "tray", RequiredMM: 25.4}, "mount at least 1 in from tray"},
		{fit.Missed{Kind: fit.MissedFloor}, "tubes above the floor"},
	} {
		if got := missedWords(tt.missed).In(units.Inch); got != tt.want {
			t.Errorf("%q, want %q", got, tt.want)
		}
	}
}
