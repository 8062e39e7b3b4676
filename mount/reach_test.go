package mount_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/testdata/trials"
)

// anyEnds returns random settings, each of them as often as not at one of its limits.
func anyEnds(rng *rand.Rand, c mount.Chain) mount.Settings {
	s := randomSettings(rng, c)
	for k, j := range c.Moving() {
		switch rng.IntN(4) {
		case 0:
			s[k] = j.Low
		case 1:
			s[k] = j.Round(j.High)
		}
	}
	return s
}

// over returns by how much a point exceeds a reach along any normal (mm), below zero within.
func over(r mount.Reach, at r3.Vec) float64 {
	most := math.Inf(-1)
	for i, n := range r.Normals {
		most = max(most, r3.Dot(n, at)-r.MostMM[i])
	}
	return most
}

// TestReachHoldsEveryPose: no settings bring the point of the screen out of its reach, of
// random chains and of kits with every part, on either side.
func TestReachHoldsEveryPose(t *testing.T) {
	const roundingMM = 1e-6
	rng := rand.New(rand.NewPCG(81, 1))
	var chains []mount.Chain
	for range trials.Of(8, 300) {
		chains = append(chains, randomChain(rng))
	}
	for _, side := range []mount.Side{mount.OnLeft, mount.OnRight} {
		at := mount.Mounting{ClampMM: r3.Vec{X: 300, Y: 250, Z: 400}, Side: side, SlideHighMM: 120, SlideAlong: r3.Vec{X: 1, Z: 0.2}, Axes: mount.Axes{Tilt: 0.2}}
		for _, kit := range []mount.Kit{twoTubes(), everything(), ballKit(0.6)} {
			c, err := kit.Chain(at)
			if err != nil {
				t.Fatal(err)
			}
			chains = append(chains, c)
		}
	}
	for i, c := range chains {
		r := c.Reach()
		for range trials.Of(100, 3000) {
			s := anyEnds(rng, c)
			pose, err := c.Forward(s)
			if err != nil {
				t.Fatal(err)
			}
			if mm := over(r, pose.Apply(r.PointMM)); mm > roundingMM {
				t.Fatalf("chain %d at %v: %g mm out of its reach", i, s, mm)
			}
		}
	}
}

// TestReachIsThatOfAWrist: of three hinges that meet in a point, that point; of a ball, its
// middle; without a turn at the end, the screen's middle.
func TestReachIsThatOfAWrist(t *testing.T) {
	rng := rand.New(rand.NewPCG(81, 2))
	slides := twoTubes()
	slides.Parts = []mount.Part{slides.Parts[0], slides.Parts[1], slides.Parts[5]}
	post := slides.Parts[1].(mount.Tube)
	post.Turn = mount.Range{}
	slides.Parts[1] = post
	for name, row := range map[string]struct {
		kit   mount.Kit
		joint string
	}{
		"hinges": {twoTubes(), "joint.pan"}, "ball": {everything(), "joint.lean"}, "slide": {slides, ""},
	} {
		c, err := row.kit.Chain(mount.Mounting{ClampMM: r3.Vec{X: 300, Y: 250, Z: 400}})
		if err != nil {
			t.Fatal(err)
		}
		r := c.Reach()
		for range 20 {
			frames, err := c.Frames(randomSettings(rng, c))
			if err != nil {
				t.Fatal(err)
			}
			screen := frames[len(c.Joints)]
			want := screen.At
			for i, j := range c.Joints {
				if j.Name == row.joint {
					want = frames[i].At
				}
			}
			if mm := r3.Norm(r3.Sub(screen.Apply(r.PointMM), want)); mm > 1e-6 {
				t.Errorf("%s: the point is %g mm from the wrist", name, mm)
			}
		}
	}
}

// TestReachOfTwoLinks: two links that turn about parallel axes reach, with the elbow bent by
// at least q, as far as the third side of their triangle, by the law of cosines, and along
// the axes nothing. K. M. Lynch and F. C. Park, Modern Robotics (2017), section 6.1, from
// memory.
func TestReachOfTwoLinks(t *testing.T) {
	const first, second = 400.0, 300.0
	const looseMM = 0.01 * (first + second) // of directions a few degrees apart, at two turns
	for _, bent := range []float64{0, 0.5, 1.2, 2} {
		c := mount.Chain{Tip: frame.Translate(r3.Vec{X: 50, Z: 30})}
		turn := func(name string, at r3.Vec, low, high float64) {
			c.Joints = append(c.Joints, mount.Joint{Name: name, Motion: mount.Turn, Origin: frame.Translate(at), Axis: r3.Vec{Z: 1}, Low: low, High: high, Step: 0.01})
		}
		turn("a.shoulder", r3.Vec{}, -math.Pi, math.Pi)
		turn("a.elbow", r3.Vec{X: first}, bent, 2.5)
		turn("a.wrist", r3.Vec{X: second}, -1, 1)
		far := math.Sqrt(first*first + second*second + 2*first*second*math.Cos(bent))
		r := c.Reach()
		for i, n := range r.Normals {
			want := far * math.Hypot(n.X, n.Y)
			if over := r.MostMM[i] - want; over < -1e-6 || over > looseMM {
				t.Errorf("bent by %v: along %v at most %v mm, want %v mm and at most %v mm more", bent, n, r.MostMM[i], want, looseMM)
			}
		}
	}
}
