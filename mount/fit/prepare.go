package fit

import (
	"errors"
	"fmt"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
)

// ErrJob marks a job that cannot be worked on, as opposed to one that cannot be
// met.
var ErrJob = errors.New("fit: job cannot be worked on")

// bench is a job laid out for work: what every search and report needs of it.
type bench struct {
	job     *Job
	stances []gaze.Stance // of all postures
	must    []int         // places of those that must work, the leading one first
	keeps   []placed
	request gaze.Request
	scorer  *gaze.Scorer
}

// newBench lays out a job.
func newBench(job *Job) (*bench, error) {
	if job.Leading() < 0 {
		return nil, fmt.Errorf("%w: no posture must work; mark at least one", ErrJob)
	}
	b := &bench{job: job}
	b.stances, b.must = job.stances()
	b.keeps = job.placedKeeps(b.stances, b.must)
	b.request = gaze.Request{
		Judge:   gaze.NewJudge(job.Device, job.Scene.Person),
		Upright: job.Wish.Upright,
		Rates:   job.Wish.Rates,
		Ranges:  job.Wish.Ranges,
	}
	for _, i := range b.must {
		b.request.Stances = append(b.request.Stances, b.stances[i])
	}
	lead := &b.request.Stances[0]
	b.request.Prefer = gaze.Preferred(lead, job.Device.Tracker)
	if job.Wish.FaceMM > 0 {
		b.request.Limits = append(b.request.Limits, gaze.NewFaceDistance(job.Device, b.request.Stances, job.Wish.FaceMM))
	}
	shape := casing(job.Device)
	for _, p := range b.keeps {
		b.request.Limits = append(b.request.Limits, &keepLimit{casing: shape, placed: p})
	}
	b.scorer = gaze.NewScorer(b.request)
	return b, nil
}

// report fills in how every posture fares with the screen at pose, and whether
// that is good enough. The mount's settings, if any, are those of set.
func (b *bench) report(screen frame.Pose, set *Set) (*Result, error) {
	if !screen.IsFinite() {
		return nil, fmt.Errorf("%w: the screen's place is not a number", ErrJob)
	}
	r := &Result{Screen: screen, Set: set}
	judge := b.request.Judge
	for i := range b.stances {
		st := &b.stances[i]
		f := Fare{Posture: st.Posture, Stance: *st, Screen: st.Carrier.Mul(screen)}
		f.Aim = gaze.AimAt(screen, st, b.job.Wish.Upright)
		f.Rooms = judge.Rooms(nil, screen, st)
		f.Least = gaze.Least(f.Rooms)
		f.MarginMM = f.Rooms[f.Least].MM
		f.Share = judge.Share(screen, st)
		f.look(b.job, screen)
		r.Postures = append(r.Postures, f)
	}
	r.Tightest = b.must[0]
	for _, i := range b.must {
		if r.Postures[i].MarginMM < r.Postures[r.Tightest].MarginMM {
			r.Tightest = i
		}
	}
	var tubes []tubeShape
	if set != nil {
		var err error
		if tubes, err = tubeShapes(nil, set.Chain, set.Settings); err != nil {
			return nil, fmt.Errorf("%w: %w", ErrJob, err)
		}
		set.LoadKG = b.job.Device.Screen.MassKG
	}
	r.Gaps = b.job.gaps(screen, tubes, b.keeps)
	if mm, part, posture := b.lowest(tubes); mm < -roundingMM {
		r.Why = append(r.Why, fmt.Sprintf("the %s reaches %.0f mm below the floor in posture %q: a shorter one is needed",
			part, -mm, b.stances[posture].Posture.Name))
	}
	b.verdict(r)
	return r, nil
}

// look fills in what the person sees: targets on the screen, the tracker's light in
// the lenses, and the way ahead beyond the screen.
func (f *Fare) look(job *Job, screen frame.Pose) {
	f.Targets = job.Device.Targets(screen, &f.Stance, job.Grid)
	if glasses := job.Scene.Person.Spectacles; glasses != nil {
		f.Lenses = glasses.Lenses(job.Device, screen, &f.Stance, job.Scene.Person.Eyes)
	}
	if job.Drives {
		ahead := job.Device.Ahead(screen, &f.Stance)
		f.Ahead = &ahead
	}
}

// roundingMM is how far a limit may be missed by rounding alone before it counts
// as broken: a hundredth of what a tape shows.
const roundingMM = 0.01

// verdict fills in whether the result works, and why not.
func (b *bench) verdict(r *Result) {
	for _, i := range b.must {
		f := &r.Postures[i]
		switch {
		case f.MarginMM < 0:
			r.Why = append(r.Why, fmt.Sprintf("posture %q does not track: %s (by about %.0f mm)", f.Posture.Name, f.Tightest(), -f.MarginMM))
		case f.MarginMM < b.job.Wish.MarginMM:
			r.Why = append(r.Why, fmt.Sprintf("posture %q has a margin of %.1f mm where %.1f mm is wanted: %s",
				f.Posture.Name, f.MarginMM, b.job.Wish.MarginMM, f.Tightest()))
		}
	}
	for _, g := range r.Gaps {
		if g.MM < g.Keep.GapMM-roundingMM {
			r.Why = append(r.Why, fmt.Sprintf("%s comes within %.0f mm of %s in posture %q, where %.0f mm is to be kept",
				g.Part, g.MM, g.Keep.Name, b.stances[g.Posture].Posture.Name, g.Keep.GapMM))
		}
	}
	if face := b.faceMM(r.Screen); face < -roundingMM {
		r.Why = append(r.Why, fmt.Sprintf("the casing comes %.0f mm nearer to the eyes than the %.0f mm to be kept", -face, b.job.Wish.FaceMM))
	}
	if over := r.overload(b.job); over > 0 {
		r.Why = append(r.Why, fmt.Sprintf("the device is %.1f kg heavier than the mount is rated for", over))
	}
	r.Works = len(r.Why) == 0
}

// faceMM returns the room left before the casing is too near the eyes, 0 when no
// distance is asked for.
func (b *bench) faceMM(screen frame.Pose) float64 {
	if b.job.Wish.FaceMM <= 0 {
		return 0
	}
	mm, _, _ := gaze.NewFaceDistance(b.job.Device, b.request.Stances, b.job.Wish.FaceMM).Room(screen)
	return mm
}

// overload returns by how much (kg) the load exceeds the mount's rating.
func (r *Result) overload(job *Job) float64 {
	if r.Set == nil || job.Mount.Kit.RatedKG == 0 {
		return 0
	}
	return r.Set.LoadKG - job.Mount.Kit.RatedKG
}

// Check returns how every posture fares with the mount set as given: settings in
// the order of [mount.Chain.Moving], at the given place among the job's
// mountings. The error wraps [ErrJob], [mount.ErrCount] or is a
// [*mount.LimitError].
func Check(job *Job, mounting int, settings mount.Settings) (*Result, error) {
	b, err := newBench(job)
	if err != nil {
		return nil, err
	}
	if job.Mount == nil || mounting < 0 || mounting >= len(job.Mount.Mountings) {
		return nil, fmt.Errorf("%w: it has no mount there to check", ErrJob)
	}
	chain, err := job.Mount.Kit.Chain(job.Mount.Mountings[mounting])
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrJob, err)
	}
	screen, err := chain.Forward(settings)
	if err != nil {
		return nil, err
	}
	return b.report(screen, &Set{
		Side: job.Mount.Mountings[mounting].Side, Mounting: mounting, Chain: chain, Settings: settings,
	})
}
