package space_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount/space"
)

// FuzzBetween places a box, turned by a rotation vector, beside an upright tray.
// Any numbers at all must give a finite gap; those of a real room, a proven one.
func FuzzBetween(f *testing.F) {
	f.Add(0., 0., 15., 0., 0., 0., 10., 10., 10., 0.)
	f.Add(150., 0., 0., 0., math.Pi/4, 0., 300., 0., 0., 12.5)
	f.Add(0., 0., 0., 1e-9, 0., 0., 1., 1., 0., 0.)
	f.Add(1e300, 0., 0., 0., 0., 0., 1., 1., 1., 0.)
	f.Add(0., 0., 0., 0., 0., math.NaN(), 1., math.Inf(1), 1., -1.)
	f.Add(5e-324, 0., 0., 0., 0., 0., 5e-324, 0., 0., 0.)
	tray := must(space.Box(frame.Translate(vec(100, 0, -20)), vec(200, 300, 15)))
	f.Fuzz(func(t *testing.T, x, y, z, rx, ry, rz, sx, sy, sz, round float64) {
		s := space.Shape{Pose: frame.Pose{Rot: frame.FromVector(vec(rx, ry, rz)), At: vec(x, y, z)}, HalfMM: vec(sx, sy, sz), RoundMM: round}
		g := space.Between(s, tray)
		if !frame.IsFinite(g.On) || !frame.IsFinite(g.Against) || !frame.IsFinite(g.Toward) || !frame.IsFinite(r3.Vec{X: g.MM}) {
			t.Fatalf("gap of %+v is %+v", s, g)
		}
		if s.Check() != nil {
			return
		}
		const room = 3000 // mm
		if r3.Norm(s.Pose.At) < room && max(sx, sy, sz, round) < room {
			certify(t, s, tray, g, rand.New(rand.NewPCG(1, 1)))
		}
	})
}
