package minimax

import (
	"container/heap"
	"context"
	"math"
	"slices"
)

// Branch is a search for the greatest value of a function over a box of variables that
// knows at any time what no point of the box exceeds: best-first branch and bound.
//
// Reference: R. Horst and H. Tuy, Global Optimization (Springer), on branch and bound, from
// memory.
type Branch struct {
	// Lower and Upper bound the variables; both must be finite.
	Lower, Upper []float64
	// Above appends to rows functions that are linear in the way d from mid and that,
	// for all |d| <= half, are nowhere below the functions whose least is maximized, or
	// below zero where a constraint is kept. It returns a bound of its own,
	// +Inf if it has none, -Inf for a box in which nothing is allowed.
	Above func(mid, half []float64, rows *Rows) float64
	// Shared is how many more variables the rows have, each between -1 and 1: what all of them
	// leave open in the same way. They are not branched over.
	Shared int
	// Split returns the variable to halve.
	Split func(mid, half []float64) int
	// Value returns the value at x, or -Inf if x is not allowed. It may look for a better
	// x nearby, and change x to it.
	Value func(x []float64) float64
	// Enough ends the search when it is reached, Gap when the bound is no more than that
	// above the best value.
	Enough, Gap float64
	// Boxes is how many boxes are bounded at most.
	Boxes int
	// Watch, unless it is nil, is told of the bound from time to time.
	Watch func(bound float64)
}

// Rows are the rows that [Branch].Above appends to.
type Rows struct {
	n     int
	value []float64 // at mid
	grad  []float64 // n entries a row, the shared variables last
	keep  []bool    // a constraint, to be at least zero
}

// Least appends a function of which the least counts, with its value at the middle of the
// box and its gradient.
func (r *Rows) Least(value float64, grad []float64) { r.add(value, grad, false) }

// Keep appends a function that must not be negative.
func (r *Rows) Keep(value float64, grad []float64) { r.add(value, grad, true) }

func (r *Rows) add(value float64, grad []float64, keep bool) {
	r.value, r.grad, r.keep = append(r.value, value), append(r.grad, grad...), append(r.keep, keep)
}

// Found is what a [Branch] search ended with.
type Found struct {
	// X has the greatest Value met; X is nil when none was allowed.
	X     []float64
	Value float64
	// Bound is what no point of the box exceeds, +Inf if that is not known. It is never
	// less than Value.
	Bound float64
	// Boxes is how many boxes were bounded.
	Boxes int
}

// roundingOf is added to every bound: what rounding can take from it. Arithmetic is not
// rounded outward.
const roundingOf = 1e-6

// watched is after about how many boxes the bound is told.
const watched = 1000

// Maximize searches from a value already known, -Inf for none, until Enough is decided,
// the boxes are used up or ctx ends. What a row shows to be no better than the best value
// is cut off a box, and a box of which nothing is left is dropped.
func (b *Branch) Maximize(ctx context.Context, known float64) Found {
	s := branching{b: b, found: Found{Value: known, Bound: math.Inf(-1)}}
	n := len(b.Lower)
	all := box{mid: make([]float64, n), half: make([]float64, n), bound: math.Inf(1)}
	for k := range n {
		all.mid[k], all.half[k] = (b.Lower[k]+b.Upper[k])/2, (b.Upper[k]-b.Lower[k])/2
	}
	s.add(all)
	for s.undecided() && ctx.Err() == nil {
		if b.Watch != nil && s.found.Boxes%watched < 2 {
			b.Watch(s.open[0].bound)
		}
		whole := heap.Pop(&s.open).(box) //nolint:forcetypeassert // the heap holds boxes
		k := b.Split(whole.mid, whole.half)
		if !(whole.half[k] > 0) {
			s.found.Bound = max(s.found.Bound, whole.bound) // a point
			continue
		}
		for _, side := range [2]float64{-1, 1} {
			part := box{mid: slices.Clone(whole.mid), half: slices.Clone(whole.half), bound: whole.bound}
			part.half[k] /= 2
			part.mid[k] += side * part.half[k]
			s.add(part)
		}
	}
	if len(s.open) > 0 {
		s.found.Bound = max(s.found.Bound, s.open[0].bound)
	}
	s.found.Bound = max(s.found.Bound, s.found.Value)
	return s.found
}

// branching is a search under way.
type branching struct {
	b     *Branch
	found Found
	open  boxes
	rows  Rows
	lp    program
	at    []float64

	low, high []float64 // of what is left of a box, from its middle
}

// undecided reports whether there is more to be known.
func (s *branching) undecided() bool {
	if len(s.open) == 0 || s.found.Value >= s.b.Enough || s.open[0].bound <= s.found.Value+s.b.Gap {
		return false
	}
	return s.found.Boxes < s.b.Boxes
}

type box struct {
	mid, half []float64
	bound     float64
}

// add bounds a box and keeps it if anything better may be in it.
func (s *branching) add(b box) {
	s.found.Boxes++
	for cuts := 0; ; cuts++ {
		s.rows = Rows{n: len(b.mid) + s.b.Shared, value: s.rows.value[:0], grad: s.rows.grad[:0], keep: s.rows.keep[:0]}
		b.bound = min(b.bound, s.b.Above(b.mid, b.half, &s.rows)+roundingOf)
		if b.bound <= s.found.Value {
			return
		}
		if cuts == mostCuts {
			break
		}
		left := s.cut(b.mid, b.half)
		if left == 0 {
			return
		}
		if left > worthCutting {
			break
		}
	}
	s.at = append(s.at[:0], b.mid...)
	if b.bound = min(b.bound, s.most(b.mid, b.half)+roundingOf); b.bound <= s.found.Value {
		return
	}
	if v := s.b.Value(s.at); v > s.found.Value {
		s.found.X, s.found.Value = slices.Clone(s.at), v
	}
	heap.Push(&s.open, b)
}

// mostCuts is how often a box is cut before it is bounded, and worthCutting what must be
// left of some side at the most for another time.
const mostCuts, worthCutting = 4, 0.9

// cut takes off a box, side by side, what some row shows to be no better than the best
// value or not allowed, and moves the rows to the middle of what is left. It returns the
// least part that is left of a side, 0 if nothing is.
func (s *branching) cut(mid, half []float64) float64 {
	n := s.rows.n
	s.low, s.high = s.low[:0], s.withShared(half)
	for _, h := range s.high {
		s.low = append(s.low, -h)
	}
	for i, most := range s.rows.value {
		g := s.rows.grad[i*n : (i+1)*n]
		most += roundingOf
		if !s.rows.keep[i] {
			most -= s.found.Value
		}
		for k, slope := range g {
			most += max(slope*s.low[k], slope*s.high[k])
		}
		if most < 0 {
			return 0
		}
		for k, slope := range g {
			switch {
			case slope > 0:
				s.low[k] = max(s.low[k], s.high[k]-most/slope)
			case slope < 0:
				s.high[k] = min(s.high[k], s.low[k]-most/slope)
			}
		}
	}
	left := 1.0
	for k, h := range half {
		if h > 0 {
			left = min(left, (s.high[k]-s.low[k])/(2*h))
		}
		shift := (s.low[k] + s.high[k]) / 2
		mid[k] += shift
		half[k] = (s.high[k] - s.low[k]) / 2
		for i := range s.rows.value {
			s.rows.value[i] += shift * s.rows.grad[i*n+k]
		}
	}
	return max(left, math.SmallestNonzeroFloat64)
}

// withShared returns the half-widths of all variables of the rows, in s.high.
func (s *branching) withShared(half []float64) []float64 {
	s.high = append(s.high[:0], half...)
	for range s.b.Shared {
		s.high = append(s.high, 1)
	}
	return s.high
}

// most returns the greatest that the least row can be within the box, every constraint
// kept, and puts the point into s.at.
//
// The linear program has the n ways and the least value as its variables. Its dual is
// solved, so that rows which no longer matter do not: see program.
func (s *branching) most(mid, half []float64) float64 {
	n := s.rows.n
	half = s.withShared(half)
	lp := &s.lp
	lp.reset(n + 1)
	lp.c[n] = 1
	least, interval := -1, math.Inf(1)
	for i, v := range s.rows.value {
		g := s.rows.grad[i*n : (i+1)*n]
		reach := v
		for k, slope := range g {
			reach += math.Abs(slope) * half[k]
		}
		if s.rows.keep[i] {
			if reach < 0 {
				return math.Inf(-1)
			}
		} else if interval = min(interval, reach); least < 0 || v < s.rows.value[least] {
			least = i
		}
	}
	if least < 0 || interval <= s.found.Value {
		return interval
	}
	for i, v := range s.rows.value {
		g := s.rows.grad[i*n : (i+1)*n]
		swing := 0.0
		for k, slope := range g {
			swing += math.Abs(slope) * half[k]
		}
		if i != least && (s.rows.keep[i] && v-swing >= 0 || !s.rows.keep[i] && v-swing >= interval) {
			continue // cannot count within the box
		}
		if i == least {
			lp.basis[n] = len(lp.b)
		}
		row := lp.row(v)
		for k, slope := range g {
			row[k] = -slope
		}
		if !s.rows.keep[i] {
			row[n] = 1
		}
	}
	for k := range n {
		lp.basis[k] = len(lp.b)
		if s.rows.grad[least*n+k] < 0 {
			lp.basis[k]++
		}
		lp.row(half[k])[k] = 1
		lp.row(half[k])[k] = -1
	}
	if !lp.solve() {
		return interval
	}
	for k := range mid {
		s.at[k] = mid[k] + min(max(lp.x[k], -half[k]), half[k])
	}
	return min(interval, lp.x[n])
}

// boxes is a heap with the greatest bound first.
type boxes []box

func (b boxes) Len() int           { return len(b) }
func (b boxes) Less(i, k int) bool { return b[i].bound > b[k].bound }
func (b boxes) Swap(i, k int)      { b[i], b[k] = b[k], b[i] }
func (b *boxes) Push(x any)        { *b = append(*b, x.(box)) } //nolint:forcetypeassert // the heap holds boxes
func (b *boxes) Pop() any {
	last := (*b)[len(*b)-1]
	*b = (*b)[:len(*b)-1]
	return last
}
