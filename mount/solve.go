package mount

import (
	"errors"

	"sightpost/gaze/frame"
)

// Options adjust [Chain.Solve] and [Chain.Prefer]. The zero value of every field
// is usable and its default is stated here.
type Options struct {
	// ToleranceMM and Tolerance are how near the pose must come. Zero means 0.1 mm
	// and 0.01 degrees. The search itself goes on until it is within about 0.001 mm.
	ToleranceMM float64
	Tolerance   frame.Angle
	// Iterations bounds the steps from each start. Zero means 60.
	Iterations int
	// Starts is how many starts are tried with every combination of stops. Zero
	// means 100 for Solve, which ends at the first that succeeds. Prefer
	// compares all of them; there zero means 24, or 6 where there are stops, and
	// up to 100 as long as none has succeeded.
	Starts int
	// Lever weighs the load's lever arm in Prefer: the cost, for every joint that
	// turns, of a horizontal distance of 100 mm between joint and screen; it grows
	// with the square of the distance. Zero means no cost.
	Lever float64
	// Allowed, if not nil, says whether settings are acceptable (say, clear of the
	// knees). It must neither keep nor change the settings it is given.
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
	Cost     float64     // what Prefer minimises, at Settings; without the lever arm for Solve
	Starts   int         // starts tried
}

// AtLimit names a setting that sits at one of its limits.
type AtLimit struct {
	Setting int    // index in Settings
	Joint   string // name of the joint
	High    bool   // at the highest, not the lowest
}
