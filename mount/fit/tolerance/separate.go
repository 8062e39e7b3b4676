package tolerance

import (
	"context"
	"fmt"

	"sightpost/mount"
	"sightpost/mount/fit"
)

// SinglePostureSetups compares one setup for all postures that must work with one of its
// own for each.
type SinglePostureSetups struct {
	// Together is the one setup.
	Together *fit.Result
	// SinglePostureSetup are the setups for one posture each, in the order of the job.
	Alone []SinglePostureSetup
}

// SinglePostureSetup is the setup for one posture.
type SinglePostureSetup struct {
	// Posture is the place in the job's postures.
	Posture int
	// Result is that of a job in which no other posture must work; it also says
	// how the others do with it.
	Result *fit.Result
	// MarginMM is the posture's margin in its own setup, TogetherMM in the one for
	// all.
	MarginMM, TogetherMM float64
	// Moved are the settings that differ, clamp outward. It is empty without a
	// mount, and when the mount is clamped elsewhere: see Elsewhere.
	Moved []Moved
	// Elsewhere says that the mount is clamped at another of its places.
	Elsewhere bool
}

// Moved is a setting that differs between two setups: mm, or radians for a turn.
type Moved struct {
	Joint           mount.Joint
	Together, Alone float64
}

// SeparateSetups solves the job as it is and then for each posture that must
// work on its own. Errors are those of [fit.Solve].
func SeparateSetups(ctx context.Context, job *fit.Job) (*SinglePostureSetups, error) {
	together, err := fit.Solve(ctx, job)
	if err != nil {
		return nil, err
	}
	out := &SinglePostureSetups{Together: together}
	for i := range job.Postures {
		if !job.Postures[i].MustWork {
			continue
		}
		r, err := fit.Solve(ctx, job.Only(i))
		if err != nil {
			return nil, fmt.Errorf("fit: posture %q alone: %w", job.Postures[i].Name, err)
		}
		a := SinglePostureSetup{Posture: i, Result: r, MarginMM: r.Postures[i].MarginMM, TogetherMM: together.Postures[i].MarginMM}
		a.compare(together.Set, r.Set)
		out.Alone = append(out.Alone, a)
	}
	return out, nil
}

// compare fills in what differs between two sets.
func (a *SinglePostureSetup) compare(together, alone *fit.Set) {
	if together == nil || alone == nil {
		return
	}
	if together.Mounting != alone.Mounting {
		a.Elsewhere = true
		return
	}
	for k, j := range alone.Chain.Moving() {
		if was, is := together.Settings[k], alone.Settings[k]; was != is {
			a.Moved = append(a.Moved, Moved{Joint: j, Together: was, Alone: is})
		}
	}
}
