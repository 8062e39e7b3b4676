package tolerance

import (
	"context"
	"errors"
	"math"
	"slices"

	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/internal/parallel"
)

// Told returns the tolerances that [Of] returned as people set and read a mount: with a
// ball, tilt, rotation and roll of the plate stand in the place of the ball's three settings,
// see [mount.Chain.Told], and count as set when another setting is off. The limits of the
// joint of each of the three are those that the ball allows.
func Told(ctx context.Context, r *fit.Result, all []Tolerance) ([]Tolerance, error) {
	ball := r.Set.Chain.LastBall()
	if ball < 0 {
		return all, nil
	}
	all = slices.Clone(all)
	at := r.Attitude().Angles()
	for i, j := range r.Set.Chain.Told()[ball : ball+3] {
		t := &all[ball+i]
		t.Joint, t.Set = j, at[i]
		t.Low.At, t.Low.Readable, t.High.At, t.High.Readable = at[i], at[i], at[i], at[i]
	}
	failed := make([]error, len(all))
	err := parallel.Blocks(ctx, len(all), 1, 0, nil, func() func(block, from, to int) {
		m, err := fit.NewSetMount(r) // one serves one goroutine
		return func(_, i, _ int) {
			if failed[i] = err; err == nil {
				failed[i] = all[i].told(ctx, m, i, ball, at)
			}
		}
	})
	return all, errors.Join(append(failed, err)...)
}

// told fills in both ends of the setting with the given place, with the plate turned by
// the angles at wherever it is not one of these.
func (t *Tolerance) told(ctx context.Context, m *fit.SetMount, place, ball int, at [3]float64) error {
	s := &setting{mount: m, joint: t.Joint, set: t.Set}
	s.put = func(v float64) (err error) {
		set, angles := m.Settings(), at
		if i := place - ball; i >= 0 && i < len(angles) {
			angles[i] = v
		} else {
			set[place] = v
		}
		s.at, err = m.TurnPlate(set, mount.AttitudeAt(angles))
		return err
	}
	low, high := s.farthest(t.Joint.Low), s.farthest(t.Joint.High)
	if t.Joint.Stiffness.AnyAxis {
		t.Joint.Low, t.Joint.High = low, high
	}
	if t.Why != nil {
		return ctx.Err()
	}
	return t.ends(ctx, s, low, high)
}

// farthest returns how far the setting goes from where it is toward limit before the ball
// ends.
func (s *setting) farthest(limit float64) float64 {
	step := stride(s.joint)
	if s.joint.Indexed {
		step = s.joint.Step
	}
	good, bad := s.set, s.set
	for ; good != limit; good = bad {
		bad = good + math.Copysign(min(step, math.Abs(limit-good)), limit-good)
		if s.put(bad) != nil {
			break
		}
	}
	for !s.joint.Indexed && math.Abs(bad-good) > within {
		if mid := (good + bad) / 2; s.put(mid) == nil {
			good = mid
		} else {
			bad = mid
		}
	}
	return good
}
