package fit_test

import (
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount/fit"
	"sightpost/mount/fit/internal/fittest"
	"sightpost/mount/space"
	"sightpost/testdata/trials"
)

// TestClinic solves random jobs: no panic, no number that is none, every setting
// readable and within its limits, every margin confirmed in another way. Each
// mountingSolver has random numbers of its own, so that one can be run again alone.
func TestClinic(t *testing.T) {
	n := trials.Asked(t, 10, 200)
	var reached, works atomic.Int64
	var group sync.WaitGroup
	workers := runtime.GOMAXPROCS(0)
	for worker := range workers {
		group.Go(func() {
			for trial := worker; trial < n; trial += workers {
				job := fittest.NewClinic(7, uint64(trial)).Job()
				r, err := fit.Solve(t.Context(), job)
				if err != nil {
					t.Errorf("trial %d: %v", trial, err)
					continue
				}
				checkSettings(t, trial, r)
				checkMargins(t, trial, r)
				checkSag(t, trial, r)
				checkAgain(t, trial, r)
				checkSight(t, trial, r)
				if r.Set.Reached {
					reached.Add(1)
				}
				if r.Works {
					works.Add(1)
				}
			}
		})
	}
	group.Wait()
	t.Logf("of %d random jobs %d targets were reached and %d work", n, reached.Load(), works.Load())
	if few := int64(n / 10); n >= 100 && (reached.Load() < few || works.Load() < few) {
		t.Error("too few to show anything")
	}
}

// BenchmarkClinic reports how long an answer to a random job takes, with what would help and the
// proof of a refusal (ms): in the middle, at most for 99 of 100, and at the most.
func BenchmarkClinic(b *testing.B) {
	n := trials.Asked(b, 100, 3000)
	for b.Loop() {
		took := make([]float64, n)
		for trial := range took {
			job, began := fittest.NewClinic(4242, uint64(trial)).Job(), time.Now()
			r, err := fit.Solve(b.Context(), job)
			if err == nil {
				r, err = fit.Advise(b.Context(), r)
			}
			if err == nil && r.Unmet() {
				_, err = fit.Prove(b.Context(), r, fit.ProofBoxes, nil)
			}
			if err != nil {
				b.Errorf("trial %d: %v", trial, err)
			}
			took[trial] = float64(time.Since(began).Microseconds()) / 1000
		}
		slices.Sort(took)
		b.ReportMetric(took[n/2], "ms-median")
		b.ReportMetric(took[n*99/100], "ms-99%")
		b.ReportMetric(took[n-1], "ms-most")
	}
}

// checkSettings reports settings that nobody could set.
func checkSettings(t *testing.T, trial int, r *fit.Result) {
	t.Helper()
	for i, j := range r.Set.Chain.Moving() {
		v := r.Set.Settings[i]
		if !(v >= j.Low-sameMM && v <= j.High+sameMM && math.Abs(j.Round(v)-v) <= sameMM) {
			t.Errorf("trial %d: %s at %v is not a readable setting within %v to %v", trial, j.Name, v, j.Low, j.High)
		}
	}
}

// checkMargins reports margins that another way of computing them does not
// confirm, and a verdict that does not follow from them.
func checkMargins(t *testing.T, trial int, r *fit.Result) {
	t.Helper()
	job := r.Job
	// confirmedMM is by how much the independent margin may differ where it is
	// positive: the arc is searched to about a millionth of its length. Outside,
	// only the sign is defined.
	const confirmedMM = 1e-4
	least := math.Inf(1)
	for i := range r.Postures {
		f := &r.Postures[i]
		want := independentMargin(job, f)
		inside := f.MarginMM > 0 || want > 0
		if !(math.Abs(f.MarginMM-want) <= confirmedMM) && (inside || math.IsNaN(f.MarginMM)) {
			t.Errorf("trial %d, posture %d: margin %.6f, another way %.6f (%v)", trial, i, f.MarginMM, want, f.Limiting())
		}
		if !(f.Share >= 0 && f.Share <= 1) {
			t.Errorf("trial %d, posture %d: share %v", trial, i, f.Share)
		}
		if f.Posture.MustWork {
			least = min(least, f.MarginMM)
		}
	}
	if least != r.MarginMM() {
		t.Errorf("trial %d: margin %v, least of the postures %v", trial, r.MarginMM(), least)
	}
	if r.Works != (len(r.Reasons) == 0) || r.Works && least < 0 {
		t.Errorf("trial %d: works %v with margin %v and reasons %v", trial, r.Works, least, r.Reasons)
	}
}

// checkSag reports a screen that stands elsewhere than where its mount sags to, a
// mount whose failures are not told, and places along its bent tubes that are
// nearer to a space than the gap that is told.
func checkSag(t *testing.T, trial int, r *fit.Result) {
	t.Helper()
	job := r.Job
	sagging := fittest.Sagging(r)
	for i := range r.Postures {
		f := &r.Postures[i]
		want := sagging(r.Set.Settings, &f.InCarrier)
		if off := want.Inverse().Mul(f.Held); r3.Norm(off.At) > sameMM || off.Rot.Angle() > 1e-8 {
			t.Errorf("trial %d, posture %d: screen %v mm off where it sags to", trial, i, r3.Norm(off.At))
		}
		if chair := r3.Sub(f.InCarrier.Carrier.Apply(r3.Add(r.Screen.At, f.InCarrier.Carrier.Rot.ApplyInverse(f.Sag.ShiftMM))), f.Screen.At); r3.Norm(chair) > sameMM {
			t.Errorf("trial %d, posture %d: the sag leads %v mm past the screen", trial, i, r3.Norm(chair))
		}
	}
	if fails := slices.ContainsFunc(r.Reasons, func(why fit.Reason) bool { return why.OfStrength() }); fails && r.Works {
		t.Errorf("trial %d: works in spite of %v", trial, r.Reasons)
	}
	st := &r.Postures[r.Load.Posture].InCarrier
	for _, g := range r.Clearances {
		shape := g.KeepClear.Shape.Moved(st.Carrier.Inverse().Mul(g.KeepClear.Pose(job.Scene, st.Posture)))
		for _, at := range r.Load.Lines {
			radius := 0.0
			for _, span := range r.Set.Chain.Spans {
				if span.Part == at.Part {
					radius = span.Section.OutsideMM / 2
				}
			}
			const chordMM = 0.2 // between a bent tube and the straight pieces it is taken as
			if mm := space.FromPoint(r3.Add(at.AtMM, at.Sag.ShiftMM), shape).MM - radius; mm < g.MM-chordMM {
				t.Errorf("trial %d: %s is %v mm from %s, told as %v mm", trial, at.Part, mm, g.KeepClear.Name, g.MM)
			}
		}
	}
}

// checkAgain reports a solution that comes out otherwise when its settings are checked.
func checkAgain(t *testing.T, trial int, r *fit.Result) {
	t.Helper()
	job := r.Job
	back, err := fit.Check(t.Context(), job, r.Set.Mounting, r.Set.Settings)
	if err != nil {
		t.Errorf("trial %d: Check: %v", trial, err)
		return
	}
	if back.MarginMM() != r.MarginMM() || back.Works != r.Works || len(back.Reasons) != len(r.Reasons) {
		t.Errorf("trial %d: margin %v, works %v; by Check %v, %v", trial, r.MarginMM(), r.Works, back.MarginMM(), back.Works)
	}
}
