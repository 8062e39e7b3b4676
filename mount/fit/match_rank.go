package fit

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// What counts as alike, so that a better measure further down can decide: 5 mm is
// the step to which a slide is read, a percent about what some thousand draws tell
// apart; 100 g is judgement.
const (
	alikeMM    = 5.0
	alikeShare = 0.01
	alikeKG    = 0.1
)

// criterion is one thing by which candidates are compared: less of what value
// returns is better. words say why a is above b.
type criterion struct {
	value func(*Ranked) float64
	words func(a, b *Ranked) string
}

// criteria returns what is compared, what decides first first.
func criteria() []criterion {
	step := func(v, alike float64) float64 { return math.Floor(v/alike + 1e-9) }
	return []criterion{
		{
			func(r *Ranked) float64 { return ifSo(!r.Result.Works) },
			func(_, b *Ranked) string { return "works, where " + b.title() + " does not" },
		},
		{
			func(r *Ranked) float64 { return math.Ceil(r.ShortMM/alikeMM - 1e-9) },
			func(a, b *Ranked) string {
				return fmt.Sprintf("misses what is asked for by %.0f mm, %s by %.0f mm", a.ShortMM, b.title(), b.ShortMM)
			},
		},
		{
			func(r *Ranked) float64 { return -step(r.MarginMM, alikeMM) },
			func(a, b *Ranked) string {
				return fmt.Sprintf("has a margin of %.0f mm, %s of %.0f mm", a.MarginMM, b.title(), b.MarginMM)
			},
		},
		{
			func(r *Ranked) float64 { return -step(r.share(), alikeShare) },
			func(a, b *Ranked) string {
				return fmt.Sprintf("tracks in %.0f %% of draws, %s in %.0f %%", 100*a.share(), b.title(), 100*b.share())
			},
		},
		{
			func(r *Ranked) float64 { return float64(r.Touch) },
			func(a, b *Ranked) string {
				return fmt.Sprintf("has %s away from the preferred place, %s %d", settingCount(a.Touch), b.title(), b.Touch)
			},
		},
		{
			func(r *Ranked) float64 { return step(r.CarriedKG, alikeKG) },
			func(a, b *Ranked) string {
				return fmt.Sprintf("weighs %.1f kg with the device, %s %.1f kg", a.CarriedKG, b.title(), b.CarriedKG)
			},
		},
	}
}

// settingCount returns "1 setting", "2 settings".
func settingCount(n int) string {
	if n == 1 {
		return "1 setting"
	}
	return fmt.Sprintf("%d settings", n)
}

// ifSo returns 1 for true and 0 for false.
func ifSo(yes bool) float64 {
	if yes {
		return 1
	}
	return 0
}

// share returns the share of draws that track, 0 when nobody asked for it.
func (r *Ranked) share() float64 {
	if r.Share == nil {
		return 0
	}
	return *r.Share
}

// rank puts the candidates in order and says why.
func rank(list []Ranked) {
	by := criteria()
	slices.SortStableFunc(list, func(a, b Ranked) int {
		for _, c := range by {
			if d := cmp.Compare(c.value(&a), c.value(&b)); d != 0 {
				return d
			}
		}
		return 0
	})
	for i := range len(list) - 1 {
		list[i].Reasons = reasons(by, &list[i], &list[i+1])
	}
}

// reasons says why a is above b: the first difference, which decided, then every
// difference in b's favour.
func reasons(by []criterion, a, b *Ranked) []string {
	var out []string
	for _, c := range by {
		d := cmp.Compare(c.value(a), c.value(b))
		switch {
		case d < 0 && len(out) == 0:
			out = append(out, c.words(a, b))
		case d > 0:
			out = append(out, "although "+b.title()+" "+c.words(b, a))
		}
	}
	if len(out) == 0 {
		out = append(out, "is alike in all that is compared; it was named first")
	}
	return out
}
