package gaze

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/testdata/trials"
)

// TestBoundsAreAbove draws boxes of screens, large and small, and compares every margin at
// random screens of each with its bound there, and what the ranges of the aim ask for.
func TestBoundsAreAbove(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 1))
	kept, tight, near := 0, 0, 0
	count := trials.Of(100, 2000)
	for trial := range count {
		scene := sampleScene(rng)
		scene.Carrier = Carrier(trial % 2)
		other := scene.Measured.AsMeasured("other")
		other.SeatTilt += frame.Angle(20*rng.Float64()) * frame.Degree
		device := sampleDevice()
		lead := scene.InCarrier(scene.Measured.AsMeasured("measured"))
		r := Request{
			Judge: NewJudge(device, scene.Person), Postures: []PostureInCarrier{lead, scene.InCarrier(other)},
			Upright: Upright(trial / 2 % 2), Prefer: Preferred(&lead, device.Tracker), Rates: DefaultRates(), Ranges: DefaultRanges(),
		}
		if trial%3 == 0 {
			r.Ranges.Low.Down, r.Ranges.High.Left, r.Ranges.High.Roll = 5*frame.Degree, 10*frame.Degree, 4*frame.Degree
		}
		b := newBounding(&r, nil, -100)
		b.matter(-100)
		b.levelMM = math.Inf(-1) // every row matters
		size := math.Exp(-4 * rng.Float64())
		mid, half, x := make([]float64, 6), make([]float64, 6), make([]float64, 6)
		for k := range mid {
			half[k] = size * rng.Float64() * (b.high[k] - b.low[k]) / 4
			mid[k] = b.low[k] + rng.Float64()*(b.high[k]-b.low[k])
			if k < 3 {
				mid[k] *= 0.3
			}
		}
		s := b.span(mid, half)
		reach := Reach{PointMM: r3.Vec{X: 100 * rng.NormFloat64(), Y: 100 * rng.NormFloat64(), Z: -50}}
		for range 3 {
			reach.Normals = append(reach.Normals, r3.Unit(r3.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}))
			reach.MostMM = append(reach.MostMM, 500*rng.NormFloat64())
		}
		people := [2]person{b.person(&r.Postures[0]), b.person(&r.Postures[1])}
		for range 30 {
			for k := range x {
				x[k] = mid[k] + (2*rng.Float64()-1)*half[k]
			}
			pose := b.poseAt(x)
			off := partsOff(t, b, &s, mid, x)
			at := func(p *bent) float64 {
				mm := p.mm
				for k, v := range x {
					mm += p.grad[k] * (v - mid[k])
				}
				for k, g := range p.grad[len(x):] {
					mm += g * off[k]
				}
				return mm
			}
			for i := range r.Postures {
				b.eyes = []Eye{LeftEye, RightEye}
				b.margins(&s, &people[i])
				for eye, bounds := range b.rows {
					margins := r.Judge.atEye(nil, pose, &r.Postures[i], Eye(eye))
					if len(bounds) != len(margins) {
						t.Fatalf("trial %d: %d bounds of %d margins", trial, len(bounds), len(margins))
					}
					for k := range margins {
						over := at(&bounds[k]) - margins[k].MM
						if over < -1e-9 {
							t.Fatalf("trial %d: %v of posture %d is %g mm, its bound %g mm below that", trial, margins[k].Condition, i, margins[k].MM, -over)
						}
						if over < 1 {
							tight++
						}
						either, by := between(&b.rows[LeftEye][k], &b.rows[RightEye][k], half)
						if over := at(&either) + []float64{by, -by}[eye] - margins[k].MM; over < -1e-9 {
							t.Fatalf("trial %d: %v is %g mm at the %v, the bound of either %g mm below that", trial, margins[k].Condition, margins[k].MM, Eye(eye), -over)
						}
					}
				}
			}
			for i := range reach.Normals {
				one := Reach{reach.PointMM, reach.Normals[i : i+1], reach.MostMM[i : i+1]}
				row := b.within(&one, &s)
				left := one.MostMM[0] - r3.Dot(one.Normals[0], pose.Apply(one.PointMM))
				if over := at(&row) - left; over < -1e-9 {
					t.Fatalf("trial %d: a point is %g mm within its reach, its bound %g mm below that", trial, left, -over)
				} else if over < 1 {
					near++
				}
			}
			if aim := AimAt(pose, &lead, r.Upright); r.Ranges.have(aim) {
				kept++
				rows, might := b.keepRanges(nil, &s)
				if !might {
					t.Fatalf("trial %d: the aim %+v is within the ranges, and its box left out", trial, aim)
				}
				for i := range rows {
					if over := at(&rows[i]); over < -1e-9 {
						t.Fatalf("trial %d: the aim %+v is within the ranges, and row %d is %g", trial, aim, i, over)
					}
				}
			}
		}
	}
	if kept < count/4 || tight < 25*count || 2*near < 5*count {
		t.Errorf("%d screens within the ranges, %d bounds within 1 mm and %d of reaches: too few to show anything", kept, tight, near)
	}
}

// partsOff returns which part the place of a screen's middle is off, along each of the axes, of
// what it is off at the most.
func partsOff(t *testing.T, b *bounding, s *span, mid, x []float64) (part [shared]float64) {
	t.Helper()
	out, turn := s.out, r3.Vec{}
	for k, axis := range s.axes {
		turn = r3.Add(turn, r3.Scale(x[k]-mid[k], axis))
	}
	shift := r3.Vec{X: x[3] - mid[3], Y: x[4] - mid[4], Z: x[5] - mid[5]}
	out = r3.Add(out, r3.Add(r3.Cross(turn, s.out), s.rot.Apply(shift)))
	off := s.rot.ApplyInverse(r3.Sub(r3.Sub(b.middle, b.poseAt(x).At), out))
	for k, v := range [3]float64{off.X, off.Y, off.Z} {
		if part[k] = -v / s.off[k]; math.Abs(part[k]) > 1+1e-9 {
			t.Fatalf("the screen's middle is %g mm off, at the most %g", v, s.off[k])
		}
	}
	return part
}

// depthAlone asks for more margin than the depth of the tracking volume leaves to eyes that
// look straight ahead, and for nothing else.
func depthAlone() (Request, Tracker) {
	device := sampleDevice()
	device.Tracker.Across, device.Tracker.UpDown, device.Tracker.AimedUp = 120*frame.Degree, 120*frame.Degree, 0
	device.Tracker.GazeLimit = 89 * frame.Degree
	wide := GazeRange{Left: 85 * frame.Degree, Right: 85 * frame.Degree, Up: 85 * frame.Degree, Down: 85 * frame.Degree}
	person := Person{PupilSpacingMM: 60, GazeRange: wide}
	scene := Scene{Person: person, Measured: Sitting{EyesMM: r3.Vec{Z: 1200}}, RestDistanceMM: 600}
	return Request{
		Judge: NewJudge(device, person), Postures: []PostureInCarrier{scene.InCarrier(scene.Measured.AsMeasured("measured"))},
		Ranges: Ranges{Low: Aim{DistanceMM: 300}, High: Aim{DistanceMM: 1200}}, RequiredMM: 200,
	}, device.Tracker
}

// TestBoundOfParallelFaces: with nothing but the near and the far face to lose, and the
// screen square to eyes that look straight ahead, the margin of two postures that lie some
// way apart along the line of sight is half of what that leaves of the depth.
func TestBoundOfParallelFaces(t *testing.T) {
	r, tracker := depthAlone()
	for _, apart := range []float64{100, 240, 300, 420} {
		r.Postures = []PostureInCarrier{r.Postures[0], r.Postures[0].Moved(r3.Vec{X: apart})}
		want := (tracker.FarMM - tracker.NearMM - apart) / 2
		got, err := Place(r)
		if err != nil || math.Abs(got.MarginMM-want) > 0.01 {
			t.Errorf("%g mm apart: margin %g mm (%v), want %g mm", apart, got.MarginMM, err, want)
		}
		if b := Most(t.Context(), r, nil, got.MarginMM, 1000, nil); b.MM < want || b.MM > want+gapMM {
			t.Errorf("%g mm apart: bound %g mm, want %g mm and at most %g mm more", apart, b.MM, want, float64(gapMM))
		}
	}
}

// TestBoundWithinReach: of a screen square to eyes that look straight ahead, kept less far
// ahead than is best, the margin is what that leaves to the near face. Of two reaches
// the farther one counts, and beyond both there is no screen.
func TestBoundWithinReach(t *testing.T) {
	r, tracker := depthAlone()
	ahead := func(mm float64) Reach { return Reach{Normals: []r3.Vec{{X: 1}}, MostMM: []float64{mm}} }
	const leftMM = 40
	far := tracker.NearMM + tracker.InFrontMM + leftMM
	for _, reaches := range [][]Reach{{ahead(far)}, {ahead(far - 30), ahead(far)}} {
		if b := Most(t.Context(), r, reaches, -50, 5000, nil); b.MM < leftMM || b.MM > leftMM+gapMM {
			t.Errorf("%d reaches: bound %g mm, want %d mm and at most %g mm more", len(reaches), b.MM, leftMM, float64(gapMM))
		}
	}
	if b := Most(t.Context(), r, []Reach{ahead(-2000), ahead(-3000)}, -50, 5000, nil); b.MM != -50 {
		t.Errorf("where none is reached: bound %g mm, want the %g mm known", b.MM, -50.0)
	}
}
