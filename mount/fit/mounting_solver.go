package fit

import (
	"context"
	"errors"
	"math"
	"slices"
	"sync"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
)

// mountingSolver is the mount at one place of its clamp.
type mountingSolver struct {
	*problem // sagging as at the settings of the pass before
	set      *Set
	target   gaze.Target // of the unloaded screen, see problem.sagged
	solver   *mount.Solver
	sagging  *LoadedMount
	near     mount.Settings // nearest to a target out of reach
	cost     float64        // of the exact settings, when the target is reached
	screen   frame.Pose     // unloaded, at the rounded settings
	worth    float64        // of the rounded settings, see mountingSolver.take
	shortMM  float64        // by how much their margin falls short of the required one
	climbs   *int           // from everywhere so far, see mostClimbs
	inFront  bool           // nothing is found without a tube in front of the device: better that than nothing
}

// newMountingSolver prepares the mount at one place of its clamp, for a target without sag.
func (b *problem) newMountingSolver(mounting int, target gaze.Target) (*mountingSolver, error) {
	place := b.job.Mount.Mountings[mounting]
	chain, err := b.job.Mount.Kit.Chain(place)
	if err != nil {
		return nil, err
	}
	t := &mountingSolver{problem: b, target: target, climbs: new(int), set: &Set{Side: place.Side, Mounting: mounting, Chain: chain}}
	if t.solver, err = chain.Solver(); err != nil {
		return nil, err
	}
	t.sagging, err = b.withDevice(chain)
	return t, err
}

// compare orders mounts: one that reaches the target before one that does not, then the less
// costly, or the better worth.
func (t *mountingSolver) compare(u *mountingSolver) int {
	better := func(t, u *mountingSolver) bool {
		switch {
		case t.set.Reached != u.set.Reached:
			return t.set.Reached
		case t.set.Reached:
			return t.cost < u.cost-clearCost*(1+u.cost)
		}
		return t.worth > u.worth+clearMM
	}
	switch {
	case better(t, u):
		return -1
	case better(u, t):
		return 1
	}
	return 0
}

// clearCost is by what part costs must differ to count as different.
const clearCost = 1e-6

// mostPasses ends a search whose sag will not settle, as when two ways of setting the
// mount are as good as each other. What is reported is that of the last settings all
// the same.
const mostPasses = 8

// unreachedSlack is how many times less finely a search need settle that reaches no
// target: there is none to be on.
const unreachedSlack = 10

// mostRaises bounds how often more margin is asked for, to be left after rounding.
const mostRaises = 3

// nearlyMM is how much the margin before rounding may lack for this: what is left of the
// change of sag.
const nearlyMM = 1

// settle finds settings for the screen as it sags at them, and their rounding. Where only
// the rounding takes what is required, it asks for more before it.
func (t *mountingSolver) settle(ctx context.Context) error {
	if err := t.reach(ctx, t.chain().Preferred(), 0); err != nil {
		return err
	}
	if err := t.settleSag(ctx); err != nil {
		return err
	}
	if err := t.round(); err != nil {
		return err
	}
	for raise := 1.0; t.shortMM > 0 && t.exactMarginMM() > t.job.Preferences.MarginMM-nearlyMM && raise <= mostRaises; raise++ {
		more, err := t.raised(ctx, raise*(t.shortMM+1))
		if err != nil {
			return err
		}
		if more.shortMM < t.shortMM {
			*t = *more
		}
	}
	return nil
}

// raised sets the mount with some mm more of margin before rounding: near where it is, or
// where there is not so much, anywhere.
func (t *mountingSolver) raised(ctx context.Context, mm float64) (*mountingSolver, error) {
	more := t.unset()
	more.request.RequiredMM += mm
	more.limit()
	if err := more.aimAgain(ctx, 2); err != nil {
		return nil, err
	}
	if more.exactMarginMM() < more.request.RequiredMM {
		var err error
		if more.target, err = more.placeScreen(ctx, nil); err != nil {
			return nil, err
		}
		more.near = nil
		if err := more.reach(ctx, more.set.Exact, 0); err != nil {
			return nil, err
		}
	}
	if err := more.settleSag(ctx); err != nil {
		return nil, err
	}
	return more, more.round()
}

// outOfHousing reports on the mount set near where it is, with its tubes kept out of the housing.
func (t *mountingSolver) outOfHousing(ctx context.Context) (*Result, error) {
	more := t.unset()
	more.frontWatched, more.insideWatched, more.set.Reached = true, true, false
	if err := more.goOn(ctx, more.set.Exact); err != nil {
		return nil, err
	}
	if err := more.settleSag(ctx); err != nil {
		return nil, err
	}
	if err := more.round(); err != nil {
		return nil, err
	}
	return more.finish()
}

// unset returns the same mount, to be set to other readable settings by a problem of its own.
func (t *mountingSolver) unset() *mountingSolver {
	more, own, set := *t, *t.problem, *t.set
	set.Settings = nil
	more.problem, more.set = &own, &set
	return &more
}

// exactMarginMM returns the least margin before rounding.
func (t *mountingSolver) exactMarginMM() float64 {
	mm, _, _ := t.request.Judge.Worst(t.sagging.compiled.Pose(t.set.Exact), t.request.Postures)
	return mm
}

// settleSag goes on until the settings are those for the sag at them.
func (t *mountingSolver) settleSag(ctx context.Context) error {
	for pass := 1; pass <= mostPasses; pass++ {
		next, changed, err := t.resag(t.set.Exact)
		if err != nil {
			return err
		}
		t.problem = next
		if !changed {
			break
		}
		if err := t.aimAgain(ctx, pass); err != nil {
			return err
		}
	}
	return t.relaxKeepClear(ctx)
}

// aimAgain sets the mount for a target that has changed a little.
func (t *mountingSolver) aimAgain(ctx context.Context, pass int) (err error) {
	if t.target, err = t.placeScreen(ctx, &t.target.Aim); err != nil {
		return err
	}
	return t.reach(ctx, t.set.Exact, pass)
}

func (t *mountingSolver) chain() mount.Chain { return t.set.Chain }

// leverWeight is the cost of each (100 mm)² of the load's lever arm at a turning
// joint, against 1 for a setting of effort 1 that is a unit off its preferred
// value: enough to decide between settings that are otherwise alike.
const leverWeight = 0.05

// reach sets the mount for the target. The first passes search everywhere, with the
// sag unknown and then roughly known; the others go on from the settings found.
func (t *mountingSolver) reach(ctx context.Context, from mount.Settings, pass int) error {
	if pass > 1 && !t.set.Reached {
		return t.goOn(ctx, from)
	}
	near := pass > 0 && t.set.Reached
	opt := mount.Options{Lever: leverWeight, Allowed: t.allowed}
	sol, err := t.prefer(ctx, from, opt, near)
	switch {
	case err == nil:
		sol = keepPreferred(t.solver, t.chain().Moving(), t.target.Pose, sol, opt)
		t.set.Reached, t.set.Exact, t.set.InFront, t.set.Forced, t.cost = true, sol.Settings, "", false, sol.Cost
		return nil
	case errors.Is(err, mount.ErrUnreached) || errors.Is(err, mount.ErrNotAllowed):
		t.near = sol.Settings
		if errors.Is(err, mount.ErrNotAllowed) {
			t.crowded = t.crowded || len(t.keeps) > 0
			if gap := t.sightAt(t.sagging, t.near); gap.crosses() {
				t.set.InFront = gap.Part
			}
		}
		if pass > 0 && !t.set.Reached {
			return t.goOn(ctx, from)
		}
		t.set.Reached = false
		t.set.Exact, err = t.searchSettings(ctx, sol.Settings)
		if err == nil && t.frontWatched && t.sightAt(t.sagging, t.set.Exact).crosses() {
			t.inFront = true
			t.watchFront(false)
			return t.reach(ctx, from, pass)
		}
	}
	return err
}

// goOn goes on to the best settings from some that do not reach the target.
func (t *mountingSolver) goOn(ctx context.Context, from mount.Settings) error {
	var err error
	if t.set.Exact, err = t.polish(ctx, from); err != nil || !t.watchAt(t.set.Exact) {
		return err
	}
	t.set.Exact, err = t.searchSettings(ctx, from)
	return err
}

// fewStarts is from how many settings the mount is first set for a target, for each
// position of its stops. It is enough for almost all that can be reached.
const fewStarts = 6

// prefer returns the least costly settings that reach the target: near those given if
// they nearly do, else from all over unless the target is out of reach.
func (t *mountingSolver) prefer(ctx context.Context, from mount.Settings, opt mount.Options, near bool) (mount.Solution, error) {
	if err := ctx.Err(); err != nil {
		return mount.Solution{}, err
	}
	one, few := opt, opt
	one.Starts, few.Starts = 1, fewStarts
	if !t.hasStops() {
		few.Starts *= 4
	}
	if near {
		if sol, err := t.solver.Prefer(t.target.Pose, from, one); err == nil {
			return sol, nil
		}
	}
	sol, err := t.solver.Prefer(t.target.Pose, t.chain().Preferred(), few)
	if !errors.Is(err, mount.ErrUnreached) || t.near != nil {
		return sol, err // or searched all over before
	}
	if err := ctx.Err(); err != nil {
		return sol, err
	}
	if reach := gaze.Reach(t.chain().Reach()); !reach.Has(t.target.Pose) {
		return sol, err
	}
	if sol, err = t.solver.Solve(t.target.Pose, opt); err != nil {
		return sol, err
	}
	return t.solver.Prefer(t.target.Pose, sol.Settings, one)
}

// hasStops reports whether a setting has stops.
func (t *mountingSolver) hasStops() bool {
	return slices.ContainsFunc(t.chain().Moving(), func(j mount.Joint) bool { return j.Indexed })
}

// watchAt is problem.watch for the screen at settings, and for tubes in front of the device.
func (t *mountingSolver) watchAt(s mount.Settings) bool {
	broken := t.watch(t.sagging.compiled.Pose(s))
	if !t.inFront && !t.frontWatched && t.sightAt(t.sagging, s).crosses() {
		t.watchFront(true)
		broken = true
	}
	return broken
}

// watchFront makes searches at this place of the clamp keep tubes from in front of the
// device, or not.
func (t *mountingSolver) watchFront(watched bool) {
	own := *t.problem
	own.frontWatched = watched
	t.problem = &own
}

// allowed reports whether settings keep all tubes high enough above the floor, away from what
// is to be kept clear and out of the front of the device, sag allowed for.
func (t *mountingSolver) allowed(s mount.Settings) bool {
	tubes := t.sagging.unloaded.at(s)
	low := t.ground(func(int) []TubePiece { return tubes })
	if low.MM -= t.floorSagMM; low.TooClose(t.job.Passage.GroundMM) {
		return false
	}
	for i := range t.keeps {
		p := &t.keeps[i]
		if _, near := nearest(tubes, &p.shape, p.sagMM+p.requiredMM()); near >= 0 {
			return false
		}
	}
	return t.inFront || !t.sightGap(t.sagging.unloaded).crosses()
}

// resag returns the problem with the sag as it is at settings, and whether that
// changes anything that counts.
func (t *mountingSolver) resag(s mount.Settings) (*problem, bool, error) {
	poses, err := t.sagging.Poses(s)
	if err != nil {
		return nil, false, err
	}
	sags, slack := poses.motions(), 1.0
	if !t.set.Reached {
		slack = unreachedSlack
	}
	changed := !settled(t.sags, sags, t.sagging.compiled.Pose(s).At, slack)
	next := t.sagged(sags)
	apart := next.allowForTubes(poses, t.sagging.unloaded.at(s))
	return next, changed || apart > slack*settledMM, nil
}

// allowForTubes notes by how much the load brings the tubes nearer to the floor and to
// the keep-clear zones than they are still, without it, and returns the greatest change
// of those that are not far away.
//
// A search takes the tubes as they are without load, less this. Once it has settled,
// that is what they keep with the load on.
func (b *problem) allowForTubes(loaded LoadedPoses, still []TubePiece) (changeMM float64) {
	low := b.ground(func(int) []TubePiece { return still }).MM
	sunk := b.ground(loaded.tubes).MM
	note := func(sag *float64, mm, marginMM float64) {
		if math.IsNaN(mm) {
			mm = 0 // no tubes
		}
		if marginMM < soonMM {
			changeMM = max(changeMM, math.Abs(mm-*sag))
		}
		*sag = mm
	}
	note(&b.floorSagMM, low-sunk, low-b.job.Passage.GroundMM)
	for i := range b.keeps {
		p := &b.keeps[i]
		there, _ := nearest(still, &p.shape, math.Inf(1))
		bent, _ := nearest(loaded[p.posture].Tubes, &p.shape, math.Inf(1))
		note(&p.sagMM, there.MM-bent.MM, bent.MM-p.keep.RequiredMM)
	}
	return changeMM
}

// printed returns the target as it is in the leading posture, and how that one pose does in
// all postures that must work: where these sag differently, not quite as the screens that were
// searched for.
func (t *mountingSolver) printed() gaze.Target {
	request := t.request
	request.Postures = nil
	for _, i := range t.must {
		request.Postures = append(request.Postures, t.postures[i])
	}
	target := t.target
	target.Pose = t.sags[t.must[0]].Mul(t.target.Pose)
	target.Aim = gaze.AimAt(target.Pose, &request.Postures[0], request.Upright)
	target.MarginMM, target.Limiting, target.Posture = request.Judge.Worst(target.Pose, request.Postures)
	target.Score, _, _ = gaze.NewScorer(request).Score(target.Pose)
	return target
}

// finish reports on the mount as it is set, and where the target is.
func (t *mountingSolver) finish() (*Result, error) {
	r, err := reportSet(t.problem, t.set, t.sagging)
	if err != nil {
		return nil, err
	}
	if !t.set.Reached {
		r.limits = sync.OnceValue(t.bindingLimits)
	}
	lead := t.must[0]
	r.Target = t.printed()
	off := r.Target.Pose.Inverse().Mul(r.Postures[lead].Held)
	t.set.OffMM, t.set.Off = r3.Norm(off.At), off.Rot.Angle()
	return r, nil
}
