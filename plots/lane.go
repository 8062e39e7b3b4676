package plots

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"gonum.org/v1/gonum/spatial/r2"
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

// sorted returns the lane in rising order of key.
func (l lane) sorted(key func(label) float64) lane {
	out := slices.Clone(l)
	slices.SortStableFunc(out, func(a, b label) int {
		return cmp.Or(cmp.Compare(key(a), key(b)), cmp.Compare(a.text, b.text))
	})
	return out
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
func spread(want []float64, gap, low, high float64) []float64 {
	n := len(want)
	if n == 0 {
		return nil
	}
	if n > 1 {
		gap = min(gap, (high-low)/float64(n-1))
	}
	type run struct {
		sum float64
		n   int
	}
	var runs []run
	for i, w := range want {
		runs = append(runs, run{w - float64(i)*gap, 1})
		for len(runs) > 1 {
			a, b := runs[len(runs)-2], runs[len(runs)-1]
			if a.sum/float64(a.n) <= b.sum/float64(b.n) {
				break
			}
			runs = append(runs[:len(runs)-2], run{a.sum + b.sum, a.n + b.n})
		}
	}
	places := make([]float64, 0, n)
	top := high - float64(n-1)*gap
	for _, r := range runs {
		q := min(max(r.sum/float64(r.n), low), top)
		for range r.n {
			places = append(places, q+float64(len(places))*gap)
		}
	}
	return places
}
