package document

import (
	"testing"

	"sightpost/mount/fit/match"
	"sightpost/plots/units"
)

// TestRankedAboveSaysEveryReason says why a is above b, and what speaks for b all the
// same.
func TestRankedAboveSaysEveryReason(t *testing.T) {
	share := func(v float64) *float64 { return &v }
	for _, tt := range []struct {
		reason match.Reason
		a, b   match.Ranked
		want   string
	}{
		{match.Reason{Criterion: match.Works}, match.Ranked{}, match.Ranked{}, "works"},
		{match.Reason{Criterion: match.MissesLess}, match.Ranked{ShortMM: 12}, match.Ranked{ShortMM: 20}, "misses the requirements by less (12 mm against 20 mm)"},
		{match.Reason{Criterion: match.LargerMargin}, match.Ranked{MarginMM: 31}, match.Ranked{MarginMM: 24}, "has a larger margin (31 mm against 24 mm)"},
		{match.Reason{Criterion: match.LargerMargin, ForNext: true}, match.Ranked{MarginMM: 3}, match.Ranked{MarginMM: 40}, "but the next has a larger margin (40 mm against 3 mm)"},
		{match.Reason{Criterion: match.TracksMore}, match.Ranked{Share: share(0.97)}, match.Ranked{Share: share(0.92)}, "tracks more often (97% against 92% of simulations)"},
		{match.Reason{Criterion: match.FewerSettings, ForNext: true}, match.Ranked{Touch: 5}, match.Ranked{Touch: 1}, "but the next needs fewer settings changed (1 against 5)"},
		{match.Reason{Criterion: match.Lighter}, match.Ranked{CarriedKG: 2.4}, match.Ranked{CarriedKG: 2.6}, "is lighter (2.4 kg against 2.6 kg with the device)"},
		{match.Reason{Criterion: match.FirstNamed}, match.Ranked{}, match.Ranked{}, "is equal in every criterion and was named first"},
	} {
		tt.a.Reasons = []match.Reason{tt.reason, {Criterion: match.Works, ForNext: true}}
		again := "but the next works"
		if tt.reason.ForNext {
			again = "and it works"
		}
		got := Join("; ", each(rankedAbove(&tt.a, &tt.b), func(f Finding) Text { return f.Text })...).In(units.MM)
		if want := tt.want + "; " + again; got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
