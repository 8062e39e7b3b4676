package fit

import (
	"math"
	"slices"

	"sightpost/mount"
)

// subsetSearch is the search for the cheapest set of settings that is enough.
//
// Freeing more settings can only help. So a set that fails is grown, the
// cheapest settings first, for as long as it still fails: no part of what it has
// grown to can be enough. What comes next in order of effort and is not part of a
// set that fails is the cheapest that still can be, and the first that is enough
// is the answer. This is the implicit hitting set method (each failing set says
// that one of the settings outside it must be moved): E. Moreno-Centeno and
// R. M. Karp, "The implicit hitting set approach to solve combinatorial
// optimization problems", Operations Research 61 (2013) 453-468, from memory.
type subsetSearch struct {
	*refitting
	failed []outcome // as large as they can be
	thin   []outcome // enough, but not at readable settings
	enough []subset  // known to be enough before rounding
	chosen *outcome  // at readable settings
	// hints are settings that are good for some set: starts for others.
	hints []mount.Settings
}

// choose finds the settings to change and leaves them in p.After, with what was
// tried in p.Tried.
func (r *refitting) choose(p *Plan) error {
	fresh := p.Fresh.Result.Set.Settings
	s := &subsetSearch{refitting: r, hints: []mount.Settings{r.from, fresh}}
	all, err := r.best(1<<len(r.moving)-1, s.hints...)
	if err != nil {
		return err
	}
	if r.nearly(all.worth) {
		s.admit(all)
		err = s.inOrder()
	} else {
		s.failed = append(s.failed, all)
	}
	if err != nil {
		return err
	}
	if s.chosen == nil {
		if s.chosen, err = s.nearest(all, fresh); err != nil {
			return err
		}
	}
	set := *p.As.Set
	set.Settings = s.chosen.settings
	p.After = &Result{Set: &set}
	return s.report(p)
}

// inOrder tries sets in order of effort until one is enough, and those that cost
// as much and are as many.
func (s *subsetSearch) inOrder() error {
	order := newByEffort(s.moving)
	dearest := 0.0
	for {
		set, effort, ok := order.next()
		if !ok || s.chosen != nil && (effort > dearest || set.size() > s.chosen.set.size()) {
			return nil
		}
		if s.fails(set) {
			continue
		}
		o, err := s.tryOrGrow(set, order.sorted)
		if err != nil {
			return err
		}
		if !s.nearly(o.worth) {
			continue
		}
		s.admit(o)
		o, err = s.readable(o)
		switch {
		case err != nil:
			return err
		case !s.restores(o.worth):
			s.thin = append(s.thin, o)
		case s.chosen == nil || o.worth.marginMM > s.chosen.worth.marginMM:
			s.chosen, dearest = &o, effort
		}
	}
}

// mostHints is how many hints are kept: those of the start and the latest.
const mostHints = 6

// admit notes a set that is enough, and its settings as a hint.
func (s *subsetSearch) admit(o outcome) {
	s.enough = append(s.enough, o.set)
	if len(s.hints) == mostHints {
		s.hints = slices.Delete(s.hints, 2, 3)
	}
	s.hints = append(s.hints, o.settings)
}

// hinted returns the settings of o and the hints.
func (s *subsetSearch) hinted(o outcome) []mount.Settings {
	return append([]mount.Settings{o.settings}, s.hints...)
}

// fails reports whether set is part of one that fails.
func (s *subsetSearch) fails(set subset) bool {
	return slices.ContainsFunc(s.failed, func(o outcome) bool { return set.within(o.set) })
}

// tryOrGrow returns what a set can give or, if it fails, adds the largest set
// that it could be grown to and still fails to s.failed. Only that one is searched
// thoroughly: whatever it is made of then fails as well.
func (s *subsetSearch) tryOrGrow(set subset, order []int) (outcome, error) {
	o, err := s.glance(set, s.hints...)
	if err != nil || s.nearly(o.worth) {
		return o, err
	}
	large, err := s.grow(o, order, s.glance)
	if err != nil {
		return o, err
	}
	if large, err = s.best(large.set, s.hinted(large)...); err != nil {
		return o, err
	}
	if !s.nearly(large.worth) {
		s.failed = append(s.failed, large)
		return o, nil
	}
	s.admit(large)
	if o, err = s.best(set, s.hinted(o)...); err != nil || s.nearly(o.worth) {
		return o, err
	}
	if large, err = s.grow(o, order, s.best); err == nil {
		s.failed = append(s.failed, large)
	}
	return o, err
}

// grow adds settings in the given order to a set that fails for as long as it
// still fails by the given search.
func (s *subsetSearch) grow(o outcome, order []int, search func(subset, ...mount.Settings) (outcome, error)) (outcome, error) {
	for _, i := range order {
		larger := o.set.with(i)
		known := func(e subset) bool { return e.within(larger) }
		if larger == o.set || slices.ContainsFunc(s.enough, known) {
			continue
		}
		next, err := search(larger, s.hinted(o)...)
		if err != nil {
			return o, err
		}
		if s.nearly(next.worth) {
			s.admit(next)
		} else {
			o = next
		}
	}
	return o, nil
}

// nearest returns the best readable settings when none are good enough: those
// near the best of all settings together, or those of a fresh solution.
func (s *subsetSearch) nearest(all outcome, fresh mount.Settings) (*outcome, error) {
	if err := s.sagAt(all.settings); err != nil {
		return nil, err
	}
	best := outcome{set: all.set, settings: fresh, worth: worth{marginMM: math.Inf(-1)}}
	candidates := append([]outcome{best, s.climbReadable(all.set, all.settings)}, s.thin...)
	for _, o := range candidates {
		if err := s.sagAt(o.settings); err != nil {
			return nil, err
		}
		if o.worth = s.worth(o.settings); s.better(o.worth, best.worth) {
			best = o
		}
	}
	return &best, s.sagAt(s.from)
}

// report lists what was tried. Sets that fail are searched to the very top first.
func (s *subsetSearch) report(p *Plan) error {
	for _, o := range s.failed {
		if err := s.sagAt(o.settings); err != nil {
			return err
		}
		if err := s.partial(o.set, false).polish(&o); err != nil {
			return err
		}
		if err := s.tried(p, o, false); err != nil {
			return err
		}
	}
	for _, o := range s.thin {
		if o.set == s.chosen.set {
			continue
		}
		if err := s.tried(p, o, true); err != nil {
			return err
		}
	}
	return nil
}

// tried lists a set that is not enough, with the sag that it comes to.
func (s *subsetSearch) tried(p *Plan, o outcome, unreadable bool) error {
	if err := s.sagAt(o.settings); err != nil {
		return err
	}
	o.worth = s.worth(o.settings)
	p.Tried = append(p.Tried, s.attempt(o, unreadable))
	return nil
}
