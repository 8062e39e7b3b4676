package tolerance_test

import (
	"errors"
	"math"
	"testing"

	"sightpost/gaze"
	"sightpost/mount/fit"
	"sightpost/mount/fit/internal/fittest"
	"sightpost/mount/fit/tolerance"
)

// sweepTolMM is rounding error of margins of some hundred mm.
const sweepTolMM = 1e-9

// sweepJob returns a job in two postures and a result with the screen straight
// ahead, put together without a search.
func sweepJob() (*fit.Job, *fit.Result) {
	job := adult()
	job.Mount = nil
	back := job.Postures[0]
	back.Name, back.SeatTilt = "tilted", 0.2
	asleep := back
	asleep.Name, asleep.MustWork = "asleep", false
	job.Postures = append(job.Postures, asleep, back)
	r := &fit.Result{Job: job}
	for _, p := range job.Postures {
		r.Postures = append(r.Postures, fit.PostureResult{Posture: p, InCarrier: job.Scene.InCarrier(p)})
	}
	target, err := gaze.Place(gaze.Request{
		Judge:    gaze.NewJudge(job.Device, job.Scene.Person),
		Postures: []gaze.PostureInCarrier{r.Postures[0].InCarrier},
		Prefer:   gaze.Preferred(&r.Postures[0].InCarrier, job.Device.Tracker),
		Rates:    fittest.Rates, Ranges: fittest.Ranges,
	})
	if err != nil {
		panic(err) // the sample job can be worked on
	}
	for i := range r.Postures {
		r.Postures[i].Held = target.Pose
	}
	return job, r
}

// TestMarginSweep checks that the middle sample is the margin where the screen is,
// that postures which need not work are left out, and where the ends are.
func TestMarginSweep(t *testing.T) {
	job, r := sweepJob()
	judge := gaze.NewJudge(job.Device, job.Scene.Person)
	for _, over := range []tolerance.Motion{tolerance.OverDistance, tolerance.OverTilt} {
		s, err := tolerance.MarginSweep(r, over, 41)
		if err != nil {
			t.Fatal(err)
		}
		if len(s.Curves) != 2 || s.Curves[1].Posture.Name != "tilted" || s.Leading != job.Postures[0].Name {
			t.Fatalf("%d curves, leading %q", len(s.Curves), s.Leading)
		}
		for i, at := range []int{0, 2} {
			want, limiting := judge.Margin(r.Postures[at].Held, &r.Postures[at].InCarrier)
			got := s.Curves[i].Samples[20]
			if math.Abs(got.MarginMM-want) > sweepTolMM || got.Limiting != limiting || math.Abs(got.At-s.Chosen) > sweepTolMM {
				t.Errorf("motion %d, %s: %+v, want margin %v at %v, %v", over, s.Curves[i].Posture.Name, got, want, s.Chosen, limiting)
			}
		}
		first, last := s.Curves[0].Samples[0], s.Curves[0].Samples[40]
		if over == tolerance.OverTilt && (math.Abs(first.At+30*degree) > 1e-12 || math.Abs(last.At-30*degree) > 1e-12) {
			t.Errorf("tilt goes from %v to %v", first.At/degree, last.At/degree)
		}
	}
}

// TestMarginSweepKnowsDistance moves the screen out of the tracker's depth: near
// and far end a distance sweep, with the reason.
func TestMarginSweepKnowsDistance(t *testing.T) {
	_, r := sweepJob()
	s, err := tolerance.MarginSweep(r, tolerance.OverDistance, 101)
	if err != nil {
		t.Fatal(err)
	}
	samples := s.Curves[0].Samples
	if k := samples[0].Limiting.Kind; samples[0].MarginMM >= 0 || k != gaze.TooNear {
		t.Errorf("nearest: %+v, want too near", samples[0])
	}
	if k := samples[100].Limiting.Kind; samples[100].MarginMM >= 0 || k != gaze.TooFar {
		t.Errorf("farthest: %+v, want too far", samples[100])
	}
}

func TestMarginSweepErrors(t *testing.T) {
	job, r := sweepJob()
	if _, err := tolerance.MarginSweep(r, tolerance.OverTilt, 1); !errors.Is(err, fit.ErrJob) {
		t.Errorf("one sample: error %v, want ErrJob", err)
	}
	if _, err := tolerance.MarginSweep(&fit.Result{}, tolerance.OverTilt, 5); !errors.Is(err, fit.ErrJob) {
		t.Errorf("an empty result: error %v, want ErrJob", err)
	}
	for i := range job.Postures {
		job.Postures[i].MustWork = false
	}
	if _, err := tolerance.MarginSweep(r, tolerance.OverTilt, 5); !errors.Is(err, fit.ErrJob) {
		t.Errorf("no posture: error %v, want ErrJob", err)
	}
}
