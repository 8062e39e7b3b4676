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

// All errors are in one vector, each in a slot of its own. The first slots are those of
// the measured posture, then come the readings of every posture in the same order, then
// the settings, then a slot that is always zero.
const (
	eyesSlot = iota // forward, left, up
	_
	_
	headSlot // rotation, flexion, lateral flexion
	_
	_
	tiltSlot
	backSlot
	slumpSlot
	postureSlots // readings up to here may be a posture's own
)

const (
	pupilSlot = postureSlots + iota
	neckSlot  // forward, up
	_
	clampSlot // forward, left, up
	_
	_
	measureSlots
)

// errorPlan says which errors there are and what each does. It is read-only and
// may be shared.
type errorPlan struct {
	result   *fit.Result
	job      *fit.Job // of the result
	judge    gaze.Judge
	sags     []frame.Pose    // how the sag moves the screen in every posture, as set
	compiled *mount.Compiled // nil when there is no mount
	settings mount.Settings
	measured frame.Pose // chairFromCarrier when measured
	// own says which slot each reading of each posture takes its error from
	own     [][postureSlots]int
	slots   int
	sources []errorSource
}

// errorSource is an uncertainty and the slots that it fills, with an error for each.
type errorSource struct {
	named
	slots []int
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
	p.slots = measureSlots + postureSlots*len(job.Postures) + 1
	var moving []mount.Joint
	if r.Set != nil {
		moving = r.Set.Chain.Moving()
		p.slots += len(moving)
		if err := p.load(r); err != nil {
			return nil, err
		}
	}
	for i := range job.Postures {
		p.own = append(p.own, p.readings(i))
	}
	if p.sags == nil {
		p.sags = slices.Repeat([]frame.Pose{frame.Identity()}, len(job.Postures))
	}
	if err := p.addSources(budget, moving); err != nil {
		return nil, err
	}
	if mm := p.truth().leastMargin(make([]float64, p.slots)); math.IsNaN(mm) || math.IsInf(mm, 0) {
		return nil, fmt.Errorf("%w: the margin is not a number", fit.ErrJob)
	}
	return p, nil
}

// load fills in the mount of the result and how it sags as set.
func (p *errorPlan) load(r *fit.Result) error {
	mount, err := fit.NewLoadedMount(r.Job, r.Set.Chain, true)
	if err != nil {
		return err
	}
	if p.sags, err = mount.Motions(r.Set.Settings); err != nil {
		return err
	}
	p.settings = r.Set.Settings
	if p.compiled, err = r.Set.Chain.Compile(); err != nil {
		return fmt.Errorf("%w: %w", fit.ErrJob, err)
	}
	return nil
}

// firstSetting returns the slot of the first setting.
func (p *errorPlan) firstSetting() int { return p.slots - 1 - len(p.settings) }

// readings returns where the readings of posture i take their errors from.
func (p *errorPlan) readings(i int) (own [postureSlots]int) {
	for k := range own {
		own[k] = measureSlots + i*postureSlots + k
	}
	post, sat := &p.job.Postures[i], &p.job.Scene.Measured
	share := func(slot int, same bool) {
		if same {
			own[slot] = slot
		}
	}
	share(tiltSlot, post.SeatTilt == sat.SeatTilt)
	share(backSlot, post.BackAngle == sat.BackAngle)
	if post.EyesMM == nil { // eyes are predicted; a head angle is that of the sitting or another
		share(headSlot, post.Head.Rotation == sat.Head.Rotation)
		share(headSlot+1, post.Head.Flexion == sat.Head.Flexion)
		share(headSlot+2, post.Head.LateralFlexion == sat.Head.LateralFlexion)
	}
	if post.SlumpMM == 0 {
		own[slumpSlot] = p.slots - 1
	}
	return own
}

// used reports whether reading k of posture i has an error of its own.
func (p *errorPlan) used(i, k int) bool {
	ownEyes := p.job.Postures[i].EyesMM != nil
	return p.own[i][k] == measureSlots+i*postureSlots+k && (k >= headSlot || ownEyes)
}

// addSources fills in the sources that have an error.
func (p *errorPlan) addSources(s Budget, moving []mount.Joint) error {
	for k, n := range s.measures() {
		slots := []int{k}
		if k == slumpSlot {
			slots = nil // nobody slumps in the measured sitting
		}
		for i := range p.own {
			if k < postureSlots && p.used(i, k) {
				slots = append(slots, p.own[i][k])
			}
		}
		if err := p.addSource(n, slots); err != nil {
			return err
		}
	}
	settings, err := s.settings(moving)
	if err != nil {
		return err
	}
	for i, n := range settings {
		if err := p.addSource(n, []int{p.firstSetting() + i}); err != nil {
			return err
		}
	}
	return nil
}

func (p *errorPlan) addSource(n named, slots []int) error {
	if err := n.check(); err != nil {
		return err
	}
	if n.Size > 0 && len(slots) > 0 {
		p.sources = append(p.sources, errorSource{named: n, slots: slots})
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
	sat.EyesMM = r3.Add(sat.EyesMM, vecAt(e, eyesSlot))
	sat.SeatTilt += frame.Angle(e[tiltSlot])
	sat.BackAngle += frame.Angle(e[backSlot])
	sat.Head = headOff(sat.Head, e[headSlot:])
	t.scene.Measured = sat
	t.scene.Person.PupilSpacingMM = max(0, read.Person.PupilSpacingMM+e[pupilSlot])
	neck := read.Person.NeckToEyesMM
	t.scene.Person.NeckToEyesMM = r3.Add(neck, r3.Vec{X: e[neckSlot], Z: e[neckSlot+1]})
}

// posture returns posture i as it truly is.
func (t *truth) posture(i int, e []float64) gaze.Posture {
	own := &t.own[i]
	post := t.job.Postures[i]
	post.SeatTilt += frame.Angle(e[own[tiltSlot]])
	post.BackAngle += frame.Angle(e[own[backSlot]])
	post.SlumpMM += e[own[slumpSlot]]
	head := [3]float64{e[own[headSlot]], e[own[headSlot+1]], e[own[headSlot+2]]}
	post.Head = headOff(post.Head, head[:])
	if post.EyesMM != nil {
		t.eyes[i] = r3.Add(*post.EyesMM, vecAt(e, own[eyesSlot]))
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
		first := t.firstSetting()
		for i, v := range t.errorPlan.settings {
			t.settings[i] = v + e[first+i]
		}
		pose = t.compiled.Pose(t.settings)
	}
	inChair := t.measured
	inChair.At = r3.Add(inChair.At, vecAt(e, clampSlot))
	return pose, t.scene.Carrier.Pose(t.scene.Chair, t.scene.Measured.SeatTilt).Inverse().Mul(inChair)
}

func vecAt(e []float64, slot int) r3.Vec { return r3.Vec{X: e[slot], Y: e[slot+1], Z: e[slot+2]} }

func headOff(h gaze.Head, e []float64) gaze.Head {
	h.Rotation += frame.Angle(e[0])
	h.Flexion += frame.Angle(e[1])
	h.LateralFlexion += frame.Angle(e[2])
	return h
}
