package refit_test

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/internal/fittest"
	"sightpost/mount/fit/refit"
	"sightpost/testdata/trials"
)

// changedSitting is a way in which a person may sit differently at a repeat
// assessment, and the margin that is then required.
type changedSitting struct {
	name       string
	requiredMM float64
	carrier    gaze.Carrier
	change     func(*gaze.Posture)
}

func changedSittings() []changedSitting {
	return []changedSitting{
		{"15 degrees more seat tilt", 40, gaze.Base, func(p *gaze.Posture) { p.SeatTilt += 15 * frame.Degree }},
		{"40 mm of slump", 80, gaze.Seat, func(p *gaze.Posture) { p.SlumpMM += 40 }},
		{"head leaning 15 degrees to the left", 85, gaze.Seat, func(p *gaze.Posture) { p.Head.LateralFlexion += 15 * frame.Degree }},
		{"reclined by 15 degrees", 15, gaze.Seat, func(p *gaze.Posture) { p.BackAngle += 15 * frame.Degree }},
		{"all of it", 60, gaze.Base, func(p *gaze.Posture) {
			p.SeatTilt += 15 * frame.Degree
			p.SlumpMM += 40
			p.Head.LateralFlexion += 15 * frame.Degree
		}},
	}
}

// sat returns the job before and after a changed sitting.
func (c changedSitting) sat() (before, after *fit.Job) {
	before, after = fittest.Adult(), fittest.Adult()
	before.Scene.Carrier, after.Scene.Carrier = c.carrier, c.carrier
	after.Preferences.MarginMM = c.requiredMM
	c.change(&after.Postures[0])
	return before, after
}

func TestFindRestoresTheMargin(t *testing.T) {
	for _, c := range changedSittings() {
		t.Run(c.name, func(t *testing.T) {
			job, changed := c.sat()
			before := fittest.Solve(t, job)
			p, err := refit.Find(t.Context(), changed, 0, before.Set.Settings, refit.Options{Before: before})
			if err != nil {
				t.Fatal(err)
			}
			if !p.Needed || !p.Restored || p.Current.MarginMM() >= c.requiredMM {
				t.Fatalf("needed %v, restored %v, %.1f mm as found; want a plan", p.Needed, p.Restored, p.Current.MarginMM())
			}
			if got, want := *p.Losses[0].BeforeMM, before.MarginMM(); got != want {
				t.Errorf("before %v mm, want %v mm", got, want)
			}
			confirm(t, changed, p)
			if n, all := len(p.Changes), len(p.FullSetup.Changes); p.Effort > p.FullSetup.Effort {
				t.Errorf("%d changes of effort %v, though a fresh solution needs %d of effort %v", n, p.Effort, all, p.FullSetup.Effort)
			}
		})
	}
}

// confirm checks a plan that restores the margin against its own settings: made
// one by one, by hand as it were.
func confirm(t *testing.T, job *fit.Job, p *refit.Plan) {
	t.Helper()
	s := append(mount.Settings(nil), p.Current.Set.Settings...)
	effort := 0.0
	for _, c := range p.Changes {
		if s[c.Setting] != c.From || c.From == c.To {
			t.Errorf("%s is changed from %v to %v, but is at %v", c.Joint.Name, c.From, c.To, s[c.Setting])
		}
		if read := c.Joint.Round(c.To); math.Abs(read-c.To) > 1e-9 {
			t.Errorf("%s is set to %v, which cannot be read; the nearest is %v", c.Joint.Name, c.To, read)
		}
		s[c.Setting] = c.To
		effort += c.Joint.Effort
	}
	r, err := fit.Check(t.Context(), job, 0, s)
	if err != nil {
		t.Fatal(err)
	}
	if !r.Works || r.MarginMM() < p.RequiredMM || r.MarginMM() != p.After.MarginMM() {
		t.Errorf("%.2f mm where %.2f mm is required and %.2f mm said: %v", r.MarginMM(), p.RequiredMM, p.After.MarginMM(), r.Reasons)
	}
	if effort != p.Effort {
		t.Errorf("effort %v, said to be %v", effort, p.Effort)
	}
	for _, a := range p.Tried {
		if a.MarginMM >= p.RequiredMM && a.Missed == nil {
			t.Errorf("%v is said to fail with %.2f mm", a.Settings, a.MarginMM)
		}
		if len(a.Against) == 0 {
			t.Errorf("%v fails against nothing", a.Settings)
		}
	}
	coversCheaper(t, p)
}

// coversCheaper checks that every set of settings that costs less than the plan
// is within one that was tried.
func coversCheaper(t *testing.T, p *refit.Plan) {
	t.Helper()
	moving := p.Current.Set.Chain.Moving()
	for set := uint64(1); set < 1<<len(moving); set++ {
		effort := 0.0
		for i, j := range moving {
			effort += j.Effort * float64(set>>i&1)
		}
		within := func(a refit.Attempt) bool {
			left := set
			for _, i := range a.Settings {
				left &^= 1 << i
			}
			return left == 0
		}
		if effort < p.Effort && !slices.ContainsFunc(p.Tried, within) {
			t.Errorf("settings %b cost %v, less than %v, and were not tried", set, effort, p.Effort)
		}
	}
}

func TestFindChangesNothingThatWorks(t *testing.T) {
	job := fittest.Adult()
	before := fittest.Solve(t, job)
	job.Postures[0].SlumpMM = 10
	p, err := refit.Find(t.Context(), job, 0, before.Set.Settings, refit.Options{MarginMM: 20})
	if err != nil {
		t.Fatal(err)
	}
	if p.Needed || !p.Restored || len(p.Changes) != 0 || len(p.Steps) != 0 || p.After != p.Current {
		t.Errorf("needed %v, %d changes, %d steps; want nothing changed", p.Needed, len(p.Changes), len(p.Steps))
	}
	if p.Losses[0].BeforeMM != nil {
		t.Error("a margin before that nobody gave")
	}
}

// TestFindAsksForTheMarginBefore: without a margin of its own a plan restores the one that was
// there before, in whole steps, as far as the case prefers and a full re-setup gives.
func TestFindAsksForTheMarginBefore(t *testing.T) {
	job := fittest.Adult()
	before := fittest.Solve(t, job)
	had := before.MarginMM()
	for _, row := range []struct {
		name                 string
		preferredMM, slumpMM float64
		moreMM               r3.Vec // of movement
		from                 refit.Origin
		leastMM, mostMM      float64
		needed               bool
	}{
		{name: "as before", from: refit.FromBefore, leastMM: had - 5, mostMM: had},
		{name: "slid down", slumpMM: 40, from: refit.FromBefore, leastMM: had - 5, mostMM: had, needed: true},
		{name: "slid down, less preferred", preferredMM: 20, slumpMM: 40, from: refit.FromCase, leastMM: 20, mostMM: 20},
		{name: "more preferred than there was", preferredMM: had + 30, from: refit.FromBefore, leastMM: had - 5, mostMM: had},
		{name: "moves more", moreMM: r3.Vec{X: 30, Y: 30, Z: 30}, from: refit.FromFullSetup, leastMM: had - 60, mostMM: had - 20},
	} {
		now := *job
		now.Preferences.MarginMM = row.preferredMM
		now.Scene.Person.MovementMM = r3.Add(now.Scene.Person.MovementMM, row.moreMM)
		now.Postures = slices.Clone(job.Postures)
		now.Postures[0].SlumpMM += row.slumpMM
		p, err := refit.Find(t.Context(), &now, 0, before.Set.Settings, refit.Options{Before: before})
		if err != nil {
			t.Fatal(err)
		}
		if p.From != row.from || p.RequiredMM < row.leastMM || p.RequiredMM > row.mostMM || !p.Restored || p.Needed != row.needed {
			t.Errorf("%s, %.1f mm before and %.1f at best: required %v mm from %v, needed %v, restored %v",
				row.name, had, p.FullSetup.Result.MarginMM(), p.RequiredMM, p.From, p.Needed, p.Restored)
		}
		if asks := p.After.Job.Preferences.MarginMM; p.Needed && asks != row.preferredMM {
			t.Errorf("%s: the changed mount works with %v mm or more, want %v mm", row.name, asks, row.preferredMM)
		}
	}
}

// TestFindSaysHowFarItGets seats the person far out of the mount's reach.
func TestFindSaysHowFarItGets(t *testing.T) {
	job := fittest.Adult()
	before := fittest.Solve(t, job)
	job.Scene.Measured.EyesMM.Z += 900
	p, err := refit.Find(t.Context(), job, 0, before.Set.Settings, refit.Options{MarginMM: 40})
	if err != nil {
		t.Fatal(err)
	}
	if !p.Needed || p.Restored || len(p.After.Reasons) == 0 || len(p.FullSetup.Result.Set.BindingLimits) == 0 {
		t.Fatalf("needed %v, restored %v, why %v, held %v", p.Needed, p.Restored, p.After.Reasons, p.FullSetup.Result.Set.BindingLimits)
	}
	if len(p.Tried) != 1 || len(p.Tried[0].Settings) != len(before.Set.Settings) {
		t.Errorf("tried %v; want all settings together", p.Tried)
	}
	const searchedMM = 0.5 // two searches, neither to the very top
	if best := p.Tried[0].MarginMM; p.After.MarginMM() > best+searchedMM || p.After.MarginMM() < p.FullSetup.Result.MarginMM() {
		t.Errorf("%.2f mm; want between the fresh %.2f mm and the best %.2f mm", p.After.MarginMM(), p.FullSetup.Result.MarginMM(), best)
	}
}

// TestUnrestoredChangesAreNeeded: where nothing restores the margin, no change of the
// proposal can be put back without losing margin or coming nearer to what must be kept.
func TestUnrestoredChangesAreNeeded(t *testing.T) {
	const sameMM = 0.01 // as the proposal counts
	proposals := 0
	try := func(name string, job *fit.Job, at mount.Settings, opt refit.Options) {
		p, err := refit.Find(t.Context(), job, 0, at, opt)
		if err != nil {
			t.Fatal(err)
		}
		if p.Restored || !p.Needed {
			return
		}
		proposals++
		best := p.After.MarginMM()
		for _, c := range p.Changes {
			s := slices.Clone(p.After.Set.Settings)
			s[c.Setting] = c.From
			r, err := fit.Check(t.Context(), p.After.Job, 0, s)
			if err != nil {
				t.Fatal(err)
			}
			if r.MarginMM() >= best-sameMM/2 && len(r.Reasons) <= len(p.After.Reasons) {
				t.Errorf("%s: %.3f mm with %s back at %v, %.3f mm proposed", name, r.MarginMM(), c.Joint.Name, c.From, best)
			}
		}
	}
	far := fittest.Adult()
	before := fittest.Solve(t, far)
	far.Scene.Measured.EyesMM.Z += 900
	try("far", far, before.Set.Settings, refit.Options{MarginMM: 40})
	for _, c := range changedSittings() {
		job, changed := c.sat()
		try(c.name, changed, fittest.Solve(t, job).Set.Settings, refit.Options{MarginMM: 150})
	}
	if proposals < 3 {
		t.Errorf("%d proposals; nothing is shown", proposals)
	}
}

// TestFindBringsTheAimBackIntoItsRange rolls the screen beyond its range, which the
// tracker does not mind.
func TestFindBringsTheAimBackIntoItsRange(t *testing.T) {
	job := fittest.Adult()
	rolled := slices.Clone(fittest.Solve(t, job).Set.Settings)
	rolled[8] = -45 * fittest.Degree
	p, err := refit.Find(t.Context(), job, 0, rolled, refit.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !p.Needed || !p.Restored || !p.After.Works || len(p.Changes) != 1 || p.Changes[0].Joint.Name != "joint.roll" {
		t.Errorf("needed %v, restored %v, works then %v (%+v), changes %+v", p.Needed, p.Restored, p.After.Works, p.After.Reasons, p.Changes)
	}
}

// TestFindEndsWhenCanceled: the longest of the work is over soon after it is canceled.
func TestFindEndsWhenCanceled(t *testing.T) {
	job, changed := changedSittings()[4].sat()
	at := fittest.Solve(t, job).Set.Settings
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := refit.Find(ctx, changed, 0, at, refit.Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v, want %v", err, context.Canceled)
	}
}

func TestFindRefuses(t *testing.T) {
	job := fittest.Adult()
	at := fittest.Solve(t, job).Set.Settings
	for _, tt := range []struct {
		name     string
		mounting int
		settings mount.Settings
		marginMM float64
		want     error
	}{
		{"a negative margin", 0, at, -1, fit.ErrJob},
		{"no margin at all", 0, at, math.NaN(), fit.ErrJob},
		{"a place where nothing is clamped", 1, at, 0, fit.ErrJob},
		{"too few settings", 0, at[1:], 0, mount.ErrCount},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if _, err := refit.Find(t.Context(), job, tt.mounting, tt.settings, refit.Options{MarginMM: tt.marginMM}); !errors.Is(err, tt.want) {
				t.Errorf("error %v, want %v", err, tt.want)
			}
		})
	}
}

// TestFindKeepsClear wants a plan that keeps a zone clear in which the device
// would be after the change.
func TestFindKeepsClear(t *testing.T) {
	job := fittest.Adult()
	before := fittest.Solve(t, job)
	keep := fit.KeepClear{Name: "tray", By: gaze.Seat, RequiredMM: 20}
	keep.Shape.Pose = before.Screen
	keep.Shape.Pose.At.Z -= 180
	keep.Shape.Pose.Rot = frame.NoTurn()
	keep.Shape.HalfMM = r3.Vec{X: 200, Y: 250, Z: 60}
	job.KeepClear = []fit.KeepClear{keep}
	job.Preferences.MarginMM = 30
	p, err := refit.Find(t.Context(), job, 0, before.Set.Settings, refit.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !p.Needed || !p.Restored || !slices.ContainsFunc(p.Current.Reasons, func(why fit.Reason) bool { return why.Zone == "tray" }) {
		t.Fatalf("needed %v, restored %v, why %v", p.Needed, p.Restored, p.Current.Reasons)
	}
	confirm(t, job, p)
}

func BenchmarkFind(b *testing.B) {
	for _, c := range changedSittings() {
		b.Run(c.name, func(b *testing.B) {
			job, changed := c.sat()
			at := fittest.Solve(b, job).Set.Settings
			for b.Loop() {
				if _, err := refit.Find(b.Context(), changed, 0, at, refit.Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// TestRefusedStaysRefused refits random jobs that Solve has just refused, narrowly, from the
// settings that it ended with: but for a hair's breadth of rounding, nothing restores the
// margin there.
func TestRefusedStaysRefused(t *testing.T) {
	const narrowlyMM, hairMM = 30, 0.5
	refused := 0
	for trial := range trials.Of(5, 200) {
		job := fittest.NewClinic(78, uint64(trial)).Job()
		r := fittest.Solve(t, job)
		if r.Works || r.MarginMM() < job.Preferences.MarginMM-narrowlyMM {
			continue
		}
		refused++
		p, err := refit.Find(t.Context(), job, r.Set.Mounting, r.Set.Settings, refit.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if p.Needed && p.Restored && p.After.MarginMM() > r.MarginMM()+hairMM {
			t.Errorf("trial %d: refused with %.2f mm and restored to %.2f mm", trial, r.MarginMM(), p.After.MarginMM())
		}
		if p.After.Works && !p.FullSetup.Result.Works {
			t.Errorf("trial %d: works when refitted and not when set up fully", trial)
		}
	}
	if refused == 0 {
		t.Error("none was refused narrowly: nothing is shown")
	}
}
