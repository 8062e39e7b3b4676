package mount_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount"
)

func TestMirroredTwiceIsTheSame(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 1))
	for range 50 {
		c := randomChain(rng)
		m := c.Mirrored().Mirrored()
		s := randomSettings(rng, c)
		wantSamePose(t, "mirrored twice", mustForward(t, m, s), mustForward(t, c, s))
	}
}

// On the other side of the chair the same settings give the mirrored screen, and
// every tube is where the mirror shows it.
func TestRightSideMirrorsLeft(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 2))
	for _, kit := range []mount.Kit{twoTubes(), everything()} {
		left, err := kit.Chain(placed())
		if err != nil {
			t.Fatal(err)
		}
		right, err := kit.Chain(mirrored(placed()))
		if err != nil {
			t.Fatal(err)
		}
		if got, want := right.Joints[0].Origin.At.Y, -placed().ClampMM.Y; got != want {
			t.Errorf("%s: right clamp at y = %v, want %v", kit.Name, got, want)
		}
		for range 100 {
			s := randomSettings(rng, left)
			want := mount.MirrorScreen(mustForward(t, left, s))
			wantSamePose(t, kit.Name, mustForward(t, right, s), want)
			wantMirroredLinks(t, left, right, s)
		}
	}
}

func wantMirroredLinks(t *testing.T, left, right mount.Chain, s mount.Settings) {
	t.Helper()
	a, err := left.Links(s)
	if err != nil {
		t.Fatal(err)
	}
	b, err := right.Links(s)
	if err != nil {
		t.Fatal(err)
	}
	if len(a) != len(b) || len(a) == 0 {
		t.Fatalf("%d links on the left, %d on the right", len(a), len(b))
	}
	for i := range a {
		if len(a[i].LineMM) != len(b[i].LineMM) {
			t.Fatalf("link %d has %d points on the left, %d on the right", i, len(a[i].LineMM), len(b[i].LineMM))
		}
		for k, p := range a[i].LineMM {
			p.Y = -p.Y
			if d := r3.Norm(r3.Sub(p, b[i].LineMM[k])); d > exactMM {
				t.Fatalf("link %d, point %d: right %v is %.2g mm from the mirrored left", i, k, b[i].LineMM[k], d)
			}
		}
	}
}

// A mirrored target on the mirrored chain has the settings of the original.
func TestPreferOfMirroredTarget(t *testing.T) {
	left, err := twoTubes().Chain(placed())
	if err != nil {
		t.Fatal(err)
	}
	right, err := twoTubes().Chain(mirrored(placed()))
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(2, 3))
	for range 20 {
		target := mustForward(t, left, randomSettings(rng, left))
		a, err := left.Prefer(target, nil, mount.Options{Lever: 0.1})
		if err != nil {
			t.Fatal(err)
		}
		b, err := right.Prefer(mount.MirrorScreen(target), nil, mount.Options{Lever: 0.1})
		if err != nil {
			t.Fatal(err)
		}
		// The searches end when a step is below 0.001 mm and 1e-6 rad; where the
		// cost is flat they may end some steps apart.
		const tolMM, tolRad = 0.1, 1e-3
		for i, j := range left.Moving() {
			tol := tolMM
			if j.Motion == mount.Turn {
				tol = tolRad
			}
			if math.Abs(a.Settings[i]-b.Settings[i]) > tol {
				t.Fatalf("%s: left %s, right %s", j.Name, j.Format(a.Settings[i]), j.Format(b.Settings[i]))
			}
		}
	}
}
