package gaze_test

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
)

// Everybody and everything in these tests is invented.

// inventedDevice returns a screen of some 12 inches with a tracker below it.
func inventedDevice() gaze.Device {
	d := gaze.Device{
		Screen: gaze.Screen{WidthMM: 260, HeightMM: 165, HousingMM: r3.Vec{X: 300, Y: 230, Z: 45}, HousingBelowMM: 15, MassKG: 1.6},
		Tracker: gaze.Tracker{
			NearMM: 500, BestMM: 600, FarMM: 750, Across: 40 * frame.Degree, UpDown: 30 * frame.Degree,
			BelowMM: 110, InFrontMM: 10, AimedUp: 15 * frame.Degree, GazeLimit: 36 * frame.Degree,
			Accuracy: 0.7 * frame.Degree, Precision: 0.3 * frame.Degree,
		},
	}
	d.Screen.Used = d.Screen.Display()
	return d
}

// inventedScene returns someone who sits upright and looks straight ahead.
func inventedScene() gaze.Scene {
	return gaze.Scene{
		Person: gaze.Person{
			PupilSpacingMM: 60, NeckToEyesMM: r3.Vec{X: 95, Z: 75},
			RestGaze:   &gaze.GazeDirection{Down: 10 * frame.Degree},
			GazeRange:  gaze.GazeRange{Left: 30 * frame.Degree, Right: 30 * frame.Degree, Up: 20 * frame.Degree, Down: 30 * frame.Degree},
			MovementMM: r3.Vec{X: 30, Y: 40, Z: 20},
		},
		Chair:          gaze.Chair{TiltPivotMM: r3.Vec{X: 120, Z: 430}, BackHingeMM: r3.Vec{Z: 500}},
		Measured:       gaze.Sitting{BackAngle: 100 * frame.Degree, EyesMM: r3.Vec{X: 150, Z: 1180}},
		RestDistanceMM: 600,
	}
}

// drawing makes random people, chairs and devices.
type drawing struct{ *rand.Rand }

func newDrawing(seed uint64) drawing { return drawing{rand.New(rand.NewPCG(3, seed))} }

func (d drawing) between(lo, hi float64) float64 { return lo + d.Float64()*(hi-lo) }

func (d drawing) degrees(lo, hi float64) frame.Angle {
	return frame.Angle(d.between(lo, hi)) * frame.Degree
}

// unit returns a direction, every one as likely as any other.
func (d drawing) unit() r3.Vec {
	return r3.Unit(r3.Vec{X: d.NormFloat64(), Y: d.NormFloat64(), Z: d.NormFloat64()})
}

func (d drawing) device() gaze.Device {
	w, h := d.between(180, 350), d.between(120, 230)
	near := d.between(350, 520)
	best := near + d.between(60, 180)
	device := gaze.Device{
		Screen: gaze.Screen{WidthMM: w, HeightMM: h, HousingMM: r3.Vec{X: w + 40, Y: h + 60, Z: 45}, HousingBelowMM: 15},
		Tracker: gaze.Tracker{
			NearMM: near, BestMM: best, FarMM: best + d.between(80, 300),
			Across: d.degrees(28, 55), UpDown: d.degrees(22, 42), BelowMM: h/2 + d.between(5, 40), InFrontMM: d.between(-5, 25),
			AimedUp: d.degrees(0, 25), GazeLimit: d.degrees(25, 42),
		},
	}
	device.Screen.Used = device.Screen.Display()
	if d.IntN(3) == 0 {
		device.Screen.Used.RightMM *= d.Float64()
		device.Screen.Used.BottomMM *= d.Float64()
	}
	return device
}

func (d drawing) head() gaze.Head {
	return gaze.Head{Rotation: d.degrees(-25, 25), Flexion: d.degrees(-15, 25), LateralFlexion: d.degrees(-20, 20)}
}

func (d drawing) scene() gaze.Scene {
	s := gaze.Scene{
		Person: gaze.Person{
			PupilSpacingMM: d.between(45, 72),
			NeckToEyesMM:   r3.Vec{X: d.between(60, 110), Y: d.between(-8, 8), Z: d.between(55, 95)},
			Eyes:           gaze.EyesUsed(d.IntN(4)),
			GazeRange:      gaze.GazeRange{Left: d.degrees(18, 45), Right: d.degrees(18, 45), Up: d.degrees(10, 30), Down: d.degrees(18, 45)},
			MovementMM:     r3.Vec{X: d.between(0, 40), Y: d.between(0, 50), Z: d.between(0, 25)},
		},
		Chair: gaze.Chair{
			TiltPivotMM: r3.Vec{X: d.between(0, 300), Z: d.between(350, 520)},
			BackHingeMM: r3.Vec{X: d.between(-40, 40), Z: d.between(430, 560)},
		},
		Measured: gaze.Sitting{
			SeatTilt: d.degrees(0, 15), BackAngle: d.degrees(88, 115), Head: d.head(),
			EyesMM: r3.Vec{X: d.between(-50, 250), Y: d.between(-60, 60), Z: d.between(950, 1300)},
		},
		Carrier: gaze.Carrier(d.IntN(2)), RestDistanceMM: 600,
	}
	if d.IntN(2) == 0 {
		s.Person.RestGaze = &gaze.GazeDirection{Down: d.degrees(-5, 25), Left: d.degrees(-10, 10)}
	}
	return s
}

// posture returns a posture not far from the measured one.
func (d drawing) posture(s gaze.Scene) gaze.Posture {
	p := s.Measured.AsMeasured("other")
	p.SeatTilt += d.degrees(-5, 30)
	p.BackAngle += d.degrees(-5, 15)
	p.SlumpMM = d.between(0, 40)
	p.Head.Rotation += d.degrees(-6, 6)
	p.Head.Flexion += d.degrees(-6, 6)
	p.Head.LateralFlexion += d.degrees(-6, 6)
	return p
}

// postures returns the measured posture and n - 1 others as postures.
func (d drawing) postures(s gaze.Scene, n int) []gaze.PostureInCarrier {
	all := []gaze.PostureInCarrier{s.InCarrier(s.Measured.AsMeasured("measured"))}
	for len(all) < n {
		all = append(all, s.InCarrier(d.posture(s)))
	}
	return all
}

// screen returns a screen somewhere before the head of st, turned a little.
func (d drawing) screen(st *gaze.PostureInCarrier, t gaze.Tracker) frame.Pose {
	left, down := d.degrees(-15, 15).Radians(), d.degrees(-10, 35).Radians()
	sight := st.Head.Rot.Apply(r3.Vec{X: math.Cos(down) * math.Cos(left), Y: math.Cos(down) * math.Sin(left), Z: -math.Sin(down)})
	back := r3.Scale(-1, sight)
	right := r3.Unit(r3.Cross(st.Head.Rot.Z, back))
	rot := frame.FromAxes(right, r3.Cross(back, right)).
		Mul(frame.FromVector(r3.Vec{X: d.NormFloat64() * 0.1, Y: d.NormFloat64() * 0.1, Z: d.NormFloat64() * 0.1}))
	return frame.Pose{Rot: rot, At: r3.Add(st.Head.At, r3.Scale(d.between(t.NearMM-40, t.FarMM+40), sight))}
}

// request asks for the default kind of placement.
func request(d gaze.Device, s gaze.Scene, postures []gaze.PostureInCarrier) gaze.Request {
	return gaze.Request{
		Judge: gaze.NewJudge(d, s.Person), Postures: postures, Prefer: gaze.Preferred(&postures[0], d.Tracker),
		Rates: gaze.DefaultRates(), Ranges: gaze.DefaultRanges(),
	}
}

// eyesNeeded returns the sets of eyes, one of which is enough.
func eyesNeeded(used gaze.EyesUsed) [][]gaze.Eye {
	switch used {
	case gaze.LeftOnly:
		return [][]gaze.Eye{{gaze.LeftEye}}
	case gaze.RightOnly:
		return [][]gaze.Eye{{gaze.RightEye}}
	case gaze.Either:
		return [][]gaze.Eye{{gaze.LeftEye}, {gaze.RightEye}}
	default:
		return [][]gaze.Eye{{gaze.LeftEye, gaze.RightEye}}
	}
}
