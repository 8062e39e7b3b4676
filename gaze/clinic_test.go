package gaze_test

import (
	"math"
	"os"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
)

// clinicTrials is how many invented people TestClinic sees: 200, or as many as
// the environment asks for.
func clinicTrials(t *testing.T) int {
	t.Helper()
	asked := os.Getenv("SIGHTPOST_TRIALS")
	if asked == "" {
		return 200
	}
	n, err := strconv.Atoi(asked)
	if err != nil || n < 1 {
		t.Fatalf("SIGHTPOST_TRIALS=%q: want a number of trials, such as 10000", asked)
	}
	return n
}

// TestClinic places screens for many invented people, in up to three postures,
// and confirms each answer by other means: the aim is within its ranges, a
// positive margin holds for points of the ellipsoid of movement and of a ball
// about it, and what is called tightest is lost soon after.
func TestClinic(t *testing.T) {
	draw := newDrawing(50)
	workable := 0
	trials := clinicTrials(t)
	for trial := range trials {
		device, scene := draw.device(), draw.scene()
		stances := draw.stances(scene, 1+trial%3)
		r := request(device, scene, stances)
		r.Upright = gaze.Upright(draw.IntN(2))
		if draw.IntN(2) == 0 {
			r.Limits = []gaze.Limit{gaze.NewFaceDistance(device, stances, draw.between(250, 450))}
		}
		target, err := gaze.Place(r)
		if err != nil {
			t.Fatalf("trial %d: %v", trial, err)
		}
		if math.IsNaN(target.Score) || math.IsNaN(target.MarginMM) || !target.Pose.IsFinite() || !aimWithin(target.Aim, r.Ranges) {
			t.Fatalf("trial %d: %+v", trial, target)
		}
		for i := range stances {
			confirm(t, trial, draw, device, scene, &stances[i], target, i == target.Stance)
		}
		if target.MarginMM > 0 {
			workable++
		}
	}
	if workable < trials/4 {
		t.Errorf("a screen was found for %d of %d: too few to tell", workable, trials)
	}
}

// confirm checks a target's margin in one stance from the definitions.
func confirm(t *testing.T, trial int, draw drawing, device gaze.Device, scene gaze.Scene, st *gaze.Stance, target gaze.Target, worst bool) {
	t.Helper()
	def, used, m := define(device, scene.Person, target.Pose, st), scene.Person.Eyes, scene.Person.MovementMM
	if target.MarginMM < 0 {
		// Somewhere within the usual movement, or just beyond it, something is lost.
		if worst && !someLost(def, used, st, 20-target.MarginMM) {
			t.Errorf("trial %d: margin %.3f mm, but nothing is lost", trial, target.MarginMM)
		}
		return
	}
	for range 40 {
		u := draw.unit()
		v := r3.Add(
			st.Seat.Apply(r3.Vec{X: m.X * u.X, Y: m.Y * u.Y, Z: m.Z * u.Z}),
			r3.Scale(target.MarginMM*(1-hair), draw.unit()))
		if !def.holds(used, st, v) {
			t.Fatalf("trial %d: margin %.3f mm, but the head moved by %v loses a condition", trial, target.MarginMM, v)
		}
	}
	// The arc of the gaze limit bends away from an ellipsoid, so that some mm more
	// than the margin may be left there.
	if worst && !someLost(def, used, st, target.MarginMM+20) {
		t.Errorf("trial %d: margin %.3f mm exceeded by 20 mm, and nothing is lost", trial, target.MarginMM)
	}
}

// someLost reports whether a condition is lost somewhere at an excess beyond the
// ellipsoid of movement: the excess along the direction that the point of the
// ellipsoid is furthest in.
func someLost(def definition, used gaze.EyesUsed, st *gaze.Stance, excessMM float64) bool {
	m := st.MovementMM
	for _, n := range spread(600) {
		a := st.Seat.ApplyInverse(n)
		w := r3.Vec{X: m.X * m.X * a.X, Y: m.Y * m.Y * a.Y, Z: m.Z * m.Z * a.Z}
		if s := math.Sqrt(r3.Dot(w, a)); s > 0 {
			w = r3.Scale(1/s, w)
		}
		if !def.holds(used, st, r3.Add(st.Seat.Apply(w), r3.Scale(excessMM, n))) {
			return true
		}
	}
	return false
}
