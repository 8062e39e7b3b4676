package fit

import (
	"context"
	"fmt"
	"math"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/tube"
)

// Check returns how well every posture is served with the mount set as given: settings in
// the order of [mount.Chain.Moving], at the given place among the job's
// mountings. The error wraps [ErrJob], [mount.ErrCount], is a [*mount.LimitError], or
// that of ctx.
func Check(ctx context.Context, job *Job, mounting int, settings mount.Settings) (*Result, error) {
	b, err := newProblem(job, true)
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
	if _, err := chain.Forward(settings); err != nil {
		return nil, err
	}
	sagging, err := b.withDevice(chain)
	if err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return reportSet(b, &Set{
		Side: job.Mount.Mountings[mounting].Side, Mounting: mounting, Chain: chain, Settings: settings,
	}, sagging)
}

// reportSet returns how well every posture is served with the mount as it is set, sagging
// as it does there.
func reportSet(b *problem, set *Set, sagging *LoadedMount) (*Result, error) {
	poses, err := sagging.Poses(set.Settings)
	if err != nil {
		return nil, err
	}
	screen, err := set.Chain.Forward(set.Settings)
	if err != nil {
		return nil, err
	}
	set.LoadKG = b.job.Device.Screen.MassKG
	own := b.sagged(poses.motions())
	r, err := reportAt(own, screen)
	if err != nil {
		return nil, err
	}
	r.Set = set
	for i := range r.Postures {
		f := &r.Postures[i]
		f.Mount = poses[i]
		chairFromCarrier := f.InCarrier.Carrier.Rot
		f.Sag = tube.Sag{ShiftMM: chairFromCarrier.Apply(poses[i].sag.ShiftMM), Turn: chairFromCarrier.Apply(poses[i].sag.Turn)}
	}
	r.Clearances = clearancesOf(own, screen, poses)
	if err := weigh(own, r, sagging); err != nil {
		return nil, err
	}
	if !own.brief {
		if r.SwingClear, err = swingClear(own, r); err != nil {
			return nil, err
		}
		if r.Tipping, err = tippingOf(own, r, sagging); err != nil {
			return nil, err
		}
	}
	low := own.ground(poses.tubes)
	if low.Part != "" {
		r.Ground = new(groundLeveled(own, low, poses.tubes))
	}
	if low.TooClose(own.job.Passage.GroundMM) {
		r.Reasons = append(r.Reasons, Reason{Kind: NearFloor, Posture: low.Posture, Part: low.Part, Is: low.MM, Limit: b.job.Passage.GroundMM})
	}
	own.insideWatched = false
	gap := own.sightAt(sagging, set.Settings)
	if r.sightMM = gap.MM; gap.crosses() {
		r.Reasons = append(r.Reasons, Reason{Kind: InFront, Posture: gap.posture, Part: gap.Part, Is: gap.MM})
	} else if gap := own.insideGap(sagging.unloaded); gap.crosses() {
		r.Inside, r.InsideMM = gap.Part, -gap.MM
	}
	judgeWorks(own, r)
	return r, nil
}

// reportScreen is reportSet for a screen at a pose without a mount.
func reportScreen(b *problem, screen frame.Pose) (*Result, error) {
	r, err := reportAt(b, screen)
	if err != nil {
		return nil, err
	}
	r.Clearances = clearancesOf(b, screen, nil)
	judgeWorks(b, r)
	return r, nil
}

// reportAt returns how well every posture is served with the unloaded screen at pose.
func reportAt(b *problem, screen frame.Pose) (*Result, error) {
	if !screen.IsFinite() {
		return nil, fmt.Errorf("%w: the screen's place is not a number", ErrJob)
	}
	r := &Result{Job: b.job, Screen: screen, problem: b}
	for i := range b.postures {
		r.Postures = append(r.Postures, postureResult(b, i, b.sags[i].Mul(screen)))
	}
	r.LimitingPosture = b.must[0]
	for _, i := range b.must {
		if gaze.Less(r.Postures[i].MarginMM, r.MarginMM()) {
			r.LimitingPosture = i
		}
	}
	return r, nil
}

// postureResult returns how well a posture is served with the screen at carrierFromScreen.
func postureResult(b *problem, posture int, screen frame.Pose) PostureResult {
	st, judge := &b.postures[posture], &b.request.Judge
	f := PostureResult{Posture: st.Posture, InCarrier: *st, Held: screen, Screen: st.Carrier.Mul(screen)}
	f.Aim = gaze.AimAt(screen, st, b.job.Preferences.Upright)
	f.Margins = judge.Margins(nil, screen, st)
	f.Least = gaze.Least(f.Margins)
	f.MarginMM = f.Margins[f.Least].MM
	f.Share = judge.Share(screen, st)
	f.Targets = b.job.Device.Targets(screen, st, b.job.Grid)
	if glasses := b.job.Scene.Person.Glasses; glasses != nil {
		f.Lenses = glasses.Lenses(b.job.Device, screen, st, b.job.Scene.Person.Eyes)
	}
	if b.job.Drives {
		ahead := b.job.Device.Ahead(screen, st)
		f.Ahead = &ahead
	}
	return f
}

// clearancesOf returns the least gap of every keep-clear zone to the housing of the
// unloaded screen at pose and to the tubes of each posture, each in the posture in
// which it is least.
func clearancesOf(b *problem, screen frame.Pose, poses LoadedPoses) []Clearance {
	var out []Clearance
	for k := range b.keeps {
		p := &b.keeps[k]
		g := Clearance{KeepClear: *p.keep, Posture: p.posture}
		g.MM, g.Part = b.gap(screen, poses, p)
		switch last := len(out) - 1; {
		case k == 0 || p.keep != b.keeps[k-1].keep:
			out = append(out, g)
		case g.MM < out[last].MM:
			out[last] = g
		}
	}
	return out
}

// RoundingMM is how far a limit may be missed by rounding alone before it counts
// as broken: a hundredth of what a tape shows.
const RoundingMM = 0.01

// judgeWorks fills in whether the result works, and why not.
func judgeWorks(b *problem, r *Result) {
	why := r.Reasons // of the mount itself
	r.Reasons = nil
	for _, i := range b.must {
		f := &r.Postures[i]
		reason := Reason{Posture: i, Condition: f.Limiting(), Is: f.MarginMM, Limit: b.job.Preferences.MarginMM}
		switch {
		case f.MarginMM < 0:
			reason.Kind = NotTracking
		case f.MarginMM < reason.Limit:
			reason.Kind = MarginShort
		default:
			continue
		}
		r.Reasons = append(r.Reasons, reason)
	}
	for _, g := range r.Clearances {
		if g.TooClose() {
			r.Reasons = append(r.Reasons, Reason{
				Kind: TooClose, Posture: g.Posture, Part: g.Part, Zone: g.KeepClear.Name, Is: g.MM, Limit: g.KeepClear.RequiredMM,
			})
		}
	}
	if face := r.FaceMarginMM(); face < -RoundingMM {
		least := b.job.Preferences.FaceMM
		r.Reasons = append(r.Reasons, Reason{Kind: FaceTooClose, Posture: -1, Part: "housing", Is: least + face, Limit: least})
	}
	r.Reasons = append(r.Reasons, b.job.Preferences.outOfRange(&r.Postures[b.must[0]].Aim, b.must[0])...)
	r.Reasons = append(r.Reasons, why...)
	if r.Set != nil {
		if rating := b.job.Mount.Kit.RatedKG; rating > 0 && r.Set.LoadKG > rating {
			r.Reasons = append(r.Reasons, Reason{Kind: DeviceTooHeavy, Posture: -1, Is: r.Set.LoadKG, Limit: rating})
		}
	}
	r.Works = len(r.Reasons) == 0
}

// FaceMarginMM returns how much nearer to the eyes the housing may come in the postures
// that must work, negative when it is too near, 0 when no distance is asked for.
func (r *Result) FaceMarginMM() float64 {
	if r.Job.Preferences.FaceMM <= 0 {
		return 0
	}
	least := math.Inf(1)
	for i := range r.Postures {
		if f := &r.Postures[i]; f.Posture.MustWork {
			mm := gaze.NewFaceDistance(r.Job.Device, []gaze.PostureInCarrier{f.InCarrier}, r.Job.Preferences.FaceMM).Margin(f.Held).MM
			least = min(least, mm)
		}
	}
	return least
}
