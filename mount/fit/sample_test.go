package fit_test

import "sightpost/mount/fit/internal/fittest"

const degree = fittest.Degree

// The invented jobs by short names.
var (
	solve                  = fittest.Solve
	turn, slide, offsetKit = fittest.Turn, fittest.Slide, fittest.OffsetKit
	adult, tilted, stiff   = fittest.Adult, fittest.Tilted, fittest.Stiff
	gripped, kneeInTheWay  = fittest.Gripped, fittest.KneeInTheWay
)
