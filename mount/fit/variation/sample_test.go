package variation_test

import "sightpost/mount/fit/internal/fittest"

// sameMM is for one number computed in two ways: doubles on lengths of 1e3 mm.
const sameMM = 1e-6

// The invented jobs by short names.
var (
	adult, tilted, stiff = fittest.Adult, fittest.Tilted, fittest.Stiff
	solve                = fittest.Solve
)
