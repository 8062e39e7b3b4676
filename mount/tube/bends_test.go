package tube_test

import (
	"fmt"
	"testing"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/tube"
	"sightpost/testdata/reference"
)

// TestBendsAgainstSolids compares what a bend gives and how it is stressed with solid
// models; see testdata/reference/scripts/bends.py.
func TestBendsAgainstSolids(t *testing.T) {
	const (
		softPart  = 0.02 // what the comment on BendFactors says
		sharpHigh = 1.04 // what the comment on BendFactors says
		shortHigh = 1.09 // of a bend too short to go fully oval
		sharpLow  = 0.98
		thinLow   = 0.86 // of a thin wall in a narrow bend
	)
	type bend struct {
		Outside, Wall, Radius, Angle, Young, Poisson float64
		Soft, Sharp, Across                          float64
	}
	for _, r := range reference.Read[bend](t, "bends") {
		t.Run(fmt.Sprintf("%g x %g at %g by %g", r.Outside, r.Wall, r.Radius, r.Angle), func(t *testing.T) {
			s := mount.Section{OutsideMM: r.Outside, WallMM: r.Wall, Material: elastic(r.Young, r.Young/(2*(1+r.Poisson)))}
			soft := tube.FactorsOf(s, r.Radius, frame.Angle(r.Angle)*frame.Degree).Soft
			if !near(soft, r.Soft, softPart) {
				t.Errorf("gives %v times as much, the solid %v", soft, r.Soft)
			}
			mean := (r.Outside - r.Wall) / 2
			low := sharpLow
			if r.Wall*r.Radius/(mean*mean) < 0.9 {
				low = thinLow
			}
			stressFactor := tube.FactorsOf(s, r.Radius, frame.Angle(r.Angle)*frame.Degree).Stress
			high := sharpHigh
			if r.Angle < 30 {
				high = shortHigh
			}
			if part := stressFactor / r.Sharp; !(part >= low && part <= high) {
				t.Errorf("stressed %v times as much, the solid %v", stressFactor, r.Sharp)
			}
			if across := r.Across / r.Sharp; !(across > 0.85 && across < 1.03) {
				t.Errorf("across its plane the solid is stressed %v times as much as in it", across)
			}
		})
	}
}
