package plots

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/plot/vg"
)

// lane is a strip along one side of a drawing that holds the labels of that
// side, each level with what it tells of or, where that would make labels
// overlap, as near to it as the others allow.
type lane []label

// label is a text at the side of a drawing and the place it tells of (mm, in
// the view).
type label struct {
	at       r2.Vec
	text     string
	measured bool // ends in a length along the axis of its side
	bare     bool // without a line to its place
}

// legible returns a text as a figure can show it: on one line, without characters that
// a drawing cannot hold.
func legible(text string) string {
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r > 0xFFFF || r == utf8.RuneError {
			return ' '
		}
		return r
	}, text))
}

// plain returns a name as a figure can show it, and no longer than a margin has space
// for.
func plain(name string) string {
	const longest = 32
	name = legible(name)
	if r := []rune(name); len(r) > longest {
		name = string(r[:longest-1]) + "…"
	}
	return strings.TrimSpace(name)
}

// placed returns the lane in the order in which place has its labels, and where they go:
// [spread] from low to high.
func (l lane) placed(place func(label) vg.Length, gap, low, high vg.Length) (lane, []vg.Length) {
	out := slices.Clone(l)
	slices.SortStableFunc(out, func(a, b label) int {
		return cmp.Or(cmp.Compare(place(a), place(b)), cmp.Compare(a.text, b.text))
	})
	want := make([]vg.Length, len(out))
	for i, l := range out {
		want[i] = place(l)
	}
	return out, spread(want, gap, low, high)
}

// spread returns places for labels that want to be at the rising places want, at
// least gap apart and within low to high, with the least sum of squared moves.
// Where they do not fit between low and high the gap shrinks.
//
// With q(i) = place(i) - i gap the condition is that q does not fall, so this is
// isotonic regression: runs of labels that want to overlap share their mean.
//
// Reference: M. Ayer, H. D. Brunk, G. M. Ewing, W. T. Reid and E. Silverman, "An
// empirical distribution function for sampling with incomplete information",
// Annals of Mathematical Statistics 26, 1955, 641-647, from memory.
func spread[T ~float64](want []T, gap, low, high T) []T {
	n := len(want)
	if n == 0 {
		return nil
	}
	if n > 1 {
		gap = min(gap, (high-low)/T(n-1))
	}
	type run struct {
		sum T
		n   int
	}
	var runs []run
	for i, w := range want {
		runs = append(runs, run{w - T(i)*gap, 1})
		for len(runs) > 1 {
			a, b := runs[len(runs)-2], runs[len(runs)-1]
			if a.sum/T(a.n) <= b.sum/T(b.n) {
				break
			}
			runs = append(runs[:len(runs)-2], run{a.sum + b.sum, a.n + b.n})
		}
	}
	places := make([]T, 0, n)
	top := high - T(n-1)*gap
	for _, r := range runs {
		q := min(max(r.sum/T(r.n), low), top)
		for range r.n {
			places = append(places, q+T(len(places))*gap)
		}
	}
	return places
}
