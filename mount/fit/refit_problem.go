package fit

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/minimax"
	"sightpost/mount"
)

// refitting is a mount as it stands, laid out for trying sets of its settings.
//
// A search takes the sag as it is at the settings as they stand, or at those at which
// sagAt was last told to take it. What a search comes to is judged by its own sag, if
// that can make a difference: see refitting.own.
type refitting struct {
	all      *settingSearch
	moving   []mount.Joint
	from     mount.Settings
	wantedMM float64
	sagging  *sagging
	sagged   mount.Settings // where the sag is taken

	// scratch: settings, and values and gradients over all of them
	at      mount.Settings
	f, grad []float64
}

// newRefitting lays out a job whose mount stands as it was checked.
func newRefitting(job *Job, as *Result) (*refitting, error) {
	b, set, err := setBench(job, as)
	if err != nil {
		return nil, err
	}
	b.request.Ranges = job.Preferences.slackRanges()
	b.scorer = gaze.NewScorer(b.request)
	all, err := newSettingSearch(b, as.Set.Chain)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrJob, err)
	}
	n := len(all.moving)
	if n == 0 || n > maxSettings {
		return nil, fmt.Errorf("%w: the mount has %d settings; 1 to %d can be compared", ErrJob, n, maxSettings)
	}
	rows := all.problem.Terms + all.problem.Limits + len(all.problem.Rates)
	r := &refitting{
		all: all, moving: all.moving, from: as.Set.Settings, wantedMM: job.Preferences.MarginMM, sagging: set.sagging,
		at: slices.Clone(as.Set.Settings), f: make([]float64, rows), grad: make([]float64, rows*n),
	}
	return r, r.sagAt(r.from)
}

// sagAt takes the sag as it is at settings s.
func (r *refitting) sagAt(s mount.Settings) error {
	if slices.Equal(s, r.sagged) {
		return nil
	}
	sags, err := r.sagging.at(s)
	if err != nil {
		return err
	}
	r.sagged = slices.Clone(s)
	r.all.b = r.all.b.sagged(sags)
	if len(r.all.b.keeps) > 0 || len(r.all.tails) > 0 {
		_, err = r.all.b.allowForTubes(r.sagging, r.all.piping, s)
	}
	return err
}

// sagChangeMM bounds by how much the margin at settings s can change if the sag is
// taken as it is there: every eye and corner moves by no more against the others
// than the middle of the screen and what a turn moves at a metre from it.
func (r *refitting) sagChangeMM(s mount.Settings) (float64, error) {
	const arm = 1000
	sags, err := r.sagging.at(s)
	if err != nil {
		return 0, err
	}
	middle, most := r.all.compiled.Pose(s).At, 0.0
	for _, i := range r.all.b.must {
		was := r.all.b.sag(i)
		shift := r3.Norm(r3.Sub(was.Apply(middle), sags[i].Apply(middle)))
		most = max(most, shift+arm*was.Rot.Inverse().Mul(sags[i].Rot).Angle().Radians())
	}
	return most, nil
}

// own judges what a set of settings can give by its own sag, where that may decide
// whether it is enough, and climbs on from there if it is not.
func (p *partial) own(best *outcome) error {
	change, err := p.sagChangeMM(best.settings)
	if err != nil {
		return err
	}
	spare := best.worth.marginMM - p.wantedMM
	mayFail := p.restores(best.worth) && (spare <= change || p.all.problem.Limits > p.all.b.scorer.Limits())
	mayDo := !p.restores(best.worth) && spare >= -change && best.worth.missedMM <= change
	if !mayFail && !mayDo {
		return nil
	}
	was := p.sagged
	for range mostTries {
		if err := p.sagAt(best.settings); err != nil {
			return err
		}
		best.worth = p.worth(best.settings)
		if p.restores(best.worth) || !p.nearMiss(best.worth) {
			break
		}
		if err := p.polish(best); err != nil {
			return err
		}
	}
	return p.sagAt(was)
}

// worth is how good settings are.
type worth struct {
	// marginMM is the least margin, score that less the costs of the aim, and
	// missedMM the most by which anything to be kept is missed, 0 within rounding.
	marginMM, score, missedMM float64
}

// merit ranks settings that are not good enough.
func (w worth) merit() float64 { return w.marginMM - brokenWeight*w.missedMM }

// nearMiss reports whether settings of worth w may do after a finer search.
func (r *refitting) nearMiss(w worth) bool {
	return w.marginMM > r.wantedMM-nearMM && w.missedMM < nearMissMM
}

// restores reports whether settings of worth w are good enough.
func (r *refitting) restores(w worth) bool { return w.missedMM == 0 && w.marginMM >= r.wantedMM }

// worth returns how good settings s are.
func (r *refitting) worth(s mount.Settings) worth {
	r.all.evaluate(s, r.f, nil)
	terms := r.all.problem.Terms
	costs := terms + r.all.problem.Limits
	w := worth{marginMM: slices.Min(r.f[:terms])}
	for _, mm := range r.f[terms:costs] {
		w.missedMM = max(w.missedMM, -mm)
	}
	w.score = w.marginMM
	for k, rate := range r.all.problem.Rates {
		w.score -= rate * math.Abs(r.f[costs+k])
	}
	if w.missedMM <= roundingMM {
		w.missedMM = 0
	}
	return w
}

// screenWorth returns how good settings s are for the screen alone, whatever
// the tubes touch: a first look that takes a fraction of the time.
func (r *refitting) screenWorth(s mount.Settings) worth {
	slopes := r.all.b.scorer.At(r.all.compiled.Pose(s))
	terms := r.all.b.scorer.Terms()
	w := worth{marginMM: math.Inf(1)}
	for i := range slopes[:terms] {
		w.marginMM = min(w.marginMM, slopes[i].MM)
	}
	for i := range slopes[terms : terms+r.all.b.scorer.Limits()] {
		w.missedMM = max(w.missedMM, -slopes[terms+i].MM)
	}
	return w
}

// partial is the minimax problem over a set of settings, the others left alone.
type partial struct {
	*refitting
	free []int
	// scored makes the score the aim and the wanted margin a limit; otherwise the
	// margin is the aim.
	scored  bool
	problem minimax.Problem
}

// partial returns the problem over a set of settings.
func (r *refitting) partial(set subset, scored bool) *partial {
	p := &partial{refitting: r, free: set.members(), scored: scored}
	p.problem = minimax.Problem{Terms: r.all.problem.Terms, Limits: r.all.problem.Limits, Functions: p.evaluate}
	if scored {
		p.problem.Limits += p.problem.Terms
		p.problem.Rates = r.all.problem.Rates
	}
	for _, i := range p.free {
		p.problem.Lower = append(p.problem.Lower, r.moving[i].Low)
		p.problem.Upper = append(p.problem.Upper, r.moving[i].High)
		p.problem.Unit = append(p.problem.Unit, r.all.problem.Unit[i])
	}
	return p
}

// whole returns the settings with the free ones at x, in a buffer of r.
func (p *partial) whole(x []float64) mount.Settings {
	copy(p.at, p.from)
	for k, i := range p.free {
		p.at[i] = x[k]
	}
	return p.at
}

// evaluate computes the margin's rooms and the limits at x, and, if scored, the
// rooms beyond the wanted margin as further limits and the costs of the aim.
func (p *partial) evaluate(x, f, grad []float64) {
	full := p.grad
	if grad == nil {
		full = nil
	}
	p.all.evaluate(p.whole(x), p.f, full)
	terms, costs := p.problem.Terms, p.problem.Terms+p.all.problem.Limits
	p.pick(0, costs, 0, f, grad)
	if !p.scored {
		return
	}
	p.pick(0, terms, costs, f, grad)
	for i := range terms {
		f[costs+i] -= p.wantedMM
	}
	p.pick(costs, len(p.f), costs+terms, f, grad)
}

// pick copies the rows from first to before last of all settings to rows of the
// free ones from at on.
func (p *partial) pick(first, last, at int, f, grad []float64) {
	copy(f[at:], p.f[first:last])
	if grad == nil {
		return
	}
	n, full := len(p.free), len(p.moving)
	for row := first; row < last; row++ {
		for k, i := range p.free {
			grad[(at+row-first)*n+k] = p.grad[row*full+i]
		}
	}
}
