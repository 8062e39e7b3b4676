package body_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/body"
	"sightpost/gaze/frame"
	"sightpost/testdata/reference"
)

// scene returns someone whose eyes are at a height above the floor, leaning back by
// angles of seat and back support.
func scene(eyesMM float64, tilt, back frame.Angle) gaze.Scene {
	return gaze.Scene{
		Person:   gaze.Person{NeckToEyesMM: r3.Vec{X: 80.5, Z: 75}},
		Measured: gaze.Sitting{SeatTilt: tilt, BackAngle: back, EyesMM: r3.Vec{X: 150, Z: eyesMM}},
	}
}

const wholeMM = 0.5 // dimensions are in whole mm

// TestAdult: the size of an adult is the mean of the means of 4082 men and 1986 women.
//
// Reference: Gordon et al., NATICK/TR-15/007, 2014: head breadth 154.3 and 147.8 mm, head
// length 199.5 and 189.8 mm less 20 mm from brow to eye, thigh clearance 180.5 and 167.9
// mm, buttock-knee length 618.0 and 590.6 mm, shoulder breadth 510.4 and 450.3 mm,
// abdominal depth 254.7 and 229.7 mm.
func TestAdult(t *testing.T) {
	s := body.SeatOf(scene(1240, 0, 100*frame.Degree), 500, r3.Vec{Z: 500})
	for _, c := range []struct {
		of   body.Dimension
		want float64
	}{
		{body.HeadBreadth, 151.05},
		{body.EyesToBack, 174.65},
		{body.CrownAboveEyes, (113.8 + 108.9) / 2},
		{body.ShoulderBreadth, 480.35},
		{body.BellyDepth, 242.2},
		{body.ThighThickness, 174.2},
		{body.ThighLength, 604.3},
	} {
		if got := s.ScaledMM(c.of); math.Abs(got-c.want) > wholeMM {
			t.Errorf("%+v: %v mm, want %v", c.of, got, c.want)
		}
	}
}

// TestSurvey: men and women together spread as a summary of the whole survey says that they
// do, and nobody in it is outside the usual range.
//
// Reference: testdata/reference/published/body-sizes.csv.
func TestSurvey(t *testing.T) {
	sizes := reference.Published(t, "body-sizes") // mean, standard deviation, least, greatest
	const men, women = 4082.0 / 6068, 1986.0 / 6068
	const tol, brow = 0.1, 20 // mm: means and deviations of men and women are in tenths; eyes behind the brow
	for name, d := range map[string]body.Dimension{
		"head breadth": body.HeadBreadth, "bideltoid breadth": body.ShoulderBreadth, "thigh clearance": body.ThighThickness,
		"abdominal extension depth, sitting": body.BellyDepth, "buttock-knee length": body.ThighLength,
		"head length": {
			Men:   body.Spread{MeanMM: body.EyesToBack.Men.MeanMM + brow, SDMM: body.EyesToBack.Men.SDMM},
			Women: body.Spread{MeanMM: body.EyesToBack.Women.MeanMM + brow, SDMM: body.EyesToBack.Women.SDMM},
		},
	} {
		want, ok := sizes[name]
		if !ok {
			t.Fatalf("no %s in the summary", name)
		}
		apart := d.Men.MeanMM - d.Women.MeanMM
		mean := men*d.Men.MeanMM + women*d.Women.MeanMM
		sd := math.Sqrt(men*d.Men.SDMM*d.Men.SDMM + women*d.Women.SDMM*d.Women.SDMM + men*women*apart*apart)
		if math.Abs(mean-want[0]) > tol || math.Abs(sd-want[1]) > tol {
			t.Errorf("%s: %.2f ± %.2f mm, the summary says %.2f ± %.2f", name, mean, sd, want[0], want[1])
		}
		if low, high := d.UsualMM(); low > want[2] || high < want[3] {
			t.Errorf("%s: usually %g to %g mm, measured %g to %g", name, low, high, want[2], want[3])
		}
	}
	crown := body.CrownAboveEyes
	if got, want := men*crown.Men.MeanMM+women*crown.Women.MeanMM, sizes["sitting height"][0]-sizes["eye height, sitting"][0]; math.Abs(got-want) > tol {
		t.Errorf("crown %.2f mm above the eyes, the summary says %.2f", got, want)
	}
}

// TestPercentiles: the usual range goes by percentiles that bodies have.
//
// Reference: 5th percentile of women and 95th of men, computed from the open data files of
// Gordon et al., NATICK/TR-15/007, 2014.
func TestPercentiles(t *testing.T) {
	const tol = 5 // mm: bodies are skewed, more of them large
	for _, c := range []struct {
		name          string
		d             body.Dimension
		women5, men95 float64
	}{
		{"thigh clearance", body.ThighThickness, 145, 207},
		{"buttock-knee length", body.ThighLength, 541, 669},
	} {
		if low, high := c.d.UsualMM(); math.Abs(2*low-c.women5) > tol || math.Abs(high*2/3-c.men95) > tol {
			t.Errorf("%s: half of %g and half as much again as %g mm; percentiles are %g and %g", c.name, 2*low, high*2/3, c.women5, c.men95)
		}
	}
}

// TestSmall: below 560 mm of eye height along the back support all dimensions shrink in
// proportion, down to 0.4 of an adult's.
func TestSmall(t *testing.T) {
	for _, c := range []struct{ eyes, part float64 }{{1240, 1}, {500 + 280, 0.5}, {550, 0.4}} {
		s := body.SeatOf(scene(c.eyes, 0, 90*frame.Degree), 500, r3.Vec{Z: 500})
		if math.Abs(s.Part-c.part) > 1e-12 || math.Abs(s.ScaledMM(body.ThighLength)-604.3*c.part) > wholeMM {
			t.Errorf("eyes at %v mm: %v of an adult, thighs of %v mm; want %v", c.eyes, s.Part, s.ScaledMM(body.ThighLength), c.part)
		}
	}
}

// TestSeatTilted: a seat that is tilted about a pivot carries junction and back support
// round it, and back where they were in the axes of the seat.
func TestSeatTilted(t *testing.T) {
	sc := scene(1240, 30*frame.Degree, 90*frame.Degree)
	sc.Chair.TiltPivotMM = r3.Vec{X: 100, Z: 400}
	s := body.SeatOf(sc, 500, sc.Chair.TiltPivotMM)
	// By hand: (0, 500) is (-100, 100) from the pivot; turned backward by 30 degrees,
	// front up, it is at pivot + (-100 cos 30 - 100 sin 30, -100 sin 30 + 100 cos 30).
	sin, cos := math.Sincos(math.Pi / 6)
	want := r3.Vec{X: 100 - 100*cos - 100*sin, Z: 400 - 100*sin + 100*cos}
	if got := s.Measured.Apply(s.JunctionMM()); r3.Norm(r3.Sub(got, want)) > 1e-9 {
		t.Errorf("junction at %v, want %v", got, want)
	}
	if up := s.BackInChair().Rot.Z; r3.Norm(r3.Sub(up, r3.Vec{X: -sin, Z: cos})) > 1e-12 {
		t.Errorf("the back support runs along %v", up)
	}
	if got := s.InSeat().Apply(s.JunctionMM()); r3.Norm(r3.Sub(got, s.JunctionMM())) > 1e-9 {
		t.Errorf("junction at %v in the axes of the seat, want %v", got, s.JunctionMM())
	}
}

// TestShapes: the shapes hold what they are named for and begin behind the eyes.
func TestShapes(t *testing.T) {
	head := body.Head{BreadthMM: 150, EyesToBackMM: 175, AboveEyesMM: 110, BelowEyesMM: 120}.Box()
	if head.HighMM != (r3.Vec{X: -body.BehindEyesMM, Y: 75, Z: 110}) || head.LowMM != (r3.Vec{X: -175, Y: -75, Z: -120}) {
		t.Errorf("head %+v", head)
	}
	left, right := body.Thighs{ThicknessMM: 160, LengthMM: 600, SpacingMM: 200}.Rods(500)
	if left.FromMM != (r3.Vec{X: 80, Y: 100, Z: 580}) || left.ToMM != (r3.Vec{X: 520, Y: 100, Z: 580}) || left.RadiusMM != 80 || right.FromMM.Y != -100 {
		t.Errorf("thighs %+v %+v", left, right)
	}
	if short, _ := (body.Thighs{ThicknessMM: 160, LengthMM: 60}).Rods(500); short.ToMM.X < short.FromMM.X {
		t.Errorf("a thigh that ends before it begins: %+v", short)
	}
}
