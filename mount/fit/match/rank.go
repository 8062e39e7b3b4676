package match

import (
	"cmp"
	"math"
	"slices"
)

// Criterion is one thing by which candidates are compared.
type Criterion int

// The criteria in the order in which they decide. Lengths count as alike within the same
// 5 mm, shares within the same percent and masses within the same 100 g.
const (
	Works         Criterion = iota // works, before those that do not
	MissesLess                     // misses less of what is required
	LargerMargin                   // has the larger margin
	TracksMore                     // has the larger share of simulations that track
	FewerSettings                  // has fewer settings away from their preferred values
	Lighter                        // weighs less
	FirstNamed                     // is alike in all of these and was named first
)

// Reason is a criterion in which a candidate differs from the next in the ranking.
type Reason struct {
	Criterion Criterion
	// ForNext says that it speaks for the next one.
	ForNext bool
}

// What counts as alike, so that a later criterion can decide: 5 mm is the step to which
// a slide is read, a percent about what some thousand simulations tell apart; 100 g is
// judgment.
const (
	alikeMM    = 5.0
	alikeShare = 0.01
	alikeKG    = 0.1
)

// compared is what each criterion compares; less is better.
var compared = [FirstNamed]func(r *Ranked) float64{
	Works: func(r *Ranked) float64 {
		if r.Result.Works {
			return 0
		}
		return 1
	},
	MissesLess:    func(r *Ranked) float64 { return math.Ceil(r.ShortMM/alikeMM - 1e-9) },
	LargerMargin:  func(r *Ranked) float64 { return -steps(r.MarginMM, alikeMM) },
	TracksMore:    func(r *Ranked) float64 { return -steps(r.TrackShare(), alikeShare) },
	FewerSettings: func(r *Ranked) float64 { return float64(r.Touch) },
	Lighter:       func(r *Ranked) float64 { return steps(r.CarriedKG, alikeKG) },
}

// steps returns how many whole steps go into v.
func steps(v, step float64) float64 { return math.Floor(v/step + 1e-9) }

// TrackShare returns the share of simulations that track, 0 when nobody asked for it.
func (r *Ranked) TrackShare() float64 {
	if r.Share == nil {
		return 0
	}
	return *r.Share
}

// rank puts the candidates in order and says why.
func rank(list []Ranked) {
	slices.SortStableFunc(list, func(a, b Ranked) int {
		for _, value := range compared {
			if d := cmp.Compare(value(&a), value(&b)); d != 0 {
				return d
			}
		}
		return 0
	})
	for i := range len(list) - 1 {
		list[i].Reasons = reasons(&list[i], &list[i+1])
	}
}

// reasons says why a is above b: the first difference, which decided, then every
// difference in b's favor.
func reasons(a, b *Ranked) []Reason {
	var out []Reason
	for c, value := range compared {
		if d := cmp.Compare(value(a), value(b)); d > 0 || d < 0 && len(out) == 0 {
			out = append(out, Reason{Criterion: Criterion(c), ForNext: d > 0})
		}
	}
	if len(out) == 0 {
		out = append(out, Reason{Criterion: FirstNamed})
	}
	return out
}
