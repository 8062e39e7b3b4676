package units_test

import (
	"fmt"
	"math"
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

// A pound-force inch is 0.112 984 8 N·m, a pound-force 4.448 222 N and a thousand of them on a
// square inch 6.894 757 MPa (NIST Special Publication 811, appendix B.8, from memory).
func TestKinds(t *testing.T) {
	for _, c := range []struct {
		kind units.Kind
		one  float64
	}{{units.Torques, 0.1129848}, {units.Forces, 4.448222}, {units.Stresses, 6.894757}, {units.Masses, 0.4535924}} {
		const digits = 1e-6
		if got := c.kind.Of(units.Inch, c.one); math.Abs(got-1) > digits || c.kind.Of(units.CM, c.one) != c.one {
			t.Errorf("%s: %v, want 1", c.kind.Unit(units.Inch), got)
		}
	}
	if got := units.Torques.Told(units.Inch, 20) + ", " + units.Torques.Told(units.MM, 20); got != "177 lbf·in, 20 N·m" {
		t.Error(got)
	}
}
