package gaze_test

import (
	"fmt"
	"math"
	"runtime"
	"sync"
	"sync/atomic"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/testdata/trials"
)

// TestClinic places screens for many invented people, in up to three postures,
// and confirms each answer by other means: the aim is within its ranges, a
// positive margin holds for points of the ellipsoid of movement and of a ball
// about it, and what is called limiting is lost soon after. Each trial has random
// numbers of its own, so that one can be run again alone.
func TestClinic(t *testing.T) {
	trials := trials.Asked(t, 50, 200)
	var workable atomic.Int64
	var group sync.WaitGroup
	workers := runtime.GOMAXPROCS(0)
	for worker := range workers {
		group.Go(func() {
			for trial := worker; trial < trials; trial += workers {
				if clinicTrial(t, trial) {
					workable.Add(1)
				}
			}
		})
	}
	group.Wait()
	if n := workable.Load(); n < int64(trials/4) {
		t.Errorf("a screen was found for %d of %d: too few to tell", n, trials)
	}
}

// clinicTrial places and confirms one screen and reports whether it works.
func clinicTrial(t *testing.T, trial int) bool {
	t.Helper()
	draw := newDrawing(1<<32 + uint64(trial))
	device, scene := draw.device(), draw.scene()
	postures := draw.postures(scene, 1+trial%3)
	r := request(device, scene, postures)
	r.Upright = gaze.Upright(draw.IntN(2))
	if draw.IntN(2) == 0 {
		r.Limits = gaze.NewFaceDistance(device, postures, draw.between(250, 450)).EyeByEye()
	}
	target, err := gaze.Place(r)
	if err != nil || !isNumber(target.Score) || !isNumber(target.MarginMM) || !target.Pose.IsFinite() || !aimWithin(target.Aim, r.Ranges) {
		t.Errorf("trial %d: %+v, %v", trial, target, err)
		return false
	}
	for i := range postures {
		if err := confirm(draw, define(device, scene.Person, target.Pose, &postures[i]), &postures[i], target, i == target.Posture); err != nil {
			t.Errorf("trial %d, posture %d: %v", trial, i, err)
		}
	}
	return target.MarginMM > 0
}

// confirm checks a target's margin in one posture, the worst of all or another,
// from the definitions.
func confirm(draw drawing, def definition, st *gaze.PostureInCarrier, target gaze.Target, worst bool) error {
	// The arc of the gaze limit bends away from an ellipsoid, so that some mm more
	// than the margin may be left there; and where one eye is enough, the other may
	// take over when it is lost.
	const moreMM = 20
	if worst && def.used != gaze.Either && !someLost(def, st, moreMM+math.Abs(target.MarginMM)) {
		return fmt.Errorf("margin %.3f mm exceeded by %d mm, and nothing is lost", target.MarginMM, moreMM)
	}
	if target.MarginMM < 0 {
		return nil
	}
	m := st.MovementMM
	for range 40 {
		u := draw.unit()
		v := r3.Add(
			st.Seat.Apply(r3.Vec{X: m.X * u.X, Y: m.Y * u.Y, Z: m.Z * u.Z}),
			r3.Scale(target.MarginMM*(1-hair), draw.unit()))
		if !def.holds(st, v) {
			return fmt.Errorf("margin %.3f mm, but the head moved by %v loses a condition", target.MarginMM, v)
		}
	}
	return nil
}

// someLost reports whether a condition is lost somewhere at an excess beyond the
// ellipsoid of movement: the excess along the direction that the point of the
// ellipsoid is furthest in.
func someLost(def definition, st *gaze.PostureInCarrier, excessMM float64) bool {
	m := st.MovementMM
	for _, n := range spread(600) {
		a := st.Seat.ApplyInverse(n)
		w := r3.Vec{X: m.X * m.X * a.X, Y: m.Y * m.Y * a.Y, Z: m.Z * m.Z * a.Z}
		if s := math.Sqrt(r3.Dot(w, a)); s > 0 {
			w = r3.Scale(1/s, w)
		}
		if !def.holds(st, r3.Add(st.Seat.Apply(w), r3.Scale(excessMM, n))) {
			return true
		}
	}
	return false
}
