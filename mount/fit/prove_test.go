package fit_test

import (
	"math"
	"slices"
	"testing"
	"time"

	"sightpost/gaze"
	"sightpost/gaze/minimax"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/internal/fittest"
	"sightpost/testdata/trials"
)

// TestNothingThatWorksIsRefused climbs, for every random job that is refused, for the
// greatest margin from many settings spread over their ranges: no place works that the
// search has missed, but for what rounding takes, which no readable settings near it have
// left either, and the bound is not below it, nor below what is left with its own sag.
func TestNothingThatWorksIsRefused(t *testing.T) {
	jobs, refused := trials.Of(5, 100), 0
	for trial := range jobs {
		c := fittest.NewClinic(77, uint64(trial))
		job := c.Job()
		r, err := fit.Solve(t.Context(), job)
		if err != nil {
			t.Fatal(err)
		}
		if !r.Unmet() && r.MarginMM() >= job.Preferences.MarginMM {
			continue
		}
		refused++
		best, at := widest(t, c, r, 40)
		if best >= job.Preferences.MarginMM {
			if near := readable(t, r, at); near != nil {
				t.Errorf("trial %d: refused with %.2f mm, and %.2f mm can be had with %v", trial, r.MarginMM(), near.MarginMM(), near.Set.Settings)
			}
		}
		if !r.Unmet() {
			continue
		}
		b, err := fit.Prove(t.Context(), r, fit.ProofBoxes/10, nil)
		if sagged := sagging(t, r, at); err != nil || b.MM < max(r.MarginMM(), best-0.1, sagged-0.1) {
			t.Errorf("trial %d: bound %.2f mm (%v), below %.2f mm, %.2f mm or %.2f mm", trial, b.MM, err, r.MarginMM(), best, sagged)
		}
	}
	if refused < jobs/4 {
		t.Error("too few to show anything")
	}
}

// sagging returns the least margin at settings of the mount of a result with the sag that
// it has there.
func sagging(t *testing.T, r *fit.Result, at mount.Settings) float64 {
	t.Helper()
	if at == nil {
		return math.Inf(-1)
	}
	judge, held, least := gaze.NewJudge(r.Job.Device, r.Job.Scene.Person), fittest.Sagging(r), math.Inf(1)
	for i := range r.Postures {
		if st := &r.Postures[i].InCarrier; r.Postures[i].Posture.MustWork {
			mm, _, _ := judge.Worst(held(at, st), []gaze.PostureInCarrier{*st})
			least = min(least, mm)
		}
	}
	return least
}

// readable returns a check of readable settings within two steps of some that has the required
// margin and breaks nothing that a search keeps, nil if none does.
func readable(t *testing.T, r *fit.Result, at mount.Settings) *fit.Result {
	t.Helper()
	p, err := fit.NewSettingProblem(r)
	if err != nil {
		t.Fatal(err)
	}
	if err := p.SagAt(at); err != nil {
		t.Fatal(err)
	}
	moving, s := r.Set.Chain.Moving(), slices.Clone(at)
	var from func(k int) *fit.Result
	from = func(k int) *fit.Result {
		if k == len(s) {
			if margin, _ := p.Screen(s); margin < r.Job.Preferences.MarginMM {
				return nil
			}
			got, err := p.Check(slices.Clone(s))
			if err != nil {
				t.Fatal(err)
			}
			if got.StrengthOnly() {
				return got
			}
			return nil
		}
		for _, steps := range [...]float64{-1.5, -0.5, 0.5, 1.5} { // rounded: two below, two above
			if moving[k].Indexed {
				steps = 0
			}
			s[k] = moving[k].Round(at[k] + steps*moving[k].Step)
			if got := from(k + 1); got != nil || moving[k].Indexed {
				return got
			}
		}
		return nil
	}
	return from(0)
}

// widest climbs for the greatest margin that keeps everything from random settings, and
// returns it with its settings.
func widest(t *testing.T, c fittest.Clinic, r *fit.Result, starts int) (best float64, at mount.Settings) {
	t.Helper()
	p, err := fit.NewSettingProblem(r)
	if err != nil {
		t.Fatal(err)
	}
	m := p.Minimax()
	m.Rates = gaze.TieBreak(m.Rates)
	low, high := m.Lower, m.Upper
	best = -1e9
	var solver minimax.Solver
	for range starts {
		x := make([]float64, len(low))
		m.Lower, m.Upper = append([]float64(nil), low...), append([]float64(nil), high...)
		for k, j := range r.Set.Chain.Moving() {
			x[k] = low[k] + c.Float64()*(high[k]-low[k])
			if stops := j.Stops(); len(stops) > 0 {
				x[k] = stops[c.IntN(len(stops))]
				m.Lower[k], m.Upper[k] = x[k], x[k]
			}
		}
		if sol, err := solver.Maximize(m, x, minimax.Options{Tolerance: 0.05, Steps: 60}); err == nil && sol.Missed <= fit.RoundingMM && sol.Score > best {
			best, at = sol.Score, sol.X
		}
	}
	return best, at
}

// TestRefusalsDecided counts how many random refusals are proved, with 2 mm to spare, by
// how many boxes: of screens alone, and of mounts. Its log is a row of the table in
// DEVELOPERS.md.
func TestRefusalsDecided(t *testing.T) {
	const spareMM = 2
	count, boxes := 2, []int{fit.ProofBoxes}
	if trials.Long() {
		count, boxes = 60, []int{fit.ProofBoxes, 5 * fit.ProofBoxes}
	}
	all := 0
	for _, row := range []struct {
		name  string
		mount bool
	}{{"screen alone", false}, {"mount", true}} {
		proved, jobs := make([]int, len(boxes)), 0
		var longest time.Duration
		for refused := 0; refused < count; jobs++ {
			job := fittest.NewClinic(79, uint64(jobs)).Job()
			if !row.mount {
				job.Mount = nil
			}
			r := fittest.Solve(t, job)
			if !r.Unmet() {
				continue
			}
			refused++
			for i, n := range boxes {
				began := time.Now()
				b, err := fit.Prove(t.Context(), r, n, nil)
				if err != nil {
					t.Fatal(err)
				}
				longest = max(longest, time.Since(began))
				if b.MM <= job.Preferences.MarginMM-spareMM {
					proved[i]++
				}
			}
		}
		t.Logf("%s: of %d jobs %d are refused, %v of these proved with %v boxes; longest proof %v", row.name, jobs, count, proved, boxes, longest)
		all += proved[0]
	}
	if all == 0 {
		t.Error("none is proved")
	}
}

// TestMountTooShortIsProved: a screen would do, and a mount whose post is too short is shown
// not to reach it, from one place of its clamp or two.
func TestMountTooShortIsProved(t *testing.T) {
	job := fittest.Adult()
	mirrored := job.Mount.Mountings[0]
	mirrored.ClampMM.Y, mirrored.Side = -mirrored.ClampMM.Y, mount.OnRight
	for _, places := range [][]mount.Mounting{job.Mount.Mountings, {job.Mount.Mountings[0], mirrored}} {
		own := *job
		own.Mount = &fit.MountJob{Kit: fittest.OffsetKit(), Mountings: places}
		for i := range places {
			places[i].ClampMM.Z = 0
		}
		post := own.Mount.Kit.Parts[1].(mount.Tube)
		post.Slide, post.Shape = fittest.Slide(230, 240), mount.Centerline{}
		own.Mount.Kit.Parts[1] = post
		r := fittest.Solve(t, &own)
		b, err := fit.Prove(t.Context(), r, fit.ProofBoxes, nil)
		if err != nil || !b.Proved || !b.OfMount || r.Target.MarginMM < own.Preferences.MarginMM || b.MM < r.MarginMM() {
			t.Errorf("%d places: %+v (%v), found %v mm, a screen alone %v mm", len(places), b, err, r.MarginMM(), r.Target.MarginMM)
		}
	}
}

// TestTargetIsThePrintedOne: margin, score and aim of a target are those of its pose, also
// where the postures sag differently.
func TestTargetIsThePrintedOne(t *testing.T) {
	apart := 0.0
	for trial := range trials.Of(6, 60) {
		job := fittest.NewClinic(80, uint64(trial)).Job()
		r := fittest.Solve(t, job)
		judge := gaze.NewJudge(job.Device, job.Scene.Person)
		var must []gaze.PostureInCarrier
		for i := range r.Postures {
			if r.Postures[i].Posture.MustWork {
				must = append(must, r.Postures[i].InCarrier)
			}
		}
		mm, limiting, posture := judge.Worst(r.Target.Pose, must)
		if math.Abs(mm-r.Target.MarginMM) > sameMM || limiting != r.Target.Limiting || posture != r.Target.Posture {
			t.Errorf("trial %d: the target's margin is %v mm, %v; its pose has %v mm, %v", trial, r.Target.MarginMM, r.Target.Limiting, mm, limiting)
		}
		if aim := gaze.AimAt(r.Target.Pose, &must[0], job.Preferences.Upright); aim != r.Target.Aim {
			t.Errorf("trial %d: the target's aim is %+v, its pose's %+v", trial, r.Target.Aim, aim)
		}
		apart = max(apart, math.Abs(mm-r.MarginMM()))
	}
	if apart == 0 {
		t.Error("no target differs from its screen: nothing is shown")
	}
}
