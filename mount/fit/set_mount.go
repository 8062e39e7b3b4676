package fit

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/gaze/minimax"
	"sightpost/mount"
	"sightpost/mount/tube"
)

// SetMount is a mount as a result has it set, prepared for judging it at other settings
// as well. It holds buffers: one serves one goroutine.
type SetMount struct {
	problem *problem
	set     Set
	sagging *LoadedMount

	faces []*gaze.FaceDistance // of every posture
	here  tube.Load            // last given to the model
	load  Load                 // the same
	borne []borne              // what bears it
	sagMM []float64            // of every piece of a tube under it, at the most
	bent  []TubePiece          // as they are under it
}

// NewSetMount prepares the mount of a result. The error wraps [ErrJob], also when the
// result has no mount.
func NewSetMount(r *Result) (*SetMount, error) {
	if err := CheckResult(r); err != nil {
		return nil, err
	}
	if r.Set == nil {
		return nil, fmt.Errorf("%w: there is no mount whose settings could be off", ErrJob)
	}
	b, err := newProblem(r.Job, true)
	if err != nil {
		return nil, err
	}
	m := &SetMount{problem: b, set: *r.Set}
	for i := range b.postures {
		m.faces = append(m.faces, gaze.NewFaceDistance(r.Job.Device, b.postures[i:i+1], r.Job.Preferences.FaceMM))
	}
	m.sagging, err = b.withDevice(r.Set.Chain)
	return m, err
}

// CheckResult reports a result without a job, with one that cannot be worked on, or with
// postures other than the job's. The error wraps [ErrJob].
func CheckResult(r *Result) error {
	if r == nil || r.Job == nil {
		return fmt.Errorf("%w: there is no result with its job", ErrJob)
	}
	if err := r.Job.check(); err != nil {
		return err
	}
	if len(r.Postures) != len(r.Job.Postures) {
		return fmt.Errorf("%w: the result is not one of its job: their postures differ in number", ErrJob)
	}
	return nil
}

// checkOwn is CheckResult that also reports a result that is not of [Solve] or [Check].
func (r *Result) checkOwn() error {
	if err := CheckResult(r); err != nil {
		return err
	}
	if r.problem == nil {
		return fmt.Errorf("%w: the result was neither solved nor checked", ErrJob)
	}
	return nil
}

// Moving returns the joints that can be set, and Settings what they are set to.
func (m *SetMount) Moving() []mount.Joint { return m.sagging.chain.Moving() }

// Settings returns a copy of how the mount is set.
func (m *SetMount) Settings() mount.Settings { return slices.Clone(m.set.Settings) }

// ScreenUnder returns carrierFromScreen as set, under gravity in the direction of the
// unit vector down, carrier axes.
func (m *SetMount) ScreenUnder(down r3.Vec) (frame.Pose, error) {
	_, sag, err := m.sagging.under(m.set.Settings, r3.Scale(gravity, down))
	return sag.Mul(m.sagging.compiled.Pose(m.set.Settings)), err
}

// Margin returns the least margin (mm) at settings s over the postures that must work, and
// as what less of it would fail.
func (m *SetMount) Margin(s mount.Settings) (float64, Reason, error) {
	b, screen := m.problem, m.sagging.compiled.Pose(s)
	least, limiting := math.Inf(1), Reason{}
	var sag frame.Pose
	for k, i := range b.must {
		if g := m.sagging.gravity; k == 0 || g[i] != g[b.must[k-1]] {
			var err error
			if _, sag, err = m.sagging.under(s, g[i]); err != nil {
				return 0, Reason{}, err
			}
		}
		if mm, c := b.request.Judge.Margin(sag.Mul(screen), &b.postures[i]); !(mm >= least) {
			least, limiting = mm, Reason{Condition: c, Posture: i}
		}
	}
	if least >= 0 {
		limiting.Kind = MarginShort
	}
	return least, limiting, nil
}

// Spare returns how much of a margin (mm) is to spare: it less what is required, but at least 0.
func (m *SetMount) Spare(mm float64) float64 { return mm - max(m.problem.job.Preferences.MarginMM, 0) }

// Check is [Check] at settings s, without how the mount swings clear.
func (m *SetMount) Check(s mount.Settings) (*Result, error) {
	b, set := *m.problem, m.set
	b.brief, set.Settings = true, s
	return reportSet(&b, &set, m.sagging)
}

// Fails returns why the mount does not work at settings s, the margin before all else; false
// when it works. The reason is that of [Check].
func (m *SetMount) Fails(s mount.Settings) (Reason, bool, error) {
	mm, why, err := m.Margin(s)
	if err != nil || !(m.Spare(mm) >= 0) {
		return why, true, err
	}
	if works, err := m.bears(s); works || err != nil {
		return Reason{}, false, err
	}
	r, err := m.Check(s)
	if err != nil || r.Works {
		return Reason{}, false, err
	}
	return r.Reasons[0], true, nil
}

// TurnPlate returns settings with the plate turned by an attitude in the leading posture; see
// [LoadedMount.TurnPlate].
func (m *SetMount) TurnPlate(set mount.Settings, to mount.Attitude) (mount.Settings, error) {
	return m.sagging.TurnPlate(set, to, m.problem.job.Leading())
}

// SettingProblem is the search for better settings of a mount that is set already:
// the margin and what must be kept, as functions of all settings. The sag is taken as
// it is at certain settings, see [SettingProblem.SagAt]. It holds buffers: one serves
// one goroutine.
type SettingProblem struct {
	*SetMount
	search *settingSearch
	sagged mount.Settings // where the sag is taken
}

// NewSettingProblem prepares the mount of a result, with the sag at its
// settings. Ranges of the aim count as met where [Check] says so. The error wraps
// [ErrJob].
func NewSettingProblem(r *Result) (*SettingProblem, error) {
	m, err := NewSetMount(r)
	if err != nil {
		return nil, err
	}
	m.problem.request.Ranges = r.Job.Preferences.slackRanges()
	p := &SettingProblem{SetMount: m}
	if p.search, err = newSettingSearch(m.problem, r.Set.Chain); err != nil {
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
