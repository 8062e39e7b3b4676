package fit

import (
	"context"

	"sightpost/gaze"
)

// ProofBoxes is how many boxes [Prove] usually takes: a second's work or less.
const ProofBoxes = 20000

// Unmet reports whether no screen with the required margin was found, which is what [Prove]
// is for.
func (r *Result) Unmet() bool {
	return !r.Works && max(r.MarginMM(), r.Target.MarginMM) < r.Job.Preferences.MarginMM
}

// Bound says how sure it is that a job's margin cannot be had.
type Bound struct {
	// MM is what the least margin over the postures that must work exceeds with no screen,
	// and so with no settings of any mount (mm).
	MM float64
	// Proved says that this is less than the required margin.
	Proved bool
}

// Prove bounds the margin of any screen of the job of a result for which none with the
// wanted margin was found, with a number of boxes: see [gaze.Most]. It leaves clearances and
// strength out, and takes the sag of the mount as it is in the result. It ends early with
// ctx, with what is known then; that is no error. It tells watch, unless it is nil, of the
// bound so far.
func Prove(ctx context.Context, r *Result, boxes int, watch func(boundMM float64)) (Bound, error) {
	if err := CheckResult(r); err != nil {
		return Bound{}, err
	}
	b, err := newProblem(r.Job, true)
	if err != nil {
		return Bound{}, err
	}
	b, _ = b.sagsAs(r)
	request, wanted := b.request, r.Job.Preferences.MarginMM
	request.Ranges, request.Limits = r.Job.Preferences.slackRanges(), nil
	most := gaze.Most(ctx, request, nil, max(r.MarginMM(), r.Target.MarginMM), boxes, watch).MM
	return Bound{MM: most, Proved: most < wanted}, nil
}
