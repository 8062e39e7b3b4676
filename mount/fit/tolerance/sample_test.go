package tolerance_test

import (
	"os"

	"sightpost/mount/fit/internal/fittest"
)

const (
	degree = fittest.Degree
	// sameMM is for one number computed in two ways: doubles on lengths of 1e3 mm.
	sameMM = 1e-6
	// rounding of 5 mm and 1° steps on a 400 mm arm may move the screen so far.
	roundedMM = 10
)

// The invented jobs by short names.
var (
	solve                 = fittest.Solve
	turn                  = fittest.Turn
	adult, tilted, stiff  = fittest.Adult, fittest.Tilted, fittest.Stiff
	gripped, kneeInTheWay = fittest.Gripped, fittest.KneeInTheWay
)

// trials returns how many random jobs are tried of as many as with SIGHTPOST_LONG: a quarter.
func trials(long int) int {
	if os.Getenv("SIGHTPOST_LONG") != "" {
		return long
	}
	return long / 4
}
