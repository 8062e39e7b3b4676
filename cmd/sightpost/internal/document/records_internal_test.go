package document

import (
	"testing"

	"sightpost/plots/units"
)

// TestBetween: a change is the difference of the two numbers beside it, as they are shown.
func TestBetween(t *testing.T) {
	sides := Sign{Plus: "left", Minus: "right"}
	for _, tt := range []struct {
		of     between
		mm, in string
	}{
		{between{}, "", ""},
		{between{573.2, 569.8, "mm", true, Sign{}}, "−3 mm", "−1/8 in"},                     // 573 and 570; 22 9/16 and 22 7/16
		{between{100.6, 101.4, "mm", true, Sign{}}, "", "+1/16 in"},                         // 101 both; 3 15/16 and 4
		{between{100.4, 101.4, "mm", true, Sign{}}, "+1 mm", "+1/16 in"},                    // 3 15/16 and 4
		{between{101.6, 102.3, "mm", true, sides}, "", ""},                                  // 102 both; 4 both
		{between{-17.3, -17.7, "deg", true, sides}, "", ""},                                 // 17.5 both
		{between{-17.2, -17.3, "deg", true, sides}, "0.5° right", "0.5° right"},             // 17 and 17.5
		{between{412, 430.5, "mm", false, Sign{Minus: "below 0"}}, "+18.5 mm", "+11/16 in"}, // 16 1/4 and 16 15/16
		{between{1.6, 1.55, "kg", false, Sign{}}, "−0.05 kg", "−0.11 lb"},                   // 3.53 and 3.42
		{between{3, 5, "", false, Sign{}}, "+2", "+2"},
	} {
		if mm, in := tt.of.In(units.MM), tt.of.In(units.Inch); mm != tt.mm || in != tt.in {
			t.Errorf("%+v: %q and %q, want %q and %q", tt.of, mm, in, tt.mm, tt.in)
		}
	}
}
