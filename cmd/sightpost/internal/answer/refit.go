package answer

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/refit"
	"sightpost/plots/units"
)

// Refit finds what to change of the settings of p, as found on the mount, so that the
// margin is restored with the least effort. A margin of zero is that of refit.Options (mm).
func (p *Placed) Refit(ctx context.Context, marginMM float64) (*Refit, error) {
	if p.Result.Set == nil {
		return nil, fmt.Errorf("%s: the case has no mount", p.Label)
	}
	before, err := p.before(ctx)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", p.Case.Before.File(), err)
	}
	opt := refit.Options{MarginMM: marginMM, Before: before}
	plan, err := refit.Find(ctx, &p.Job, p.Result.Set.Mounting, p.Result.Set.Settings, opt)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", p.Label, err)
	}
	d, err := document.NewRefit(ctx, p.Case.Case, plan)
	if err != nil {
		return nil, err
	}
	set := p
	if plan.Restored {
		set = &Placed{Case: p.Case, Kind: document.Check, AsFound: p.AsFound, Result: plan.After}
	}
	return &Refit{d, set}, nil
}

// Refit is what to change of a mount.
type Refit struct {
	*document.Refit
	// Set is the case with the changes made or, where these do not restore the margin, as
	// found.
	Set *Placed `json:"-"`
}

// Report returns the report on r.Set.
func (r *Refit) Report(ctx context.Context) (*document.Report, error) {
	rep, err := r.Set.Report(ctx)
	if err == nil {
		rep.Planned = r.Needed && r.Restored
	}
	return rep, err
}

// before returns the result of the case that was given as the earlier one, with the mount
// set as p has it; nil without one.
func (p *Placed) before(ctx context.Context) (*fit.Result, error) {
	earlier, set := p.Case.Before, p.Result.Set
	if earlier == nil {
		return nil, nil //nolint:nilnil // there may be none
	}
	at, err := Mounting(&earlier.Job, set.Side.String())
	if err != nil {
		return nil, err
	}
	r, err := fit.Check(ctx, &earlier.Job, at, set.Settings)
	if err == nil && !slices.EqualFunc(r.Set.Chain.Moving(), set.Chain.Moving(), sameName) {
		return nil, errors.New("the mount of that case has other settings; give a case with the mount of now")
	}
	return r, err
}

func sameName(a, b mount.Joint) bool { return a.Name == b.Name }

// WantedMargin returns the margin to restore (mm) that text says, in bare units if it names none,
// 0 for "": that of refit.Options.
func WantedMargin(text string, bare units.Units) (float64, error) {
	if text == "" {
		return 0, nil
	}
	mm, err := casefile.ParseLength(text, bare)
	if err == nil && mm < 0 {
		err = errors.New("the margin must not be negative")
	}
	return mm, err
}
