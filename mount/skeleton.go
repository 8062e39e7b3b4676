package mount

import (
	"errors"
	"io"

	"sightpost/gaze/frame"
)

var errSkeleton = errors.New("mount: not written yet")

// Solve finds settings that bring the screen to target.
func (c Chain) Solve(target frame.Pose, opt Options) (Solution, error) {
	return Solution{}, errSkeleton
}

// Prefer finds the settings that bring the screen to target at the least cost.
func (c Chain) Prefer(target frame.Pose, start Settings, opt Options) (Solution, error) {
	return Solution{}, errSkeleton
}

// WriteURDF writes the chain in the Unified Robot Description Format.
func (c Chain) WriteURDF(w io.Writer, name string) error { return errSkeleton }
