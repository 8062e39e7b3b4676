package document

import (
	"testing"

	"sightpost/plots/units"
)

// TestBesideItsLimit: a number that rounds to its limit is said to be under or over it.
func TestBesideItsLimit(t *testing.T) {
	for _, row := range []struct {
		is, limit float64
		want      string
	}{
		{46.6, 47, "just under 47 mm"},
		{47.4, 47, "just over 47 mm"},
		{46.4, 47, "46 mm"},
		{48, 47, "48 mm"},
	} {
		if got := (beside{row.is < row.limit, Length(row.is), Length(row.limit)}).In(units.MM); got != row.want {
			t.Errorf("%g beside %g: %q, want %q", row.is, row.limit, got, row.want)
		}
	}
}
