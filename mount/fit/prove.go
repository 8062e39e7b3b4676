package fit

import (
	"context"
	"fmt"
	"math/rand/v2"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/mount"
)

// ProofBoxes is how many boxes [Prove] usually takes: a second's work or less in so many
// postures. A box takes the longer the more there are, so that in more there are fewer.
const (
	ProofBoxes    = 20000
	proofPostures = 3
)

// Unmet reports whether the required margin was not found, which is what [Prove] is for.
func (r *Result) Unmet() bool { return !r.Works && r.MarginMM() < r.Job.Preferences.MarginMM }

// Bound says how sure it is that a job's margin cannot be had.
type Bound struct {
	// MM is what the least margin over the postures that must work exceeds with no screen,
	// and so with no settings of any mount (mm).
	MM float64
	// OfMount says that only the job's mount does not exceed it.
	OfMount bool
	// Proved says that this is less than the required margin.
	Proved bool
}

// Prove bounds the margin of a result that has less than is required, with a number of boxes:
// see [gaze.Most]. Where no screen was found either that has the margin, any screen is bounded
// first, with two thirds of the usual boxes at the most; where that proves nothing, the job's
// mount. Of the mount it takes where its wrist can be at any place of the clamp, see
// [mount.Chain.Reach]. It leaves clearances and strength out. It takes the sag
// as it is in the result, and that it moves the wrist elsewhere by no more than at the most of
// some settings. It ends early with ctx, with what is known then; that is no error. It tells
// watch, unless it is nil, of the bound so far.
func Prove(ctx context.Context, r *Result, boxes int, watch func(boundMM float64)) (bound Bound, _ error) {
	if err := r.checkOwn(); err != nil {
		return bound, err
	}
	request, required := r.problem.request, r.Job.Preferences.MarginMM
	request.Ranges, request.Limits, request.RequiredMM = r.Job.Preferences.slackRanges(), nil, required
	most := func(reaches []gaze.Reach, best float64, boxes int) Bound {
		boxes = boxes / max(len(request.Postures), proofPostures) * proofPostures
		mm := gaze.Most(ctx, request, reaches, best, boxes, watch).MM
		return Bound{MM: mm, OfMount: reaches != nil, Proved: mm < required}
	}
	found := max(r.MarginMM(), r.Target.MarginMM)
	if r.Set == nil {
		return most(nil, found, boxes), nil
	}
	if r.Target.MarginMM < required {
		if screen := most(nil, found, min(boxes, ProofBoxes)*2/3); screen.Proved {
			return screen, nil
		}
	}
	reaches, err := reachesOf(r.problem)
	if err != nil {
		return bound, err
	}
	return most(reaches, r.MarginMM(), boxes), nil
}

// reachesOf returns the reach of the mount at every place of its clamp, with the sag as the
// problem has it.
func reachesOf(b *problem) ([]gaze.Reach, error) {
	var out []gaze.Reach
	rng := rand.New(rand.NewPCG(1, 1))
	for _, place := range b.job.Mount.Mountings {
		chain, err := b.job.Mount.Kit.Chain(place)
		if err != nil {
			return nil, fmt.Errorf("%w: %w", ErrJob, err)
		}
		loaded, err := b.withDevice(chain)
		if err != nil {
			return nil, err
		}
		reach := chain.Reach()
		more := make([]float64, len(reach.Normals))
		for range sagsTried {
			s := anySettings(rng, chain.Moving())
			at := loaded.compiled.Pose(s).Apply(reach.PointMM)
			for _, i := range b.must {
				_, motion, err := loaded.under(s, loaded.gravity[i])
				if err != nil {
					return nil, err
				}
				by := r3.Sub(b.sags[i].Inverse().Apply(motion.Apply(at)), at)
				for k, n := range reach.Normals {
					more[k] = max(more[k], r3.Dot(n, by))
				}
			}
		}
		for k := range more {
			reach.MostMM[k] += more[k]
		}
		out = append(out, gaze.Reach(reach))
	}
	return out, nil
}

// sagsTried is at how many settings the sag is looked at for what it may be.
const sagsTried = 200

// anySettings returns random settings, a third of them each at the lowest, at the highest and
// between.
func anySettings(rng *rand.Rand, moving []mount.Joint) (s mount.Settings) {
	for _, j := range moving {
		part := min(max(3*rng.Float64()-1, 0), 1)
		v := j.Low + part*(j.High-j.Low)
		if j.Indexed {
			v = j.Round(v)
		}
		s = append(s, v)
	}
	return s
}
