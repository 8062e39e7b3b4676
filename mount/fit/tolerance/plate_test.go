package tolerance_test

import (
	"testing"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/internal/fittest"
	"sightpost/mount/fit/tolerance"
)

// Both ends of every setting work as Check has it with the plate as told, and a little
// beyond something fails, or the ball or the range ends.
func TestPlateTolerances(t *testing.T) {
	job := adult()
	parts := job.Mount.Kit.Parts
	parts[len(parts)-2] = mount.Ball{
		Name: "ball", Cone: 60 * frame.Degree, StemMM: 40, Stiffness: mount.JointStiffness{Compliance: 0.05 * fittest.Degree},
	}
	r := fittest.Solve(t, job)
	all := tolerances(t, r)
	list, err := tolerance.Told(t.Context(), r, all)
	if err != nil || len(list) != len(all) {
		t.Fatalf("%d tolerances, error %v", len(list), err)
	}
	m, err := fit.NewSetMount(r)
	if err != nil {
		t.Fatal(err)
	}
	ball := r.Set.Chain.LastBall()
	if got := list[ball].Joint.Name; got != "ball.tilt" {
		t.Fatalf("the ball's first is %s", got)
	}
	works := func(i int, v float64) bool {
		set, at := m.Settings(), r.Attitude().Angles()
		if i < ball {
			set[i] = v
		} else {
			at[i-ball] = v
		}
		s, err := m.TurnPlate(set, mount.AttitudeAt(at))
		if err != nil {
			return false
		}
		c, err := fit.Check(t.Context(), job, r.Set.Mounting, s)
		return err == nil && c.Works
	}
	balls := 0
	for i, tol := range list {
		beyond := 0.01 * float64(frame.Degree)
		switch {
		case tol.Joint.Indexed:
			beyond = tol.Joint.Step
		case tol.Joint.Motion == mount.Slide:
			beyond = 0.1
		}
		for way, e := range map[float64]tolerance.End{-1: tol.Low, 1: tol.High} {
			if (e.Readable-tol.Set)*way < 0 || (e.At-e.Readable)*way < 0 {
				t.Errorf("%s: end %v, readable %v, set %v", tol.Joint.Name, e.At, e.Readable, tol.Set)
			}
			if e.Ball {
				balls++
				if j := tol.Joint; j.Round(e.Readable) != e.Readable || j.Low == e.At || j.High == e.At {
					t.Errorf("%s: the ball ends it at %v, readable %v", j.Name, e.At, e.Readable)
				}
			}
			if !works(i, e.At) || !works(i, e.Readable) {
				t.Errorf("%s: fails within its tolerance, at %v", tol.Joint.Name, e.At)
			}
			if works(i, e.At+way*beyond) {
				t.Errorf("%s: works beyond its tolerance, at %v", tol.Joint.Name, e.At)
			}
		}
	}
	if balls == 0 {
		t.Error("the ball ends nothing")
	}
}
