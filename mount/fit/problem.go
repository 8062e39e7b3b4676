package fit

import (
	"errors"
	"slices"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/space"
)

// ErrJob marks a job that cannot be worked on, as opposed to one that cannot be
// met.
var ErrJob = errors.New("fit: job cannot be worked on")

// problem is a job prepared once: what every search and every judgment of a set mount
// needs of it.
//
// Of searches, the screen is the unloaded one, which is where the settings put it.
// A mount that sags moves it by D in a posture, see problem.sagged; then the request's
// postures, limits and scorer are those that the unloaded screen meets.
type problem struct {
	job      *Job
	postures []gaze.PostureInCarrier // of all postures, nothing moved
	must     []int                   // places of those that must work, the leading one first
	asSet    []int                   // places of those in which the mount is set as given
	sags     []frame.Pose            // D of all postures
	keeps    []placed
	solving
	crowded bool // a keep-clear zone was in the way
	// frontWatched says that searches keep tubes from in front of the device; see watchAt.
	frontWatched bool
	// insideWatched makes searches keep tubes from inside the housing as well, and spareMM
	// so far from in front of the device.
	insideWatched bool
	spareMM       float64
	// floorSagMM is by how much the mount's sag brings its tubes nearer to the floor,
	// as sagMM of placed.
	floorSagMM float64
	housing    space.Shape // in screen axes
	request    gaze.Request
	scorer     *gaze.Scorer
}

// newProblem prepares a job without sag, with all keep-clear zones watched or none.
func newProblem(job *Job, watched bool) (*problem, error) {
	if err := job.check(); err != nil {
		return nil, err
	}
	b := &problem{job: job, frontWatched: watched, housing: Housing(job.Device), sags: slices.Repeat([]frame.Pose{frame.Identity()}, len(job.Postures))}
	for i, p := range job.Postures {
		b.postures = append(b.postures, job.Scene.InCarrier(p))
		if p.MustWork {
			b.must = append(b.must, i)
		}
		if p.MustWork || !job.reset {
			b.asSet = append(b.asSet, i)
		}
	}
	b.placeKeeps(watched)
	b.request = gaze.Request{
		Judge:      gaze.NewJudge(job.Device, job.Scene.Person),
		Upright:    job.Preferences.Upright,
		RequiredMM: job.Preferences.MarginMM,
		Rates:      job.Preferences.Rates,
		Ranges:     job.Preferences.Ranges,
		Prefer:     gaze.Preferred(&b.postures[b.must[0]], job.Device.Tracker),
	}
	b.meet(b.postures)
	return b, nil
}

// meet makes the request's postures those of the given ones that must work, with the
// limits that go with them.
func (b *problem) meet(postures []gaze.PostureInCarrier) {
	b.request.Postures = make([]gaze.PostureInCarrier, 0, len(b.must))
	for _, i := range b.must {
		b.request.Postures = append(b.request.Postures, postures[i])
	}
	b.limit()
}

// limit makes the request's limits those of the zones watched.
func (b *problem) limit() {
	b.request.Limits = nil
	if mm := b.job.Preferences.FaceMM; mm > 0 {
		b.request.Limits = append(b.request.Limits, gaze.NewFaceDistance(b.job.Device, b.request.Postures, mm).EyeByEye()...)
	}
	for _, p := range b.keeps {
		if p.watched {
			b.request.Limits = append(b.request.Limits, &keepLimit{housing: b.housing, placed: p})
		}
	}
	b.scorer = gaze.NewScorer(b.request)
}

// sagged returns the problem for a mount that sags by D in each posture: the screen
// at carrierFromScreen S, as the settings put it, is at D S.
//
// Only the screen's pose relative to the person and to the keep-clear zones counts. So
// these are moved, by D⁻¹, instead of the screen, and every search over S is one for the
// sagged screen.
func (b *problem) sagged(sags []frame.Pose) *problem {
	own := *b
	own.sags = slices.Clone(sags)
	own.keeps = slices.Clone(b.keeps)
	moved := make([]gaze.PostureInCarrier, len(b.postures))
	for i := range moved {
		moved[i] = against(b.postures[i], sags[i])
	}
	for i := range own.keeps {
		k := &own.keeps[i]
		k.seen = k.shape.Moved(sags[k.posture].Inverse())
	}
	own.meet(moved)
	return &own
}

// against returns a posture as an unloaded screen meets it that the sag d will move.
func against(st gaze.PostureInCarrier, d frame.Pose) gaze.PostureInCarrier {
	back := d.Inverse()
	st.Carrier = st.Carrier.Mul(d)
	st.Head = back.Mul(st.Head)
	for i := range st.Eyes {
		st.Eyes[i] = back.Apply(st.Eyes[i])
	}
	st.Seat = back.Rot.Mul(st.Seat)
	return st
}
