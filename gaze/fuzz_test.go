package gaze_test

import (
	"encoding/binary"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
)

// numbers hands out the float64s in a string of bytes, zeros after its end.
type numbers []byte

func (n *numbers) next() float64 {
	var raw [8]byte
	*n = (*n)[copy(raw[:], *n):]
	return math.Float64frombits(binary.LittleEndian.Uint64(raw[:]))
}

func (n *numbers) angle() frame.Angle { return frame.Angle(n.next()) }

func (n *numbers) vec() r3.Vec { return r3.Vec{X: n.next(), Y: n.next(), Z: n.next()} }

func (n *numbers) head() gaze.Head {
	return gaze.Head{Rotation: n.angle(), Flexion: n.angle(), LateralFlexion: n.angle()}
}

// FuzzPlace hands the search any numbers at all: it must neither panic nor
// return a number that is none without saying so.
func FuzzPlace(f *testing.F) {
	seed := func(v ...float64) {
		var raw []byte
		for _, x := range v {
			raw = binary.LittleEndian.AppendUint64(raw, math.Float64bits(x))
		}
		f.Add(raw, uint8(0))
		f.Add(raw, uint8(7))
	}
	seed()
	seed(60, 95, 0, 75, 0.5, 0.5, 0.3, 0.5, 30, 40, 20, 0, 1.7, 150, 0, 1180, 0, 0, 0, 0.3, 1.8, 20, 0, 0, 0,
		500, 600, 750, 0.7, 0.5, 110, 10, 0.26, 0.63, -130, 130, -80, 80, 300, 230, 45, 400)
	seed(60, 95, 0, 75, 0.5, 0.5, 0.3, 0.5, 30, 40, 20, 0, 1.7, 150, 0, 1180, 0, 0, 0, 0.3, 1.8, 20, 0, 0, 0,
		500, 600, 750, 0.7, 0.5, 110, 10, 0.26, 0.63, 130, -130, 80, -80, 300, 230, 45, 400) // left and right, bottom and top exchanged
	seed(math.Inf(1), 1, math.NaN(), 3, 1e308, 1e-308, -1e300)
	f.Fuzz(func(t *testing.T, raw []byte, choice uint8) {
		in := numbers(raw)
		scene := gaze.Scene{
			Person: gaze.Person{
				PupilSpacingMM: in.next(), NeckToEyesMM: in.vec(), Eyes: gaze.EyesUsed(choice % 4),
				GazeRange: gaze.GazeRange{Left: in.angle(), Right: in.angle(), Up: in.angle(), Down: in.angle()}, MovementMM: in.vec(),
			},
			Measured:       gaze.Sitting{SeatTilt: in.angle(), BackAngle: in.angle(), EyesMM: in.vec(), Head: in.head()},
			Carrier:        gaze.Carrier(choice / 4 % 2),
			RestDistanceMM: 600,
		}
		other := gaze.Posture{SeatTilt: in.angle(), BackAngle: in.angle(), SlumpMM: in.next(), Head: in.head()}
		device := gaze.Device{
			Tracker: gaze.Tracker{
				NearMM: in.next(), BestMM: in.next(), FarMM: in.next(), Across: in.angle(), UpDown: in.angle(),
				BelowMM: in.next(), InFrontMM: in.next(), AimedUp: in.angle(), GazeLimit: in.angle(),
			},
			Screen: gaze.Screen{Used: gaze.Rect{LeftMM: in.next(), RightMM: in.next(), BottomMM: in.next(), TopMM: in.next()}, HousingMM: in.vec()},
		}
		postures := []gaze.PostureInCarrier{scene.InCarrier(scene.Measured.AsMeasured("measured")), scene.InCarrier(other)}
		r := request(device, scene, postures)
		r.Upright = gaze.Upright(choice / 8 % 2)
		r.Limits = gaze.NewFaceDistance(device, postures, in.next()).EyeByEye()
		target, err := gaze.Place(r)
		if err != nil {
			return
		}
		if !isNumber(target.Score) || !isNumber(target.MarginMM) || !isNumber(target.BrokenMM) || !target.Pose.IsFinite() {
			t.Fatalf("not a number, and no error: %+v", target)
		}
		judge := gaze.NewJudge(device, scene.Person)
		if share := judge.Share(target.Pose, &postures[0]); share < 0 || share > 1 {
			t.Errorf("share %g", share)
		}
		judge.Cut(target.Pose, &postures[0], postures[0].Head.At, r3.Vec{X: 1}, r3.Vec{Z: 1}, 4)
	})
}

func isNumber(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
