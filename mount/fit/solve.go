package fit

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"sightpost/gaze"
	"sightpost/gaze/frame"
)

// Solve finds where the screen should be, the settings that bring it there (the
// back-solve: settings from the target) and how well every posture is served at the
// readable settings nearest to them.
//
// The mount sags, differently in every posture and at every setting. So Solve seeks the
// settings that bring the sagged screen to the target: with the sag at the settings
// found so far, repeated until the sag no longer changes.
//
// Of several places of the clamp, Solve takes one at which everything works, and among
// those the least costly. When the target cannot be reached, or only through a
// keep-clear zone or with a tube in front of the device, it takes the settings with the best
// score. What keeps the screen from the target, and what would help, [Advise] tries. A job that
// cannot be met is no error: see Result.Works. The error wraps [ErrJob].
//
// Solve ends soon after ctx, with the error of that.
func Solve(ctx context.Context, job *Job) (*Result, error) {
	return solve(ctx, job, solving{mounting: anyMounting})
}

// SolveAt is [Solve] with the clamp at one place among the job's mountings.
func SolveAt(ctx context.Context, job *Job, mounting int) (*Result, error) {
	if job.Mount == nil || mounting < 0 || mounting >= len(job.Mount.Mountings) {
		return nil, fmt.Errorf("%w: it has no mount there to set", ErrJob)
	}
	return solve(ctx, job, solving{mounting: mounting})
}

// anyMounting is the place of the clamp that leaves the choice to [Solve].
const anyMounting = -1

// solving is how a job is solved.
type solving struct {
	// mounting is the place of the clamp, or anyMounting.
	mounting int
	brief    bool         // without how the mount swings clear and tipping
	quick    bool         // with fewer climbs, see mostClimbs
	free     *gaze.Target // without keep-clear zones; nil if it is still to be found
}

// variant is how a job is solved that differs from that of b in its mount and in the
// keep-clear zones alone, with the clamp at a place or at any.
func (b *problem) variant(mounting int) solving { return solving{mounting, true, true, b.free} }

func solve(ctx context.Context, job *Job, how solving) (*Result, error) {
	b, err := newProblem(job, false)
	if err != nil {
		return nil, err
	}
	b.solving = how
	if b.free == nil {
		free, err := b.place(ctx, nil)
		if err != nil {
			return nil, err
		}
		b.free = &free
	}
	target := *b.free
	if b.watch(target.Pose) {
		if target, err = b.placeScreen(ctx, nil); err != nil {
			return nil, err
		}
	}
	if job.Mount == nil {
		r, err := reportScreen(b, target.Pose)
		if err != nil {
			return nil, err
		}
		r.Target = target
		return r, nil
	}
	best, r, err := b.solveMount(ctx, target)
	if err != nil || !r.Works || b.brief {
		return r, err
	}
	if r.Inside != "" {
		out, err := best.outOfHousing(ctx)
		if err == nil && (!out.Works || out.Inside != "") {
			b.insideWatched = true
			_, out, err = b.solveMount(ctx, target)
		}
		if err != nil || !out.Works || out.Inside != "" {
			return r, err
		}
		r = out
	}
	if r.sightMM < sightEdgeMM {
		b.spareMM, b.quick = sightSpareMM, true
		_, out, err := b.solveMount(ctx, target)
		if err != nil || !out.Works || out.Inside != "" || out.MarginMM() < r.MarginMM()-sightSpareMM {
			return r, err
		}
		r = out
	}
	return r, nil
}

// solveMount sets the mount for a target and reports on it.
func (b *problem) solveMount(ctx context.Context, target gaze.Target) (*mountingSolver, *Result, error) {
	best, err := b.bestMounting(ctx, target)
	if err != nil {
		return nil, nil, err
	}
	r, err := best.finish()
	return best, r, err
}

// bestMounting returns the mount set at the best of its places by what its settings say: of
// several the first at which everything works, as what a mount can bear is not known of its
// settings alone.
func (b *problem) bestMounting(ctx context.Context, target gaze.Target) (*mountingSolver, error) {
	var all []*mountingSolver
	for i := range b.job.Mount.Mountings {
		if b.mounting != anyMounting && b.mounting != i {
			continue
		}
		t, err := b.newMountingSolver(i, target)
		if err != nil {
			return nil, fmt.Errorf("%w: %w", ErrJob, err)
		}
		if err := t.settle(ctx); err != nil {
			return nil, wrapped(err)
		}
		all = append(all, t)
	}
	if len(all) == 0 {
		return nil, fmt.Errorf("%w: the mount is clamped nowhere", ErrJob)
	}
	slices.SortStableFunc(all, (*mountingSolver).compare)
	for _, t := range all {
		if len(all) == 1 {
			break
		}
		own, brief := *t, *t.problem
		own.problem, brief.brief = &brief, true
		if r, err := own.finish(); err != nil {
			return nil, err
		} else if r.Works {
			return t, nil
		}
	}
	return all[0], nil
}

// place returns the best place of the screen among the zones watched; near an aim, for a
// problem that has changed a little since, unless it is nil.
func (b *problem) place(ctx context.Context, near *gaze.Aim) (t gaze.Target, err error) {
	if err := ctx.Err(); err != nil {
		return t, err
	}
	if near != nil {
		t, err = gaze.PlaceNear(b.request, *near)
	} else {
		t, err = gaze.Place(b.request)
	}
	if err != nil {
		return t, fmt.Errorf("%w: %w", ErrJob, err)
	}
	return t, nil
}

// placeScreen finds the target among the zones watched, and watches more for as long as
// it comes too near to one that is not. What is best among some limits and keeps
// them all is best among all.
func (b *problem) placeScreen(ctx context.Context, near *gaze.Aim) (gaze.Target, error) {
	for {
		t, err := b.place(ctx, near)
		if err != nil || !b.watch(t.Pose) {
			return t, err
		}
		near = nil
	}
}

// soonMM is how near to a limit a zone is watched along with one that breaks it.
const soonMM = 50

// watch takes the zones into the search that the housing at pose comes too near to,
// with those that it nearly does, and reports whether there was one.
func (b *problem) watch(pose frame.Pose) bool {
	broken := false
	var soon []int
	for i := range b.keeps {
		p := &b.keeps[i]
		if p.watched {
			continue
		}
		spare := b.housingGap(pose, p) - p.keep.RequiredMM
		broken = broken || spare < 0
		if spare < soonMM {
			soon = append(soon, i)
		}
	}
	if broken {
		b.crowded = true
		for _, i := range soon {
			b.keeps[i].watched = true
		}
		b.limit()
	}
	return broken
}

// value ranks places of the unloaded screen: the score, with limits that are broken
// and what the margin falls short of the required one counting far more. Rounding goes by
// the score, because the margin alone would trade a square view for a fraction of a mm.
func (b *problem) value(screen frame.Pose) float64 {
	score, short, broken := b.scorer.Score(screen)
	return score - BrokenWeight*(short+broken)
}

// BrokenWeight is what one mm of a broken limit costs in mm of score.
const BrokenWeight = 1000

// wrapped marks an error as one of the job, unless the work was canceled.
func wrapped(err error) error {
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) || errors.Is(err, ErrJob) {
		return err
	}
	return fmt.Errorf("%w: %w", ErrJob, err)
}
