package fit

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/space"
	"sightpost/mount/tube"
)

// SetMount is a mount as a result has it set, prepared for judging it at other settings
// as well. It holds buffers: one serves one goroutine.
type SetMount struct {
	problem *problem
	set     mount.Settings
	sagging *LoadedMount

	faces  []*gaze.FaceDistance // of every posture
	here   tube.Load            // last given to the model
	load   Load                 // the same
	frames []frame.Pose         // of the joints and the screen under it
	sagMM  []float64            // of every piece of a tube under it, at the most
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
	m := &SetMount{problem: b, set: slices.Clone(r.Set.Settings)}
	if m.sagging, err = b.withDevice(r.Set.Chain); err != nil {
		return nil, err
	}
	for i := range b.postures {
		m.faces = append(m.faces, gaze.NewFaceDistance(r.Job.Device, b.postures[i:i+1], r.Job.Preferences.FaceMM))
	}
	return m, nil
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
func (m *SetMount) Settings() mount.Settings { return slices.Clone(m.set) }

// ScreenUnder returns carrierFromScreen as set, under gravity in the direction of the
// unit vector down, carrier axes.
func (m *SetMount) ScreenUnder(down r3.Vec) (frame.Pose, error) {
	_, sag, err := m.sagging.under(m.set, r3.Scale(gravity, down))
	return sag.Mul(m.sagging.compiled.Pose(m.set)), err
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

// Fails returns the first reason found why the mount does not work at settings s, without
// its quantities; false when it works. It agrees with [Check], except for the rating of
// the whole mount, which no setting changes.
func (m *SetMount) Fails(s mount.Settings) (Reason, bool, error) {
	screen, tubes := m.sagging.compiled.Pose(s), m.sagging.unloaded.at(s)
	var was r3.Vec
	for _, i := range m.problem.asSet {
		if g := m.sagging.gravity[i]; g != was {
			was = g
			if err := m.sagging.model.At(&m.here, s, g); err != nil {
				return Reason{}, false, fmt.Errorf("%w: %w", ErrJob, err)
			}
			m.sags(tubes, screen.At)
		}
		sag := m.here.Screen.Pose(screen.At)
		held := sag.Mul(screen)
		f, fails := m.missesPerson(i, held)
		if f.Kind == NotTracking && fails { // perhaps with less margin in another posture
			_, f, err := m.Margin(s)
			return f, true, err
		}
		if b := m.problem; !fails && b.job.Postures[i].MustWork {
			gap := sightGap{MM: -roundingMM}
			if fails = b.sightFrom(against(b.postures[i], sag).Eyes, m.sagging.unloaded, &gap); fails {
				f = Reason{Kind: InFront, Part: gap.Part}
			}
		}
		if !fails {
			f, fails = m.tooWeak(i)
		}
		var err error
		if !fails && !m.farFromAll(i, tubes, held) {
			f, fails, err = m.touches(i, s, held)
		}
		if fails || err != nil {
			f.Posture = i
			return f, fails, err
		}
	}
	return Reason{}, false, nil
}

// missesPerson returns what fails between screen and person in a posture that must work.
func (m *SetMount) missesPerson(posture int, held frame.Pose) (Reason, bool) {
	b, st := m.problem, &m.problem.postures[posture]
	if !b.job.Postures[posture].MustWork {
		return Reason{}, false
	}
	if mm, _ := b.request.Judge.Margin(held, st); !(m.Spare(mm) >= 0) {
		return Reason{Kind: NotTracking}, true
	}
	if posture == b.must[0] {
		x := gaze.AimAt(held, st, b.job.Preferences.Upright)
		for _, why := range b.job.Preferences.outOfRange(&x, posture) {
			return Reason{Kind: OutOfRange, Variable: why.Variable}, true
		}
	}
	if b.job.Preferences.FaceMM > 0 {
		if mm := m.faces[posture].Margin(held).MM; mm < -roundingMM {
			return Reason{Kind: FaceTooClose, Part: "housing"}, true
		}
	}
	return Reason{}, false
}

// tooWeak returns what cannot bear the last load of the model.
func (m *SetMount) tooWeak(posture int) (Reason, bool) {
	l := &m.load
	l.Tubes, l.Joints, l.Turn = l.Tubes[:0], l.Joints[:0], 0
	l.worsen(&m.here, m.sagging.chain.Joints, posture)
	for why, used := range l.bearing(m.problem.job.Demand) {
		if used > bearsAll {
			return Reason{Kind: why.Kind, Part: why.Part}, true
		}
	}
	return Reason{}, false
}

// A point of a tube moves under load by at most bendsMore times as far as the ends of the
// tube do, and bendsMM more. This is taken for granted of tubes held at one end.
const (
	bendsMore = 1.5
	bendsMM   = 1
)

// farFromAll reports whether the mount is so far from the floor and from all keep-clear
// zones in a posture that no sag can bring it too near. The tubes are those without load.
// It saves the exact judgment in most cases, and may be false without need.
func (m *SetMount) farFromAll(posture int, tubes []TubePiece, held frame.Pose) bool {
	b := m.problem
	carrier, housing := &b.postures[posture].Carrier, b.housing.Moved(held)
	for i := range tubes {
		for _, end := range tubes[i].ends() {
			if carrier.Apply(end).Z < m.sagMM[i] {
				return false
			}
		}
	}
	for k := range b.keeps {
		p := &b.keeps[k]
		if p.posture != posture {
			continue
		}
		if !space.Clear(housing, p.shape, p.keep.RequiredMM) {
			return false
		}
		for i := range tubes {
			t, mm := &tubes[i].Shape, p.keep.RequiredMM+m.sagMM[i]
			if !space.FarApart(&p.shape, t, mm) && !space.Clear(*t, p.shape, mm) {
				return false
			}
		}
	}
	return true
}

// sags fills in how far a point of each piece of a tube moves at most under the load that
// the model has: see bendsMore. Of the ends of a tube one is moved by the joint that
// carries it, the other by the next joint out.
func (m *SetMount) sags(tubes []TubePiece, middle r3.Vec) {
	m.frames = m.sagging.model.Frames(m.frames[:0])
	m.frames = append(m.frames, frame.Translate(r3.Add(middle, m.here.Screen.ShiftMM)))
	still := m.sagging.unloaded.frames
	m.sagMM = m.sagMM[:0]
	for i := range tubes {
		carrier := tubes[i].Carrier
		most2 := r3.Norm2(r3.Sub(m.frames[carrier+1].At, still[carrier+1].At))
		for _, end := range tubes[i].ends() {
			moved := m.frames[carrier].Apply(still[carrier].ApplyInverse(end))
			most2 = max(most2, r3.Norm2(r3.Sub(moved, end)))
		}
		m.sagMM = append(m.sagMM, bendsMM+bendsMore*math.Sqrt(most2))
	}
}

// touches returns what is too near to the floor or to a keep-clear zone in the posture of
// the model's last load.
func (m *SetMount) touches(posture int, s mount.Settings, held frame.Pose) (Reason, bool, error) {
	b := m.problem
	links, err := m.sagging.chain.Links(s)
	if err != nil {
		return Reason{}, false, fmt.Errorf("%w: %w", ErrJob, err)
	}
	tubes, err := m.sagging.pieces(m.sagging.bentLines(links))
	if err != nil {
		return Reason{}, false, err
	}
	if low, part := b.lowestIn(posture, tubes); low < -roundingMM {
		return Reason{Kind: BelowFloor, Part: part}, true, nil
	}
	housing := b.housing.Moved(held)
	for k := range b.keeps {
		p := &b.keeps[k]
		if p.posture != posture {
			continue
		}
		least, part := p.keep.RequiredMM-roundingMM, ""
		if gap, i := nearest(tubes, &p.shape, least); i >= 0 {
			least, part = gap.MM, tubes[i].Part
		}
		if !space.FarApart(&housing, &p.shape, least) && space.Between(housing, p.shape).MM < least {
			part = "housing"
		}
		if part != "" {
			return Reason{Kind: TooClose, Part: part, Zone: p.keep.Name}, true, nil
		}
	}
	return Reason{}, false, nil
}
