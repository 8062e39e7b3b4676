package tube

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount"
)

// TestMisesAllRound looks for the greatest stress at every tenth of a degree round the
// section, with the stresses put together from vectors.
func TestMisesAllRound(t *testing.T) {
	const seen = 1e-5 // a top is flat within a twentieth of a degree
	k := PropertiesOf(mount.Section{OutsideMM: 25, WallMM: 2, Material: mount.Material{YoungMPa: 7e4, ShearMPa: 2.6e4, DensityKGM3: 2700}})
	rng := rand.New(rand.NewPCG(12, 1))
	for range 200 {
		z := r3.Vec{Z: 1}
		size := func(most float64) float64 { return most * math.Pow(10, -3*rng.Float64()) }
		level := func(n float64) r3.Vec {
			sin, cos := math.Sincos(7 * rng.Float64())
			return r3.Vec{X: n * cos, Y: n * sin}
		}
		f := forces{along: z, across: level(size(5e4)), twists: size(5e4), pull: size(300), shear: level(size(300))}
		const stressFactor = 1.3
		most := 0.0
		for i := range 3600 {
			sin, cos := math.Sincos(float64(i) * math.Pi / 1800)
			out, round := r3.Vec{X: cos, Y: sin}, r3.Vec{X: -sin, Y: cos}
			// a couple about y pulls at -x: out × (stress z) must add up to it
			s := f.pull/k.AreaMM2 + stressFactor*r3.Dot(r3.Cross(z, f.across), out)/k.ModulusMM3
			q := f.twists*k.outsideMM/k.TorsionMM4 + 2*r3.Dot(f.shear, round)/k.AreaMM2
			most = max(most, math.Sqrt(s*s+3*q*q))
		}
		if got := f.mises(&k, stressFactor); math.Abs(got-most) > seen*most {
			t.Fatalf("%+v: %v, all round %v", f, got, most)
		}
	}
}
