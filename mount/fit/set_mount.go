package fit

import (
	"context"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
)

// SetMount is a mount as a result has it set, prepared for judging it at other settings
// as well. It holds buffers: one serves one goroutine.
type SetMount struct {
	problem *problem
	set     Set
	sagging *LoadedMount
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
	sags, err := m.sagging.Motions(s)
	if err != nil {
		return 0, Reason{}, err
	}
	b, screen := m.problem, m.sagging.compiled.Pose(s)
	least, limiting := math.Inf(1), Reason{}
	for _, i := range b.must {
		if mm, c := b.request.Judge.Margin(sags[i].Mul(screen), &b.postures[i]); !(mm >= least) {
			least, limiting = mm, Reason{Condition: c, Posture: i}
		}
	}
	if least >= 0 {
		limiting.Kind = MarginShort
	}
	return least, limiting, nil
}

// Spare returns how much of a margin (mm) is to spare: what is wanted, but at least 0, less.
func (m *SetMount) Spare(mm float64) float64 { return mm - max(m.problem.job.Preferences.MarginMM, 0) }

// Fails returns why the mount does not work at settings s, the margin before all else; false
// when it works. It is what [Check] says.
func (m *SetMount) Fails(s mount.Settings) (Reason, bool, error) {
	b, set := *m.problem, m.set
	b.brief, set.Settings = true, s
	r, err := b.reportSet(context.Background(), &set, m.sagging)
	if err != nil || r.Works {
		return Reason{}, false, err
	}
	why := r.Reasons[0]
	if why.Kind == NotTracking || why.Kind == MarginShort { // perhaps with less margin in another posture
		_, why, err = m.Margin(s)
	}
	return why, true, err
}
