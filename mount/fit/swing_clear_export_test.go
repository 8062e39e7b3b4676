package fit

import "slices"

// SwingClearOf returns how the mount of a result swings aside, without load.
func SwingClearOf(r *Result) (*SwingClear, error) {
	b, err := newProblem(r.Job, true)
	if err != nil {
		return nil, err
	}
	p, err := newTubeGeometry(r.Set.Chain)
	if err != nil {
		return nil, err
	}
	own := *r
	own.Postures = slices.Clone(r.Postures)
	for i := range own.Postures {
		own.Postures[i].Held, own.Postures[i].Mount = r.Screen, &LoadedPose{Tubes: p.at(r.Set.Settings)}
	}
	return swingClear(b, &own)
}
