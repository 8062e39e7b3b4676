package answer

import (
	"errors"
	"slices"

	"sightpost/cmd/sightpost/internal/record"
	"sightpost/gaze"
	"sightpost/mount/fit"
	"sightpost/plots"
)

// ErrNothingShared reports that two assessments have no posture in common that they
// could be drawn in.
var ErrNothingShared = errors.New("the two assessments have no posture in common that could be drawn")

// ChangeFigures returns the figures of what changed between two assessments. The error
// is [ErrNothingShared].
func ChangeFigures(before, after record.Assessment, opt Look) ([]Figure, error) {
	posture, err := sharedPosture(&before.Case.Job, &after.Case.Job)
	if err != nil {
		return nil, err
	}
	opt.Posture = posture
	view := func(v plots.View) func() (plots.Figure, error) {
		return func() (plots.Figure, error) {
			return plots.Assessments(assessed(before), assessed(after), v, opt)
		}
	}
	return []Figure{
		{"changed-side", "what changed, from the side", view(plots.Side)},
		{"changed-top", "what changed, from above", view(plots.Top)},
		{"changed-front", "what changed, from the front", view(plots.Front)},
	}, nil
}

// assessed returns an assessment as figures take it.
func assessed(a record.Assessment) plots.Assessment {
	return plots.Assessment{Label: a.Record.Code, Date: a.Record.Name, Result: a.Result}
}

// sharedPosture returns the posture to draw both assessments in: of those that both
// have, the newer one's first that must work, or else its first.
func sharedPosture(before, after *fit.Job) (string, error) {
	shared := slices.DeleteFunc(slices.Clone(after.Postures), func(p gaze.Posture) bool {
		return !slices.ContainsFunc(before.Postures, func(b gaze.Posture) bool { return b.Name == p.Name })
	})
	if len(shared) == 0 {
		return "", ErrNothingShared
	}
	return shared[max(slices.IndexFunc(shared, func(p gaze.Posture) bool { return p.MustWork }), 0)].Name, nil
}
