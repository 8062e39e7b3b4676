package fit

// SwingClearOf returns how the mount of a result swings aside.
func SwingClearOf(r *Result) (*SwingClear, error) {
	job := r.Job
	b, err := newProblem(job)
	if err != nil {
		return nil, err
	}
	p, err := newTubeGeometry(r.Set.Chain)
	if err != nil {
		return nil, err
	}
	return b.swingClear(r.Set, r.Screen, p.at(r.Set.Settings))
}
