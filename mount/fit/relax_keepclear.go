package fit

import (
	"cmp"
	"context"
	"math"
	"slices"

	"sightpost/mount"
)

// relaxKeepClear lowers the required clearance of the zones that cannot be kept clear, one
// after the other, so that no other zone is violated for their sake: a search that breaks
// limits makes the worst violation as small as it can, at the cost of all others.
func (t *mountingSolver) relaxKeepClear(ctx context.Context) error {
	if t.set.Reached || len(t.set.Exact) == 0 {
		return nil
	}
	for range t.keeps {
		short, err := t.shortOf(t.set.Exact)
		if err != nil || len(short) < 2 {
			return err
		}
		if err := t.relaxOne(ctx, short); err != nil {
			return err
		}
	}
	return nil
}

// tieMM is how much less than the worst a zone may fall short and still be the one that
// cannot be kept clear: a search makes violations equal where it can.
const tieMM = 0.5

// relaxOne lowers the requirement of one of the zones that fall short most: the one with
// which the others then fall short least.
func (t *mountingSolver) relaxOne(ctx context.Context, short []shortage) error {
	best, least := *t, math.Inf(1)
	for _, c := range short {
		if c.mm < short[0].mm-tieMM {
			break
		}
		if c.keep == theFloor {
			continue // nothing can be asked less of it
		}
		try, own, set := *t, *t.problem, *t.set
		try.problem, try.set = &own, &set
		own.keeps = slices.Clone(t.keeps)
		own.keeps[c.keep].reliefMM += c.mm
		own.limit()
		left, err := try.goOnClear(ctx)
		if err != nil {
			return err
		}
		sum := 0.0
		for _, s := range left {
			sum += s.mm
		}
		if sum < least {
			best, least = try, sum
		}
	}
	*t = best
	return nil
}

// goOnClear goes on from the settings found, and searches everywhere if these still
// come too near to something. It returns what falls short then.
func (t *mountingSolver) goOnClear(ctx context.Context) (short []shortage, err error) {
	from := t.set.Exact
	if err := t.goOn(ctx, from); err != nil {
		return nil, err
	}
	if short, err = t.shortOf(t.set.Exact); err != nil || len(short) == 0 {
		return nil, err
	}
	if t.set.Exact, err = t.searchSettings(ctx, from); err != nil {
		return nil, err
	}
	return t.shortOf(t.set.Exact)
}

// shortage is by how much less than required the gap to a zone is, or to the floor.
type shortage struct {
	keep int
	mm   float64
}

// theFloor is the place of the floor among the zones.
const theFloor = -1

// shortOf returns the zones whose gaps fall short at settings s, and the floor, the worst
// first.
func (t *mountingSolver) shortOf(s mount.Settings) ([]shortage, error) {
	poses, err := t.sagging.Poses(s)
	if err != nil {
		return nil, err
	}
	screen := t.sagging.compiled.Pose(s)
	var out []shortage
	for i := range t.keeps {
		p := &t.keeps[i]
		gap, _ := t.gap(screen, poses, p)
		if mm := p.requiredMM() - gap; mm > RoundingMM {
			out = append(out, shortage{i, mm})
		}
	}
	if low := t.ground(poses.tubes); low.TooClose(t.job.Passage.GroundMM) {
		out = append(out, shortage{theFloor, t.job.Passage.GroundMM - low.MM})
	}
	slices.SortStableFunc(out, func(a, b shortage) int { return cmp.Compare(b.mm, a.mm) })
	return out, nil
}
