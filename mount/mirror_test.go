package mount_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
)

// mirrorScreen returns the pose of a screen as seen in the mirror y = 0: the middle,
// normal and up are mirrored, and right = up × normal.
func mirrorScreen(p frame.Pose) frame.Pose {
	mirror := func(v r3.Vec) r3.Vec { return r3.Vec{X: v.X, Y: -v.Y, Z: v.Z} }
	up, normal := mirror(p.Rot.Y), mirror(p.Rot.Z)
	return frame.Pose{Rot: frame.Rotation{X: r3.Cross(up, normal), Y: up, Z: normal}, At: mirror(p.At)}
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
			want := mirrorScreen(mustForward(t, left, s))
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
		b, err := right.Prefer(mirrorScreen(target), nil, mount.Options{Lever: 0.1})
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
