package plots

import (
	"cmp"
	"slices"

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
	at   r2.Vec
	text string
}

// width returns how wide a lane must be.
func (l lane) width() vg.Length {
	if len(l) == 0 {
		return air
	}
	wide := vg.Length(0)
	for _, k := range l {
		wide = max(wide, lettering.Width(k.text))
	}
	return lead + wide + air
}

// leaderGap is the least distance between the lines to the labels of a side.
const leaderGap = 1.2 * vg.Millimeter

// labels writes the labels of the side whose edge is at x, each with a line from the place
// that it tells of, and returns where they are; out is 1 at the right and -1 at the left.
func (k *pen) labels(labels lane, edge, out vg.Length) (taken []vg.Rectangle) {
	labels = slices.Clone(labels)
	slices.SortStableFunc(labels, func(a, b label) int {
		return cmp.Or(cmp.Compare(a.at.Y, b.at.Y), cmp.Compare(a.text, b.text))
	})
	var want []vg.Length
	for _, l := range labels {
		want = append(want, k.trY(l.at.Y))
	}
	places := spread(want, rowHigh, k.trY(k.loY), k.trY(k.hiY))
	ways := spread(want, leaderGap, k.trY(k.loY), k.trY(k.hiY))
	end := edge + out*(lead-air/2)
	for i, l := range labels {
		at := k.at(l.at)
		bend := at.X + out*min(leaderGap*2, max(0, out*(edge-at.X)))
		k.leader(at, vg.Point{X: bend, Y: ways[i]}, vg.Point{X: edge + out*air, Y: ways[i]}, vg.Point{X: end, Y: places[i]})
		k.put(end+out*air/2, places[i]-0.36*textSize, (1-out)/2, l.text)
		half := lettering.Width(l.text) / 2
		taken = append(taken, around(vg.Point{X: end + out*(air/2+half), Y: places[i]}, vg.Point{X: half, Y: textSize / 2}))
	}
	return taken
}

// leader draws the line from a place to its label.
func (k *pen) leader(points ...vg.Point) {
	k.c.StrokeLines(stroke(grey(0.45), 0.35), points)
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
	var places []T
	top := high - T(n-1)*gap
	for _, r := range runs {
		q := min(max(r.sum/T(r.n), low), top)
		for range r.n {
			places = append(places, q+T(len(places))*gap)
		}
	}
	return places
}

// key is an entry of the list that says what lines and fills mean.
type key struct {
	look look
	text string
}

// keyRows is a key set in rows: an entry of several lines has rows of its own, of which the
// first alone has a sample.
type keyRows [][]key

const (
	sample    = 9 * vg.Millimeter  // line sample of the key
	keyColumn = 72 * vg.Millimeter // width of a key beside a drawing, at most
	keyLines  = 8                  // of an entry, at most
)

// flowed sets a key in rows no wider than width.
func flowed(keys []key, width vg.Length) keyRows {
	var rows keyRows
	used := width
	for _, k := range keys {
		for i, text := range wrapped(k.text, width-key{}.width(), keyLines) {
			entry := key{look{}, text}
			if i == 0 {
				entry.look = k.look
			}
			if i > 0 || used+entry.width() > width {
				rows, used = append(rows, nil), 0
			}
			used += entry.width()
			rows[len(rows)-1] = append(rows[len(rows)-1], entry)
		}
	}
	return rows
}

// width returns the width of an entry.
func (k key) width() vg.Length { return sample + lettering.Width(k.text) + 2.5*air }

// width returns the width of the widest row.
func (r keyRows) width() vg.Length {
	wide := vg.Length(0)
	for _, row := range r {
		sum := vg.Length(0)
		for _, k := range row {
			sum += k.width()
		}
		wide = max(wide, sum)
	}
	return wide
}

// height returns the height of the rows.
func (r keyRows) height() vg.Length { return rowHigh * vg.Length(len(r)) }

// key draws a key with its upper left corner at a place.
func (k *pen) key(rows keyRows, at vg.Point) {
	for _, row := range rows {
		at.Y -= rowHigh
		x := at.X
		for _, e := range row {
			low, high := at.Y+0.15*rowHigh, at.Y+0.85*rowHigh
			if e.look.fill == nil && e.look.line.Width > 0 {
				k.c.StrokeLine2(e.look.line, x, (low+high)/2, x+sample, (low+high)/2)
			} else {
				k.box(x, low, x+sample, high, e.look)
			}
			k.put(x+sample+0.75*air, at.Y+0.23*rowHigh, 0, e.text)
			x += e.width()
		}
	}
}
