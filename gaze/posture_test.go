package gaze_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/testdata/reference"
)

// TestHeadSigns: the anatomical words point where the trade has them.
func TestHeadSigns(t *testing.T) {
	const some = 20 * frame.Degree
	for _, row := range []struct {
		name      string
		head      gaze.Head
		in        r3.Vec
		direction r3.Vec // toward which the turned vector leans
	}{
		{"rotation to the left takes the nose left", gaze.Head{Rotation: some}, r3.Vec{X: 1}, r3.Vec{Y: 1}},
		{"flexion takes the nose down", gaze.Head{Flexion: some}, r3.Vec{X: 1}, r3.Vec{Z: -1}},
		{"lateral flexion takes the crown to the left shoulder", gaze.Head{LateralFlexion: some}, r3.Vec{Z: 1}, r3.Vec{Y: 1}},
		{"lateral flexion lowers the left eye", gaze.Head{LateralFlexion: some}, r3.Vec{Y: 1}, r3.Vec{Z: -1}},
	} {
		t.Run(row.name, func(t *testing.T) {
			got := r3.Dot(row.head.Turn().Apply(row.in), row.direction)
			if want := math.Sin(some.Radians()); !(math.Abs(got-want) <= 1e-15) {
				t.Errorf("leans by %g, want %g", got, want)
			}
		})
	}
}

// TestNeckTurns: how the eyes move when the head nods about the neck, 80.5 mm
// behind and 75 mm below them: the means of the US Army survey of 1988 (C. C.
// Gordon et al., NATICK/TR-89/044), as quoted in the source of an open head model.
func TestNeckTurns(t *testing.T) {
	const half = 0.005
	for _, row := range []struct {
		name       string
		chinUp     float64 // degrees
		forward, z float64 // mm
	}{
		{"chin up 10°", 10, -14.25, 12.84},
		{"chin up 20°", 20, -30.51, 23.01},
		{"chin down 20°", -20, 20.80, -32.06},
	} {
		t.Run(row.name, func(t *testing.T) {
			scene := inventedScene()
			scene.Person.NeckToEyesMM = r3.Vec{X: 80.5, Z: 75}
			p := scene.Measured.AsMeasured("nodding")
			p.Head.Flexion = deg(-row.chinUp)
			got := r3.Sub(scene.InCarrier(p).Head.At, scene.Measured.EyesMM)
			if !(r3.Norm(r3.Sub(got, r3.Vec{X: row.forward, Z: row.z})) <= 2*half) {
				t.Errorf("eyes moved by %.3f, want forward %g, up %g", got, row.forward, row.z)
			}
		})
	}
}

// TestTiltMovesTheEyes: eyes 804.5 mm above the seat (ANSUR II, men, mean) swing
// about a pivot at the seat.
func TestTiltMovesTheEyes(t *testing.T) {
	const half = 0.005
	for _, row := range []struct{ tilt, forward, up float64 }{
		{15, -208.22, -27.41}, {30, -402.25, -107.78}, {45, -568.87, -235.63},
	} {
		chair := gaze.Chair{TiltPivotMM: r3.Vec{Z: 495}}
		measured := gaze.Sitting{BackAngle: 90 * frame.Degree, EyesMM: r3.Vec{Z: 495 + 804.5}}
		p := measured.AsMeasured("tilted")
		p.SeatTilt = deg(row.tilt)
		got := r3.Sub(chair.HeadPose(gaze.Person{}, measured, p).At, measured.EyesMM)
		if !(r3.Norm(r3.Sub(got, r3.Vec{X: row.forward, Z: row.up})) <= 2*half) {
			t.Errorf("tilt %g°: eyes moved by %.3f, want forward %g, up %g", row.tilt, got, row.forward, row.up)
		}
	}
}

// TestTiltAndReclineByDefinition: tilt moves seat, back support and person as one
// and keeps every relative angle; recline moves the back support alone (Handbook
// of Electronic Assistive Technology, p. 272). The angles are those of studies of
// pressure relief: Y.-K. Jan et al., Arch. Phys. Med. Rehabil. 91(11), 2010,
// 1758-1764.
func TestTiltAndReclineByDefinition(t *testing.T) {
	const toleranceMM = 1e-9
	scene := inventedScene()
	for _, back := range []float64{100, 120} {
		level := scene.Measured.AsMeasured("level")
		level.BackAngle = deg(back)
		atRest := scene.InCarrier(level)
		for _, tilt := range []float64{15, 25, 35} {
			p := level
			p.SeatTilt = deg(tilt)
			st := scene.InCarrier(p)
			if d := r3.Norm(r3.Sub(st.Head.At, atRest.Head.At)); !(d <= toleranceMM) {
				t.Errorf("back %g°, tilt %g°: eyes moved by %g mm against the seat", back, tilt, d)
			}
			if d := rotationsApart(st.Head.Rot, atRest.Head.Rot); !(d <= 1e-12) {
				t.Errorf("back %g°, tilt %g°: head turned by %g against the seat", back, tilt, d)
			}
			inRoom := st.Carrier.Rot.Mul(st.Head.Rot)
			if up := frame.Angle(math.Asin(inRoom.X.Z)).Degrees(); !(math.Abs(up-(tilt+back-100)) <= 1e-9) {
				t.Errorf("back %g°, tilt %g°: the head looks up by %g°", back, tilt, up)
			}
		}
	}
	reclined := scene.Measured.AsMeasured("reclined")
	reclined.BackAngle += 20 * frame.Degree
	st, measured := scene.InCarrier(reclined), scene.InCarrier(scene.Measured.AsMeasured("measured"))
	if d := rotationsApart(st.Seat, measured.Seat); d != 0 {
		t.Errorf("recline turned the seat by %g", d)
	}
	hinge := scene.Chair.BackHingeMM
	if before, after := r3.Norm(r3.Sub(measured.Head.At, hinge)), r3.Norm(r3.Sub(st.Head.At, hinge)); !(math.Abs(before-after) <= toleranceMM) {
		t.Errorf("recline took the eyes from %g to %g mm off the hinge", before, after)
	}
	if turned := measured.Head.Rot.Inverse().Mul(st.Head.Rot).Angle().Degrees(); !(math.Abs(turned-20) <= 1e-9) {
		t.Errorf("recline by 20° turned the head by %g°", turned)
	}
}

// TestSlumpFollowsTheBackSupport: sliding down by 40 mm takes the eyes 40 mm down
// along the back support, which leans back with recline and tilt.
func TestSlumpFollowsTheBackSupport(t *testing.T) {
	for _, row := range []struct {
		name          string
		back, tilt    float64
		forward, down float64
	}{
		{"upright back", 90, 0, 0, 40},
		{"back at 120°", 120, 0, 20, 34.641},
		{"back at 90°, tilted by 30°", 90, 30, 20, 34.641},
		{"lying", 180, 0, 40, 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			scene := inventedScene()
			p := scene.Measured.AsMeasured("slid")
			p.BackAngle, p.SeatTilt = deg(row.back), deg(row.tilt)
			before := scene.Chair.HeadPose(scene.Person, scene.Measured, p).At
			p.SlumpMM = 40
			got := r3.Sub(scene.Chair.HeadPose(scene.Person, scene.Measured, p).At, before)
			if !(r3.Norm(r3.Sub(got, r3.Vec{X: row.forward, Z: -row.down})) <= 0.001) {
				t.Errorf("eyes moved by %.3f, want forward %g, down %g", got, row.forward, row.down)
			}
		})
	}
}

// TestMeasuredEyesWin: eyes measured in a posture stand in place of the
// prediction, whatever the posture's angles.
func TestMeasuredEyesWin(t *testing.T) {
	scene := inventedScene()
	eyes := r3.Vec{X: 40, Y: -25, Z: 1111}
	p := gaze.Posture{SeatTilt: 20 * frame.Degree, BackAngle: 130 * frame.Degree, SlumpMM: 30, EyesMM: &eyes, Head: gaze.Head{Flexion: 10 * frame.Degree}, HeadPlumb: true}
	got := scene.Chair.HeadPose(scene.Person, scene.Measured, p)
	if got.At != eyes || got.Rot != p.Head.Turn() {
		t.Errorf("got %v, want eyes at %v with the head's own angles", got, eyes)
	}
}

// TestHeadAgainstPlumb: in a trunk tilted by 15° and reclined by 20° more, an inclinometer on
// a head that has kept its place on the trunk shows 35° less, and one on a level head shows
// 0. The eyes are those of a neck turned by hand about pivot and hinge, and of the head on it.
func TestHeadAgainstPlumb(t *testing.T) {
	const toleranceMM = 1e-9
	scene := inventedScene()
	p := scene.Measured.AsMeasured("back")
	p.SeatTilt += 15 * frame.Degree
	p.BackAngle += 20 * frame.Degree
	carried := scene.Chair.HeadPose(scene.Person, scene.Measured, p)
	p.HeadPlumb = true
	p.Head.Flexion -= 35 * frame.Degree
	read := scene.Chair.HeadPose(scene.Person, scene.Measured, p)
	if d := r3.Norm(r3.Sub(read.At, carried.At)); d > toleranceMM {
		t.Errorf("the eyes are %v mm from those of the same head carried along", d)
	}
	level := gaze.Posture{SeatTilt: p.SeatTilt, BackAngle: p.BackAngle, HeadPlumb: true}
	got := scene.Chair.HeadPose(scene.Person, scene.Measured, level)
	about := func(v, at r3.Vec, deg float64) r3.Vec { // back, in the side view
		sin, cos := math.Sincos(deg * math.Pi / 180)
		x, z := v.X-at.X, v.Z-at.Z
		return r3.Vec{X: at.X + cos*x - sin*z, Y: v.Y, Z: at.Z + sin*x + cos*z}
	}
	m := scene.Measured
	if m.SeatTilt != 0 || m.Head != (gaze.Head{}) {
		t.Fatal("the scene is not that of a level seat and head")
	}
	neck := about(about(r3.Sub(m.EyesMM, scene.Person.NeckToEyesMM), scene.Chair.BackHingeMM, 20), scene.Chair.TiltPivotMM, 15)
	if want := r3.Add(neck, scene.Person.NeckToEyesMM); r3.Norm(r3.Sub(got.At, want)) > toleranceMM {
		t.Errorf("eyes at %.4f, want %.4f", got.At, want)
	}
	if turned := got.Rot.Angle().Degrees(); turned > 1e-9 {
		t.Errorf("a level head is turned by %v°", turned)
	}
	m.SeatTilt, m.BackAngle = 10*frame.Degree, 100*frame.Degree // the back support is 20° off plumb
	if h := m.OnTrunk(gaze.Head{Flexion: 25 * frame.Degree}); math.Abs(h.Flexion.Degrees()-5) > 1e-9 || h.Rotation != 0 || h.LateralFlexion != 0 {
		t.Errorf("25° on a trunk 20° off plumb: %+v, want 5°", h)
	}
}

// TestHeadOf: the angles of a turn give the turn again, at the ends of flexion too.
func TestHeadOf(t *testing.T) {
	deg := func(d float64) frame.Angle { return frame.Angle(d) * frame.Degree }
	for _, flexion := range []float64{-90, -40, 0, 5, 89.9, 90} {
		for _, rotation := range []float64{-120, 0, 33} {
			for _, lateral := range []float64{-70, 0, 12} {
				turn := gaze.Head{Flexion: deg(flexion), Rotation: deg(rotation), LateralFlexion: deg(lateral)}.Turn()
				again := gaze.HeadOf(turn).Turn()
				if off := again.Inverse().Mul(turn).Angle().Degrees(); off > 1e-5 {
					t.Errorf("%g° %g° %g°: the turn again is %v° off", flexion, rotation, lateral, off)
				}
			}
		}
	}
}

// TestCarriers: a screen on the base stays in the margin when the seat tilts, one
// on the seat goes with it; the eyes differ accordingly.
func TestCarriers(t *testing.T) {
	const toleranceMM = 1e-9
	scene := inventedScene()
	p := scene.Measured.AsMeasured("tilted")
	p.SeatTilt = 25 * frame.Degree
	onSeat := scene.InCarrier(p)
	scene.Carrier = gaze.Base
	onBase := scene.InCarrier(p)
	if onBase.Carrier != frame.Identity() {
		t.Errorf("the base moved: %v", onBase.Carrier)
	}
	inRoom := onSeat.Carrier.Mul(onSeat.Head)
	if d := r3.Norm(r3.Sub(inRoom.At, onBase.Head.At)); !(d <= toleranceMM) {
		t.Errorf("the same eyes are %g mm apart", d)
	}
}

// TestSeatedEyeHeights composes published heights: the eye above the seat, an
// occupied seat of 495 mm (Anthropometry of Wheeled Mobility Project, Final
// Report, 2010, section 4.3.2, manual chairs, mean) and 40 mm of slump (an online
// text on anthropometry that reproduces Pheasant's definitions). The median eyes
// should be where ADAAG 1991, Fig. A3, has them, 1090 to 1295 mm, and for every
// height a screen is found somewhat below the eyes.
func TestSeatedEyeHeights(t *testing.T) {
	const (
		seatMM, slumpMM = 495, 40
		lowMM, highMM   = 1090, 1295
	)
	medians := map[string]float64{}
	for who, percentiles := range reference.Published(t, "seated-eye-height") {
		for k, p := range percentiles {
			scene := inventedScene()
			scene.Measured = gaze.Sitting{BackAngle: 90 * frame.Degree, EyesMM: r3.Vec{X: 100, Z: seatMM + p}}
			slid := scene.Measured.AsMeasured("slid")
			slid.SlumpMM = slumpMM
			st := scene.InCarrier(slid)
			if k == 1 {
				medians[who] = st.Head.At.Z
				if z := st.Head.At.Z; z < lowMM || z > highMM {
					t.Errorf("%s: eyes at %.0f mm, outside %d to %d mm", who, z, lowMM, highMM)
				}
			}
			target, err := gaze.Place(request(inventedDevice(), scene, []gaze.PostureInCarrier{st}))
			if err != nil || target.MarginMM < 30 {
				t.Fatalf("%s: margin %.1f mm, %v", who, target.MarginMM, err)
			}
			if below := st.Head.At.Z - target.Pose.At.Z; below < 50 || below > 300 {
				t.Errorf("%s: the screen is %.0f mm below the eyes", who, below)
			}
		}
	}
	// The two surveys, of soldiers and of a whole population, agree within 10 mm.
	for _, sex := range []string{"men", "women"} {
		if d := medians["ANSUR II "+sex] - medians["DIN 33402-2 "+sex]; math.Abs(d) > 10 {
			t.Errorf("%s: medians %.1f mm apart", sex, d)
		}
	}
}
