package fit

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/space"
)

// SwingClearOf returns how the mount of a result swings aside, without load.
func SwingClearOf(r *Result) (*SwingClear, error) {
	b, screens, tubes, err := unloadedSwing(r)
	if err != nil {
		return nil, err
	}
	return b.swingClear(r.Set, screens, tubes)
}

func unloadedSwing(r *Result) (*problem, []frame.Pose, [][]TubePiece, error) {
	b, err := newProblem(r.Job)
	if err != nil {
		return nil, nil, nil, err
	}
	p, err := newTubeGeometry(r.Set.Chain)
	if err != nil {
		return nil, nil, nil, err
	}
	n := len(b.postures)
	return b, slices.Repeat([]frame.Pose{r.Screen}, n), slices.Repeat([][]TubePiece{p.at(r.Set.Settings)}, n), nil
}

// SwungOverlap returns how deep the housing and the tubes that swing are in a keep-clear
// zone, in any posture that must work, with the swinging joint at a setting.
func SwungOverlap(r *Result, a *SwingClear, at float64) (float64, error) {
	b, screens, tubes, err := unloadedSwing(r)
	if err != nil {
		return 0, err
	}
	frames, err := r.Set.Chain.Frames(r.Set.Settings)
	if err != nil {
		return 0, err
	}
	k := movingPlaces(r.Set.Chain)[a.Joint]
	joint, moved := r.Set.Chain.Joints[k], frames[k]
	s := &swing{problem: b, joint: joint, inUse: a.InUse}
	path := space.Path{Through: moved.At, Along: r3.Unit(moved.Rot.Apply(joint.Axis)), Slides: joint.Motion == mount.Slide}
	deepest := 0.0
	for _, i := range b.must {
		p := s.sortParts(k, i, screens[i], tubes[i])
		for _, part := range p.moving {
			for _, keep := range p.keeps {
				deepest = max(deepest, -space.Between(part.Moved(path.Pose(at-a.InUse)), keep.shape).MM)
			}
		}
	}
	return deepest, nil
}
