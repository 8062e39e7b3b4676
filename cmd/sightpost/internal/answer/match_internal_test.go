package answer

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/plots/units"
)

func TestReadPlace(t *testing.T) {
	for text, want := range map[string]r3.Vec{
		"380/260/480":                      {X: 380, Y: 260, Z: 480},
		"38/-26/48.cm":                     {X: 380, Y: -260, Z: 480},
		"10/5/20½in":                       {X: 254, Y: 127, Z: 520.7},
		"10/−5/20 1/2 in":                  {X: 254, Y: -127, Z: 520.7},
		"10/5½/20\u00a01/2\u00a0in":        {X: 254, Y: 139.7, Z: 520.7},
		"10/5/2 ft 1 in":                   {X: 254, Y: 127, Z: 635},
		"1 ft 2 in/1 ft 0 in/2 ft 1 1/2in": {X: 355.6, Y: 304.8, Z: 647.7},
	} {
		got, err := readPlace(text, units.MM)
		if err != nil || !(r3.Norm(r3.Sub(got, want)) <= 1e-9) {
			t.Errorf("readPlace(%q) = %v, %v, want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "380/260", "a/b/c", "10/5/", "10 mm/5/20 in", "10/5/20 1/2 1/2 in"} {
		if got, err := readPlace(text, units.MM); err == nil {
			t.Errorf("readPlace(%q) = %v without an error", text, got)
		}
	}
}
