package fit

import (
	"cmp"
	"slices"
)

// Obstacle is a space to keep clear that is in the way: with the mount set as if
// nothing were to be kept clear, something would come too near to it.
type Obstacle struct {
	Keep Keep
	// Part is what would come too near, "casing" or a part of the mount, and
	// Posture the one in which it would come nearest.
	Part    string
	Posture int
	// ShortMM is by how much it would come nearer than is to be kept.
	ShortMM float64
	// MarginMM is the least margin to be had without this space, all others kept
	// clear, and Works says whether everything would work then. Less margin in the
	// result is what keeping clear costs.
	MarginMM float64
	Works    bool
}

// mostObstacles is for how many obstacles a job without each is worked out.
const mostObstacles = 4

// obstacles returns the spaces that hold the screen back from where it would best be,
// the one that is most in the way first.
func (b *bench) obstacles() ([]Obstacle, error) {
	free, _, err := solve(b.job.without(nil))
	if err != nil {
		return nil, err
	}
	gaps, err := b.gapsOf(free)
	if err != nil {
		return nil, err
	}
	var out []Obstacle
	for _, g := range gaps {
		if short := g.Keep.GapMM - g.MM; short > roundingMM {
			out = append(out, Obstacle{Keep: g.Keep, Part: g.Part, Posture: g.Posture, ShortMM: short})
		}
	}
	slices.SortStableFunc(out, func(a, c Obstacle) int { return cmp.Compare(c.ShortMM, a.ShortMM) })
	out = out[:min(len(out), mostObstacles)]
	for i := range out {
		r := free
		if len(b.job.Keep) > 1 {
			if r, _, err = solve(b.job.without(&out[i].Keep)); err != nil {
				return nil, err
			}
		}
		out[i].MarginMM, out[i].Works = r.MarginMM(), r.Works
	}
	return out, nil
}

// gapsOf returns the gaps that a result of the job with other spaces to keep clear
// leaves to those of the job.
func (b *bench) gapsOf(r *Result) ([]Gap, error) {
	if r.Set == nil {
		return b.gaps(r.Screen, nil), nil
	}
	sagging, err := b.newSagging(r.Set.Chain)
	if err != nil {
		return nil, err
	}
	sags, err := sagging.at(r.Set.Settings)
	if err != nil {
		return nil, err
	}
	tubes, err := sagging.tubes(r.Set.Settings)
	if err != nil {
		return nil, err
	}
	return b.sagged(sags).gaps(r.Screen, tubes), nil
}

// without returns the job without one space to keep clear, or without any.
func (j *Job) without(keep *Keep) *Job {
	own := *j
	own.Keep = nil
	for _, k := range j.Keep {
		if keep != nil && k != *keep {
			own.Keep = append(own.Keep, k)
		}
	}
	return &own
}
