package plots_test

import (
	"bytes"
	"fmt"
	"strings"

	"sightpost/gaze"
	"sightpost/mount/fit/tolerance"
	"sightpost/plots"
)

// A margin that rises and falls by 1 mm for each mm of distance, as it does where
// nothing but the tracker's nearest and farthest depth counts.
func ExampleMargin() {
	curve := tolerance.Curve{Posture: gaze.Posture{Name: "upright"}}
	for mm := 400.0; mm <= 850; mm += 10 {
		curve.Samples = append(curve.Samples, tolerance.Sample{At: mm, MarginMM: min(mm-500, 750-mm)})
	}
	f, err := plots.Margin(&tolerance.Sweep{Leading: "upright", Chosen: 600, Curves: []tolerance.Curve{curve}}, plots.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	var svg bytes.Buffer
	if err := plots.WriteSVG(&svg, f); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(f.Title)
	fmt.Println(strings.Contains(svg.String(), "set: 600 mm"))
	// Output:
	// margin against the distance of the screen
	// true
}
