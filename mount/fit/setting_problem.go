package fit

import (
	"fmt"
	"math"
	"slices"

	"sightpost/gaze"
	"sightpost/gaze/minimax"
	"sightpost/mount"
)

// SettingProblem is the search for better settings of a mount that is set already:
// the margin and what must be kept, as functions of all settings. The sag is taken as
// it is at certain settings, see [SettingProblem.SagAt]. It holds buffers: one serves
// one goroutine.
type SettingProblem struct {
	search  *settingSearch
	sagging *LoadedMount
	sagged  mount.Settings // where the sag is taken
}

// NewSettingProblem prepares the mount of a result, with the sag at its
// settings. Ranges of the aim count as met where [Check] says so. The error wraps
// [ErrJob].
func NewSettingProblem(r *Result) (*SettingProblem, error) {
	set, err := NewSetMount(r)
	if err != nil {
		return nil, err
	}
	b := set.problem
	b.request.Ranges = b.job.Preferences.slackRanges()
	b.scorer = gaze.NewScorer(b.request)
	p := &SettingProblem{sagging: set.sagging}
	if p.search, err = newSettingSearch(b, r.Set.Chain); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrJob, err)
	}
	return p, p.SagAt(r.Set.Settings)
}

// Minimax returns the problem over all settings. Its terms are the margins, its limits
// what must be kept.
func (p *SettingProblem) Minimax() minimax.Problem { return p.search.problem }

// SagAt takes the sag as it is at settings s.
func (p *SettingProblem) SagAt(s mount.Settings) error {
	if slices.Equal(s, p.sagged) {
		return nil
	}
	sags, err := p.sagging.Motions(s)
	if err != nil {
		return err
	}
	p.sagged = slices.Clone(s)
	p.search.b = p.search.b.sagged(sags)
	if p.search.tubeLimits() > 0 {
		_, err = p.search.b.allowForTubes(p.sagging, p.search.geometry, s)
	}
	return err
}

// Screen returns the least margin at settings s and by how much the screen misses most
// what must be kept, whatever the tubes touch: a first look that takes a fraction of
// the time (mm).
func (p *SettingProblem) Screen(s mount.Settings) (marginMM, missedMM float64) {
	scorer := p.search.b.scorer
	slopes := scorer.At(p.search.compiled.Pose(s))
	marginMM = math.Inf(1)
	for i := range slopes[:scorer.Terms()] {
		marginMM = min(marginMM, slopes[i].MM)
	}
	for i := range slopes[scorer.Terms() : scorer.Terms()+scorer.Limits()] {
		missedMM = max(missedMM, -slopes[scorer.Terms()+i].MM)
	}
	return marginMM, missedMM
}

// PostureMargin is the margin of one condition in one posture.
type PostureMargin struct {
	Posture string
	Margin  gaze.ConditionMargin
}

// Margins returns the margins of all conditions at settings s, in all postures that
// must work.
func (p *SettingProblem) Margins(s mount.Settings) []PostureMargin {
	var out []PostureMargin
	screen, request := p.search.compiled.Pose(s), &p.search.b.request
	for i := range request.Postures {
		st := &request.Postures[i]
		for _, m := range request.Judge.Margins(nil, screen, st) {
			out = append(out, PostureMargin{Posture: st.Posture.Name, Margin: m})
		}
	}
	return out
}

// MostMissed returns what settings s miss most of what must be kept: the kind, the
// keep-clear zone and what comes too near to it, "housing" or "tubes", and the limit. It is
// an aim range where nothing else is missed.
func (p *SettingProblem) MostMissed(s mount.Settings) *Reason {
	b := p.search.b
	screen := p.search.compiled.Pose(s)
	worst, most := -roundingMM, &Reason{Kind: OutOfRange}
	take := func(mm float64, why Reason) {
		if mm < worst {
			worst, most = mm-roundingMM, &why
		}
	}
	for _, l := range b.request.Limits {
		mm, _, _ := l.Margin(screen)
		why := Reason{Kind: FaceTooClose, Part: "housing", Limit: b.job.Preferences.FaceMM}
		if zone, ok := l.(*keepLimit); ok {
			why.Kind, why.Zone, why.Limit = TooClose, zone.placed.keep.Name, zone.placed.keep.RequiredMM
		}
		take(mm, why)
	}
	f := make([]float64, p.search.problem.Terms+p.search.problem.Limits+len(p.search.problem.Rates))
	p.search.evaluate(s, f, nil)
	first := p.search.problem.Terms + b.scorer.Limits()
	for k := range b.keeps {
		take(f[first+k], Reason{Kind: TooClose, Part: "tubes", Zone: b.keeps[k].keep.Name, Limit: b.keeps[k].keep.RequiredMM})
	}
	if len(p.search.tails) > 0 {
		take(f[first+len(b.keeps)], Reason{Kind: BelowFloor, Part: "tubes"})
	}
	return most
}
