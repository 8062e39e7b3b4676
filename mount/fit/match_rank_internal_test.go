package fit

import (
	"strings"
	"testing"
)

// TestRankDecides pits two candidates against each other that differ in one thing
// that decides and, for some, in one that speaks for the other.
func TestRankDecides(t *testing.T) {
	share := func(v float64) *float64 { return &v }
	works, fails := &Result{Works: true}, &Result{Reasons: []Reason{{}}}
	for _, tt := range []struct {
		name   string
		a, b   Ranked // a is to come first, though b is named first
		reason string
		though string
	}{
		{
			"working",
			Ranked{Result: works, Touch: 5},
			Ranked{Result: fails, Touch: 1},
			"works, where b does not", "although b has 1 setting away",
		},
		{
			"nearer to working",
			Ranked{Result: fails, ShortMM: 12, MarginMM: 3},
			Ranked{Result: fails, ShortMM: 20, MarginMM: 40},
			"misses what is asked for by 12 mm, b by 20 mm", "although b has a margin of 40 mm",
		},
		{"margin", Ranked{Result: works, MarginMM: 31}, Ranked{Result: works, MarginMM: 24}, "has a margin of 31 mm, b of 24 mm", ""},
		{
			"share, where margins are alike",
			Ranked{Result: works, MarginMM: 31, Share: share(0.97)},
			Ranked{Result: works, MarginMM: 34, Share: share(0.92)},
			"tracks in 97 % of draws, b in 92 %", "",
		},
		{
			"fewer settings",
			Ranked{Result: works, Touch: 3, CarriedKG: 3},
			Ranked{Result: works, Touch: 4, CarriedKG: 2},
			"has 3 settings away", "although b weighs 2.0 kg",
		},
		{"lighter", Ranked{Result: works, CarriedKG: 2.4}, Ranked{Result: works, CarriedKG: 2.6}, "weighs 2.4 kg with the device, b 2.6 kg", ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			tt.a.Name, tt.b.Name = "a", "b"
			list := []Ranked{tt.b, tt.a}
			rank(list)
			if list[0].Name != "a" {
				t.Fatalf("%s comes first", list[0].Name)
			}
			got := list[0].Reasons
			if !strings.HasPrefix(got[0], tt.reason) {
				t.Errorf("reason %q, want %q", got[0], tt.reason)
			}
			if tt.though != "" && (len(got) != 2 || !strings.HasPrefix(got[1], tt.though)) || tt.though == "" && len(got) != 1 {
				t.Errorf("reasons %q, want %q next", got, tt.though)
			}
		})
	}
}

func TestRankKeepsTheOrderOfWhatIsAlike(t *testing.T) {
	list := []Ranked{{Name: "a", MarginMM: 31, Result: &Result{Works: true}}, {Name: "b", MarginMM: 33, Result: &Result{Works: true}}}
	rank(list)
	if list[0].Name != "a" || !strings.Contains(list[0].Reasons[0], "alike") {
		t.Errorf("%s first: %q", list[0].Name, list[0].Reasons)
	}
}
