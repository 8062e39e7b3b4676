package fit_test

import (
	"errors"
	"math"
	"testing"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/internal/fittest"
)

// onBall puts a ball in the place of the plate joint of a job.
func onBall(c fittest.Clinic, job *fit.Job) {
	parts := job.Mount.Kit.Parts
	ball := mount.Ball{Name: "ball", Cone: c.Deg(20, 110), StemMM: c.In(0, 60), MassKG: 0.2, Stiffness: mount.JointStiffness{Compliance: c.In(0, 0.1) * fittest.Degree}}
	if c.Chance(0.3) {
		ball.Spin = mount.Range{Low: c.In(-180, -60) * fittest.Degree, High: c.In(60, 180) * fittest.Degree, Step: fittest.Degree}
	}
	parts[len(parts)-2] = ball
}

// What square and inclinometer show of a loaded plate gives its settings back, over
// random chairs, kits, sides and postures.
func TestTurnPlateBack(t *testing.T) {
	tried := 0
	for trial := range uint64(90) {
		c := fittest.NewClinic(231, trial)
		job := c.Job()
		onBall(c, job)
		chain, err := job.Mount.Kit.Chain(job.Mount.Mountings[0])
		if err != nil {
			t.Fatal(err)
		}
		var s mount.Settings
		for _, j := range chain.Moving() {
			s = append(s, j.Round(c.In(j.Low, j.High)))
		}
		was, err := fit.Check(t.Context(), job, 0, s)
		if err != nil {
			continue // so soft that no place of the screen can be told
		}
		tried++
		m, err := fit.NewLoadedMount(job, chain, true)
		if err != nil {
			t.Fatal(err)
		}
		given := append(mount.Settings(nil), s...)
		first := chain.LastBall()
		for i := range 3 {
			given[first+i] = chain.Moving()[first+i].Clamp(0)
		}
		back, err := m.TurnPlate(given, was.Attitude(), job.Leading())
		if err != nil {
			t.Fatalf("trial %d: %v", trial, err)
		}
		for i, j := range chain.Moving()[first : first+3] {
			if got := back[first+i]; got != j.Round(got) && math.Abs(got-j.Round(got)) < 1e-9 {
				t.Errorf("trial %d: %s comes back off its scale by %g", trial, j.Name, got-j.Round(got))
			}
		}
		is, err := fit.Check(t.Context(), job, 0, back)
		if err != nil {
			t.Fatal(err)
		}
		for i := range is.Postures {
			off := was.Postures[i].Screen.Inverse().Mul(is.Postures[i].Screen)
			if turn := off.Rot.Angle(); !(turn < 1e-6) { // a plate on edge costs half the digits
				t.Errorf("trial %d: the plate comes back turned by %g°", trial, turn.Degrees())
			}
		}
	}
	if tried < 60 {
		t.Errorf("%d trials only", tried)
	}
}

func TestTurnPlateBeyondTheCone(t *testing.T) {
	c := fittest.NewClinic(232, 1)
	job := fittest.Adult()
	onBall(c, job)
	r := fittest.Solve(t, job)
	m, err := fit.NewSetMount(r)
	if err != nil {
		t.Fatal(err)
	}
	to := r.Attitude()
	to.Tilt += 150 * frame.Degree
	var tip *mount.TipError
	if _, err := m.TurnPlate(m.Settings(), to); !errors.As(err, &tip) || !(tip.Tip > tip.Cone) {
		t.Errorf("tilted by 150° more: %v", err)
	}
}
