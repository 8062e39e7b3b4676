package fit

import (
	"slices"

	"sightpost/mount"
)

// better reports whether settings of worth a are to be chosen over those of worth
// b: those that restore the wanted margin first, by their score; others by how
// little they miss it.
func (r *refitting) better(a, b worth) bool {
	if ok := r.restores(a); ok != r.restores(b) {
		return ok
	} else if ok {
		return a.score > b.score
	}
	return a.merit() > b.merit()
}

// readable returns the best readable settings near those of a set that is enough:
// near those with the best score and, if these do not restore the margin, near
// those with the best margin.
func (r *refitting) readable(o outcome) (outcome, error) {
	was := r.sagged
	best, err := r.readableNear(o)
	if err != nil {
		return best, err
	}
	return best, r.sagAt(was)
}

// mostTries is how often readable settings are looked for again because those found
// sag otherwise than was thought.
const mostTries = 3

// readableNear is readable with the sag as it is at the settings returned, where it is
// left.
func (r *refitting) readableNear(o outcome) (best outcome, err error) {
	if err := r.sagAt(o.settings); err != nil {
		return o, err
	}
	for range mostTries {
		if best, err = r.readableAt(o); err != nil {
			return best, err
		}
		thought := r.restores(best.worth)
		if err := r.sagAt(best.settings); err != nil {
			return best, err
		}
		best.worth = r.worth(best.settings)
		if r.restores(best.worth) || !thought {
			break
		}
	}
	return best, nil
}

// readableAt is readable with the sag where it is taken.
func (r *refitting) readableAt(o outcome) (outcome, error) {
	scored, err := r.bestScore(o)
	if err != nil {
		return o, err
	}
	best := r.climbReadable(o.set, scored.settings)
	if r.restores(best.worth) {
		return best, nil
	}
	if err := r.partial(o.set, false).polish(&o); err != nil {
		return o, err
	}
	if next := r.climbReadable(o.set, o.settings); r.better(next.worth, best.worth) {
		best = next
	}
	if !r.restores(best.worth) && o.set.size() <= 2 {
		r.scan(&best, o)
	}
	return best, nil
}

// climbReadable returns readable settings near the given ones: the best choice of
// neighbours, then the best that is reached by moving one or two of the settings
// by a step at a time. Settings outside the set are left alone.
func (r *refitting) climbReadable(set subset, near mount.Settings) outcome {
	best := r.corner(set, near)
	for r.stepReadable(&best) {
	}
	return best
}

// corner returns the best choice among the readable neighbours of each setting
// of a set, or of those nearest when there are too many choices.
func (r *refitting) corner(set subset, near mount.Settings) outcome {
	members := set.members()
	s := slices.Clone(r.from)
	for _, i := range members {
		s[i] = r.moving[i].Round(near[i])
	}
	best := outcome{set: set, settings: slices.Clone(s), worth: r.worth(s)}
	if len(members) > mostExhaustive {
		return best
	}
	for choice := range 1 << len(members) {
		for k, i := range members {
			below, above := r.moving[i].Neighbours(near[i])
			s[i] = below
			if choice>>k&1 == 1 {
				s[i] = above
			}
		}
		r.take(&best, s)
	}
	return best
}

// take makes s the best if it is.
func (r *refitting) take(best *outcome, s mount.Settings) bool {
	w := r.worth(s)
	if !r.better(w, best.worth) {
		return false
	}
	copy(best.settings, s)
	best.worth = w
	return true
}

// stepReadable makes the best move of one or two settings by a readable step, and
// reports whether there was one that helped. Stops are left alone.
func (r *refitting) stepReadable(best *outcome) bool {
	from := slices.Clone(best.settings)
	s := slices.Clone(from)
	members := slices.DeleteFunc(best.set.members(), func(i int) bool { return r.moving[i].Indexed })
	moved := false
	for a, i := range members {
		for _, up := range []float64{-1, 1} {
			s[i] = r.moving[i].Round(from[i] + up*r.moving[i].Step)
			moved = r.take(best, s) || moved
			for _, k := range members[:a] {
				for _, also := range []float64{-1, 1} {
					s[k] = r.moving[k].Round(from[k] + also*r.moving[k].Step)
					moved = r.take(best, s) || moved
				}
				s[k] = from[k]
			}
			s[i] = from[i]
		}
	}
	return moved
}

// scanned is how many readable steps either way of the best margin are looked at
// when there are only one or two settings and the margin is so scarce that
// rounding may lose it.
const scanned = 15

// scan looks at every readable choice of one or two settings around o.
func (r *refitting) scan(best *outcome, o outcome) {
	s := slices.Clone(o.settings)
	members := o.set.members()
	var visit func(k int)
	visit = func(k int) {
		if k == len(members) {
			r.take(best, s)
			return
		}
		i := members[k]
		j := r.moving[i]
		if j.Indexed {
			visit(k + 1)
			return
		}
		for step := -scanned; step <= scanned; step++ {
			s[i] = j.Round(o.settings[i] + float64(step)*j.Step)
			visit(k + 1)
		}
	}
	visit(0)
}
