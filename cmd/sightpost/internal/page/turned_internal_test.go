package page

import (
	"os"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/answer"
)

// TestTurnedOf: a figure is turned by what is a number, and by nothing else.
func TestTurnedOf(t *testing.T) {
	text, err := os.ReadFile("../../../../testdata/cases/upright-adult.yaml")
	if err != nil {
		t.Fatal(err)
	}
	given, _, _ := strings.Cut(string(text), "\nmount:")
	c, err := answer.Read("the case", strings.NewReader(given+"\n"), nil)
	if err != nil {
		t.Fatal(err)
	}
	p, err := c.Place(t.Context(), answer.AsFound{})
	if err != nil {
		t.Fatal(err)
	}
	best := turnedOf(&state{}, p)
	for _, odd := range []string{"", "NaN", "nan", "Inf", "-Inf", "1e300", "3601", "x", "0x", "1e", "12 deg"} {
		if got := turnedOf(&state{Turn: odd, Lift: odd}, p); *got != *best {
			t.Errorf("%q turns it to %+v, not %+v", odd, *got, *best)
		}
	}
	for _, row := range []struct {
		turn, lift string
		want       turned
	}{
		{"30", "20", turned{30, 20}},
		{" 30.4 ", "-90.5", turned{30, -90}},
		{"370", "1000", turned{10, 90}},
	} {
		if got := turnedOf(&state{Turn: row.turn, Lift: row.lift}, p); *got != row.want {
			t.Errorf("%s, %s turns it to %+v, want %+v", row.turn, row.lift, *got, row.want)
		}
	}
}
