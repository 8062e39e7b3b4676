package record

import (
	"context"
	"fmt"

	"sightpost/mount/fit"
)

// Next is what to expect if what changed of the person changes again by as much,
// and again, while the mount stays as the newer record has it.
type Next struct {
	// False when the person sits, moves and looks as before: then nothing is to be
	// expected.
	Changes bool `json:"changes"`
	// Margin after the same change once more, and what gives out first then; absent
	// when the same change once more leads beyond what can be.
	MarginMM *float64 `json:"margin_mm,omitempty"`
	Tightest string   `json:"limiting,omitempty"`
	// Day of that, at the same pace; absent when both records are of one day.
	Day Day `json:"date,omitempty"`
	// How many times the same change leaves the margin that is wanted, counted up to
	// 12; 0 when the next one takes it, or when it is lacking already.
	Holds int `json:"holds"`
	// True when counting ended at 12, so that it may hold longer.
	Longer bool `json:"longer"`
	// Day by which the margin that is wanted is gone, at the same pace; absent when
	// it holds longer, and when both records are of one day.
	Gone Day `json:"gone,omitempty"`
}

// again is how many repetitions of a change are looked at: beyond, the next
// assessment will know better.
const again = 12

// alone returns how the older screen and mount fare with the newer person.
func alone(ctx context.Context, before, after Assessment) (*PersonEffect, error) {
	job := clone(before.Job)
	now := clone(after.Job)
	job.Scene.Person, job.Scene.Measured, job.Postures = now.Scene.Person, now.Scene.Measured, now.Postures
	r, err := fit.Check(ctx, job, before.Result.Set.Mounting, before.Result.Set.Settings)
	if err != nil {
		return nil, fmt.Errorf("record: the person of %s with the screen of %s: %w", after.Record.Name, before.Record.Name, err)
	}
	return &PersonEffect{
		BeforeMM: micrometre(before.Result.MarginMM()), AfterMM: micrometre(r.MarginMM()),
		Tightest: tightest(r),
	}, nil
}

// tightest says which posture has the least margin, and why.
func tightest(r *fit.Result) string {
	f := &r.Postures[r.LimitingPosture]
	return f.Posture.Name + ", " + f.Limiting().String()
}

// expect carries the change of the person on, step by step. A step that leads
// beyond what can be, such as a neck bent too far, ends the count: that is no
// error, as it will not come to pass.
func expect(ctx context.Context, before, after Assessment) (*Next, error) {
	next := &Next{Changes: len(cellChanges(sittingCells(before.Job), sittingCells(after.Job))) > 0}
	if !next.Changes {
		return next, nil
	}
	day, days := after.Record.Day, before.Record.Day.DaysUntil(after.Record.Day)
	wanted := after.Job.Preferences.MarginMM
	for job, step := clone(after.Job), 1; step <= again; step++ {
		if !carryOn(job, before.Job, after.Job) {
			return next, nil
		}
		r, err := fit.Check(ctx, job, after.Result.Set.Mounting, after.Result.Set.Settings)
		if err != nil {
			return next, ctx.Err() // likewise: no such person can sit there
		}
		if step == 1 {
			margin := micrometre(r.MarginMM())
			next.MarginMM, next.Tightest, next.Day = &margin, tightest(r), day.pace(days)
		}
		if after.Result.MarginMM() < wanted {
			return next, nil
		}
		if r.MarginMM() < wanted {
			next.Gone = day.pace(days * step)
			return next, nil
		}
		next.Holds = step
	}
	next.Longer = true
	return next, nil
}

// pace returns the day a number of days after d, or "" when they tell no pace.
func (d Day) pace(days int) Day {
	if days <= 0 {
		return ""
	}
	return d.After(days)
}

// carryOn changes every measure of how the person in job sits by as much as it did
// from one job to another, and reports whether anybody can sit so. What only one
// of the two has stays as it is.
func carryOn(job, from, to *fit.Job) bool {
	old, now := byKey(from), byKey(to)
	can := true
	for _, c := range sittingCells(job) {
		a, had := old[c.key]
		b, has := now[c.key]
		if had && has && !c.carryOn(a, b) {
			can = false
		}
	}
	return can
}

// byKey returns the measures of how the person in a job sits, by their keys.
func byKey(j *fit.Job) map[string]cell {
	cells := make(map[string]cell)
	for _, c := range sittingCells(j) {
		cells[c.key] = c
	}
	return cells
}
