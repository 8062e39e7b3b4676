package match

import (
	"slices"
	"testing"

	"sightpost/mount/fit"
)

// TestRankDecides pits two candidates against each other that differ in one thing
// that decides and, for some, in one that speaks for the other.
func TestRankDecides(t *testing.T) {
	share := func(v float64) *float64 { return &v }
	works, fails := &fit.Result{Works: true}, &fit.Result{}
	for _, tt := range []struct {
		name string
		a, b Ranked // a is to come first, though b is named first
		want []Reason
	}{
		{
			"working",
			Ranked{Result: works, Touch: 5},
			Ranked{Result: fails, Touch: 1},
			[]Reason{{Criterion: Works}, {Criterion: FewerSettings, ForNext: true}},
		},
		{
			"nearer to working",
			Ranked{Result: fails, ShortMM: 12, MarginMM: 3},
			Ranked{Result: fails, ShortMM: 20, MarginMM: 40},
			[]Reason{{Criterion: MissesLess}, {Criterion: LargerMargin, ForNext: true}},
		},
		{"margin", Ranked{Result: works, MarginMM: 31}, Ranked{Result: works, MarginMM: 24}, []Reason{{Criterion: LargerMargin}}},
		{
			"share, where margins are alike",
			Ranked{Result: works, MarginMM: 31, Share: share(0.97)},
			Ranked{Result: works, MarginMM: 34, Share: share(0.92)},
			[]Reason{{Criterion: TracksMore}},
		},
		{
			"fewer settings",
			Ranked{Result: works, Touch: 3, CarriedKG: 3},
			Ranked{Result: works, Touch: 4, CarriedKG: 2},
			[]Reason{{Criterion: FewerSettings}, {Criterion: Lighter, ForNext: true}},
		},
		{"lighter", Ranked{Result: works, CarriedKG: 2.4}, Ranked{Result: works, CarriedKG: 2.6}, []Reason{{Criterion: Lighter}}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			tt.b.Candidate = 1
			list := []Ranked{tt.b, tt.a}
			rank(list)
			if list[0].Candidate != 0 {
				t.Fatal("the other comes first")
			}
			if got := list[0].Reasons; !slices.Equal(got, tt.want) {
				t.Errorf("reasons %v, want %v", got, tt.want)
			}
		})
	}
}

func TestRankKeepsTheOrderOfWhatIsAlike(t *testing.T) {
	list := []Ranked{{MarginMM: 31, Result: &fit.Result{Works: true}}, {Candidate: 1, MarginMM: 33, Result: &fit.Result{Works: true}}}
	rank(list)
	if list[0].Candidate != 0 || !slices.Equal(list[0].Reasons, []Reason{{Criterion: FirstNamed}}) {
		t.Errorf("%d first: %v", list[0].Candidate, list[0].Reasons)
	}
}
