package variation

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
)

// All errors are in one vector, each in a slot of its own: first the measures of the
// measured posture, then the settings, then the readings of every posture in the order of
// the measures, then a slot that is always zero.

// readings is how many measures may be off in each posture by itself.
const readings = PupilSpacing

// errorPlan says which errors there are and what each does. It is read-only and
// may be shared.
type errorPlan struct {
	result   *fit.Result
	job      *fit.Job // of the result
	judge    gaze.Judge
	sags     []frame.Pose    // how the sag moves the screen in every posture, as set
	compiled *mount.Compiled // nil when there is no mount
	settings mount.Settings
	plate    *plate     // nil without a ball
	measured frame.Pose // chairFromCarrier when measured
	// own says which slot each reading of each posture takes its error from
	own     [][readings]int
	slots   int
	sources []errorSource
}

// errorSource is an uncertainty and the slots that it fills, with an error for each.
type errorSource struct {
	named
	slots []int
}

// plate is the plate on a ball, whose errors are those of its tilt, rotation and roll.
type plate struct {
	chain  mount.Chain
	first  int        // of the ball's settings, of which the second is at a joint:
	joint  int        // the turn about its middle
	angles [3]float64 // as read
	// unloadedFromChair takes the loaded screen in chair axes to the unloaded one in the
	// carrier's.
	unloadedFromChair frame.Rotation
}

// newPlate returns the plate of a result whose mount sags by given motions; nil if there is
// no ball.
func newPlate(r *fit.Result, sags []frame.Pose) *plate {
	chain := r.Set.Chain
	first, lead := chain.LastBall(), r.Job.Leading()
	if first < 0 || lead < 0 {
		return nil
	}
	chairFromCarrier := r.Postures[lead].InCarrier.Carrier.Rot
	return &plate{
		chain: chain, first: first, joint: chain.MovingPlaces()[first+1], angles: r.Attitude().Angles(),
		unloadedFromChair: chairFromCarrier.Mul(sags[lead].Rot).Inverse(),
	}
}

// newErrorPlan checks the budget and lays out the errors of a result. Sources without an
// error are left out. It makes sure that the margin without errors is a number.
func newErrorPlan(r *fit.Result, budget Budget) (*errorPlan, error) {
	if err := fit.CheckResult(r); err != nil {
		return nil, err
	}
	job := r.Job
	p := &errorPlan{result: r, job: job, judge: gaze.NewJudge(job.Device, job.Scene.Person)}
	p.measured = job.Scene.Carrier.Pose(job.Scene.Chair, job.Scene.Measured.SeatTilt)
	p.sags = slices.Repeat([]frame.Pose{frame.Identity()}, len(job.Postures))
	var moving []mount.Joint
	if r.Set != nil {
		var err error
		if p.compiled, err = r.Set.Chain.Compile(); err != nil {
			return nil, fmt.Errorf("%w: %w", fit.ErrJob, err)
		}
		moving, p.settings = r.Set.Chain.Moving(), r.Set.Settings
		for i := range p.sags {
			m := r.Postures[i].Mount
			if m == nil {
				return nil, fmt.Errorf("%w: the result has a mount, but not where it is in posture %q", fit.ErrJob, r.Postures[i].Posture.Name)
			}
			p.sags[i] = m.Motion
		}
		if p.plate = newPlate(r, p.sags); p.plate != nil {
			moving = r.Set.Chain.Told()
		}
	}
	p.slots = MeasureCount + len(moving) + readings*len(job.Postures) + 1
	for i := range job.Postures {
		p.own = append(p.own, p.slotsOf(i))
	}
	if err := p.addSources(budget, moving); err != nil {
		return nil, err
	}
	if mm := p.truth().leastMargin(make([]float64, p.slots)); math.IsNaN(mm) || math.IsInf(mm, 0) {
		return nil, fmt.Errorf("%w: the margin is not a number", fit.ErrJob)
	}
	return p, nil
}

// slotsOf returns where the readings of posture i take their errors from. Where its eyes
// are predicted, a head angle is that of the measured sitting or another.
func (p *errorPlan) slotsOf(i int) (own [readings]int) {
	post, sat := &p.job.Postures[i], &p.job.Scene.Measured
	predicted := post.EyesMM == nil
	none := [readings]bool{EyesForward: predicted, EyesLeft: predicted, EyesUp: predicted, Slump: post.SlumpMM == 0}
	same := [readings]bool{
		SeatTilt:           post.SeatTilt == sat.SeatTilt,
		BackAngle:          post.BackAngle == sat.BackAngle,
		HeadRotation:       predicted && post.Head.Rotation == sat.Head.Rotation,
		HeadFlexion:        predicted && post.Head.Flexion == sat.Head.Flexion,
		HeadLateralFlexion: predicted && post.Head.LateralFlexion == sat.Head.LateralFlexion,
	}
	for k := range own {
		switch {
		case none[k]:
			own[k] = p.slots - 1
		case same[k]:
			own[k] = k
		default:
			own[k] = MeasureCount + len(p.settings) + i*readings + k
		}
	}
	return own
}

// addSources fills in the sources that have an error.
func (p *errorPlan) addSources(budget Budget, moving []mount.Joint) error {
	all, err := budget.all(moving)
	if err != nil {
		return err
	}
	for k, n := range all {
		slots := []int{k}
		if k == Slump {
			slots = nil // nobody slumps in the measured sitting
		}
		for _, own := range p.own {
			if k < readings && own[k] != k && own[k] != p.slots-1 {
				slots = append(slots, own[k])
			}
		}
		if n.Size > 0 && len(slots) > 0 {
			p.sources = append(p.sources, errorSource{named: n, slots: slots})
		}
	}
	return nil
}

// draw fills the slots of all sources.
func (p *errorPlan) draw(rng *rand.Rand, e []float64) {
	for i := range p.sources {
		src := &p.sources[i]
		for _, slot := range src.slots {
			e[slot] = src.draw(rng)
		}
	}
}

// truth works out margins when the truth is off by given errors. It holds
// buffers: one serves one goroutine. Nothing it does allocates.
type truth struct {
	*errorPlan
	scene    gaze.Scene
	settings mount.Settings
	eyes     []r3.Vec  // of the postures in which they were measured
	margins  []float64 // by posture
	frames   []frame.Pose
}

func (p *errorPlan) truth() *truth {
	n := len(p.own)
	return &truth{
		errorPlan: p, scene: p.job.Scene, settings: make(mount.Settings, len(p.settings)),
		eyes: make([]r3.Vec, n), margins: make([]float64, n),
	}
}

// leastMargin fills in the margin of every posture under errors e, and returns the
// least of those that must work.
func (t *truth) leastMargin(e []float64) float64 {
	t.person(e)
	pose, trueFromRead := t.place(e)
	least := math.Inf(1)
	for i := range t.own {
		st := t.scene.InCarrier(t.posture(i, e))
		screen := trueFromRead.Mul(t.sags[i]).Mul(pose)
		t.margins[i], _ = t.judge.Margin(screen, &st)
		if t.job.Postures[i].MustWork {
			least = min(least, t.margins[i])
		}
	}
	return least
}

// person puts the errors of the measured sitting into the scene.
func (t *truth) person(e []float64) {
	read := &t.job.Scene
	sat := read.Measured
	sat.EyesMM = r3.Add(sat.EyesMM, vecAt(e, EyesForward))
	addErrors(&sat.SeatTilt, &sat.BackAngle, &sat.Head, func(k int) float64 { return e[k] })
	t.scene.Measured = sat
	t.scene.Person.PupilSpacingMM = max(0, read.Person.PupilSpacingMM+e[PupilSpacing])
	neck := read.Person.NeckToEyesMM
	t.scene.Person.NeckToEyesMM = r3.Add(neck, r3.Vec{X: e[NeckForward], Z: e[NeckUp]})
}

// posture returns posture i as it truly is.
func (t *truth) posture(i int, e []float64) gaze.Posture {
	own := &t.own[i]
	post := t.job.Postures[i]
	post.SlumpMM += e[own[Slump]]
	addErrors(&post.SeatTilt, &post.BackAngle, &post.Head, func(k int) float64 { return e[own[k]] })
	if post.EyesMM != nil {
		t.eyes[i] = r3.Add(*post.EyesMM, vecAt(e, own[EyesForward]))
		post.EyesMM = &t.eyes[i]
	}
	return post
}

// place returns where the settings put the screen, and what takes that to where it
// truly is, both in the axes of its carrier.
//
// The mount's place was measured in chair axes. With C(t) the carrier at seat
// tilt t, c the error of the clamp and D the sag of a posture,
//
//	true pose = C(true tilt)⁻¹ · shift by c · C(tilt as read) · D · pose as set
//
// D is taken as it is at the settings and tilts as read: an error changes it by as
// small a part as it does the mount.
func (t *truth) place(e []float64) (pose, trueFromRead frame.Pose) {
	pose = t.result.Screen
	if t.compiled != nil {
		for i, v := range t.errorPlan.settings {
			t.settings[i] = v + e[MeasureCount+i]
		}
		if t.plate != nil {
			pose = t.turned([3]float64(e[MeasureCount+t.plate.first:]))
		} else {
			pose = t.compiled.Pose(t.settings)
		}
	}
	inChair := t.measured
	inChair.At = r3.Add(inChair.At, vecAt(e, ClampForward))
	return pose, t.scene.Carrier.Pose(t.scene.Chair, t.scene.Measured.SeatTilt).Inverse().Mul(inChair)
}

// turned returns the unloaded screen with the plate off by errors of tilt, rotation and
// roll, whatever the other settings: it turns about the middle of the ball.
func (t *truth) turned(off [3]float64) frame.Pose {
	copy(t.settings[t.plate.first:], t.errorPlan.settings[t.plate.first:t.plate.first+3])
	t.frames = t.plate.chain.AppendFrames(t.frames[:0], t.settings)
	middle, pose := t.frames[t.plate.joint].At, t.frames[len(t.frames)-1]
	out := pose.ApplyInverse(middle)
	for i, v := range t.plate.angles {
		off[i] += v
	}
	pose.Rot = t.plate.unloadedFromChair.Mul(mount.AttitudeAt(off).Matrix())
	pose.At = r3.Sub(middle, pose.Rot.Apply(out))
	return pose
}

func vecAt(e []float64, slot int) r3.Vec { return r3.Vec{X: e[slot], Y: e[slot+1], Z: e[slot+2]} }

// addErrors adds to the angles of a sitting the errors of the measures.
func addErrors(tilt, back *frame.Angle, head *gaze.Head, of func(measure int) float64) {
	*tilt += frame.Angle(of(SeatTilt))
	*back += frame.Angle(of(BackAngle))
	head.Rotation += frame.Angle(of(HeadRotation))
	head.Flexion += frame.Angle(of(HeadFlexion))
	head.LateralFlexion += frame.Angle(of(HeadLateralFlexion))
}
