package fit

import (
	"slices"

	"sightpost/gaze/frame"
)

// SwingClearOf returns how the mount of a result swings aside, without load.
func SwingClearOf(r *Result) (*SwingClear, error) {
	b, err := newProblem(r.Job)
	if err != nil {
		return nil, err
	}
	p, err := newTubeGeometry(r.Set.Chain)
	if err != nil {
		return nil, err
	}
	n := len(b.postures)
	return b.swingClear(r.Set, slices.Repeat([]frame.Pose{r.Screen}, n), slices.Repeat([][]TubePiece{p.at(r.Set.Settings)}, n))
}
