package space_test

import (
	"math/rand/v2"
	"testing"

	"sightpost/gaze/frame"
	"sightpost/mount/space"
)

func BenchmarkBetween(b *testing.B) {
	tray := must(space.Box(frame.Translate(vec(300, 0, 600)), vec(400, 500, 20)))
	tube := must(space.Capsule(vec(0, 300, 500), vec(500, 200, 900), 14))
	leg := must(space.Capsule(vec(100, 100, 480), vec(550, 120, 500), 70))
	housing := must(space.Box(frame.Translate(vec(600, 0, 900)).Mul(frame.Rotate(0.3, vec(0, 1, 0.2))), vec(30, 300, 200)))
	ball := must(knob(vec(0, 0, 1200), 110))
	for _, bb := range []struct {
		name string
		a, b space.Shape
	}{
		{"box-box", housing, tray},
		{"box-capsule", housing, leg},
		{"capsule-capsule", tube, leg},
		{"box-ball", housing, ball},
		{"overlap", tube, tray},
	} {
		b.Run(bb.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				space.Between(bb.a, bb.b)
			}
		})
	}
	b.Run("random", func(b *testing.B) {
		rng := rand.New(rand.NewPCG(1, 1))
		var shapes [256]space.Shape
		for i := range shapes {
			shapes[i] = anyShape(rng)
		}
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			space.Between(shapes[i%256], shapes[(i+1+i/256)%256])
		}
	})
}

func TestBetweenDoesNotAllocate(t *testing.T) {
	a, b := cube(vec(0, 0, 0), 10), onCorner()
	if n := testing.AllocsPerRun(100, func() { space.Between(a, b) }); n != 0 {
		t.Errorf("Between allocates %g times, want 0", n)
	}
}
