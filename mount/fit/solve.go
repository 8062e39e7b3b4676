package fit

import (
	"errors"
	"fmt"
	"math"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
)

// Solve finds where the screen should be, the settings that bring it there and
// how every posture fares at the readable settings nearest to them.
//
// When the target cannot be reached, or only through a space to be kept clear,
// the settings with the best score are taken and Result.Set.Held says what holds
// the screen back. A job that cannot be met is no error: see Result.Works. The
// error wraps [ErrJob].
func Solve(job *Job) (*Result, error) {
	b, err := newBench(job)
	if err != nil {
		return nil, err
	}
	target, err := gaze.Place(b.request)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrJob, err)
	}
	if job.Mount == nil {
		return b.finish(target, target.Pose, nil)
	}
	var best *trial
	for i := range job.Mount.Mountings {
		t, err := b.try(i, target)
		if err != nil {
			return nil, fmt.Errorf("%w: %w", ErrJob, err)
		}
		if best == nil || t.betterThan(best) {
			best = t
		}
	}
	if best == nil {
		return nil, fmt.Errorf("%w: the mount is clamped nowhere", ErrJob)
	}
	if !best.set.Reached {
		best.set.Held = b.holds(best, target)
	}
	return b.finish(target, best.screen, best.set)
}

// finish reports on the screen at pose and adds the target.
func (b *bench) finish(target gaze.Target, screen frame.Pose, set *Set) (*Result, error) {
	r, err := b.report(screen, set)
	if err != nil {
		return nil, err
	}
	r.Target = target
	return r, nil
}

// trial is the mount at one place of its clamp.
type trial struct {
	set    *Set
	screen frame.Pose // at the rounded settings
	value  float64    // of the rounded settings, see bench.value
	cost   float64    // of the exact settings, when the target is reached
	near   mount.Settings
}

// betterThan reports whether t is to be chosen over u: one that reaches the
// target over one that does not, then the less costly, or the better value.
func (t *trial) betterThan(u *trial) bool {
	if t.set.Reached != u.set.Reached {
		return t.set.Reached
	}
	if t.set.Reached {
		return t.cost < u.cost
	}
	return t.value > u.value
}

// leverWeight is the cost of each (100 mm)² of the load's lever arm at a turning
// joint, against 1 for a setting of effort 1 that is a unit off its preferred
// value: enough to decide between settings that are otherwise alike.
const leverWeight = 0.05

// try sets the mount for the target at one place of its clamp.
func (b *bench) try(mounting int, target gaze.Target) (*trial, error) {
	place := b.job.Mount.Mountings[mounting]
	chain, err := b.job.Mount.Kit.Chain(place)
	if err != nil {
		return nil, err
	}
	solver, err := chain.Solver()
	if err != nil {
		return nil, err
	}
	set := &Set{Side: place.Side, Mounting: mounting, Chain: chain}
	t := &trial{set: set}
	opt := mount.Options{Lever: leverWeight, Allowed: b.allowed(chain)}
	sol, err := solver.Prefer(target.Pose, chain.Preferred(), opt)
	switch {
	case err == nil:
		sol = leave(chain, target.Pose, sol, opt)
		set.Reached, set.Exact, t.cost = true, sol.Settings, sol.Cost
	case errors.Is(err, mount.ErrUnreached) || errors.Is(err, mount.ErrNotAllowed):
		if set.Exact, err = b.searchSettings(chain, sol.Settings); err != nil {
			return nil, err
		}
		t.near = sol.Settings
	default:
		return nil, err
	}
	set.Settings, err = b.round(chain, set.Exact, opt.Allowed)
	if err != nil {
		return nil, err
	}
	if t.screen, err = chain.Forward(set.Settings); err != nil {
		return nil, err
	}
	t.value = b.value(t.screen)
	off := target.Pose.Inverse().Mul(t.screen)
	set.OffMM, set.Off = math.Sqrt(off.At.X*off.At.X+off.At.Y*off.At.Y+off.At.Z*off.At.Z), off.Rot.Angle()
	return t, nil
}

// allowed returns the test whether settings keep all tubes above the floor and
// away from what is to be kept clear.
func (b *bench) allowed(chain mount.Chain) func(mount.Settings) bool {
	var tubes []tubeShape
	return func(s mount.Settings) bool {
		var err error
		if tubes, err = tubeShapes(tubes[:0], chain, s); err != nil {
			return false
		}
		if mm, _, _ := b.lowest(tubes); mm < -roundingMM {
			return false
		}
		for i := range b.keeps {
			if mm, _, _ := tubeRoom(tubes, &b.keeps[i]); mm < 0 {
				return false
			}
		}
		return true
	}
}

// value ranks screen poses: the score, with limits that are broken counting far
// more. Rounding goes by the score rather than by the margin alone, because the
// margin would trade a face that is square to the eyes for a fraction of a mm.
func (b *bench) value(screen frame.Pose) float64 {
	score, broken := b.scorer.Score(screen)
	return score - brokenWeight*broken
}

// brokenWeight is what one mm of a broken limit costs in mm of score.
const brokenWeight = 1000
