package fit_test

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
)

// resting returns the adult's job with a posture tilted far back, and slid down, in which
// the screen is of no use.
func resting() *fit.Job {
	job := adult()
	rest := job.Postures[0]
	rest.Name, rest.SeatTilt, rest.SlumpMM, rest.MustWork = "rest", 45*frame.Degree, 250, false
	job.Postures = append(job.Postures, rest)
	return job
}

// TestMountStandsWhereNobodyLooks: what the mount touches and what it can bear count in
// postures that need not work as well, their margin does not.
func TestMountStandsWhereNobodyLooks(t *testing.T) {
	upright := solve(t, adult())
	for _, tt := range []struct {
		name string
		job  func() *fit.Job
		why  *fit.Reason // of its kind, posture, part and zone
	}{
		{"all well", resting, nil},
		{"swings when tilted", func() *fit.Job {
			// nothing turns the post about its upright axis but for the tilt
			job := resting()
			post := job.Mount.Kit.Parts[1].(mount.Tube)
			post.Turn.Stiffness = mount.JointStiffness{SlipLoad: 2}
			job.Mount.Kit.Parts[1] = post
			return job
		}, &fit.Reason{Kind: fit.JointSlips, Posture: 1, Part: "post.swing"}},
		{"wheel behind", func() *fit.Job {
			// the screen stands over this point of the base when the seat is tilted
			job := resting()
			stance := job.Scene.InCarrier(job.Postures[1])
			at := stance.Carrier.Mul(upright.Screen).At
			job.KeepClear = []fit.KeepClear{{Name: "wall", By: gaze.Base, RequiredMM: 20, Shape: capsule(at, r3.Add(at, r3.Vec{X: -300}), 20)}}
			return job
		}, &fit.Reason{Kind: fit.TooClose, Posture: 1, Part: "housing", Zone: "wall"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			job := tt.job()
			r, err := fit.Check(t.Context(), job, 0, upright.Set.Settings)
			if err != nil {
				t.Fatal(err)
			}
			if tt.why == nil {
				if !r.Works || r.Postures[1].MarginMM >= 0 {
					t.Errorf("works %v: %+v; margin at rest %v", r.Works, r.Reasons, r.Postures[1].MarginMM)
				}
				return
			}
			if r.Works || len(r.Reasons) != 1 {
				t.Fatalf("works %v: %+v, want %+v", r.Works, r.Reasons, *tt.why)
			}
			if got := r.Reasons[0]; got.Kind != tt.why.Kind || got.Posture != tt.why.Posture || got.Part != tt.why.Part || got.Zone != tt.why.Zone || got.Kind == fit.TooClose && got.Is >= 0 {
				t.Errorf("%+v, want %+v", got, *tt.why)
			}
			// where the mount is set differently in each posture, it only has to work in that
			if alone := solve(t, job.Only(0)); !alone.Works {
				t.Errorf("upright alone: %+v", alone.Reasons)
			}
		})
	}
}

// TestSearchMindsWhereNobodyLooks: a space in the way in a posture that need not work
// has the search go round it.
func TestSearchMindsWhereNobodyLooks(t *testing.T) {
	job := resting()
	stance := job.Scene.InCarrier(job.Postures[1])
	at := stance.Carrier.Mul(solve(t, adult()).Screen).At
	job.KeepClear = []fit.KeepClear{{Name: "wall", By: gaze.Base, RequiredMM: 20, Shape: capsule(r3.Add(at, r3.Vec{X: -40}), r3.Add(at, r3.Vec{X: -300}), 20)}}
	r := advised(t, solve(t, job))
	if !r.Works || r.Clearances[0].Posture != 1 || r.Clearances[0].MM < 20-0.01 {
		t.Errorf("works %v: %+v; gaps %+v", r.Works, r.Reasons, r.Clearances)
	}
	if len(r.InTheWay) != 1 || r.InTheWay[0].Posture != 1 {
		t.Errorf("in the way: %+v", r.InTheWay)
	}
}
