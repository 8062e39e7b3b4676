package gaze_test

import (
	"math"
	"slices"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/testdata/reference"
)

func rotationsApart(a, b frame.Rotation) float64 {
	return max(r3.Norm(r3.Sub(a.X, b.X)), r3.Norm(r3.Sub(a.Y, b.Y)), r3.Norm(r3.Sub(a.Z, b.Z)))
}

func TestRotationsAgainstLibrary(t *testing.T) {
	// A dozen roundings of numbers of order one on either side.
	const tolerance = 1e-14
	type values struct {
		Head          reference.Triple `json:"head_deg"`
		HeadMatrix    reference.Rows   `json:"head_matrix"`
		HeadVector    reference.Triple `json:"head_vector"`
		Vector        reference.Triple
		VectorMatrix  reference.Rows `json:"vector_matrix"`
		ProductMatrix reference.Rows `json:"product_matrix"`
	}
	for i, ref := range reference.Read[values](t, "rotations") {
		head, turn := ref.Head.Head().Turn(), frame.FromVector(ref.Vector.Vec())
		for _, row := range []struct {
			name string
			off  float64
		}{
			{"head angles", rotationsApart(head, ref.HeadMatrix.Rotation())},
			{"from a vector", rotationsApart(turn, ref.VectorMatrix.Rotation())},
			{"product", rotationsApart(head.Mul(turn), ref.ProductMatrix.Rotation())},
			// The axis is known from a sine, which near half a turn is the small
			// difference of numbers of order one: the reference itself has 1e-13 there.
			{"head's vector", r3.Norm(r3.Sub(head.Vector(), ref.HeadVector.Vec())) / 100},
			{"vector and back", r3.Norm(r3.Sub(turn.Vector(), ref.Vector.Vec())) / 100},
		} {
			if !(row.off <= tolerance) {
				t.Errorf("case %d: %s: off by %g", i, row.name, row.off)
			}
		}
	}
}

func TestPosturesAgainstLibrary(t *testing.T) {
	const toleranceMM = 1e-9 // points some meters off after a dozen rigid moves
	type values struct {
		Scene    reference.Scene
		Posture  reference.Posture
		Head     reference.Rows
		LeftEye  reference.Triple `json:"left_eye"`
		RightEye reference.Triple `json:"right_eye"`
		Seat     reference.Rows
	}
	for i, ref := range reference.Read[values](t, "postures") {
		st := ref.Scene.ToScene().InCarrier(ref.Posture.ToPosture())
		want := ref.Head.Pose()
		for _, row := range []struct {
			name string
			off  float64
		}{
			{"head", r3.Norm(r3.Sub(st.Head.At, want.At))},
			{"head's attitude", 1000 * rotationsApart(st.Head.Rot, want.Rot)},
			{"left eye", r3.Norm(r3.Sub(st.Eyes[gaze.LeftEye], ref.LeftEye.Vec()))},
			{"right eye", r3.Norm(r3.Sub(st.Eyes[gaze.RightEye], ref.RightEye.Vec()))},
			{"seat", 1000 * rotationsApart(st.Seat, ref.Seat.Rotation())},
		} {
			if !(row.off <= toleranceMM) {
				t.Errorf("case %d: %s: off by %g mm", i, row.name, row.off)
			}
		}
	}
}

// roomsReference is one screen before one head, judged by hulls and sampling.
type roomsReference struct {
	Scene   reference.Scene
	Posture reference.Posture
	Screen  reference.Rows
	// View and Limit are by eye.
	View  [2][]float64
	Limit [2]map[string]float64
	Ball  struct {
		Center reference.Triple
		Radius float64
	}
	Extent [2]reference.Triple
}

func TestRoomsAgainstLibrary(t *testing.T) {
	const (
		viewMM  = 1e-9 // hull and planes agree to rounding
		limitMM = 1e-5 // the nearest point is sampled to 1e-3 mm along a surface it is square to
	)
	for i, ref := range reference.Read[roomsReference](t, "margins") {
		st := ref.Scene.ToScene().InCarrier(ref.Posture.ToPosture())
		judge := gaze.NewJudge(ref.Scene.ToDevice(), ref.Scene.ToScene().Person)
		var view [2][]float64
		for _, margin := range judge.Margins(nil, ref.Screen.Pose(), &st) {
			c := margin.Condition
			switch {
			case c.Kind <= gaze.PastBottom:
				view[c.Eye] = append(view[c.Eye], margin.MM)
			case c.Kind == gaze.GazeLimit:
				name := c.Corner.String()[:len(c.Corner.String())-len(" corner")]
				if want, ok := ref.Limit[c.Eye][name]; !ok || !(math.Abs(margin.MM-want) <= limitMM) {
					t.Errorf("case %d: %v: %.9f mm, want %.9f mm", i, c, margin.MM, want)
				}
			}
		}
		for eye := range view {
			slices.Sort(view[eye])
			for k, want := range ref.View[eye] {
				if !(math.Abs(view[eye][k]-want) <= viewMM) {
					t.Errorf("case %d: %v: face %d: %.9f mm, want %.9f mm", i, gaze.Eye(eye), k, view[eye][k], want)
				}
			}
		}
	}
}

// TestRegionAgainstLibrary: with a gaze limit too wide to matter the region of
// head positions is a polytope. At the center of the largest ball in it the
// margin is the ball's radius, and the region ends where the polytope does.
func TestRegionAgainstLibrary(t *testing.T) {
	const toleranceMM = 1e-6 // the linear program's own, on numbers of hundreds
	for i, ref := range reference.Read[roomsReference](t, "margins") {
		scene, device := ref.Scene.ToScene(), ref.Scene.ToDevice()
		device.Tracker.GazeLimit = 89.9 * frame.Degree
		st := scene.InCarrier(ref.Posture.ToPosture())
		judge := gaze.NewJudge(device, scene.Person)
		center := st.Moved(ref.Ball.Center.Vec())
		mm, c := judge.Margin(ref.Screen.Pose(), &center)
		if c.Kind == gaze.GazeLimit || !(math.Abs(mm-ref.Ball.Radius) <= toleranceMM) {
			t.Errorf("case %d: margin %.9f mm (%v), want %.9f mm", i, mm, c, ref.Ball.Radius)
		}
		low, high := ref.Extent[0].Vec(), ref.Extent[1].Vec()
		for _, dir := range spread(300) {
			e := judge.Edge(ref.Screen.Pose(), &center, dir)
			v := r3.Sub(e.At, st.Head.At)
			if clamped := (r3.Vec{X: min(max(v.X, low.X), high.X), Y: min(max(v.Y, low.Y), high.Y), Z: min(max(v.Z, low.Z), high.Z)}); r3.Norm(r3.Sub(v, clamped)) > toleranceMM {
				t.Errorf("case %d: edge at %v is outside %v to %v", i, v, low, high)
			}
		}
	}
}

// TestTargetAgainstLibrary: the score is that of a global search, and the aim
// that the search found is worth as much here.
func TestTargetAgainstLibrary(t *testing.T) {
	const (
		scoreMM = 0.1  // what a tape can never show, and what the search promises
		sameMM  = 1e-6 // two codings of the same definitions at the same aim
	)
	type values struct {
		reference.Scene
		Postures     []reference.Posture
		Upright      string
		FaceDistance float64 `json:"face_distance"`
		Rates        struct{ Gaze, Distance, Facing, Roll float64 }
		Score        float64
		Margin       float64
		Aim          [6]float64
	}
	for i, ref := range reference.Read[values](t, "target") {
		t.Run(strconv.Itoa(i), func(t *testing.T) {
			scene, device := ref.ToScene(), ref.ToDevice()
			var postures []gaze.PostureInCarrier
			for _, p := range ref.Postures {
				postures = append(postures, scene.InCarrier(p.ToPosture()))
			}
			r := request(device, scene, postures)
			r.Rates = gaze.Rates{
				GazePerDegree: ref.Rates.Gaze, FacingPerDegree: ref.Rates.Facing,
				RollPerDegree: ref.Rates.Roll, DistancePerMM: ref.Rates.Distance,
			}
			if ref.Upright == "room" {
				r.Upright = gaze.WithLevel
			}
			if ref.FaceDistance > 0 {
				r.Limits = gaze.NewFaceDistance(device, postures, ref.FaceDistance).EyeByEye()
			}
			target, err := gaze.Place(r)
			if err != nil {
				t.Fatal(err)
			}
			if target.BrokenMM > sameMM {
				t.Errorf("a limit is broken by %g mm", target.BrokenMM)
			}
			got, want := target.Score, ref.Score
			if ref.Margin < -scoreMM {
				got, want = target.MarginMM, ref.Margin
			}
			if d := got - want; !(math.Abs(d) <= scoreMM) {
				t.Errorf("score or margin %.4f mm, a global search finds %.4f mm: %+.4f\n%+v\n%v", got, want, d, target.Aim, ref.Aim)
			}
		})
	}
}

func deg(v float64) frame.Angle { return frame.Angle(v) * frame.Degree }
