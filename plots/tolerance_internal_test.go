package plots

import (
	"testing"

	"sightpost/mount"
	"sightpost/plots/units"
)

// TestReadableInInches rounds ends of a tolerance toward the set value: by hand, with
// 25.4 mm to the inch, 340 mm is 13.386 in, between 13 3/8 and 13 7/16.
func TestReadableInInches(t *testing.T) {
	slide := mount.Joint{Motion: mount.Slide, Step: 1}
	for _, tt := range []struct {
		end, set float64
		want     string
	}{
		{340, 330, "13 3/8 in (+3/8)"},
		{340, 350, "13 7/16 in (-5/16)"},
		{335, 335, "13 3/16 in (as set)"},
		{336, 335, "13.22 in (+0.03)"},    // 13.189 to 13.228: no sixteenth between
		{334, 335, "13 3/16 in (as set)"}, // 13.150 to 13.189, and 13 3/16 is 13.1875
	} {
		if got := readableWords(units.Inch, slide, tt.end, tt.set); got != tt.want {
			t.Errorf("from %v to %v mm: %q, want %q", tt.set, tt.end, got, tt.want)
		}
	}
	if got := readableWords(units.CM, slide, 340, 335); got != "34.0 cm (+0.5)" {
		t.Errorf("in cm: %q", got)
	}
}
