package mount

import (
	"errors"

	"sightpost/gaze/frame"
)

// Options adjust [Chain.Solve] and [Chain.Prefer]. The zero value of every field
// is usable and its default is stated here.
type Options struct {
	// ToleranceMM and Tolerance are how near the pose must come. Zero means 0.1 mm
	// and 0.01 degrees. The search itself goes on well below that.
	ToleranceMM float64
	Tolerance   frame.Angle
	// Iterations bounds the steps from each start. Zero means 60.
	Iterations int
	// Starts is how many starts are tried, for each set of index positions. Zero
	// means 100 for Solve, which stops at the first that succeeds, and 12 for
	// Prefer, which tries them all.
	Starts int
	// Lever weighs the load's lever arm in Prefer: cost per turning joint for each
	// (100 mm)² of squared horizontal distance between joint and screen. Zero means none.
	Lever float64
	// Allowed, if not nil, says whether settings are acceptable (say, clear of
	// the knees). It must not keep the settings.
	Allowed func(Settings) bool
}

// ErrUnreached reports that no start came within the tolerance.
var ErrUnreached = errors.New("mount: target not reached")

// ErrNotAllowed reports that the target was reached, but only with settings that
// Options.Allowed refused.
var ErrNotAllowed = errors.New("mount: target reached only with settings that are not allowed")

// Solution is the outcome of a search.
type Solution struct {
	Settings Settings
	OffMM    float64     // distance of the screen's middle from the target, mm
	Off      frame.Angle // angle by which the screen is turned off the target
	AtLimit  []AtLimit   // settings that sit at a limit
	Cost     float64     // what Prefer minimises, at Settings
	Starts   int         // starts tried
}

// AtLimit names a setting that sits at one of its limits.
type AtLimit struct {
	Setting int // index in Settings
	Joint   string
	High    bool // at the highest, not the lowest
}
