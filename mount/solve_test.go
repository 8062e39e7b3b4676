package mount_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
)

// splitMix returns number m, from 0 to 1, of the stream with the given seed, as
// SplitMix64 makes it (G. L. Steele, D. Lea and C. H. Flood, "Fast splittable
// pseudorandom number generators", OOPSLA 2014, from memory). Programs in other
// languages make the same targets from it bit for bit.
func splitMix(seed, m uint64) float64 {
	z := seed + (m+1)*0x9E3779B97F4A7C15
	z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9
	z = (z ^ (z >> 27)) * 0x94D049BB133111EB
	return float64((z^(z>>31))>>11) * 0x1p-53
}

const targetCount = 2000

// family returns settings from which targets are made: "rand" anywhere within the
// limits, "edge" with each setting at one of its limits a quarter of the time.
func family(c mount.Chain, name string) []mount.Settings {
	moving := c.Moving()
	n := len(moving)
	all := make([]mount.Settings, targetCount)
	for i := range all {
		s := make(mount.Settings, n)
		for k, j := range moving {
			m := uint64(i*n + k)
			s[k] = j.Low + splitMix(1, m)*(j.High-j.Low)
			if name == "edge" {
				where, within := splitMix(3, 2*m), splitMix(3, 2*m+1)
				switch {
				case where < 0.125:
					s[k] = j.Low
				case where < 0.25:
					s[k] = j.High
				default:
					s[k] = j.Low + within*(j.High-j.Low)
				}
			}
		}
		all[i] = s
	}
	return all
}

// storedChains are the chains in testdata: a post bent so that the elbow stands
// beside it, the same with a straight post, and the bent one with swing and reach
// locked, which leaves six settings.
func storedChains() []string { return []string{"bent", "straight", "six"} }

// Every target that was made from settings within the limits is found again. A
// separate forward pass judges: within the limits, 0.1 mm and 0.01°.
func TestSolveFindsEveryTarget(t *testing.T) {
	for _, name := range storedChains() {
		c := storedChain(t, name)
		solver, err := c.Solver()
		if err != nil {
			t.Fatal(err)
		}
		for _, fam := range []string{"rand", "edge"} {
			t.Run(name+"/"+fam, func(t *testing.T) {
				for i, made := range family(c, fam) {
					target := mustForward(t, c, made)
					got, err := solver.Solve(target, mount.Options{})
					if err != nil {
						t.Errorf("target %d: %v", i, err)
						continue
					}
					mm, rad := apart(mustForward(t, c, got.Settings), target)
					if mm > 0.1 || rad > 0.01*deg {
						t.Errorf("target %d: off by %v mm and %v rad", i, mm, rad)
					}
				}
			})
		}
	}
}

// Settings to pose and back on chains of every kind, also with more joints than
// needed and with fewer.
func TestSolveOnRandomChains(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 1))
	for i := range 300 {
		c := randomChain(rng)
		made := randomSettings(rng, c)
		target := mustForward(t, c, made)
		got, err := solve(c, target, mount.Options{})
		if err != nil {
			t.Errorf("chain %d with %d settings: %v", i, len(made), err)
			continue
		}
		if mm, _ := apart(mustForward(t, c, got.Settings), target); mm > 0.1 {
			t.Errorf("chain %d: off by %v mm", i, mm)
		}
	}
}

// Every stop is tried: a pose made at any of them is found.
func TestSolveTriesEveryStop(t *testing.T) {
	c, err := everything().Chain(placed())
	if err != nil {
		t.Fatal(err)
	}
	const index = 1
	rng := rand.New(rand.NewPCG(7, 2))
	for range 50 {
		target := mustForward(t, c, randomSettings(rng, c))
		for _, find := range []func() (mount.Solution, error){
			func() (mount.Solution, error) { return solve(c, target, mount.Options{}) },
			func() (mount.Solution, error) { return c.Prefer(target, nil, mount.Options{}) },
		} {
			got, err := find()
			if err != nil {
				t.Fatal(err)
			}
			mustForward(t, c, got.Settings)
			if j := c.Moving()[index]; math.Abs(j.Round(got.Settings[index])-got.Settings[index]) > exactRad {
				t.Errorf("%s at %s is between stops", j.Name, j.Format(got.Settings[index]))
			}
		}
	}
}

// Out of reach: the arm lies stretched toward the target, and the distance left is
// the one in closed form.
func TestSolveOutOfReach(t *testing.T) {
	c := planar(300, 220)
	target := frame.Translate(r3.Vec{X: 700})
	got, err := solve(c, target, mount.Options{})
	if !errors.Is(err, mount.ErrUnreached) {
		t.Fatalf("error %v, want ErrUnreached", err)
	}
	// Where nothing more is gained the search ends early: "about" is what it says.
	mm, _ := apart(mustForward(t, c, got.Settings), target)
	if want := 700.0 - 520; math.Abs(mm-want) > 1 {
		t.Errorf("off by %v mm, want about %v", mm, want)
	}

	c = storedChain(t, "bent")
	target = mustForward(t, c, c.Preferred())
	target.At.Z += 2000
	got, err = solve(c, target, mount.Options{})
	if !errors.Is(err, mount.ErrUnreached) {
		t.Fatalf("error %v, want ErrUnreached", err)
	}
	if !finite(got.Settings) {
		t.Errorf("settings %v", got.Settings)
	}
	mustForward(t, c, got.Settings)
	if post := c.Moving()[0]; !post.Same(got.Settings[0], post.High) {
		t.Errorf("post at %v, want it at its highest, %v", got.Settings[0], post.High)
	}
}

func TestSolveRefuses(t *testing.T) {
	c := planar(300, 220)
	bad := frame.Identity()
	bad.At.X = math.NaN()
	skew := frame.Identity()
	skew.Rot.X.Y = 0.1
	for name, target := range map[string]frame.Pose{"NaN": bad, "zero": {}, "skew": skew} {
		if _, err := solve(c, target, mount.Options{}); err == nil {
			t.Errorf("target %s: no error", name)
		}
	}
	for name, opt := range map[string]mount.Options{
		"starts":    {Starts: -1},
		"lever":     {Lever: math.Inf(1)},
		"bad lever": {Lever: math.NaN()},
	} {
		if _, err := c.Prefer(frame.Identity(), nil, opt); err == nil {
			t.Errorf("options %s: no error", name)
		}
	}
	if _, err := c.Prefer(frame.Identity(), mount.Settings{0}, mount.Options{}); !errors.Is(err, mount.ErrCount) {
		t.Errorf("short start: error %v, want ErrCount", err)
	}
	if _, err := solve(mount.Chain{}, frame.Identity(), mount.Options{}); err == nil {
		t.Error("zero chain: no error")
	}
}

// A turn that goes all the way round is solved across its stop.
func TestSolveAcrossTheStop(t *testing.T) {
	j := ranged(mount.Joint{Name: "swing", Origin: frame.Identity()}, mount.Turn, r3.Vec{Z: 1}, -math.Pi, math.Pi)
	j.Preferred = 3 // near the stop at 180°
	c := mount.Chain{Joints: []mount.Joint{j}, Tip: frame.Translate(r3.Vec{X: 300})}
	target := mustForward(t, c, mount.Settings{-3})
	got, err := solve(c, target, mount.Options{Starts: 1})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(got.Settings[0]+3) > 1e-5 {
		t.Errorf("swing %v, want -3", got.Settings[0])
	}
}

func BenchmarkSolve(b *testing.B) {
	for _, name := range storedChains() {
		for _, fam := range []string{"rand", "edge"} {
			b.Run(fmt.Sprintf("%s/%s", name, fam), func(b *testing.B) {
				c := storedChain(b, name)
				solver, err := c.Solver()
				if err != nil {
					b.Fatal(err)
				}
				var targets []frame.Pose
				for _, made := range family(c, fam) {
					targets = append(targets, mustForward(b, c, made))
				}
				b.ResetTimer()
				for i := range b.N {
					if _, err := solver.Solve(targets[i%targetCount], mount.Options{}); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
