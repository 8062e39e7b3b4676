package refit

import (
	"context"
	"fmt"
	"math"
	"slices"

	"sightpost/gaze"
	"sightpost/mount"
	"sightpost/mount/fit"
)

// Options adjust [Find]. The zero value is usable.
type Options struct {
	// MarginMM is the margin to restore. Zero means that of the job's preferences. Where
	// Before had less, or they ask for none, it means that of Before, or of a full re-setup
	// if that gives less, in whole steps of 5 mm.
	MarginMM float64
	// Before is the result when the settings were made; nil when that is not known.
	// Postures are matched by name.
	Before *fit.Result
}

// Plan is what to change on a mount after the person's sitting has changed.
type Plan struct {
	// RequiredMM is the margin to restore, From where it comes from.
	RequiredMM float64
	From       Origin
	// Current is the result with the settings as found, Losses what that costs in each
	// posture, in the order of the job.
	Current *fit.Result
	Losses  []Loss
	// Needed says that something has to be changed; Restored that the changes
	// bring the required margin back, with every clearance kept.
	Needed, Restored bool
	// Changes are the settings to change, in chain order, and Effort is the sum of
	// their efforts, the three of a ball counted once: loosened, it turns all ways. When the margin cannot be restored they lead to the best
	// there is.
	Changes []Change
	Effort  float64
	// After is [fit.Check] with the changes made. It is Current when nothing needs
	// changing. If the changes restore what is required, it is of the job as it was given, whose
	// own margin tolerances leave.
	After *fit.Result
	// Steps are the changes in the order in which to make them.
	Steps []Step
	// Tried says why nothing cheaper is enough: every set of settings that costs
	// less than Effort is within one of these sets. They are as large as they can
	// be and still fail, so some cost more.
	Tried []Attempt
	// FullSetup is a full re-setup of the mount, for comparison.
	FullSetup FullSetup
}

// Origin says where a margin to restore comes from.
type Origin int

// The choices of [Origin].
const (
	FromCase      Origin = iota // the options or the job's preferences
	FromBefore                  // the mount had it before
	FromFullSetup               // a full re-setup gives no more
)

// Loss is what a changed posture costs.
type Loss struct {
	Posture  string
	MarginMM float64
	// BeforeMM is the margin of this posture when the settings were made; nil
	// when that is not known.
	BeforeMM *float64
	// Limiting are the three conditions with the least margins, the least first.
	Limiting []gaze.ConditionMargin
}

// Change is a setting that is moved.
type Change struct {
	Setting  int // place in the order of the settings
	Joint    mount.Joint
	From, To float64 // mm or radians
}

// FullSetup is the outcome of [fit.Solve] for the changed job at the same place of the
// clamp, and what it would take to get there.
type FullSetup struct {
	Result  *fit.Result
	Changes []Change
	Effort  float64
}

// Find returns the least that has to be changed on a mount set as given, at one
// place among the job's mountings, for a job that holds the posture or the
// measures as they are now. Settings are in the order of [mount.Chain.Moving].
//
// Sets of settings are compared by the sum of their efforts, then by how many
// they are, a ball being one, then by the margin that they give at readable settings. The least set
// that restores the margin is taken; within it, the readable settings with the
// best score among those that restore the margin. Ranges of the aim count as in
// [fit.Check].
//
// That every cheaper set fails is found by searching for the best margin from
// several starts at every stop: as sure as any such search, but no proof.
// When no set is enough, the plan says how good all of them together can be;
// FullSetup.Result, with [fit.Advise], then says what limits the mount. A load beyond
// what the mount bears is reported in Reasons of the results but is not searched for.
// Errors are those of [fit.Check], or say that ctx was canceled.
func Find(ctx context.Context, job *fit.Job, mounting int, settings mount.Settings, opt Options) (*Plan, error) {
	if !(opt.MarginMM >= 0) || math.IsInf(opt.MarginMM, 1) {
		return nil, fmt.Errorf("%w: the margin to restore is %v mm; give 0 (the job's own) or more", fit.ErrJob, opt.MarginMM)
	}
	own := *job
	p := &Plan{}
	own.Preferences.MarginMM, p.From = opt.required(job)
	if err := p.begin(ctx, &own, mounting, settings); err != nil {
		return nil, err
	}
	if full := p.FullSetup.Result.MarginMM(); p.From == FromBefore && full < p.RequiredMM {
		own = *job
		own.Preferences.MarginMM, p.From = wholeSteps(full), FromFullSetup
		if err := p.begin(ctx, &own, mounting, settings); err != nil {
			return nil, err
		}
	}
	p.Losses = losses(p.Current, opt.Before)
	p.Needed = !p.Current.StrengthOnly()
	if p.Restored = !p.Needed; p.Needed {
		found, err := p.choose(ctx)
		if err != nil {
			return nil, err
		}
		if err := p.finish(ctx, &own, mounting, found); err != nil {
			return nil, err
		}
		if p.Restored && job.Preferences.MarginMM < p.RequiredMM {
			after := *p.After
			after.Job, p.After = job, &after
		}
	}
	if !p.Restored {
		var err error
		if p.FullSetup.Result, err = fit.Advise(ctx, p.FullSetup.Result); err != nil {
			return nil, err
		}
	}
	return p, ctx.Err()
}

// required returns the margin to restore for a job, and where it comes from.
func (o Options) required(job *fit.Job) (float64, Origin) {
	preferred := job.Preferences.MarginMM
	switch {
	case o.MarginMM > 0:
		return o.MarginMM, FromCase
	case o.Before == nil || o.Before.MarginMM() < 0, preferred > 0 && o.Before.MarginMM() >= preferred:
		return preferred, FromCase
	}
	return wholeSteps(o.Before.MarginMM()), FromBefore
}

// wholeSteps returns a margin in steps of what a tape leaves open, so that no work is asked
// for because of less. A choice of this tool.
func wholeSteps(mm float64) float64 {
	const step = 5
	return max(0, step*math.Floor(mm/step))
}

// begin checks the settings as found and solves the job at the same place of the clamp.
func (p *Plan) begin(ctx context.Context, job *fit.Job, mounting int, settings mount.Settings) error {
	current, err := fit.Check(ctx, job, mounting, slices.Clone(settings))
	if err != nil {
		return err
	}
	p.RequiredMM, p.Current, p.After = job.Preferences.MarginMM, current, current
	r, err := fit.SolveAt(ctx, job, mounting)
	if err != nil {
		return err
	}
	p.FullSetup.Result = r
	p.FullSetup.Changes, p.FullSetup.Effort = changes(r.Set.Chain.Moving(), current.Set.Settings, r.Set.Settings)
	return nil
}

// finish checks the settings found and lists the changes that lead to them.
func (p *Plan) finish(ctx context.Context, job *fit.Job, mounting int, found mount.Settings) error {
	var err error
	if p.After, err = fit.Check(ctx, job, mounting, found); err != nil {
		return err
	}
	p.Restored = p.After.StrengthOnly()
	p.Changes, p.Effort = changes(p.After.Set.Chain.Moving(), p.Current.Set.Settings, found)
	if p.After.Works && !p.FullSetup.Result.Works { // by a hair: what works here is a setup too
		p.FullSetup.Result, p.FullSetup.Changes, p.FullSetup.Effort = p.After, p.Changes, p.Effort
	}
	p.Steps, err = Steps(job, p.After.Set, p.Current.Set.Settings)
	return err
}

// changes returns the settings that differ and the sum of their efforts.
func changes(moving []mount.Joint, from, to mount.Settings) (list []Change, effort float64) {
	set := changed(moving, from, to)
	for _, i := range set.members() {
		list = append(list, Change{Setting: i, Joint: moving[i], From: from[i], To: to[i]})
	}
	return list, effortOf(unitsOf(moving), set)
}

// limitingListed is how many conditions a loss names.
const limitingListed = 3

// losses compares every posture with its margin before.
func losses(current, before *fit.Result) []Loss {
	var out []Loss
	for i := range current.Postures {
		f := &current.Postures[i]
		l := Loss{Posture: f.Posture.Name, MarginMM: f.MarginMM}
		if before != nil {
			for k := range before.Postures {
				if before.Postures[k].Posture.Name == l.Posture {
					mm := before.Postures[k].MarginMM
					l.BeforeMM = &mm
				}
			}
		}
		margins := slices.Clone(f.Margins)
		slices.SortStableFunc(margins, byMargin)
		l.Limiting = margins[:min(limitingListed, len(margins))]
		out = append(out, l)
	}
	return out
}
