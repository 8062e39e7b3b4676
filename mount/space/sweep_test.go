package space_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount/space"
)

var upright = space.Path{Along: vec(0, 0, 1)}

func slide(along r3.Vec) space.Path { return space.Path{Along: along, Slides: true} }

func newSweep(path space.Path, moving, fixed []space.Shape) *space.Sweep {
	return space.NewSweep(path, moving, fixed, nil)
}

// sweptByHand is a movement and what comes of it.
type sweptByHand struct {
	name          string
	path          space.Path
	moving, fixed []space.Shape
	to            float64
	stop          float64 // of Free; infinite for none
	mm, by        float64 // of Least
}

func sweepsByHand() []sweptByHand {
	plate := must(space.Box(frame.Translate(vec(0, 0, 200)), vec(300, 10, 200)))
	thread := must(knob(vec(0, 0, 0), 0.01))
	arm := must(space.Capsule(vec(50, 0, 0), vec(400, 0, 0), 12))
	balls := func(all ...space.Shape) []space.Shape { return all }
	none := math.Inf(1)
	return []sweptByHand{
		{
			"ball passes ball", slide(vec(1, 0, 0)),
			balls(must(knob(vec(-60, 50, 0), 10))), balls(must(knob(vec(0, 0, 0), 15))), 100, none, 25, 60,
		},
		{
			"ball meets ball", slide(vec(1, 0, 0)),
			balls(must(knob(vec(-60, 20, 0), 10))), balls(must(knob(vec(0, 0, 0), 15))), 100, 45, -5, 60,
		},
		{"thin through thin", slide(vec(1, 0, 0)), balls(thread), balls(must(knob(vec(321, 0, 0), 0.01))), 1000, 320.98, -0.02, 321},
		{"nearest at the start", slide(vec(0, 1, 0)), balls(thread), balls(cube(vec(0, -15, 0), 10)), 100, none, 9.99, 0},
		{"nearest at the end", slide(vec(0, 1, 0)), balls(thread), balls(cube(vec(0, 115, 0), 10)), 100, none, 9.99, 100},
		{"the other way", slide(vec(0, 1, 0)), balls(thread), balls(cube(vec(0, -115, 0), 10)), -120, -109.99, -5.01, -115},
		{"second obstacle", slide(vec(0, 1, 0)), balls(thread), balls(cube(vec(900, 0, 0), 10), cube(vec(55, 50, 0), 0)), 100, none, 54.99, 50},
		{"in contact from the start", slide(vec(0, 1, 0)), balls(plate), balls(cube(vec(0, 0, 20), 200)), 300, 0, -20, 5},
		{"nowhere to go", slide(vec(0, 1, 0)), balls(plate), balls(cube(vec(0, 300, 200), 100)), 0, none, 245, 0},
		{
			"arm swings past a post", upright, balls(arm),
			balls(must(space.Capsule(vec(0, 0, 30), vec(0, 0, 300), 8))), math.Pi, none, math.Hypot(50, 30) - 20, 0,
		},
		{
			"arm swings into a knee", upright, balls(arm), balls(must(knob(vec(200, 200, 0), 60))), math.Pi / 2,
			math.Pi/4 - math.Asin(72/math.Hypot(200, 200)), -72, math.Pi / 4,
		},
		{
			"arm swings back into a knee", upright, balls(arm), balls(must(knob(vec(200, -200, 0), 60))), -math.Pi,
			-math.Pi/4 + math.Asin(72/math.Hypot(200, 200)), -72, -math.Pi / 4,
		},
	}
}

func TestSweepByHand(t *testing.T) {
	for _, tt := range sweepsByHand() {
		t.Run(tt.name, func(t *testing.T) {
			s := newSweep(tt.path, tt.moving, tt.fixed)
			stop := s.Free(tt.to)
			if met := stop.Fixed >= 0; met == math.IsInf(tt.stop, 1) {
				t.Errorf("Free(%g) = %+v, want contact at %g", tt.to, stop, tt.stop)
			}
			want := tt.stop
			if math.IsInf(want, 1) {
				want = tt.to
			}
			if !(math.Abs(stop.By-want) < nearBy(tt.path)) {
				t.Errorf("Free(%g) stops at %g, want %g", tt.to, stop.By, want)
			}
			got := s.Least(0, tt.to)
			if got.MM < tt.mm-exactMM || got.MM > tt.mm+space.LeastMM {
				t.Errorf("least gap = %.6g mm, want %g to %g more", got.MM, tt.mm, space.LeastMM)
			}
			again := space.Between(tt.moving[got.Moving].Moved(tt.path.Pose(got.By)), tt.fixed[got.Fixed])
			if again != got.Clearance {
				t.Errorf("gap at %g is %+v, reported %+v", got.By, again, got.Clearance)
			}
		})
	}
}

// nearBy is how near to its place a contact is found that is met head on: some
// FineMM, or that at an arm of 200 mm.
func nearBy(p space.Path) float64 {
	if p.Slides {
		return 5 * space.FineMM
	}
	return 5 * space.FineMM / 200
}

// anyPath draws a turn about any line or a slide along one.
func anyPath(rng *rand.Rand) space.Path {
	return space.Path{Through: r3.Scale(100, direction(rng)), Along: direction(rng), Slides: rng.IntN(3) == 0}
}

// Looking closely all along finds no contact before the one reported, and no gap
// that is less.
func TestSweepMissesNothing(t *testing.T) {
	const looks = 3000
	rng := rand.New(rand.NewPCG(2, 1))
	met, free := 0, 0
	for range 80 {
		path := anyPath(rng)
		to := (rng.Float64() - 0.5) * 6
		if path.Slides {
			to *= 200
		}
		moving, fixed := []space.Shape{anyShape(rng), anyShape(rng)}, []space.Shape{anyShape(rng), anyShape(rng)}
		s := newSweep(path, moving, fixed)
		stop := s.Free(to)
		least := s.Least(0, to)
		if stop.Fixed >= 0 {
			met++
		} else {
			free++
		}
		for i := range looks + 1 {
			by := to * float64(i) / looks
			pose := path.Pose(by)
			for _, m := range moving {
				for _, f := range fixed {
					g := space.Between(m.Moved(pose), f).MM
					if math.Abs(by) < math.Abs(stop.By) && g <= 0 {
						t.Fatalf("gap at %g is %g mm, Free goes on to %g", by, g, stop.By)
					}
					if g < least.MM-space.LeastMM {
						t.Fatalf("gap at %g is %g mm, Least found %g at %g", by, g, least.MM, least.By)
					}
				}
			}
		}
		if stop.Fixed >= 0 && stop.By != 0 && !(stop.MM > 0 && stop.MM <= space.FineMM) {
			t.Errorf("stopped %g mm from contact, want more than 0 and no more than %g", stop.MM, space.FineMM)
		}
	}
	if met < 10 || free < 10 {
		t.Errorf("%d met and %d free: both should be common", met, free)
	}
}

// An arc of a mount's size, looked at every thousandth of a degree. Looks are left
// out only where the last one saw more room than the shape can cover until then: no
// point of it moves farther than a meter for each radian.
func TestSweepByThousandths(t *testing.T) {
	const step, armMM = 0.001 * math.Pi / 180, 1000
	moving, fixed := mountAndSurroundings()
	for _, to := range []float64{170 * math.Pi / 180, -170 * math.Pi / 180} {
		for m := range moving {
			if reach := moving[m].ReachMM(upright.Through, upright.Along); reach > armMM {
				t.Fatalf("shape %d reaches %g mm", m, reach)
			}
			for k := range fixed {
				s := newSweep(upright, moving[m:m+1], fixed[k:k+1])
				stop := s.Free(to)
				for i := 0; float64(i)*step < math.Abs(stop.By); {
					g := space.Between(moving[m].Moved(upright.Pose(math.Copysign(float64(i)*step, to))), fixed[k]).MM
					if g <= 0 {
						t.Fatalf("shape %d touches %d after %d thousandths of a degree, Free goes on to %g", m, k, i, stop.By)
					}
					i += 1 + int(g/(armMM*step))
				}
			}
		}
	}
}

// mountAndSurroundings is the housing of a screen on eight pieces of bent tube that
// turn about the upright line through the origin, and ten shapes around.
func mountAndSurroundings() (moving, fixed []space.Shape) {
	moving = append(moving, must(space.Box(frame.Translate(vec(420, -260, 400)).Mul(frame.Rotate(0.3, vec(0, 1, 0.2))), vec(30, 300, 200))))
	last := vec(0, 0, 0)
	for i := range 8 {
		a := float64(i) / 7 * math.Pi / 2
		next := vec(100+100*(1-math.Cos(a)), -30*float64(i), 200+100*math.Sin(a))
		moving = append(moving, must(space.Capsule(last, next, 12.5)))
		last = next
	}
	fixed = []space.Shape{
		must(space.Capsule(vec(-230, -150, 80), vec(180, -130, 100), 80)),
		must(space.Capsule(vec(-230, -370, 80), vec(180, -390, 100), 80)),
		must(space.Box(frame.Translate(vec(-50, -540, 250)), vec(140, 90, 140))),
		must(space.Box(frame.Translate(vec(-130, -30, 230)), vec(300, 60, 40))),
		must(space.Box(frame.Translate(vec(-130, -490, 230)), vec(300, 60, 40))),
		must(space.Box(frame.Translate(vec(-280, -260, 300)), vec(240, 480, 500))),
		must(knob(vec(-230, -260, 700), 110)),
		must(space.Box(frame.Translate(vec(0, 0, -10480)), vec(20000, 20000, 20000))),
		must(space.Capsule(vec(0, 0, -400), vec(0, 0, -60), 12.5)),
		must(space.Capsule(vec(-330, 600, -400), vec(-330, 600, 700), 40)),
	}
	return moving, fixed
}

// A pair that stays as far apart all the way on an arc of many kilometres takes more
// looks than there are. It counts as stopped, or its gap as the bound, and what is told
// is all of that pair.
func TestSweepRunsOutOfLooks(t *testing.T) {
	const far, round = 9e8, 10.0
	axle := must(knob(vec(0, 0, 0), round))
	still := must(knob(vec(0, 0, far), round))    // on the line about which all turns
	circling := must(knob(vec(far, 0, 0), round)) // about the axle
	moving := []space.Shape{still, circling}
	got := newSweep(upright, moving, []space.Shape{axle}).Least(-3, 3)
	const gap = far - 2*round
	if !(got.MM < gap-space.LeastMM) {
		t.Fatalf("the least gap is %v mm, found in time: the test tries too little", got.MM)
	}
	seen := space.Between(moving[1].Moved(upright.Pose(got.By)), axle)
	if seen.MM = got.MM; got.Moving != 1 || got.Fixed != 0 || got.Clearance != seen {
		t.Errorf("Least = %+v, want the circling ball as at %v: %+v", got, got.By, seen)
	}
	creeping := must(knob(vec(far, 0, 0), far-round-2*space.FineMM))
	stop := newSweep(upright, []space.Shape{creeping}, []space.Shape{axle}).Free(3)
	if stop.Fixed != 0 || !(stop.By > 0 && stop.By < 3) || !(stop.MM > space.FineMM) {
		t.Errorf("Free = %+v, want a stop on the way", stop)
	}
}

// Far things cost few looks: a pair one over the other costs one each way.
func TestSweepKeepsDirection(t *testing.T) {
	over := must(space.Box(frame.Translate(vec(300, 0, 100)), vec(200, 200, 20)))
	under := must(space.Box(frame.Translate(vec(0, 0, -100)), vec(2000, 2000, 20)))
	s := newSweep(upright, []space.Shape{over}, []space.Shape{under})
	if n := testing.AllocsPerRun(100, func() { s.Free(3) }); n != 0 {
		t.Errorf("Free allocates %g times, want 0", n)
	}
	if got := s.Least(-3, 3); !(math.Abs(got.MM-180) < exactMM) {
		t.Errorf("Least = %+v, want 180 mm", got)
	}
}

func TestSweepSkips(t *testing.T) {
	moving := []space.Shape{must(knob(vec(100, 0, 0), 10)), must(knob(vec(200, 0, 0), 10))}
	fixed := []space.Shape{must(knob(vec(0, 100, 0), 10)), must(knob(vec(0, 200, 0), 10))}
	s := space.NewSweep(upright, moving, fixed, func(m, f int) bool { return m == 0 || f == 0 })
	if stop := s.Free(3); stop.Moving != 1 || stop.Fixed != 1 {
		t.Errorf("Free = %+v, want the pair 1, 1", stop)
	}
	none := space.NewSweep(upright, moving, fixed, func(int, int) bool { return true })
	if got := none.Least(0, 3); got.Fixed != -1 || got.MM != space.LimitMM {
		t.Errorf("with nothing to look at Least = %+v", got)
	}
}

// TestSweepOfNothing: what is nowhere never passes for clear.
func TestSweepOfNothing(t *testing.T) {
	ball := must(knob(vec(0, 0, 0), 10))
	far := []space.Shape{must(knob(vec(500, 0, 0), 10))}
	blocked := func(what string, got space.Closest) {
		t.Helper()
		if got.By != 0 || got.MM != -space.LimitMM || got.Moving != 0 || got.Fixed != 0 {
			t.Errorf("%s: %+v, want contact at 0", what, got)
		}
	}
	for _, tt := range []struct {
		name          string
		path          space.Path
		moving, fixed []space.Shape
	}{
		{"no direction", space.Path{}, far, []space.Shape{ball}},
		{"long direction", space.Path{Along: vec(0, 0, 2)}, far, []space.Shape{ball}},
		{"direction NaN", space.Path{Along: vec(0, math.NaN(), 1)}, far, []space.Shape{ball}},
		{"line nowhere", space.Path{Along: vec(0, 0, 1), Through: vec(math.Inf(1), 0, 0)}, far, []space.Shape{ball}},
		{"bad fixed shape", upright, far, make([]space.Shape, 1)},
		{"bad moving shape", upright, append(far, space.Shape{}), []space.Shape{ball}},
	} {
		s := space.NewSweep(tt.path, tt.moving, tt.fixed, nil)
		blocked(tt.name, s.Free(1))
		blocked(tt.name, s.Least(0, 1))
	}
	s := newSweep(upright, far, []space.Shape{ball})
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		blocked("Free to nowhere", s.Free(bad))
		blocked("Least to nowhere", s.Least(0, bad))
	}
}

// How far a shape reaches is how far its farthest corner does.
func TestFarthest(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 2))
	for range 1000 {
		s, along := anyShape(rng), direction(rng)
		want := math.Inf(-1)
		for _, c := range corners(s) {
			want = max(want, r3.Dot(c, along)+s.RoundMM)
		}
		if got := s.Farthest(along); !(math.Abs(got-want) < exactMM) {
			t.Fatalf("Farthest(%v) = %g mm, want %g, of %+v", along, got, want, s)
		}
	}
}

func BenchmarkSweep(b *testing.B) {
	moving, fixed := mountAndSurroundings()
	for _, bb := range []struct {
		name          string
		moving, fixed []space.Shape
	}{
		{"mount among ten shapes", moving, fixed},
		{"arm at the same distance from its post all the way", moving[:1], fixed[8:9]},
	} {
		b.Run(bb.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				s := newSweep(upright, bb.moving, bb.fixed)
				low := s.Free(-170 * frame.Degree.Radians())
				high := s.Free(170 * frame.Degree.Radians())
				s.Least(low.By, high.By)
			}
		})
	}
}
