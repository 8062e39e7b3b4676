package mount_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
)

// Tolerances shared by the tests.
const (
	// exactMM and exactRad allow for rounding over a dozen products of numbers of
	// about a thousand, with room to spare.
	exactMM  = 1e-9
	exactRad = 1e-12
)

// storedChain reads a chain from testdata.
func storedChain(tb testing.TB, name string) mount.Chain {
	tb.Helper()
	text, err := os.ReadFile("testdata/" + name + ".txt")
	if err != nil {
		tb.Fatal(err)
	}
	c := mount.Chain{Tip: frame.Identity()}
	for line := range strings.Lines(string(text)) {
		if strings.HasPrefix(line, "#") {
			continue
		}
		var (
			motion       string
			axis, origin r3.Vec
			low, high    float64
		)
		if _, err := fmt.Sscan(line, &motion, &axis.X, &axis.Y, &axis.Z, &origin.X, &origin.Y, &origin.Z, &low, &high); err != nil {
			tb.Fatalf("%s: %q: %v", name, line, err)
		}
		j := mount.Joint{Name: fmt.Sprintf("joint%d", len(c.Joints)+1), Origin: frame.Translate(r3.Scale(1000, origin))}
		switch motion {
		case "S":
			j = ranged(j, mount.Slide, axis, 1000*low, 1000*high)
		case "T":
			j = ranged(j, mount.Turn, axis, low, high)
		}
		c.Joints = append(c.Joints, j)
	}
	if err := c.Check(); err != nil {
		tb.Fatalf("%s: %v", name, err)
	}
	return c
}

// ranged makes j a moving joint that prefers the middle of its range.
func ranged(j mount.Joint, m mount.Motion, axis r3.Vec, low, high float64) mount.Joint {
	j.Motion, j.Axis, j.Low, j.High = m, axis, low, high
	j.Preferred, j.Effort, j.Step = (low+high)/2, 1, 1
	if m == mount.Turn {
		j.Step = frame.Degree.Radians()
	}
	return j
}

// randomVec returns a vector with components from -size to size.
func randomVec(rng *rand.Rand, size float64) r3.Vec {
	draw := func() float64 { return size * (2*rng.Float64() - 1) }
	return r3.Vec{X: draw(), Y: draw(), Z: draw()}
}

// randomPose returns a pose within size mm of the origin, turned anyhow.
func randomPose(rng *rand.Rand, size float64) frame.Pose {
	return frame.Pose{Rot: frame.FromVector(randomVec(rng, 2)), At: randomVec(rng, size)}
}

// randomChain returns a chain of 1 to 10 joints of all kinds with axes and
// origins anywhere.
func randomChain(rng *rand.Rand) mount.Chain {
	c := mount.Chain{Tip: randomPose(rng, 200)}
	for i := range 1 + rng.IntN(10) {
		j := mount.Joint{Name: fmt.Sprintf("joint%d", i+1), Origin: randomPose(rng, 300)}
		axis := r3.Unit(randomVec(rng, 1))
		switch rng.IntN(4) {
		case 0:
			j = ranged(j, mount.Slide, axis, 100*rng.Float64(), 100+300*rng.Float64())
		case 1, 2:
			j = ranged(j, mount.Turn, axis, -3*rng.Float64(), 3*rng.Float64())
		}
		c.Joints = append(c.Joints, j)
	}
	return c
}

// randomSettings returns settings anywhere within the limits; stops for joints
// that have them.
func randomSettings(rng *rand.Rand, c mount.Chain) mount.Settings {
	s := mount.Settings{}
	for _, j := range c.Moving() {
		v := j.Low + rng.Float64()*(j.High-j.Low)
		if j.Indexed {
			v = j.Round(v)
		}
		s = append(s, v)
	}
	return s
}

// apart returns how far apart two poses are: mm, and radians.
func apart(p, q frame.Pose) (mm, rad float64) {
	return r3.Norm(r3.Sub(p.At, q.At)), p.Rot.Mul(q.Rot.Inverse()).Angle().Radians()
}

// wantSamePose fails the test if got and want differ by more than rounding.
func wantSamePose(tb testing.TB, what string, got, want frame.Pose) {
	tb.Helper()
	// Angle loses half its digits to nothing: it is exact near zero.
	if mm, rad := apart(got, want); !(mm <= exactMM) || !(rad <= exactRad) {
		tb.Fatalf("%s: got %v, want %v: %.2g mm and %.2g rad apart", what, got, want, mm, rad)
	}
}

// mustForward returns the pose at s.
func mustForward(tb testing.TB, c mount.Chain, s mount.Settings) frame.Pose {
	tb.Helper()
	p, err := c.Forward(s)
	if err != nil {
		tb.Fatalf("Forward(%v): %v", s, err)
	}
	return p
}

// finite reports whether no number of s is NaN or infinite.
func finite(s mount.Settings) bool {
	for _, v := range s {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

// solve finds settings of c for one target.
func solve(c mount.Chain, target frame.Pose, opt mount.Options) (mount.Solution, error) {
	solver, err := c.Solver()
	if err != nil {
		return mount.Solution{}, err
	}
	return solver.Solve(target, opt)
}

// jacobian returns the pose at s and the motion of the screen for each unit of every
// setting.
func jacobian(tb testing.TB, c mount.Chain, s mount.Settings) (frame.Pose, []mount.Rate) {
	tb.Helper()
	k, err := c.Compile()
	if err != nil {
		tb.Fatal(err)
	}
	rates := make([]mount.Rate, len(s))
	return k.PoseAndRates(s, rates), rates
}
