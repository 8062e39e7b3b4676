package gaze_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
)

// TestCutEndsWhereTheTrackerDoes: on every ray the tracker works up to the edge
// and not beyond, judged by angles and depths alone, and the condition named is
// the one that fails.
func TestCutEndsWhereTheTrackerDoes(t *testing.T) {
	const (
		stepMM = 0.01
		edgeMM = 1e-5 // an edge is followed to within 1e-7 mm; rays that graze an arc somewhat less
	)
	draw := newDrawing(30)
	for trial := range 24 {
		device, scene := draw.device(), draw.scene()
		postures := draw.postures(scene, 1)
		st := &postures[0]
		target, err := gaze.Place(request(device, scene, postures))
		if err != nil {
			t.Fatal(err)
		}
		if target.MarginMM < 1 {
			continue
		}
		judge := gaze.NewJudge(device, scene.Person)
		def := define(device, scene.Person, target.Pose, st)
		origin := r3.Add(st.Head.At, r3.Scale(target.MarginMM/2, draw.unit()))
		across := draw.unit()
		up := r3.Unit(r3.Cross(across, draw.unit()))
		edges := judge.Cut(target.Pose, st, origin, across, up, 48)
		if len(edges) != 48 {
			t.Fatalf("trial %d: %d edges", trial, len(edges))
		}
		for i, e := range edges {
			s, c := math.Sincos(2 * math.Pi * float64(i) / 48)
			dir := r3.Add(r3.Scale(c, across), r3.Scale(s, up))
			if d := r3.Norm(r3.Sub(e.At, r3.Add(origin, r3.Scale(e.DistMM, dir)))); d > 1e-6 {
				t.Fatalf("trial %d: edge %d is %g mm off its ray", trial, i, d)
			}
			out := r3.Sub(e.At, st.Head.At)
			for _, part := range []float64{0.1, 0.5, 0.9, 1 - stepMM/e.DistMM} {
				within := r3.Add(r3.Sub(origin, st.Head.At), r3.Scale(part*e.DistMM, dir))
				if e.DistMM > 2*stepMM && !def.holds(st, within) {
					t.Fatalf("trial %d: ray %d: lost at %g of the way to the edge", trial, i, part)
				}
			}
			beyond := r3.Add(out, r3.Scale(stepMM, dir))
			if def.holds(st, beyond) {
				t.Errorf("trial %d: ray %d: still works %g mm beyond the edge at %.3f mm (%v)", trial, i, stepMM, e.DistMM, e.Condition)
			}
			moved := st.Moved(out)
			moved.MovementMM = r3.Vec{}
			if mm, _ := judge.Margin(target.Pose, &moved); math.Abs(mm) > edgeMM {
				t.Errorf("trial %d: ray %d: margin at the edge is %g mm", trial, i, mm)
			}
		}
	}
}

func TestCutFromOutside(t *testing.T) {
	scene, device := inventedScene(), inventedDevice()
	st := scene.InCarrier(scene.Measured.AsMeasured("measured"))
	judge := gaze.NewJudge(device, scene.Person)
	far := frame.Pose{Rot: frame.FromAxes(r3.Vec{Y: -1}, r3.Vec{Z: 1}), At: r3.Add(st.Head.At, r3.Vec{X: 3000})}
	if edges := judge.Cut(far, &st, st.Head.At, r3.Vec{X: 1}, r3.Vec{Z: 1}, 12); edges != nil {
		t.Errorf("a screen 3 m off has a region: %v", edges)
	}
	near := far
	near.At = r3.Add(st.Head.At, r3.Vec{X: 600, Z: -30})
	if edges := judge.Cut(near, &st, st.Head.At, r3.Vec{X: 1}, r3.Vec{Z: 1}, 0); edges != nil {
		t.Errorf("no rays gave %v", edges)
	}
}

// TestShareAgainstGrid compares the share of the used area with counting on a
// dense grid which places are within gaze limit and gaze range.
func TestShareAgainstGrid(t *testing.T) {
	// Half a cell along an edge that crosses a grid of 100 rows and columns is
	// 1/200; opposite errors cancel for the most part.
	const n, tolerance = 100, 0.005
	draw := newDrawing(31)
	partial := 0
	for trial := range 60 {
		device, scene := draw.device(), draw.scene()
		// Narrow limits, so that parts of the screen get lost.
		device.Tracker.GazeLimit = draw.degrees(8, 30)
		scene.Person.GazeRange.Left, scene.Person.GazeRange.Up = draw.degrees(4, 25), draw.degrees(2, 15)
		st := scene.InCarrier(draw.posture(scene))
		screen := draw.screen(&st, device.Tracker)
		judge := gaze.NewJudge(device, scene.Person)
		got := judge.Share(screen, &st)

		def, used := define(device, scene.Person, screen, &st), device.Screen.Used
		want := 0.0
		for _, set := range eyesNeeded(scene.Person.Eyes) {
			count := 0
			for i := range n * n {
				place := r3.Vec{
					X: used.LeftMM + (used.RightMM-used.LeftMM)*(float64(i%n)+0.5)/n,
					Y: used.BottomMM + (used.TopMM-used.BottomMM)*(float64(i/n)+0.5)/n,
				}
				in := true
				for _, eye := range set {
					in = in && def.inRange(place, st.Eyes[eye])
				}
				if in {
					count++
				}
			}
			want = max(want, float64(count)/(n*n))
		}
		if !(math.Abs(got-want) <= tolerance) {
			t.Errorf("trial %d: share %.4f, on the grid %.4f", trial, got, want)
		}
		if want > 0.05 && want < 0.95 {
			partial++
		}
	}
	if partial < 15 {
		t.Errorf("only %d screens were in range in part: too few to tell", partial)
	}
}

// TestShareIsWholeWithinTheMargin: where no corner is lost, no place is.
func TestShareIsWholeWithinTheMargin(t *testing.T) {
	draw := newDrawing(32)
	for trial := range 30 {
		device, scene := draw.device(), draw.scene()
		postures := draw.postures(scene, 1)
		target, err := gaze.Place(request(device, scene, postures))
		if err != nil {
			t.Fatal(err)
		}
		judge := gaze.NewJudge(device, scene.Person)
		if share := judge.Share(target.Pose, &postures[0]); target.MarginMM > 0 && share != 1 {
			t.Errorf("trial %d: margin %.2f mm, share %.9f", trial, target.MarginMM, share)
		}
	}
}
