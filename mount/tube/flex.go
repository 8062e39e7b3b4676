package tube

import (
	"math"

	"sightpost/mount"
)

// Flexibility returns by how much more a bend gives to bending than a straight
// tube of the same section and length does, because its round section is flattened
// as it bends.
//
//	h = t R / r²,  k = (10 + 12 h²) / (1 + 12 h²),  Flexibility = 1 + 5/6 (k - 1)
//
// with wall t, bend radius R and mean radius r of the tube.
func Flexibility(s mount.Section, bendRadiusMM float64) float64 {
	r := (s.OutsideMM - s.WallMM) / 2
	h2 := math.Pow(s.WallMM*bendRadiusMM/(r*r), 2)
	return 1 + 5./6*9/(1+12*h2)
}
