package tolerance_test

import (
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
