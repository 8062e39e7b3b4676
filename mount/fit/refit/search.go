package refit

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"sightpost/gaze/minimax"
	"sightpost/mount"
	"sightpost/mount/fit"
)

// searcher searches sets of settings of a mount for what they can give, with the other
// settings as found.
//
// A search takes the sag as it is at the settings as found. What comes out near the
// required margin is searched on with its own sag: see freed.settle.
type searcher struct {
	*fit.SettingProblem
	ctx        context.Context //nolint:containedctx // of the one call of Find that it serves
	all        minimax.Problem // over all settings
	solver     minimax.Solver
	moving     []mount.Joint
	units      []unit
	from       mount.Settings // as found
	requiredMM float64

	ends []outcome // of the climbs of the last search
	err  error     // the first; after it searches go nowhere, and what they return is of no use

	// scratch: settings, and values and gradients over all of them
	at      mount.Settings
	f, grad []float64
}

// newSearcher prepares the mount of a result of job.
func newSearcher(ctx context.Context, current *fit.Result) (*searcher, error) {
	job := current.Job
	problem, err := fit.NewSettingProblem(current)
	if err != nil {
		return nil, err
	}
	s := &searcher{
		SettingProblem: problem, ctx: ctx, all: problem.Minimax(),
		moving: current.Set.Chain.Moving(), from: current.Set.Settings, requiredMM: job.Preferences.MarginMM,
		at: slices.Clone(current.Set.Settings),
	}
	s.units = unitsOf(s.moving)
	n := len(s.moving)
	if n == 0 || n > maxSettings {
		return nil, fmt.Errorf("%w: the mount has %d settings; 1 to %d can be compared", fit.ErrJob, n, maxSettings)
	}
	rows := s.all.Terms + s.all.Limits + len(s.all.Rates)
	s.f, s.grad = make([]float64, rows), make([]float64, rows*n)
	return s, nil
}

// fails notes an error, or that of the context, and reports whether there has been any.
func (s *searcher) fails(err error) bool {
	if s.err == nil {
		s.err = cmp.Or(err, s.ctx.Err())
	}
	return s.err != nil
}

// worth is how good settings are.
type worth struct {
	// marginMM is the least margin, score that less the costs of the aim, and
	// missedMM the most by which anything that must be kept is missed, 0 within rounding.
	marginMM, score, missedMM float64
}

// merit ranks settings that are not good enough.
func (w worth) merit() float64 { return w.marginMM - fit.BrokenWeight*w.missedMM }

// restores reports whether settings of worth w are good enough.
func (s *searcher) restores(w worth) bool { return w.missedMM == 0 && w.marginMM >= s.requiredMM }

// worth returns how good settings are.
func (s *searcher) worth(settings mount.Settings) worth {
	s.all.Functions(settings, s.f, nil)
	w := worth{marginMM: slices.Min(s.f[:s.all.Terms])}
	if w.score, w.missedMM = s.all.Score(s.f); w.missedMM <= fit.RoundingMM {
		w.missedMM = 0
	}
	return w
}

// sagged returns how good settings are with their own sag, which is kept.
func (s *searcher) sagged(settings mount.Settings) worth {
	s.fails(s.SagAt(settings))
	return s.worth(settings)
}

// top climbs from an outcome to the very top with the sag at its settings, which is kept.
func (s *searcher) top(o *outcome) {
	o.worth = s.sagged(o.settings)
	s.free(o.set, false).polish(o)
}

// outcome is the best that a set of settings can do.
type outcome struct {
	set      subset
	settings mount.Settings
	worth    worth
}

// none is the outcome of a set before any search: the settings as found, worth nothing.
func (s *searcher) none(set subset) outcome {
	return outcome{set, slices.Clone(s.from), worth{marginMM: math.Inf(-1)}}
}

const (
	// climbTolerance ends a climb when less is gained (mm), fineTolerance one to the
	// very top.
	climbTolerance, fineTolerance = 0.1, 0.001
	climbSteps                    = 40
	// What comes within nearMM of the required margin, and misses no more than nearMissMM
	// of what must be kept, is searched with its own sag.
	nearMM, nearMissMM = 20, 2
	// mostSags is how often the sag is taken again where a search has come to.
	mostSags = 3
	// startsTaken is how many scattered settings are climbed from at every stop, the best
	// of scattered for one setting, up to four times as many for more.
	startsTaken, scattered = 8, 128
	// apart is how far those must lie from each other, in units of the search.
	apart = 1.5
)

// climbs returns what a set of settings can give as far as climbs from the given
// settings tell, at the stops where these are. It ends as soon as that is enough.
func (s *searcher) climbs(set subset, starts []mount.Settings) outcome {
	p, best := s.free(set, false), s.none(set)
	s.ends = nil
	for _, at := range starts {
		start := p.part(at)
		p.bind(start)
		if p.enough(&best, start) {
			break
		}
	}
	return best
}

// best returns the best margin that a set of settings can give, and ends as soon as that
// is enough. The search starts from the given settings, then at every stop from the best
// of many that are scattered over the ranges.
func (s *searcher) best(set subset, starts []mount.Settings) outcome {
	best := s.climbs(set, starts)
	if s.err != nil || s.restores(best.worth) {
		return best
	}
	p := s.free(set, false)
	for _, stops := range p.stops() {
		p.bind(stops)
		for _, start := range p.scatter() {
			if p.enough(&best, start) {
				return best
			}
		}
	}
	if best.worth.marginMM > s.requiredMM-nearMM && best.worth.missedMM < nearMissMM {
		p.settle(&best)
	}
	return best
}

// bestScore returns the settings of a set with the best score among those that
// give the required margin, starting from one that does and from those as found.
func (s *searcher) bestScore(o outcome) outcome {
	p := s.free(o.set, true)
	start := p.part(o.settings)
	p.bind(start)
	best := o
	for _, from := range [][]float64{start, p.part(s.from)} {
		next := p.climb(from, minimax.Options{Tolerance: climbTolerance / 10})
		if s.nearly(next.worth) && next.worth.score > best.worth.score {
			best = next
		}
	}
	return best
}

// nearly reports whether settings are good enough but for the last of a search.
func (s *searcher) nearly(w worth) bool {
	return w.missedMM == 0 && w.marginMM >= s.requiredMM-fineTolerance
}
