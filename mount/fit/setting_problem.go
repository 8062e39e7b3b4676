package fit

import (
	"context"
	"fmt"
	"math"
	"slices"

	"sightpost/gaze/minimax"
	"sightpost/mount"
)

// SettingProblem is the search for better settings of a mount that is set already:
// the margin and what must be kept, as functions of all settings. The sag is taken as
// it is at certain settings, see [SettingProblem.SagAt]. It holds buffers: one serves
// one goroutine.
type SettingProblem struct {
	search  *settingSearch
	set     *Set
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
	p := &SettingProblem{set: r.Set, sagging: set.sagging}
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
	if p.sagged != nil && slices.Equal(s, p.sagged) {
		return nil
	}
	poses, err := p.sagging.Poses(s)
	if err != nil {
		return err
	}
	p.sagged = slices.Clone(s)
	p.search.b = p.search.b.sagged(poses.motions())
	p.search.b.allowForTubes(poses, p.sagging.unloaded.at(s))
	return nil
}

// Screen returns the least margin at settings s and by how much the screen misses most
// what must be kept, whatever the tubes touch: a first look that takes a fraction of
// the time (mm).
func (p *SettingProblem) Screen(s mount.Settings) (marginMM, missedMM float64) {
	scorer := p.search.b.scorer
	slopes := scorer.At(p.search.compiled.Pose(s))
	marginMM = math.Inf(1)
	for i, slope := range slopes[:scorer.Terms()+scorer.Limits()] {
		if i < scorer.Terms() {
			marginMM = min(marginMM, slope.MM)
		} else {
			missedMM = max(missedMM, -slope.MM)
		}
	}
	return marginMM, missedMM
}

// Check is [Check] at other settings, without remedies and how the mount swings clear.
func (p *SettingProblem) Check(ctx context.Context, s mount.Settings) (*Result, error) {
	b, set := *p.search.b, *p.set
	b.brief, set.Settings = true, s
	return b.reportSet(ctx, &set, p.sagging)
}
