package fit

import (
	"context"
	"fmt"
	"math"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
)

// Check returns how well every posture is served with the mount set as given: settings in
// the order of [mount.Chain.Moving], at the given place among the job's
// mountings. The error wraps [ErrJob], [mount.ErrCount], is a [*mount.LimitError], or
// that of ctx.
func Check(ctx context.Context, job *Job, mounting int, settings mount.Settings) (*Result, error) {
	b, err := newProblem(job)
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
	return b.reportSet(ctx, &Set{
		Side: job.Mount.Mountings[mounting].Side, Mounting: mounting, Chain: chain, Settings: settings,
	}, sagging)
}

// reportSet returns how well every posture is served with the mount as it is set, sagging
// as it does there.
func (b *problem) reportSet(ctx context.Context, set *Set, sagging *LoadedMount) (*Result, error) {
	sags, err := sagging.Motions(set.Settings)
	if err != nil {
		return nil, err
	}
	screen, err := set.Chain.Forward(set.Settings)
	if err != nil {
		return nil, err
	}
	set.LoadKG = b.job.Device.Screen.MassKG
	own := b.sagged(sags)
	r, err := own.report(screen)
	if err != nil {
		return nil, err
	}
	r.Set = set
	for i := range r.Postures {
		f := &r.Postures[i]
		f.Sag = turned(sagging.screen[i], f.InCarrier.Carrier.Rot)
	}
	if err := own.addMount(ctx, r, sagging); err != nil {
		return nil, err
	}
	own.verdict(r)
	return r, nil
}

// reportScreen is reportSet for a screen at a pose without a mount.
func (b *problem) reportScreen(screen frame.Pose) (*Result, error) {
	r, err := b.report(screen)
	if err != nil {
		return nil, err
	}
	r.Clearances = b.gaps(screen, nil)
	b.verdict(r)
	return r, nil
}

// report returns how well every posture is served with the unloaded screen at pose.
func (b *problem) report(screen frame.Pose) (*Result, error) {
	if !screen.IsFinite() {
		return nil, fmt.Errorf("%w: the screen's place is not a number", ErrJob)
	}
	r := &Result{Job: b.job, Screen: screen}
	for i := range b.postures {
		r.Postures = append(r.Postures, b.postureResult(i, b.sag(i).Mul(screen)))
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
func (b *problem) postureResult(posture int, screen frame.Pose) PostureResult {
	st, judge := &b.postures[posture], &b.request.Judge
	f := PostureResult{Posture: st.Posture, InCarrier: *st, Held: screen, Screen: st.Carrier.Mul(screen)}
	f.Aim = gaze.AimAt(screen, st, b.job.Preferences.Upright)
	f.Margins = judge.Margins(nil, screen, st)
	f.Least = gaze.Least(f.Margins)
	f.MarginMM = f.Margins[f.Least].MM
	f.Share = judge.Share(screen, st)
	f.look(b.job)
	return f
}

// look fills in what the person sees: targets on the screen, the tracker's light in
// the lenses, and the floor ahead beyond the screen.
func (f *PostureResult) look(job *Job) {
	f.Targets = job.Device.Targets(f.Held, &f.InCarrier, job.Grid)
	if glasses := job.Scene.Person.Glasses; glasses != nil {
		f.Lenses = glasses.Lenses(job.Device, f.Held, &f.InCarrier, job.Scene.Person.Eyes)
	}
	if job.Drives {
		ahead := job.Device.Ahead(f.Held, &f.InCarrier)
		f.Ahead = &ahead
	}
}

// addMount fills in what the mount itself does in every posture.
func (b *problem) addMount(ctx context.Context, r *Result, sagging *LoadedMount) error {
	poses, err := sagging.loadedPoses(r.Set.Settings)
	if err != nil {
		return err
	}
	for i := range r.Postures {
		r.Postures[i].Mount = poses[i]
	}
	tubes, err := sagging.tubesOf(poses)
	if err != nil {
		return err
	}
	r.Clearances = b.gaps(r.Screen, tubes)
	if err := b.weigh(ctx, r, sagging); err != nil {
		return err
	}
	if !b.brief {
		var held []frame.Pose
		for i := range r.Postures {
			held = append(held, r.Postures[i].Held)
		}
		if r.SwingClear, err = b.swingClear(r.Set, held, tubes); err != nil {
			return err
		}
	}
	if low, part, posture := b.lowestOf(tubes); low < -roundingMM {
		r.Reasons = append(r.Reasons, Reason{
			Kind: BelowFloor, Posture: posture, Part: part, Is: low, Remedies: b.offTheFloor(r.Set, sagging, part),
		})
	}
	return nil
}

// lowestOf is [problem.lowest] with the tubes of every posture as they sag there, and
// which part of which posture it is.
func (b *problem) lowestOf(tubes [][]TubePiece) (mm float64, part string, posture int) {
	mm = math.Inf(1)
	for _, i := range b.asSet {
		if z, p := b.lowestIn(i, tubes[i]); z < mm {
			mm, part, posture = z, p, i
		}
	}
	return mm, part, posture
}

// gaps returns the least gap of every keep-clear zone to the housing of the
// withoutDevice screen at pose and to the tubes of each posture, each in the posture in
// which it is least.
func (b *problem) gaps(screen frame.Pose, tubes [][]TubePiece) []Clearance {
	var out []Clearance
	for k := range b.keeps {
		p := &b.keeps[k]
		g := Clearance{KeepClear: *p.keep, Part: "housing", Posture: p.posture}
		g.MM = b.housingGap(screen, p)
		if tubes != nil {
			if near, i := nearest(tubes[p.posture], &p.shape, g.MM); i >= 0 {
				g.MM, g.Part = near.MM, tubes[p.posture][i].Part
			}
		}
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

const roundingMM = RoundingMM

// verdict fills in whether the result works, and why not.
func (b *problem) verdict(r *Result) {
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
	if face := r.FaceMarginMM(); face < -roundingMM {
		least := b.job.Preferences.FaceMM
		r.Reasons = append(r.Reasons, Reason{Kind: FaceTooClose, Posture: -1, Part: "housing", Is: least + face, Limit: least})
	}
	r.Reasons = append(r.Reasons, b.outOfRange(r)...)
	r.Reasons = append(r.Reasons, why...)
	if rating := r.rating(); rating > 0 && r.Set.LoadKG > rating {
		r.Reasons = append(r.Reasons, Reason{Kind: DeviceTooHeavy, Posture: -1, Is: r.Set.LoadKG, Limit: rating})
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
			mm, _, _ := gaze.NewFaceDistance(r.Job.Device, []gaze.PostureInCarrier{f.InCarrier}, r.Job.Preferences.FaceMM).Margin(f.Held)
			least = min(least, mm)
		}
	}
	return least
}

// rating returns the mass (kg) that the mount is rated for; 0 when that is not known.
func (r *Result) rating() float64 {
	if r.Set == nil {
		return 0
	}
	return r.Job.Mount.Kit.RatedKG
}
