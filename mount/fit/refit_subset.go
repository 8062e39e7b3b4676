package fit

import (
	"cmp"
	"container/heap"
	"math/bits"
	"slices"

	"sightpost/mount"
)

// subset is a set of settings: bit i stands for setting i.
type subset uint64

// maxSettings is how many settings can be compared: with as many, a million sets
// take about a second to go through. No mount that anybody carries has more.
const maxSettings = 20

func (s subset) with(i int) subset    { return s | 1<<i }
func (s subset) within(t subset) bool { return s&^t == 0 }
func (s subset) size() int            { return bits.OnesCount64(uint64(s)) }
func (s subset) members() (out []int) {
	for ; s != 0; s &= s - 1 {
		out = append(out, bits.TrailingZeros64(uint64(s)))
	}
	return out
}

// byEffort yields sets of settings in the order of their effort, then of how
// many they are, without listing them all beforehand.
//
// With the settings sorted by effort, every set but the empty one is grown from
// exactly one other, by taking in the setting after its last or by moving its last
// one on, and is never before it in the order. A heap of sets not yet grown so
// yields all of them in order.
type byEffort struct {
	sorted []int // settings by effort, then by chain order
	effort []float64
	heap   queue
}

// queued is a set of places in byEffort.sorted.
type queued struct {
	places subset
	effort float64
}

// newByEffort returns the sets of the given joints, the empty one left out.
func newByEffort(moving []mount.Joint) *byEffort {
	o := &byEffort{}
	for i, j := range moving {
		o.sorted = append(o.sorted, i)
		o.effort = append(o.effort, j.Effort)
	}
	slices.SortStableFunc(o.sorted, func(a, b int) int { return cmp.Compare(o.effort[a], o.effort[b]) })
	if len(moving) > 0 {
		heap.Push(&o.heap, o.queued(1))
	}
	return o
}

// queued returns a set with its effort, which is added up in one and the same
// order so that equal sets of efforts have equal sums.
func (o *byEffort) queued(places subset) queued {
	q := queued{places: places}
	for _, k := range places.members() {
		q.effort += o.effort[o.sorted[k]]
	}
	return q
}

// next returns the next set and its effort; ok is false after the last.
func (o *byEffort) next() (set subset, effort float64, ok bool) {
	if o.heap.Len() == 0 {
		return 0, 0, false
	}
	q := heap.Pop(&o.heap).(queued)
	last := bits.Len64(uint64(q.places)) - 1
	if last+1 < len(o.sorted) {
		heap.Push(&o.heap, o.queued(q.places.with(last+1)))
		heap.Push(&o.heap, o.queued((q.places &^ (1 << last)).with(last+1)))
	}
	for _, k := range q.places.members() {
		set = set.with(o.sorted[k])
	}
	return set, q.effort, true
}

// queue is a heap of sets: the least effort first, then the fewest settings, then
// the first in the sorted order.
type queue []queued

func (q queue) Len() int { return len(q) }

func (q queue) Less(i, k int) bool {
	return cmp.Or(
		cmp.Compare(q[i].effort, q[k].effort),
		cmp.Compare(q[i].places.size(), q[k].places.size()),
		cmp.Compare(bits.Reverse64(uint64(q[k].places)), bits.Reverse64(uint64(q[i].places))),
	) < 0
}

func (q queue) Swap(i, k int) { q[i], q[k] = q[k], q[i] }

// Push implements [heap.Interface].
func (q *queue) Push(x any) { *q = append(*q, x.(queued)) }

// Pop implements [heap.Interface].
func (q *queue) Pop() any {
	last := (*q)[len(*q)-1]
	*q = (*q)[:len(*q)-1]
	return last
}
