package units_test

import (
	"fmt"
	"testing"

	"sightpost/plots/units"
)

// The international inch is 25.4 mm exactly (Federal Register Notice 59-5442,
// effective 1 July 1959, from memory).
func ExampleUnits_Length() {
	for _, u := range []units.Units{units.MM, units.CM, units.Inch} {
		fmt.Println(u.Length(1181.1), "|", u.Length(-0.2), "|", u.Length(-9.525))
	}
	// Output:
	// 1181 mm | 0 mm | -10 mm
	// 118.1 cm | 0.0 cm | -1.0 cm
	// 46 1/2 in | 0 in | -3/8 in
}

func TestNamed(t *testing.T) {
	for _, u := range []units.Units{units.MM, units.CM, units.Inch} {
		if got, err := units.Named(u.String()); err != nil || got != u {
			t.Errorf("Named(%q) = %v, %v", u.String(), got, err)
		}
		if got := u.Of(u.MM()); got != 1 {
			t.Errorf("%v: one of the unit is %v of it", u, got)
		}
	}
	if _, err := units.Named("ft"); err == nil {
		t.Error("feet are accepted")
	}
}
