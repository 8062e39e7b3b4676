package refit

import (
	"slices"

	"sightpost/mount"
	"sightpost/mount/fit"
)

// better reports whether settings of worth a are to be chosen over those of worth
// b: those that restore the required margin first, by their score; others by how
// little they miss it.
func (s *searcher) better(a, b worth) bool {
	if ok := s.restores(a); ok != s.restores(b) {
		return ok
	} else if ok {
		return a.score > b.score
	}
	return a.merit() > b.merit()
}

// readable returns the best readable settings near those of a set that is enough, with
// the sag as it is at the settings returned. They are looked for again while those found
// sag otherwise than was thought.
func (s *searcher) readable(o outcome) (best outcome) {
	s.fails(s.SagAt(o.settings))
	for range mostSags {
		best = s.readableNear(o)
		thought := s.restores(best.worth)
		if best.worth = s.sagged(best.settings); s.restores(best.worth) || !thought {
			break
		}
	}
	s.fails(s.SagAt(s.from))
	return best
}

// readableNear returns the best readable settings near those with the best score and,
// if these do not restore the margin, near those with the best margin.
func (s *searcher) readableNear(o outcome) outcome {
	best := s.climbReadable(s.bestScore(o))
	if s.restores(best.worth) {
		return best
	}
	s.free(o.set, false).polish(&o)
	if next := s.climbReadable(o); s.better(next.worth, best.worth) {
		best = next
	}
	if !s.restores(best.worth) && o.set.size() < len(scanned) {
		s.scan(&best, o)
	}
	return best
}

// climbReadable returns readable settings near those of o: the best choice of
// neighbors, then the best that is reached by moving one or two of the settings by a
// step at a time.
func (s *searcher) climbReadable(o outcome) outcome {
	best := s.corner(o)
	for moved := true; moved && s.ctx.Err() == nil; {
		moved = s.stepReadable(&best)
	}
	return best
}

// corner returns the best choice among the readable neighbors of each setting of a set,
// the nearest of those that are as good.
func (s *searcher) corner(o outcome) outcome {
	best := outcome{set: o.set, settings: slices.Clone(s.from)}
	for _, i := range o.set.members() {
		best.settings[i] = s.moving[i].Round(o.settings[i])
	}
	best.worth = s.worth(best.settings)
	for _, settings := range fit.Nearby(s.moving, o.settings, o.set.members()) {
		s.take(&best, settings)
	}
	return best
}

// take makes settings the best if they are.
func (s *searcher) take(best *outcome, settings mount.Settings) bool {
	w := s.worth(settings)
	if !s.better(w, best.worth) {
		return false
	}
	copy(best.settings, settings)
	best.worth = w
	return true
}

// stepReadable makes the best move of one or two settings by a readable step, and
// reports whether there was one that helped. Stops are left alone.
func (s *searcher) stepReadable(best *outcome) bool {
	from := slices.Clone(best.settings)
	settings := slices.Clone(from)
	members := slices.DeleteFunc(best.set.members(), func(i int) bool { return s.moving[i].Indexed })
	moved := false
	for a, i := range members {
		for _, up := range []float64{-1, 1} {
			settings[i] = s.moving[i].Round(from[i] + up*s.moving[i].Step)
			moved = s.take(best, settings) || moved
			for _, k := range members[:a] {
				for _, also := range []float64{-1, 1} {
					settings[k] = s.moving[k].Round(from[k] + also*s.moving[k].Step)
					moved = s.take(best, settings) || moved
				}
				settings[k] = from[k]
			}
			settings[i] = from[i]
		}
	}
	return moved
}

// scanned is how many readable steps either way of the best margin are looked at
// when there are only so many settings, such as the three of a ball, and the margin is so
// scarce that rounding may lose it.
var scanned = [...]int{1: 15, 2: 15, 3: 5}

// scan looks at every readable choice of the few settings around o.
func (s *searcher) scan(best *outcome, o outcome) {
	settings := slices.Clone(o.settings)
	members := o.set.members()
	var visit func(k int)
	visit = func(k int) {
		if k == len(members) {
			s.take(best, settings)
			return
		}
		i := members[k]
		j := s.moving[i]
		if j.Indexed {
			visit(k + 1)
			return
		}
		for step, most := -scanned[len(members)], scanned[len(members)]; step <= most; step++ {
			settings[i] = j.Round(o.settings[i] + float64(step)*j.Step)
			visit(k + 1)
		}
	}
	visit(0)
}
