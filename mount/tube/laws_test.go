package tube_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/tube"
)

// rounding is what sums of some hundred terms may lose, as a part of their size.
const rounding = 1e-9

// apart returns how far two sags are apart, as a part of the size of the second.
func apart(a, b tube.Sag) float64 {
	shift := r3.Norm(r3.Sub(a.ShiftMM, b.ShiftMM)) / r3.Norm(b.ShiftMM)
	return max(shift, r3.Norm(r3.Sub(a.Turn, b.Turn))/r3.Norm(b.Turn))
}

func plus(a, b tube.Sag, times float64) tube.Sag {
	return tube.Sag{
		ShiftMM: r3.Add(a.ShiftMM, r3.Scale(times, b.ShiftMM)),
		Turn:    r3.Add(a.Turn, r3.Scale(times, b.Turn)),
	}
}

func randomVec(rng *rand.Rand) r3.Vec {
	return r3.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}
}

func randomGravity(rng *rand.Rand) r3.Vec {
	return r3.Scale(standardGravity, r3.Unit(randomVec(rng)))
}

func randomSettings(rng *rand.Rand, c mount.Chain) mount.Settings {
	s := mount.Settings{}
	for _, j := range c.Moving() {
		s = append(s, j.Low+rng.Float64()*(j.High-j.Low))
	}
	return s
}

// each calls f with random settings and gravity of every sample kit.
func each(t *testing.T, f func(t *testing.T, rng *rand.Rand, c mount.Chain, s mount.Settings, gravity r3.Vec)) {
	t.Helper()
	rng := rand.New(rand.NewPCG(11, 4))
	for _, kit := range []mount.Kit{offsetPost(), railBall()} {
		t.Run(kit.Name, func(t *testing.T) {
			c := mustChain(t, kit, mount.OnLeft)
			for range 50 {
				f(t, rng, c, randomSettings(rng, c), randomGravity(rng))
			}
		})
	}
}

// Twice the mass of the device makes twice its part of everything.
func TestTwiceTheDevice(t *testing.T) {
	each(t, func(t *testing.T, _ *rand.Rand, c mount.Chain, s mount.Settings, gravity r3.Vec) {
		t.Helper()
		with := func(times float64) tube.Load {
			d := c
			d.Masses = slices.Clone(c.Masses)
			for i := range d.Masses {
				if d.Masses[i].Carrier == len(c.Joints) {
					d.Masses[i].KG *= times
				}
			}
			return loadOf(t, d, s, gravity)
		}
		none, once, twice := with(0), with(1), with(2)
		first, second := plus(once.Screen, none.Screen, -1), plus(twice.Screen, once.Screen, -1)
		if got := apart(second, first); got > rounding*1e3 { // a difference of nearly equal numbers
			t.Fatalf("the second device adds %v, the first %v", second, first)
		}
		for i := range once.Joints {
			if a, b := once.Joints[i].Load, (none.Joints[i].Load+twice.Joints[i].Load)/2; a > b*(1+rounding)+1e-12 {
				t.Fatalf("joint %d: %v N m is more than the mean of less and more, %v", i, a, b)
			}
		}
	})
}

// Sag is linear in gravity: that of two gravities is the sum of their sags.
func TestLinearInGravity(t *testing.T) {
	each(t, func(t *testing.T, rng *rand.Rand, c mount.Chain, s mount.Settings, gravity r3.Vec) {
		t.Helper()
		other := randomGravity(rng)
		want := plus(loadOf(t, c, s, gravity).Screen, loadOf(t, c, s, other).Screen, 0.7)
		got := loadOf(t, c, s, r3.Add(gravity, r3.Scale(0.7, other))).Screen
		if off := apart(got, want); off > rounding {
			t.Fatalf("off by %g: %v, want %v", off, got, want)
		}
	})
}

// Turning gravity is turning the chain the other way.
func TestTurnedChain(t *testing.T) {
	each(t, func(t *testing.T, rng *rand.Rand, c mount.Chain, s mount.Settings, gravity r3.Vec) {
		t.Helper()
		turn := frame.Pose{Rot: frame.FromVector(randomVec(rng)), At: r3.Scale(300, randomVec(rng))}
		turned := c
		turned.Joints = slices.Clone(c.Joints)
		turned.Joints[0].Origin = turn.Mul(c.Joints[0].Origin)
		a, b := loadOf(t, c, s, gravity), loadOf(t, turned, s, turn.Rot.Apply(gravity))
		want := tube.Sag{ShiftMM: turn.Rot.Apply(a.Screen.ShiftMM), Turn: turn.Rot.Apply(a.Screen.Turn)}
		if off := apart(b.Screen, want); off > rounding {
			t.Fatalf("off by %g: %v, want %v", off, b.Screen, want)
		}
		sameNumbers(t, b, a)
	})
}

// On the other side of the chair everything is the mirror image.
func TestMirroredChain(t *testing.T) {
	for _, kit := range []mount.Kit{offsetPost(), railBall()} {
		rng := rand.New(rand.NewPCG(11, 5))
		left, right := mustChain(t, kit, mount.OnLeft), mustChain(t, kit, mount.OnRight)
		for range 50 {
			s, g := randomSettings(rng, left), randomGravity(rng)
			a := loadOf(t, left, s, g)
			b := loadOf(t, right, s, r3.Vec{X: g.X, Y: -g.Y, Z: g.Z})
			want := tube.Sag{
				ShiftMM: r3.Vec{X: a.Screen.ShiftMM.X, Y: -a.Screen.ShiftMM.Y, Z: a.Screen.ShiftMM.Z},
				Turn:    r3.Vec{X: -a.Screen.Turn.X, Y: a.Screen.Turn.Y, Z: -a.Screen.Turn.Z},
			}
			if off := apart(b.Screen, want); off > rounding {
				t.Fatalf("%s: off by %g: %v, want %v", kit.Name, off, b.Screen, want)
			}
			sameNumbers(t, b, a)
		}
	}
}

// sameNumbers fails the test if what does not depend on the axes differs.
func sameNumbers(t *testing.T, got, want tube.Load) {
	t.Helper()
	same := func(a, b float64) bool { return math.Abs(a-b) <= rounding*(1+math.Abs(b)) }
	for i, w := range want.Tubes {
		if g := got.Tubes[i]; g.Part != w.Part || !same(g.MPa, w.MPa) || !same(g.MomentNM, w.MomentNM) {
			t.Fatalf("tube %d: %+v, want %+v", i, g, w)
		}
	}
	for i, w := range want.Joints {
		if g := got.Joints[i]; g.Joint != w.Joint || !same(g.Load, w.Load) || g.SlipLoad != w.SlipLoad {
			t.Fatalf("joint %d: %+v, want %+v", i, g, w)
		}
	}
	for i, w := range want.Parts {
		if g := got.Parts[i]; g.Part != w.Part || !same(g.KG, w.KG) || g.RatedKG != w.RatedKG {
			t.Fatalf("part %d: %+v, want %+v", i, g, w)
		}
	}
}

// A load here shifts the mount there as much as a load there would shift it here:
// the theorem of Betti and Maxwell.
func TestReciprocity(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 6))
	for range 50 {
		c := cantilever(mount.Section{OutsideMM: 25, WallMM: 2, Material: weightless(alloy6061())}, mount.Centerline{
			BendRadiusMM: 80, EndMM: 100 * rng.Float64(), Bends: []mount.Bend{
				{StraightMM: 200 * rng.Float64(), Turn: frame.Angle(rng.NormFloat64()), Angle: frame.Angle(2 * rng.Float64())},
				{StraightMM: 200 * rng.Float64(), Turn: frame.Angle(rng.NormFloat64()), Angle: frame.Angle(2 * rng.Float64())},
			},
		})
		place := func() mount.Chain {
			d := c
			d.Tip.At = r3.Add(d.Tip.At, r3.Scale(200, randomVec(rng)))
			return d
		}
		here, there := place(), place()
		f, g := randomVec(rng), randomVec(rng)
		// the end moves as one body, on which both places are
		at := func(loaded, asked mount.Chain, force r3.Vec) r3.Vec {
			sag := pulled(t, loaded, force).Screen
			return r3.Add(sag.ShiftMM, r3.Cross(sag.Turn, r3.Sub(asked.Tip.At, loaded.Tip.At)))
		}
		a, b := r3.Dot(at(here, there, f), g), r3.Dot(at(there, here, g), f)
		if math.Abs(a-b) > rounding*(math.Abs(a)+1e-3) {
			t.Fatalf("work %v one way and %v the other", a, b)
		}
	}
}

func TestNothingIsAllocated(t *testing.T) {
	c := mustChain(t, offsetPost(), mount.OnLeft)
	m, err := tube.NewModel(c)
	if err != nil {
		t.Fatal(err)
	}
	s, down := c.Preferred(), r3.Vec{Z: -standardGravity}
	var l tube.Load
	var lines []tube.Bent
	if n := testing.AllocsPerRun(20, func() {
		if _, err := m.Screen(s, down); err != nil {
			t.Fatal(err)
		}
		if err := m.At(&l, s, down); err != nil {
			t.Fatal(err)
		}
		if lines, err = m.Lines(lines[:0], s, down, 0); err != nil {
			t.Fatal(err)
		}
	}); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

func TestModelProblems(t *testing.T) {
	kit := offsetPost()
	post := kit.Parts[1].(mount.Tube)
	post.Section.Material = mount.Material{}
	kit.Parts[1] = post
	if _, err := tube.NewModel(mustChain(t, kit, mount.OnLeft)); !errors.Is(err, tube.ErrUnknown) {
		t.Errorf("no material: %v", err)
	}
	c := mustChain(t, offsetPost(), mount.OnLeft)
	broken := c
	broken.Masses = []mount.Mass{{Part: "nowhere", Carrier: 99, KG: 1}}
	if _, err := tube.NewModel(broken); err == nil {
		t.Error("a mass that is nowhere is taken")
	}
	backward := c
	backward.Spans = []mount.Span{c.Spans[1], c.Spans[0]}
	if _, err := tube.NewModel(backward); err == nil {
		t.Error("tubes from the screen inward are taken")
	}
	m, err := tube.NewModel(c)
	if err != nil {
		t.Fatal(err)
	}
	ok, down := c.Preferred(), r3.Vec{Z: -standardGravity}
	far, odd := slices.Clone(ok), slices.Clone(ok)
	far[0], odd[1] = 1e4, math.NaN()
	var limit *mount.LimitError
	if _, err := m.Screen(far, down); !errors.As(err, &limit) {
		t.Errorf("a height of ten meters: %v", err)
	}
	if _, err := m.Screen(ok[1:], down); !errors.Is(err, mount.ErrCount) {
		t.Errorf("a setting too few: %v", err)
	}
	if _, err := m.Screen(append(slices.Clone(ok), 0), down); !errors.Is(err, mount.ErrCount) {
		t.Errorf("a setting too many: %v", err)
	}
	var l tube.Load
	for _, bad := range []struct {
		s mount.Settings
		g r3.Vec
	}{{odd, down}, {ok, r3.Vec{X: math.NaN()}}, {ok, r3.Vec{Z: math.Inf(-1)}}, {ok, r3.Vec{Z: -1e200}}} {
		if err := m.At(&l, bad.s, bad.g); err == nil {
			t.Errorf("settings %v under gravity %v are taken", bad.s, bad.g)
		}
		if _, err := m.Lines(nil, bad.s, bad.g, 0); err == nil {
			t.Errorf("settings %v under gravity %v are taken", bad.s, bad.g)
		}
	}
}

// FuzzModel puts odd numbers into a mount. Whatever they are, it is refused or gives
// finite numbers.
func FuzzModel(f *testing.F) {
	f.Add(25.0, 2.0, 7e4, 2.6e4, 2700.0, 100.0, 1.0, 2.0, -9.8, 0.001)
	f.Add(1e-3, 5e-4, 1e-300, 1e-300, 1e6, 1e-2, 3.1, 1e4, 1000.0, 1.0)
	f.Add(1e5, 1.0, 1e8, 1e8, 1e-300, 1e5, 1e-9, 0.0, 1e-300, 0.0)
	f.Fuzz(func(t *testing.T, outside, wall, young, shear, density, radius, angle, kg, gravity, gives float64) {
		kit := railBall()
		kit.Parts[1] = mount.Tube{
			Name: "post", TotalMM: 900, Slide: mount.Range{Low: 850, High: 850, Step: 850, Preferred: 850},
			Section: mount.Section{OutsideMM: outside, WallMM: wall, Material: mount.Material{YoungMPa: young, ShearMPa: shear, DensityKGM3: density}},
			Shape:   mount.Centerline{BendRadiusMM: radius, Bends: []mount.Bend{{StraightMM: 100, Angle: frame.Angle(angle)}}},
		}
		kit.Parts[3] = mount.Ball{Name: "ball", Cone: 1, Stiffness: mount.JointStiffness{Compliance: gives}, MassKG: kg}
		c, err := kit.Chain(mount.Mounting{})
		if err != nil {
			return
		}
		m, err := tube.NewModel(c)
		if err != nil {
			return
		}
		var l tube.Load
		g := r3.Vec{X: gravity, Z: -gravity}
		if err := m.At(&l, c.Preferred(), g); err != nil {
			return
		}
		lines, err := m.Lines(nil, c.Preferred(), g, 0)
		if err != nil {
			t.Fatal(err)
		}
		numbers := []float64{r3.Norm(l.Screen.ShiftMM), r3.Norm(l.Screen.Turn)}
		for _, s := range l.Tubes {
			numbers = append(numbers, s.MPa, s.AtMM, s.MomentNM)
		}
		for _, h := range l.Joints {
			numbers = append(numbers, h.Load)
		}
		for _, b := range lines {
			numbers = append(numbers, b.AlongMM, b.MPa, b.MomentNM, r3.Norm(b.AtMM), r3.Norm(b.Sag.ShiftMM))
		}
		for _, n := range numbers {
			if math.IsNaN(n) || math.IsInf(n, 0) {
				t.Fatalf("%v comes out: %+v", n, l)
			}
		}
	})
}
