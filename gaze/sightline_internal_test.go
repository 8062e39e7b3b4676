package gaze

import (
	"testing"

	"sightpost/gaze/frame"
)

// TestPublishedSizes: targets seen square are as large as published: a size in mm at an angle
// and a distance. Each number is allowed half a unit in its last digit.
func TestPublishedSizes(t *testing.T) {
	for _, row := range []struct {
		name             string
		mm, halfMM       float64
		degrees, halfDeg float64
		distance         float64
	}{
		// W3C, CSS Values and Units Level 3, "reference pixel": about 0.0213 deg.
		{"CSS reference pixel", 25.4 / 96, 0, 0.0213, 0.00005, 711.2},
		// The tangent of half the angle, not of the whole: atan(1/10) is 5.71.
		{"a meter at ten", 1000, 0, 5.7248, 0.00005, 10000},
		// "57 cm rule" of vision science (common practice, no source).
		{"57 cm rule", 10, 0, 1, 0.0000005, 572.943},
		// The width recommended by A. M. Feit et al., "Toward Everyday Gaze Input", Proc.
		// CHI 2017, 1118-1130, at 650 mm; the angle follows from the formula.
		{"19 mm at 650 mm", 19, 0, 1.675, 0.0005, 650},
		// 2 D tan 0.5°; at 600 mm "about 1.05 cm" is common in open texts.
		{"a degree at 500 mm", 8.7269, 0.00005, 1, 0, 500},
		{"a degree at 600 mm", 10.4722, 0.00005, 1, 0, 600},
		{"a degree at 650 mm", 11.3449, 0.00005, 1, 0, 650},
		{"a degree at 700 mm", 12.2176, 0.00005, 1, 0, 700},
		// A. Bojko, Eye Tracking the User Experience, Rosenfeld (2013): 1.2 cm at 27 in.
		{"a degree at 27 inches", 12, 0.5, 1, 0, 27 * 25.4},
		// ISO 9241-306:2008, 5.1.1, by GOST R ISO 9241-306-2012: characters of 20 to
		// 22 minutes of arc; the mm at 600 mm follow.
		{"20 minutes of arc at 600 mm", 3.491, 0.0005, 20.0 / 60, 0, 600},
		{"22 minutes of arc at 600 mm", 3.840, 0.0005, 22.0 / 60, 0, 600},
	} {
		t.Run(row.name, func(t *testing.T) {
			square := line{off: row.distance}
			least := square.centered(frame.Angle(row.degrees-row.halfDeg) * frame.Degree)
			most := square.centered(frame.Angle(row.degrees+row.halfDeg) * frame.Degree)
			if !(least <= row.mm+row.halfMM && most >= row.mm-row.halfMM) {
				t.Errorf("%g° at %g mm covers %.5f to %.5f mm, want %g mm", row.degrees, row.distance, least, most, row.mm)
			}
		})
	}
}
