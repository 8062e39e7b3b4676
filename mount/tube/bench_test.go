package tube_test

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount"
	"sightpost/mount/tube"
)

func BenchmarkScreen(b *testing.B) {
	bench(b, func(m *tube.Model, s mount.Settings, down r3.Vec) error {
		_, err := m.Screen(s, down)
		return err
	})
}

func BenchmarkAt(b *testing.B) {
	var l tube.Load
	bench(b, func(m *tube.Model, s mount.Settings, down r3.Vec) error { return m.At(&l, s, down) })
}

func bench(b *testing.B, f func(*tube.Model, mount.Settings, r3.Vec) error) {
	b.Helper()
	c := mustChain(b, offsetPost(), mount.OnLeft)
	m, err := tube.NewModel(c)
	if err != nil {
		b.Fatal(err)
	}
	s := c.Preferred()
	b.ReportAllocs()
	for b.Loop() {
		if err := f(m, s, r3.Vec{Z: -standardGravity}); err != nil {
			b.Fatal(err)
		}
	}
}
