package fit

import (
	"fmt"
	"math"
	"slices"

	"sightpost/gaze"
	"sightpost/mount"
)

// RefitOptions adjust [Refit]. The zero value is usable.
type RefitOptions struct {
	// MarginMM is the margin to restore. Zero means that of the job's wish, whose
	// own zero means any margin that is not negative.
	MarginMM float64
	// Before is how things stood when the settings were made; nil when that is
	// not known. Postures are matched by name.
	Before *Result
}

// Plan is what to change on a mount after the person's sitting has changed.
type Plan struct {
	// WantedMM is the margin to restore.
	WantedMM float64
	// As is how things stand with the settings as they are, Losses what that costs
	// in each posture, in the order of the job.
	As     *Result
	Losses []Loss
	// Needed says that something has to be changed; Restored that the changes
	// bring the wanted margin back, with everything to be kept clear kept clear.
	Needed, Restored bool
	// Changes are the settings to change, in chain order, and Effort is the sum of
	// their efforts. When the margin cannot be restored they lead to the best
	// there is.
	Changes []Change
	Effort  float64
	// After is [Check] with the changes made. It is As when nothing needs changing.
	After *Result
	// Steps are the changes in the order in which to make them.
	Steps []Step
	// Tried says why nothing cheaper is enough: every set of settings that costs
	// less than Effort is within one of these sets. They are as large as they can
	// be and still fail, so some cost more.
	Tried []Attempt
	// Fresh is the mount set anew, for comparison.
	Fresh FullSetup
}

// Loss is what a changed posture costs.
type Loss struct {
	Posture  string
	MarginMM float64
	// BeforeMM is the margin of this posture when the settings were made; nil
	// when that is not known.
	BeforeMM *float64
	// Tightest are the three conditions with the least room, the least first.
	Tightest []gaze.ConditionMargin
}

// Change is a setting that is moved.
type Change struct {
	Setting  int // place in the order of the settings
	Joint    mount.Joint
	From, To float64 // mm or radians
}

// FullSetup is the outcome of [Solve] for the changed job at the same place of the
// clamp, and what it would take to get there.
type FullSetup struct {
	Result  *Result
	Changes []Change
	Effort  float64
}

// Refit returns the least that has to be changed on a mount set as given, at one
// place among the job's mountings, for a job that holds the posture or the
// measures as they are now. Settings are in the order of [mount.Chain.Moving].
//
// Sets of settings are compared by the sum of their efforts, then by how many
// they are, then by the margin that they give at readable settings. The least set
// that restores the margin is taken; within it, the readable settings with the
// best score among those that restore the margin. Ranges of the aim are kept as
// [Check] keeps them.
//
// That every cheaper set fails is found by searching for the best margin from
// several starts at every stop: as sure as any such search, but no proof.
// When no set is enough, the plan says how good all of them together can be;
// Fresh.Result.Set.Held then says what holds the mount back. Errors are those of
// [Check]. A load beyond what the mount bears is reported in Why of the results but
// is not searched for.
func Refit(job *Job, mounting int, settings mount.Settings, opt RefitOptions) (*Plan, error) {
	if !(opt.MarginMM >= 0) || math.IsInf(opt.MarginMM, 1) {
		return nil, fmt.Errorf("%w: the margin to restore is %v mm; give 0 (the job's own) or more", ErrJob, opt.MarginMM)
	}
	own := *job
	if opt.MarginMM > 0 {
		own.Preferences.MarginMM = opt.MarginMM
	}
	as, err := Check(&own, mounting, slices.Clone(settings))
	if err != nil {
		return nil, err
	}
	p := &Plan{WantedMM: own.Preferences.MarginMM, As: as, After: as, Losses: losses(as, opt.Before)}
	if err := p.addFresh(&own, mounting); err != nil {
		return nil, err
	}
	p.Needed = !as.mended()
	p.Restored = !p.Needed
	if !p.Needed {
		return p, nil
	}
	r, err := newRefitting(&own, as)
	if err != nil {
		return nil, err
	}
	if err := r.choose(p); err != nil {
		return nil, err
	}
	return p, p.finish(&own, mounting)
}

// mended reports whether a result leaves nothing to wish for that settings are
// searched for: what the mount can bear is not.
func (r *Result) mended() bool { return r.strengthOnly() }

// addFresh solves the job anew at the same place of the clamp.
func (p *Plan) addFresh(job *Job, mounting int) error {
	one := *job
	there := *job.Mount
	there.Mountings = there.Mountings[mounting : mounting+1]
	one.Mount = &there
	fresh, err := Solve(&one)
	if err != nil {
		return err
	}
	fresh.Set.Mounting = mounting
	p.Fresh.Result = fresh
	p.Fresh.Changes, p.Fresh.Effort = changes(fresh.Set.Chain.Moving(), p.As.Set.Settings, fresh.Set.Settings)
	return nil
}

// finish checks the plan's settings, which are those of p.After.Set, and lays
// out the steps.
func (p *Plan) finish(job *Job, mounting int) error {
	after, err := Check(job, mounting, p.After.Set.Settings)
	if err != nil {
		return err
	}
	p.After = after
	p.Restored = after.mended()
	p.Changes, p.Effort = changes(after.Set.Chain.Moving(), p.As.Set.Settings, after.Set.Settings)
	p.Steps, err = Steps(job, after.Set, p.As.Set.Settings)
	return err
}

// stillMM and stillTurn are the changes below which a setting counts as left alone:
// the rounding of units, far below what can be read.
const (
	stillMM   = 1e-6
	stillTurn = 1e-9
)

// still reports whether a and b are one and the same setting.
func still(j mount.Joint, a, b float64) bool {
	if j.Motion == mount.Turn {
		return math.Abs(a-b) <= stillTurn
	}
	return math.Abs(a-b) <= stillMM
}

// changes returns the settings that differ and the sum of their efforts.
func changes(moving []mount.Joint, from, to mount.Settings) (list []Change, effort float64) {
	for i, j := range moving {
		if !still(j, from[i], to[i]) {
			list = append(list, Change{Setting: i, Joint: j, From: from[i], To: to[i]})
			effort += j.Effort
		}
	}
	return list, effort
}

// tightestListed is how many conditions a loss names.
const tightestListed = 3

// losses compares every posture with how it fared before.
func losses(as, before *Result) []Loss {
	var out []Loss
	for i := range as.Postures {
		f := &as.Postures[i]
		l := Loss{Posture: f.Posture.Name, MarginMM: f.MarginMM}
		if before != nil {
			for k := range before.Postures {
				if before.Postures[k].Posture.Name == l.Posture {
					mm := before.Postures[k].MarginMM
					l.BeforeMM = &mm
				}
			}
		}
		rooms := slices.Clone(f.Margins)
		slices.SortStableFunc(rooms, byRoom)
		l.Tightest = rooms[:min(tightestListed, len(rooms))]
		out = append(out, l)
	}
	return out
}
