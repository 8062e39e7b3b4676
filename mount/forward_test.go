package mount_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
)

// planar is an arm of two links that turns in the plane z = 0, with a third turn
// at its end.
func planar(first, second float64) mount.Chain {
	turn := func(name string, x float64) mount.Joint {
		j := mount.Joint{Name: name, Origin: frame.Translate(r3.Vec{X: x})}
		return ranged(j, mount.Turn, r3.Vec{Z: 1}, -170*deg, 170*deg)
	}
	return mount.Chain{
		Joints: []mount.Joint{turn("shoulder", 0), turn("elbow", first), turn("wrist", second)},
		Tip:    frame.Identity(),
	}
}

// The arm of two links in closed form: x = a cos p + b cos(p+q), y likewise with
// sines, and the screen turned by p+q+r.
func TestForwardOfTwoLinks(t *testing.T) {
	const a, b = 300.0, 220.0
	c := planar(a, b)
	rng := rand.New(rand.NewPCG(1, 1))
	for range 200 {
		s := randomSettings(rng, c)
		want := frame.Rotate(frame.Angle(s[0]+s[1]+s[2]), r3.Vec{Z: 1})
		want.At = r3.Vec{
			X: a*math.Cos(s[0]) + b*math.Cos(s[0]+s[1]),
			Y: a*math.Sin(s[0]) + b*math.Sin(s[0]+s[1]),
		}
		wantSamePose(t, "two links", mustForward(t, c, s), want)
	}
}

// Back from a pose in closed form: cos q = (x² + y² - a² - b²) / (2 a b), elbow on
// either side, and p = atan2(y, x) - atan2(b sin q, a + b cos q).
func TestSolveOfTwoLinks(t *testing.T) {
	const a, b = 300.0, 220.0
	c := planar(a, b)
	rng := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		target := mustForward(t, c, randomSettings(rng, c))
		got, err := solve(c, target, mount.Options{})
		if err != nil {
			t.Fatalf("Solve(%v): %v", target, err)
		}
		x, y := target.At.X, target.At.Y
		q := math.Acos((x*x + y*y - a*a - b*b) / (2 * a * b))
		if got.Settings[1] < 0 {
			q = -q
		}
		p := math.Atan2(y, x) - math.Atan2(b*math.Sin(q), a+b*math.Cos(q))
		// Near a stretched arm 0.001 mm left by the search is magnified.
		const tol = 1e-3
		if d := frame.Angle(got.Settings[0] - p).Wrapped().Radians(); math.Abs(d) > tol || math.Abs(got.Settings[1]-q) > tol {
			t.Fatalf("settings %v, want %v %v", got.Settings, p, q)
		}
	}
}

func TestCompiledAgreesWithForward(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 3))
	for range 300 {
		c := randomChain(rng)
		k, err := c.Compile()
		if err != nil {
			t.Fatal(err)
		}
		for range 3 {
			s := randomSettings(rng, c)
			want := mustForward(t, c, s)
			wantSamePose(t, "Compiled.Pose", k.Pose(s), want)
			wantSamePose(t, "Compiled.PoseAndRates", k.PoseAndRates(s, make([]mount.Rate, len(s))), want)
		}
	}
}

// The sums over all targets of the screen's place (mm), and of the nine entries of its
// rotation, row by row, weighted 1 to 9. Computed once with Orocos KDL 1.5.1
// (ChainFkSolverPos_recursive) from the same files and the same settings.
func TestForwardAgainstAnotherLibrary(t *testing.T) {
	const tol = 1e-6 // of sums of two thousand numbers of about a thousand
	tests := []struct {
		chain, family string
		place         r3.Vec
		turn          float64
	}{
		{"bent", "rand", r3.Vec{X: 13764.523508520831, Y: 12696.084691614737, Z: 1001797.696980710956}, 10836.621021661591},
		{"bent", "edge", r3.Vec{X: -118897.332414163058, Y: -1964.676844722104, Z: 1015950.682402728824}, 9029.129231017878},
		{"straight", "rand", r3.Vec{X: -3271.038243328960, Y: 11183.924254701848, Z: 1001797.696980710956}, 10836.621021661591},
		{"straight", "edge", r3.Vec{X: 13828.873310901556, Y: 2937.318507439752, Z: 1015950.682402728824}, 9029.129231017878},
		{"six", "rand", r3.Vec{X: 535136.881392301642, Y: 3636.172818120282, Z: 1009645.821674426552}, 11388.407551130089},
		{"six", "edge", r3.Vec{X: 420624.831115042616, Y: -649.320321998432, Z: 1010253.776524980902}, 7593.385123122829},
	}
	for _, tt := range tests {
		t.Run(tt.chain+"/"+tt.family, func(t *testing.T) {
			c := storedChain(t, tt.chain)
			var place r3.Vec
			turn := 0.0
			for _, s := range family(c, tt.family) {
				p := mustForward(t, c, s)
				place = r3.Add(place, p.At)
				x, y, z := p.Rot.X, p.Rot.Y, p.Rot.Z
				turn += x.X + 2*y.X + 3*z.X + 4*x.Y + 5*y.Y + 6*z.Y + 7*x.Z + 8*y.Z + 9*z.Z
			}
			if d := r3.Norm(r3.Sub(place, tt.place)); d > tol {
				t.Errorf("sum of places %v, want %v", place, tt.place)
			}
			if math.Abs(turn-tt.turn) > tol {
				t.Errorf("sum of rotations %v, want %v", turn, tt.turn)
			}
		})
	}
}

func TestJacobianAgainstDifferences(t *testing.T) {
	const (
		h = 1e-5
		// Central differences err by h² of the third derivative, about 1000 mm,
		// and by rounding of 1e-13 mm over h.
		tolMM, tolRad = 1e-5, 1e-8
	)
	rng := rand.New(rand.NewPCG(1, 4))
	for range 200 {
		c := randomChain(rng)
		s := randomSettings(rng, c)
		pose, rates := jacobian(t, c, s)
		wantSamePose(t, "Jacobian's pose", pose, mustForward(t, c, s))
		k, err := c.Compile()
		if err != nil {
			t.Fatal(err)
		}
		for i, rate := range rates {
			up, down := append(mount.Settings{}, s...), append(mount.Settings{}, s...)
			up[i], down[i] = s[i]+h, s[i]-h
			p, q := k.Pose(up), k.Pose(down)
			move := r3.Scale(1/(2*h), r3.Sub(p.At, q.At))
			turn := r3.Scale(1/(2*h), p.Rot.Mul(q.Rot.Inverse()).Vector())
			if d := r3.Norm(r3.Sub(move, rate.Move)); d > tolMM {
				t.Fatalf("setting %d: Move %v, differences give %v", i, rate.Move, move)
			}
			if d := r3.Norm(r3.Sub(turn, rate.Turn)); d > tolRad {
				t.Fatalf("setting %d: Turn %v, differences give %v", i, rate.Turn, turn)
			}
		}
	}
}

// Joints are rigid: what is between the axes of two neighbors keeps its length,
// and frames stay square.
func TestFramesStayRigid(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 5))
	for range 100 {
		c := randomChain(rng)
		for range 3 {
			s := randomSettings(rng, c)
			frames, err := c.Frames(s)
			if err != nil {
				t.Fatal(err)
			}
			if len(frames) != len(c.Joints)+1 {
				t.Fatalf("%d frames for %d joints", len(frames), len(c.Joints))
			}
			wantSamePose(t, "last frame", frames[len(c.Joints)], mustForward(t, c, s))
			for i := 1; i < len(c.Joints); i++ {
				if c.Joints[i].Motion == mount.Slide {
					continue
				}
				got := r3.Norm(r3.Sub(frames[i].At, frames[i-1].At))
				if want := r3.Norm(c.Joints[i].Origin.At); math.Abs(got-want) > exactMM {
					t.Fatalf("joint %d is %v mm from the one before, want %v", i, got, want)
				}
			}
		}
	}
}

func TestForwardRefuses(t *testing.T) {
	c := planar(300, 220)
	tests := []struct {
		name string
		s    mount.Settings
		want string
	}{
		{"too few", mount.Settings{0, 0}, "mount: wrong number of settings: got 2, the chain has 3 joints that move"},
		{"too many", mount.Settings{0, 0, 0, 0}, "got 4"},
		{"not a number", mount.Settings{0, math.NaN(), 0}, `mount: joint "elbow": setting NaN is not a finite number`},
		{"outside", mount.Settings{0, 200 * deg, 0}, `mount: joint "elbow": 200.0° is outside -170.0° to 170.0°`},
		{"two outside", mount.Settings{3, -3, 0}, "\n"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			for _, f := range []func() error{
				func() error { _, err := c.Forward(tt.s); return err },
				func() error { _, err := c.Frames(tt.s); return err },
				func() error { _, err := c.Links(tt.s); return err },
			} {
				if err := f(); err == nil || !strings.Contains(err.Error(), tt.want) {
					t.Errorf("error %v, want %q in it", err, tt.want)
				}
			}
		})
	}
	_, err := c.Forward(mount.Settings{0, 200 * deg, 0})
	var limit *mount.LimitError
	if !errors.As(err, &limit) || limit.Joint.Name != "elbow" || limit.Value != 200*deg {
		t.Errorf("error %#v is no LimitError of the elbow", err)
	}
	if _, err := c.Forward(nil); !errors.Is(err, mount.ErrCount) {
		t.Errorf("error %v is no ErrCount", err)
	}
}

func TestPoseDoesNotAllocate(t *testing.T) {
	c := storedChain(t, "bent")
	k, err := c.Compile()
	if err != nil {
		t.Fatal(err)
	}
	s := c.Preferred()
	rates := make([]mount.Rate, len(s))
	if n := testing.AllocsPerRun(100, func() { k.Pose(s); k.PoseAndRates(s, rates) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

func BenchmarkForward(b *testing.B) {
	c := storedChain(b, "bent")
	k, err := c.Compile()
	if err != nil {
		b.Fatal(err)
	}
	s := c.Preferred()
	rates := make([]mount.Rate, len(s))
	b.Run("Pose", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			k.Pose(s)
		}
	})
	b.Run("PoseAndRates", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			k.PoseAndRates(s, rates)
		}
	})
}
