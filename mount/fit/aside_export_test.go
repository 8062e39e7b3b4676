package fit

// AsideOf returns how the mount of a result swings aside.
func AsideOf(job *Job, r *Result) (*Aside, error) {
	b, err := newBench(job)
	if err != nil {
		return nil, err
	}
	tubes, err := tubeShapes(nil, r.Set.Chain, r.Set.Settings)
	if err != nil {
		return nil, err
	}
	return b.aside(r.Set, r.Screen, tubes)
}
