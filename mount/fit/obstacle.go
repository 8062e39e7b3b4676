package fit

import (
	"cmp"
	"context"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount/fit/internal/parallel"
)

// Obstacle is a keep-clear zone in the way: with the mount set as if there were no
// keep-clear zones, something would come too near to it, and the zone costs something, see
// [Obstacle.MarginMM].
type Obstacle struct {
	KeepClear KeepClear
	// Part is what would come too near, "housing" or a part of the mount, and
	// Posture the one in which it would come nearest.
	Part    string
	Posture int
	// ShortMM is by how much it would come nearer than is to be kept.
	ShortMM float64
	// MarginMM is the least margin without this zone, with all others kept clear; it is
	// never less than that of the result. Works says whether everything would work then.
	// What a zone costs is the difference, or that nothing works with it; zones that cost
	// nothing are listed only where the result itself comes too near to them.
	MarginMM float64
	Works    bool
	// Out is the direction, along an axis of what carries the zone, in which the shortest
	// move clears the mount as it would then be set, and OutMM that move. Both are zero
	// when half a meter is not enough, or when the zone moves with the body.
	Out   Way
	OutMM float64

	keep int // its place in the job's
}

// Way is a direction in which a keep-clear zone could be moved.
type Way int

// The directions, seen by the person in the chair.
const (
	NoWay Way = iota
	Lower
	FurtherBack
	FurtherForward
	FurtherLeft
	FurtherRight
	Higher
)

// String says where a zone is after such a move: "lower", "further back".
func (w Way) String() string {
	if w < NoWay || w > Higher {
		return "way " + strconv.Itoa(int(w))
	}
	return [...]string{"where it is", "lower", "further back", "further forward", "further to the left", "further to the right", "higher"}[w]
}

// along returns the unit vector of the way.
func (w Way) along() r3.Vec {
	return [...]r3.Vec{{}, {Z: -1}, {X: -1}, {X: 1}, {Y: 1}, {Y: -1}, {Z: 1}}[w]
}

const (
	// mostMoveMM is the longest move tried, moveStepMM the step.
	mostMoveMM = 500
	moveStepMM = 5
)

// mostObstacles is how many obstacles are considered.
const mostObstacles = 4

// obstaclesOf returns the zones that hold the screen of a result back from where it
// would best be, the one that is most in the way first. Where the margin is too small
// without any zone, none is in the way.
func obstaclesOf(ctx context.Context, b *problem, r *Result) ([]Obstacle, error) {
	free, err := solve(ctx, b.job.without(allKeeps), b.variant(b.mounting))
	if err != nil {
		return nil, err
	}
	if free.MarginMM() < b.job.Preferences.MarginMM {
		return nil, nil
	}
	there, poses := sagsAs(b, free)
	var out []Obstacle
	for k, g := range clearancesOf(there, free.Screen, poses) {
		if g.TooClose() {
			out = append(out, Obstacle{KeepClear: g.KeepClear, Part: g.Part, Posture: g.Posture, ShortMM: g.KeepClear.RequiredMM - g.MM, keep: k})
		}
	}
	slices.SortStableFunc(out, func(a, c Obstacle) int { return cmp.Compare(c.ShortMM, a.ShortMM) })
	out = out[:min(len(out), mostObstacles)]
	if err := withoutEach(ctx, b, out, free); err != nil {
		return nil, err
	}
	out = slices.DeleteFunc(out, func(o Obstacle) bool { return !o.costs(r) })
	for i := range out {
		out[i].Out, out[i].OutMM = wayOut(there, out[i].keep, free.Screen, poses)
	}
	return out, nil
}

// shownMM is the last digit of margins that is shown.
const shownMM = 0.1

// costs raises the margin without the obstacle to that of the result with it, and
// reports whether that is worth listing.
func (o *Obstacle) costs(r *Result) bool {
	gain := o.MarginMM - r.MarginMM()
	o.MarginMM = max(o.MarginMM, r.MarginMM())
	return gain >= shownMM || o.Works && !r.Works || r.Clearances[o.keep].TooClose()
}

// withoutEach fills in margin and verdict without each of the obstacles. Without the only
// one they are those of free, which keeps clear of all others.
func withoutEach(ctx context.Context, b *problem, out []Obstacle, free *Result) error {
	return parallel.Each(ctx, len(out), 0, func(i int) (err error) {
		r := free
		if len(out) > 1 {
			if r, err = solve(ctx, b.job.without(out[i].keep), b.variant(b.mounting)); err != nil {
				return err
			}
		}
		out[i].MarginMM, out[i].Works = r.MarginMM(), r.Works
		return nil
	})
}

// sagsAs returns the problem with the sag of a result of the job with other keep-clear
// zones, and where its mount is in every posture, nil without one.
func sagsAs(b *problem, r *Result) (*problem, LoadedPoses) {
	var poses LoadedPoses
	for i := range r.Postures {
		if r.Postures[i].Mount == nil {
			return b, nil
		}
		poses = append(poses, r.Postures[i].Mount)
	}
	return b.sagged(poses.motions()), poses
}

// wayOut returns the least move that takes a zone, by its place in the job, out of the way
// of a mount as set.
func wayOut(b *problem, keep int, screen frame.Pose, poses LoadedPoses) (best Way, mm float64) {
	if b.job.KeepClear[keep].With != NoBody {
		return NoWay, 0
	}
	mm = mostMoveMM + moveStepMM
	for w := Lower; w <= Higher; w++ {
		for d := float64(moveStepMM); d < mm; d += moveStepMM {
			if clearWith(b, keep, r3.Scale(d, w.along()), screen, poses) {
				best, mm = w, d
			}
		}
	}
	if best == NoWay {
		mm = 0
	}
	return best, mm
}

// clearWith reports whether a mount as set keeps clear of a zone that is moved by shift (mm, in the axes of its shape).
func clearWith(b *problem, keep int, shift r3.Vec, screen frame.Pose, poses LoadedPoses) bool {
	for k := range b.keeps {
		p := b.keeps[k]
		if p.keep != &b.job.KeepClear[keep] {
			continue
		}
		st := &b.postures[p.posture]
		carrierFromKeep := st.Carrier.Inverse().Mul(p.keep.Pose(b.job.Scene, st.Posture))
		moved := frame.Translate(carrierFromKeep.Rot.Apply(shift))
		p.shape = p.shape.Moved(moved)
		p.seen = p.shape.Moved(b.sags[p.posture].Inverse())
		if mm, _ := b.gap(screen, poses, &p); mm < p.keep.RequiredMM {
			return false
		}
	}
	return true
}

// allKeeps is the place of all keep-clear zones together.
const allKeeps = -1

// without returns the job without the keep-clear zone at a place, or without all.
func (j *Job) without(keep int) *Job {
	own := *j
	if own.KeepClear = nil; keep != allKeeps {
		own.KeepClear = slices.Delete(slices.Clone(j.KeepClear), keep, keep+1)
	}
	return &own
}
