package fit_test

import (
	"errors"
	"math"
	"testing"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/internal/fittest"
)

// light is a chair of 100 kg with its person, of which the front wheels bear 40 kg: with
// contacts 450 mm apart the center of mass is 450 · 40/100 = 180 mm ahead of the rear ones.
var light = fit.Wheels{FrontMM: 450, RearMM: 0, TrackMM: 500, KG: 100, FrontKG: 40}

// tippingJob is the job of the arm, its device of 4 kg all that weighs, on the base.
func tippingJob() *fit.Job {
	job := fittest.Stiff(armJob())
	job.Device.Screen.MassKG = 4
	job.Wheels = light
	return job
}

// tippedAt returns how near the mount comes to tipping the chair, set as given.
func tippedAt(t *testing.T, job *fit.Job, pan float64) *fit.Result {
	t.Helper()
	r, err := fit.Check(t.Context(), job, 0, armSettings(pan))
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestTippingByHand: the middle of the device swings about the elbow, which is 400 mm ahead
// and 300 mm to the left: 400 mm along the arm and 60 - 45/2 mm to its right, on a circle of
// √(400² + 37.5²) = 401.754 mm. Moments about the lines of wheel contacts, N·m:
//
//	left:     4 g · (0.300 + 0.401754 - 0.250) of 100 g · 0.250
//	forward:  4 g · (0.400 + 0.401754 - 0.450) of 100 g · (0.450 - 0.180)
//	backward: 4 g · (0.401754 - 0.400)         of 100 g · 0.180
//	right:    4 g · (0.401754 - 0.300 - 0.250) of 100 g · 0.250, which it never reaches
//
// A clamp of 2 kg, 300 mm to the left, stays where it is: 2 g · (0.300 - 0.250) more to the
// left.
//
// The arm points to the left, and ahead, 5.356° past that direction.
func TestTippingByHand(t *testing.T) {
	const g = 9.80665
	past := math.Atan(37.5 / 400)
	for _, tt := range []struct {
		name    string
		stop    float64 // at which the elbow ends, degrees
		clampKG float64
		want    fit.Tipping
	}{
		{"far to the left", 170, 0, fit.Tipping{Side: fit.TipLeft, At: math.Pi/2 + past, OverturningNM: 4 * g * 0.451754, RestoringNM: 25 * g}},
		{"with a heavy clamp", 170, 2, fit.Tipping{Side: fit.TipLeft, At: math.Pi/2 + past, OverturningNM: 4*g*0.451754 + 2*g*0.050, RestoringNM: 25 * g}},
		{"stopped before that", 20, 0, fit.Tipping{Side: fit.TipForward, At: past, OverturningNM: 4 * g * 0.351754, RestoringNM: 27 * g}},
	} {
		job := tippingJob()
		elbow := job.Mount.Kit.Parts[2].(mount.Elbow)
		elbow.Pan = turn(-170, tt.stop, 1)
		clamp := job.Mount.Kit.Parts[0].(mount.Clamp)
		clamp.MassKG = tt.clampKG
		job.Mount.Kit.Parts[0], job.Mount.Kit.Parts[2] = clamp, elbow
		got := *tippedAt(t, job, 0).Tipping
		if got.Side != tt.want.Side || got.Posture != 0 || math.Abs(got.At-tt.want.At) > 1e-4 ||
			math.Abs(got.OverturningNM-tt.want.OverturningNM) > 1e-4 || math.Abs(got.RestoringNM-tt.want.RestoringNM) > 1e-9 {
			t.Errorf("%s: %+v, want %+v", tt.name, got, tt.want)
		}
	}
}

// TestTippingIsTheWorst: no setting of the swing in any posture, checked where the device
// then is, takes up more, and the one that is named does as much.
func TestTippingIsTheWorst(t *testing.T) {
	for _, carrier := range []gaze.Carrier{gaze.Seat, gaze.Base} {
		job := tippingJob()
		job.Scene.Carrier = carrier
		rested := job.Postures[0]
		rested.Name, rested.MustWork, rested.SeatTilt = "rested", false, 30*frame.Degree
		job.Postures = append(job.Postures, rested)
		middle, _ := job.Device.Screen.Housing()
		w := job.Wheels
		share := func(p *fit.PostureResult) float64 {
			at := p.Screen.Apply(middle)
			ahead := w.FrontMM * w.FrontKG / w.KG
			return 4 / w.KG * max((at.X-w.FrontMM)/(w.FrontMM-ahead), -at.X/ahead, (math.Abs(at.Y)-w.TrackMM/2)/(w.TrackMM/2))
		}
		named := tippedAt(t, job, 0).Tipping
		for pan := -170.0; pan <= 170; pan += 10 {
			r := tippedAt(t, job, pan)
			for i := range r.Postures {
				if got := share(&r.Postures[i]); got > named.Share()+1e-6 {
					t.Errorf("%v at %v° in posture %d: %v, more than the %v of %+v", carrier, pan, i, got, named.Share(), named)
				}
			}
			if got := r.Tipping.Share(); math.Abs(got-named.Share()) > 1e-9 {
				t.Errorf("%v: %v as set at %v°, %v as set ahead", carrier, got, pan, named.Share())
			}
		}
		r := tippedAt(t, job, named.At/degree)
		if got := share(&r.Postures[named.Posture]); math.Abs(got-named.Share()) > 1e-6 {
			t.Errorf("%v: %v where it is worst, want %v", carrier, got, named.Share())
		}
	}
}

// TestTippingNeedsWheels: without wheels nothing is judged, and wheels that bear no chair are
// refused.
func TestTippingNeedsWheels(t *testing.T) {
	job := tippingJob()
	job.Wheels = fit.Wheels{}
	if got := tippedAt(t, job, 0).Tipping; got != nil {
		t.Errorf("%+v without wheels", got)
	}
	for name, spoil := range map[string]func(*fit.Wheels){
		"no track":            func(w *fit.Wheels) { w.TrackMM = 0 },
		"front behind rear":   func(w *fit.Wheels) { w.FrontMM = -100 },
		"no mass":             func(w *fit.Wheels) { w.KG, w.FrontKG = 0, 0 },
		"nothing in front":    func(w *fit.Wheels) { w.FrontKG = 0 },
		"all of it in front":  func(w *fit.Wheels) { w.FrontKG = w.KG },
		"no number":           func(w *fit.Wheels) { w.RearMM = math.NaN() },
		"no number of weight": func(w *fit.Wheels) { w.KG = math.NaN() },
	} {
		job.Wheels = light
		spoil(&job.Wheels)
		if _, err := fit.Check(t.Context(), job, 0, armSettings(0)); !errors.Is(err, fit.ErrJob) {
			t.Errorf("%s: error %v", name, err)
		}
	}
}
