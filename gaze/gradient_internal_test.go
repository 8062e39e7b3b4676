package gaze

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

func sampleDevice() Device {
	d := Device{
		Screen: Screen{WidthMM: 260, HeightMM: 165, HousingMM: r3.Vec{X: 300, Y: 230, Z: 45}},
		Tracker: Tracker{
			NearMM: 500, BestMM: 600, FarMM: 750, Across: 40 * frame.Degree, UpDown: 30 * frame.Degree,
			BelowMM: 110, InFrontMM: 10, AimedUp: 15 * frame.Degree, GazeLimit: 36 * frame.Degree,
		},
	}
	d.Screen.Used = d.Screen.Display()
	return d
}

func sampleScene(rng *rand.Rand) Scene {
	u := func(lo, hi float64) float64 { return lo + rng.Float64()*(hi-lo) }
	deg := func(lo, hi float64) frame.Angle { return frame.Angle(u(lo, hi)) * frame.Degree }
	return Scene{
		Person: Person{
			PupilSpacingMM: u(45, 70), NeckToEyesMM: r3.Vec{X: 80, Z: 75},
			GazeRange:  GazeRange{Left: deg(20, 40), Right: deg(20, 40), Up: deg(10, 30), Down: deg(20, 45)},
			MovementMM: r3.Vec{X: u(0, 30), Y: u(0, 40), Z: u(0, 20)},
		},
		Chair: Chair{TiltPivotMM: r3.Vec{X: 120, Z: 430}, BackHingeMM: r3.Vec{Z: 500}},
		Measured: Sitting{
			SeatTilt: deg(0, 10), BackAngle: deg(90, 110), EyesMM: r3.Vec{X: u(50, 250), Y: u(-40, 40), Z: u(900, 1300)},
			Head: Head{Rotation: deg(-20, 20), Flexion: deg(-10, 20), LateralFlexion: deg(-15, 15)},
		},
		RestDistanceMM: 600,
	}
}

// TestSearchGradients compares every gradient that the search uses with central
// differences of the values.
func TestSearchGradients(t *testing.T) {
	const (
		h         = 1e-5
		tolerance = 1e-4 // mm per radian and mm per mm: h² times third derivatives of some 1e4 mm/rad³
	)
	rng := rand.New(rand.NewPCG(2, 1))
	for trial := range 40 {
		scene := sampleScene(rng)
		scene.Carrier = Carrier(trial % 2)
		scene.Person.Eyes = EyesUsed(trial / 2 % 3)
		lead := scene.InCarrier(scene.Measured.AsMeasured("measured"))
		tilted := scene.Measured.AsMeasured("tilted")
		tilted.SeatTilt += 20 * frame.Degree
		device := sampleDevice()
		r := Request{
			Judge: NewJudge(device, scene.Person), Postures: []PostureInCarrier{lead, scene.InCarrier(tilted)},
			Upright: Upright(trial % 2), Prefer: Preferred(&lead, device.Tracker), Rates: DefaultRates(), Ranges: DefaultRanges(),
			Limits: NewFaceDistance(device, []PostureInCarrier{lead}, 300).EyeByEye(),
		}
		p := newPlacing(&r)
		m := p.problem.Terms + p.problem.Limits + len(p.problem.Rates)
		x := r.Prefer.Vector()
		for k := range x {
			x[k] += p.problem.Unit[k] * rng.NormFloat64()
		}
		f, grad := make([]float64, m), make([]float64, 6*m)
		p.evaluate(x, f, grad)
		up, down := make([]float64, m), make([]float64, m)
		for k := range x {
			step := h * p.problem.Unit[k] * 10
			y := append([]float64(nil), x...)
			y[k] = x[k] + step
			p.evaluate(y, up, nil)
			y[k] = x[k] - step
			p.evaluate(y, down, nil)
			for i := range m {
				want := (up[i] - down[i]) / (2 * step)
				if got := grad[i*6+k]; math.Abs(got-want) > tolerance*(1+math.Abs(want)) {
					t.Fatalf("trial %d: function %d, variable %d: got %g, want %g", trial, i, k, got, want)
				}
			}
		}
	}
}

// TestAimRates checks that the change of the aim per movement of the screen is
// the inverse of the movement per change of the aim.
func TestAimRates(t *testing.T) {
	const tolerance = 1e-9 // numbers of order one, after scaling by the units
	rng := rand.New(rand.NewPCG(2, 2))
	for trial := range 100 {
		scene := sampleScene(rng)
		st := scene.InCarrier(scene.Measured.AsMeasured("measured"))
		a := newAiming(&st, Upright(trial%2))
		unit := aimUnit()
		x := Preferred(&st, sampleDevice().Tracker).Vector()
		for k := range x {
			x[k] += unit[k] * rng.NormFloat64()
		}
		rates, tw := a.rates(AimOf(x)), a.twists(AimOf(x))
		for i := range rates {
			for k := range tw {
				got := (r3.Dot(rates[i].shift, tw[k].shift) + r3.Dot(rates[i].turn, tw[k].turn)) * unit[k] / unit[i]
				want := 0.0
				if i == k {
					want = 1
				}
				if math.Abs(got-want) > tolerance {
					t.Fatalf("trial %d: aim %d by variable %d: got %g, want %g", trial, i, k, got, want)
				}
			}
		}
		back := AimAt(a.pose(AimOf(x)), &st, Upright(trial%2)).Vector()
		for k := range back {
			if math.Abs(back[k]-x[k]) > tolerance*unit[k]*10 {
				t.Fatalf("trial %d: aim %v came back as %v", trial, x, back)
			}
		}
	}
}
