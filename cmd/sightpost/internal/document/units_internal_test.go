package document

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/plots/units"
)

func TestSixteenths(t *testing.T) {
	for _, row := range []struct {
		inches float64
		want   string
	}{
		{0, "0"},
		{-0.01, "0"},
		{0.5, "1/2"},
		{46.5, "46 1/2"},
		{1.0 / 16, "1/16"},
		{-2.25, "−2 1/4"},
		{0.999, "1"},
		{11.8125, "11 13/16"},
	} {
		if got := minus(units.Sixteenths(row.inches)); got != row.want {
			t.Errorf("sixteenths(%v) = %q, want %q", row.inches, got, row.want)
		}
	}
}

// facingBack is a screen straight ahead of the person, upright and square.
func facingBack() frame.Rotation {
	return frame.Rotation{X: r3.Vec{Y: -1}, Y: r3.Vec{Z: 1}, Z: r3.Vec{X: -1}}
}

// standTolerance is rounding of a turn and its arctangent, in degrees and mm.
const standTolerance = 1e-9

// TestAttitude turns a square screen by one known turn at a time; the signs are
// those of the field comments.
func TestAttitude(t *testing.T) {
	s := gaze.Screen{HeightMM: 200}
	half := 100 * math.Cos(20*math.Pi/180)
	for _, row := range []struct {
		name string
		turn frame.Rotation
		want ScreenAttitude
	}{
		{"square", frame.NoTurn(), ScreenAttitude{TopUpMM: 1100, BottomUpMM: 900}},
		// The face of a screen whose top goes away from the person looks up.
		{"leaned back", frame.About(r3.Vec{Y: 1}, 20*frame.Degree), ScreenAttitude{TopUpMM: 1000 + half, BottomUpMM: 1000 - half, TiltDeg: 20}},
		// From above, a face that points back turns clockwise to point to the left.
		{"turned left", frame.About(r3.Vec{Z: 1}, -15*frame.Degree), ScreenAttitude{TopUpMM: 1100, BottomUpMM: 900, RotationDeg: 15}},
		// Counter-clockwise for the viewer, who looks forward, lifts the right end.
		{"rolled", frame.About(r3.Vec{X: 1}, -20*frame.Degree), ScreenAttitude{TopUpMM: 1000 + half, BottomUpMM: 1000 - half, RollDeg: 20}},
		// An inclinometer and a square show each turn by itself, where the normal shows them mixed.
		{
			"turned, rolled and leaned back", mount.Attitude{Tilt: 30 * frame.Degree, Rotation: 15 * frame.Degree, Roll: 20 * frame.Degree}.Matrix().Mul(facingBack().Inverse()),
			ScreenAttitude{TopUpMM: 1000 + half*math.Cos(math.Pi/6), BottomUpMM: 1000 - half*math.Cos(math.Pi/6), TiltDeg: 30, RotationDeg: 15, RollDeg: 20},
		},
	} {
		t.Run(row.name, func(t *testing.T) {
			got := newAttitude(s, frame.Pose{Rot: row.turn.Mul(facingBack()), At: r3.Vec{X: 600, Z: 1000}})
			g := [...]float64{got.TopUpMM, got.BottomUpMM, got.TiltDeg, got.RotationDeg, got.RollDeg}
			w := [...]float64{row.want.TopUpMM, row.want.BottomUpMM, row.want.TiltDeg, row.want.RotationDeg, row.want.RollDeg}
			for i := range g {
				if !(math.Abs(g[i]-w[i]) < standTolerance) {
					t.Errorf("got %+v, want %+v", got, row.want)
					break
				}
			}
		})
	}
}

// TestIncidence compares the closed form with the angle between the vectors.
func TestIncidence(t *testing.T) {
	for _, a := range []gaze.Aim{{}, {FacingUp: 0.3}, {FacingRight: -0.5}, {FacingUp: -0.4, FacingRight: 0.6}} {
		face := frame.About(r3.Vec{Y: 1}, a.FacingRight).Mul(frame.About(r3.Vec{X: 1}, -a.FacingUp)).Apply(r3.Vec{Z: 1})
		want := frame.Between(face, r3.Vec{Z: 1}).Degrees()
		if got := newAim(a).IncidenceDeg; !(math.Abs(got-want) < standTolerance) {
			t.Errorf("facing %v up, %v right: incidence %v, want %v", a.FacingUp, a.FacingRight, got, want)
		}
	}
}

// TestMoveWords: a move says how far it goes, in the units that are asked for.
func TestMoveWords(t *testing.T) {
	for m, want := range map[gaze.Move]string{
		gaze.Lowered: "lowered by 1 15/16 in", gaze.TiltedBack: "top tilted back by 10°",
		gaze.SwungLeft: "swung to the left by 10°", gaze.SwungRight: "swung to the right by 10°",
	} {
		if got := moveWords(m).In(units.Inch); got != want {
			t.Errorf("move %d is %q, want %q", int(m), got, want)
		}
	}
}
