package document

import (
	"testing"

	"sightpost/mount/fit/match"
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
		{match.Reason{Criterion: match.Works}, match.Ranked{}, match.Ranked{}, "works, where b does not"},
		{match.Reason{Criterion: match.MissesLess}, match.Ranked{ShortMM: 12}, match.Ranked{ShortMM: 20}, "misses what is asked for by 12 mm, b by 20 mm"},
		{match.Reason{Criterion: match.LargerMargin}, match.Ranked{MarginMM: 31}, match.Ranked{MarginMM: 24}, "has a margin of 31 mm, b of 24 mm"},
		{match.Reason{Criterion: match.LargerMargin, ForNext: true}, match.Ranked{MarginMM: 3}, match.Ranked{MarginMM: 40}, "although b has a margin of 40 mm, a of 3 mm"},
		{match.Reason{Criterion: match.TracksMore}, match.Ranked{Share: share(0.97)}, match.Ranked{Share: share(0.92)}, "tracks in 97 % of draws, b in 92 %"},
		{match.Reason{Criterion: match.FewerSettings, ForNext: true}, match.Ranked{Touch: 5}, match.Ranked{Touch: 1}, "although b has 1 setting away from the preferred place, a 5"},
		{match.Reason{Criterion: match.Lighter}, match.Ranked{CarriedKG: 2.4}, match.Ranked{CarriedKG: 2.6}, "weighs 2.4 kg with the device, b 2.6 kg"},
		{match.Reason{Criterion: match.FirstNamed}, match.Ranked{}, match.Ranked{}, "is alike in all that is compared; it was named first"},
	} {
		tt.a.Name, tt.b.Name = "a", "b"
		if got := rankedAbove(tt.reason, &tt.a, &tt.b).Text.In(MM); got != tt.want {
			t.Errorf("%q, want %q", got, tt.want)
		}
	}
}
