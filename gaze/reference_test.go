package gaze_test

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
)

// The values under testdata/reference were made by general-purpose libraries of
// another language from the definitions; testdata/reference/make writes them
// afresh.

// readReference reads the cases of one subject.
func readReference[T any](t *testing.T, subject string) []T {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join("..", "testdata", "reference", "values", subject+".json"))
	if err != nil {
		t.Fatal(err)
	}
	var file struct{ Cases []T }
	if err := json.Unmarshal(raw, &file); err != nil {
		t.Fatal(err)
	}
	if len(file.Cases) == 0 {
		t.Fatalf("no cases of %s", subject)
	}
	return file.Cases
}

type triple [3]float64

func (v triple) vec() r3.Vec { return r3.Vec{X: v[0], Y: v[1], Z: v[2]} }

func (v triple) head() gaze.Head {
	return gaze.Head{Rotation: deg(v[0]), Flexion: deg(v[1]), LateralFlexion: deg(v[2])}
}

func deg(v float64) frame.Angle { return frame.Angle(v) * frame.Degree }

// rows are the rows of a rotation matrix or of the upper part of a pose.
type rows [][]float64

func (m rows) rotation() frame.Rotation {
	column := func(k int) r3.Vec { return r3.Vec{X: m[0][k], Y: m[1][k], Z: m[2][k]} }
	return frame.Rotation{X: column(0), Y: column(1), Z: column(2)}
}

func (m rows) pose() frame.Pose {
	return frame.Pose{Rot: m.rotation(), At: r3.Vec{X: m[0][3], Y: m[1][3], Z: m[2][3]}}
}

func rotationsApart(a, b frame.Rotation) float64 {
	return max(r3.Norm(r3.Sub(a.X, b.X)), r3.Norm(r3.Sub(a.Y, b.Y)), r3.Norm(r3.Sub(a.Z, b.Z)))
}

func TestRotationsAgainstLibrary(t *testing.T) {
	// A dozen roundings of numbers of order one on either side.
	const tolerance = 1e-14
	type reference struct {
		Head          triple `json:"head_deg"`
		HeadMatrix    rows   `json:"head_matrix"`
		HeadVector    triple `json:"head_vector"`
		Vector        triple
		VectorMatrix  rows `json:"vector_matrix"`
		ProductMatrix rows `json:"product_matrix"`
	}
	for i, ref := range readReference[reference](t, "rotations") {
		head, turn := ref.Head.head().Turn(), frame.FromVector(ref.Vector.vec())
		for _, row := range []struct {
			name string
			off  float64
		}{
			{"head angles", rotationsApart(head, ref.HeadMatrix.rotation())},
			{"from a vector", rotationsApart(turn, ref.VectorMatrix.rotation())},
			{"product", rotationsApart(head.Mul(turn), ref.ProductMatrix.rotation())},
			// The axis is known from a sine, which near half a turn is the small
			// difference of numbers of order one: the reference itself has 1e-13 there.
			{"head's vector", r3.Norm(r3.Sub(head.Vector(), ref.HeadVector.vec())) / 100},
			{"vector and back", r3.Norm(r3.Sub(turn.Vector(), ref.Vector.vec())) / 100},
		} {
			if !(row.off <= tolerance) {
				t.Errorf("case %d: %s: off by %g", i, row.name, row.off)
			}
		}
	}
}

// referenceScene is how the reference scripts write a scene.
type referenceScene struct {
	Person struct {
		PupilSpacing float64 `json:"pupil_spacing"`
		NeckToEyes   triple  `json:"neck_to_eyes"`
		Eyes         string
		Rest         struct{ Down, Left float64 }
		GazeRange    struct{ Left, Right, Up, Down float64 } `json:"gaze_range"`
		Movement     triple
	}
	Chair struct {
		TiltPivot triple `json:"tilt_pivot"`
		BackHinge triple `json:"back_hinge"`
	}
	Measured struct {
		SeatTilt  float64 `json:"seat_tilt"`
		BackAngle float64 `json:"back_angle"`
		Eyes      triple
		Head      triple
	}
	Carrier string
	Device  struct {
		Width, Height   float64
		Used            [4]float64
		Housing         triple
		HousingBelow    float64 `json:"housing_below"`
		Near, Best, Far float64
		Across          float64
		UpDown          float64 `json:"up_down"`
		Below           float64
		InFront         float64 `json:"in_front"`
		AimedUp         float64 `json:"aimed_up"`
		GazeLimit       float64 `json:"gaze_limit"`
	}
}

type referencePosture struct {
	SeatTilt  float64 `json:"seat_tilt"`
	BackAngle float64 `json:"back_angle"`
	Slump     float64
	Head      triple
}

func (p referencePosture) posture() gaze.Posture {
	return gaze.Posture{SeatTilt: deg(p.SeatTilt), BackAngle: deg(p.BackAngle), SlumpMM: p.Slump, Head: p.Head.head()}
}

func (r *referenceScene) scene() gaze.Scene {
	p, m := &r.Person, &r.Measured
	s := gaze.Scene{
		Person: gaze.Person{
			PupilSpacingMM: p.PupilSpacing, NeckToEyesMM: p.NeckToEyes.vec(),
			RestGaze:   &gaze.GazeDirection{Down: deg(p.Rest.Down), Left: deg(p.Rest.Left)},
			GazeRange:  gaze.GazeRange{Left: deg(p.GazeRange.Left), Right: deg(p.GazeRange.Right), Up: deg(p.GazeRange.Up), Down: deg(p.GazeRange.Down)},
			MovementMM: p.Movement.vec(),
			Eyes:       map[string]gaze.EyesUsed{"both": gaze.Both, "left": gaze.LeftOnly, "right": gaze.RightOnly, "either": gaze.Either}[p.Eyes],
		},
		Chair: gaze.Chair{TiltPivotMM: r.Chair.TiltPivot.vec(), BackHingeMM: r.Chair.BackHinge.vec()},
		Measured: gaze.Sitting{
			SeatTilt: deg(m.SeatTilt), BackAngle: deg(m.BackAngle), EyesMM: m.Eyes.vec(), Head: m.Head.head(),
		},
	}
	if r.Carrier == "base" {
		s.Carrier = gaze.Base
	}
	return s
}

func (r *referenceScene) device() gaze.Device {
	d := &r.Device
	return gaze.Device{
		Screen: gaze.Screen{
			WidthMM: d.Width, HeightMM: d.Height, HousingMM: d.Housing.vec(), HousingBelowMM: d.HousingBelow,
			Used: gaze.Rect{LeftMM: d.Used[0], RightMM: d.Used[1], BottomMM: d.Used[2], TopMM: d.Used[3]},
		},
		Tracker: gaze.Tracker{
			NearMM: d.Near, BestMM: d.Best, FarMM: d.Far, Across: deg(d.Across), UpDown: deg(d.UpDown),
			BelowMM: d.Below, InFrontMM: d.InFront, AimedUp: deg(d.AimedUp), GazeLimit: deg(d.GazeLimit),
		},
	}
}

func TestPosturesAgainstLibrary(t *testing.T) {
	const toleranceMM = 1e-9 // points some meters off after a dozen rigid moves
	type reference struct {
		Scene    referenceScene
		Posture  referencePosture
		Head     rows
		LeftEye  triple `json:"left_eye"`
		RightEye triple `json:"right_eye"`
		Seat     rows
	}
	for i, ref := range readReference[reference](t, "postures") {
		st := ref.Scene.scene().InCarrier(ref.Posture.posture())
		want := ref.Head.pose()
		for _, row := range []struct {
			name string
			off  float64
		}{
			{"head", r3.Norm(r3.Sub(st.Head.At, want.At))},
			{"head's attitude", 1000 * rotationsApart(st.Head.Rot, want.Rot)},
			{"left eye", r3.Norm(r3.Sub(st.Eyes[gaze.LeftEye], ref.LeftEye.vec()))},
			{"right eye", r3.Norm(r3.Sub(st.Eyes[gaze.RightEye], ref.RightEye.vec()))},
			{"seat", 1000 * rotationsApart(st.Seat, ref.Seat.rotation())},
		} {
			if !(row.off <= toleranceMM) {
				t.Errorf("case %d: %s: off by %g mm", i, row.name, row.off)
			}
		}
	}
}

// roomsReference is one screen before one head, judged by hulls and sampling.
type roomsReference struct {
	Scene   referenceScene
	Posture referencePosture
	Screen  rows
	// View and Limit are by eye.
	View  [2][]float64
	Limit [2]map[string]float64
	Ball  struct {
		Centre triple
		Radius float64
	}
	Extent [2]triple
}

func TestRoomsAgainstLibrary(t *testing.T) {
	const (
		viewMM  = 1e-9 // hull and planes agree to rounding
		limitMM = 1e-5 // the nearest point is sampled to 1e-3 mm along a surface it is square to
	)
	for i, ref := range readReference[roomsReference](t, "margins") {
		st := ref.Scene.scene().InCarrier(ref.Posture.posture())
		judge := gaze.NewJudge(ref.Scene.device(), ref.Scene.scene().Person)
		var view [2][]float64
		for _, margin := range judge.Margins(nil, ref.Screen.pose(), &st) {
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
// head positions is a polytope. At the centre of the largest ball in it the
// margin is the ball's radius, and the region ends where the polytope does.
func TestRegionAgainstLibrary(t *testing.T) {
	const toleranceMM = 1e-6 // the linear program's own, on numbers of hundreds
	for i, ref := range readReference[roomsReference](t, "margins") {
		scene, device := ref.Scene.scene(), ref.Scene.device()
		device.Tracker.GazeLimit = 89.9 * frame.Degree
		st := scene.InCarrier(ref.Posture.posture())
		judge := gaze.NewJudge(device, scene.Person)
		centre := st.Moved(ref.Ball.Centre.vec())
		mm, c := judge.Margin(ref.Screen.pose(), &centre)
		if c.Kind == gaze.GazeLimit || !(math.Abs(mm-ref.Ball.Radius) <= toleranceMM) {
			t.Errorf("case %d: margin %.9f mm (%v), want %.9f mm", i, mm, c, ref.Ball.Radius)
		}
		low, high := ref.Extent[0].vec(), ref.Extent[1].vec()
		for _, dir := range spread(300) {
			e := judge.Edge(ref.Screen.pose(), &centre, dir)
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
	type reference struct {
		referenceScene
		Postures     []referencePosture
		Upright      string
		FaceDistance float64 `json:"face_distance"`
		Rates        struct{ Gaze, Distance, Facing, Roll float64 }
		Score        float64
		Margin       float64
		Aim          [6]float64
	}
	for i, ref := range readReference[reference](t, "target") {
		t.Run(strconv.Itoa(i), func(t *testing.T) {
			scene, device := ref.scene(), ref.device()
			var postures []gaze.PostureInCarrier
			for _, p := range ref.Postures {
				postures = append(postures, scene.InCarrier(p.posture()))
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
