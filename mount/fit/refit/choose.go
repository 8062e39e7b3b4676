package refit

import (
	"cmp"
	"context"
	"math"
	"math/bits"
	"slices"

	"sightpost/mount"
)

// planner looks for the cheapest set of settings that is enough.
type planner struct {
	*searcher
	full   mount.Settings // of a full re-setup
	failed []outcome      // as large as they can be
	thin   []outcome      // enough, but not at readable settings
	enough []subset       // known to be enough before rounding
	chosen *outcome       // at readable settings
	hints  []mount.Settings
}

// choose finds the settings to change to, and lists in p what was tried.
func (p *Plan) choose(ctx context.Context) (mount.Settings, error) {
	s, err := newSearcher(ctx, p.Current)
	if err != nil {
		return nil, err
	}
	c := &planner{searcher: s, full: p.FullSetup.Result.Set.Settings}
	c.hints = []mount.Settings{s.from, c.full}
	all := s.best(1<<len(s.moving)-1, c.hints)
	ends := slices.Clone(s.ends)
	if s.nearly(all.worth) {
		c.admit(all)
		c.inOrder()
	} else {
		c.failed = append(c.failed, all)
	}
	if c.err == nil && c.chosen == nil {
		c.nearest(append(ends, all))
	}
	if c.fails(nil) {
		return nil, c.err
	}
	p.Tried = c.tried()
	c.fails(nil)
	return c.chosen.settings, c.err
}

// inOrder tries sets in order of effort until one is enough, and those that cost
// as much and are as many.
func (c *planner) inOrder() {
	var last costed // that was enough
	for _, next := range byEffort(c.units) {
		if c.err != nil || c.chosen != nil && (next.effort > last.effort || next.units > last.units) {
			return
		}
		if slices.ContainsFunc(c.failed, func(o outcome) bool { return next.set.within(o.set) }) {
			continue
		}
		o := c.best(next.set, c.hints)
		if !c.nearly(o.worth) {
			c.grow(o)
			continue
		}
		c.admit(o)
		switch o = c.readable(o); {
		case !c.restores(o.worth):
			c.thin = append(c.thin, o)
		case c.chosen == nil || o.worth.marginMM > c.chosen.worth.marginMM:
			c.chosen, last = &o, next
		}
	}
}

// mostHints is how many hints are kept: those of the start and the latest.
const mostHints = 6

// admit notes a set that is enough, and its settings as a hint: where other searches
// start.
func (c *planner) admit(o outcome) {
	c.enough = append(c.enough, o.set)
	if len(c.hints) == mostHints {
		c.hints = slices.Delete(c.hints, 2, 3)
	}
	c.hints = append(c.hints, o.settings)
}

// grow adds the easiest settings to a set that fails for as long as it still fails, and
// notes the largest. Freeing more settings can only help: no part of what fails can be
// enough. This is the implicit hitting set method (each failing set says that one of the
// settings outside it must be moved): E. Moreno-Centeno and R. M. Karp, "The implicit
// hitting set approach to solve combinatorial optimization problems", Operations
// Research 61 (2013) 453-468, from memory.
//
// Climbs from known settings tell quickly what is enough. The largest set that they do
// not find enough is searched thoroughly and, should it be enough, all on the way to it.
func (c *planner) grow(failed outcome) {
	large := c.grown(failed, c.climbs)
	large = c.best(large.set, c.startsFor(large))
	if c.nearly(large.worth) {
		c.admit(large)
		large = c.grown(failed, c.best)
	}
	c.failed = append(c.failed, large)
}

// grown adds settings to a set that fails for as long as it still fails by the given
// search.
func (c *planner) grown(o outcome, search func(subset, []mount.Settings) outcome) outcome {
	for _, u := range c.units {
		larger := o.set | u.set
		if larger == o.set || slices.ContainsFunc(c.enough, func(e subset) bool { return e.within(larger) }) {
			continue
		}
		if next := search(larger, c.startsFor(o)); c.nearly(next.worth) {
			c.admit(next)
		} else {
			o = next
		}
	}
	return o
}

// startsFor returns the settings of o and the hints.
func (c *planner) startsFor(o outcome) []mount.Settings {
	return append([]mount.Settings{o.settings}, c.hints...)
}

// nearestFrom is how many of the best ends of the search over all settings the nearest
// readable settings are looked for from. A mount that can reach a place in many ways has
// many ends that are as good, but not so their readable neighbors.
const nearestFrom = 6

// nearest chooses readable settings when none are good enough: of the best that are found,
// those with the least effort. They are looked for near the settings of a full re-setup,
// near the best of all settings together, and near the best of every set that fails or is
// enough before rounding only.
func (c *planner) nearest(ends []outcome) {
	full := outcome{set: ends[0].set, settings: c.full, worth: worth{marginMM: math.Inf(-1)}}
	slices.SortStableFunc(ends, func(a, b outcome) int { return cmp.Compare(b.worth.merit(), a.worth.merit()) })
	candidates := append([]outcome{full, c.climbReadable(full)}, c.thin...)
	for _, o := range slices.Concat(ends[:min(len(ends), nearestFrom)], c.failed) {
		candidates = append(candidates, c.readableTop(o))
	}
	best := full
	for _, o := range candidates {
		if o.worth = c.sagged(o.settings); c.better(o.worth, best.worth) {
			best = o
		}
	}
	c.putBack(&best)
	c.chosen = &best
	c.fails(c.SagAt(c.from))
}

// readableTop returns the readable settings with the greatest merit near the top of o.
func (c *planner) readableTop(o outcome) outcome {
	c.top(&o)
	return c.climbReadable(o)
}

// asGoodMM is how much less counts as the same: far below what can be measured.
const asGoodMM = 0.01

// putBack puts settings back as found, those of the greatest effort first, for as long as
// the others, as they are or moved on a little, are as good without them.
func (c *planner) putBack(best *outcome) {
	leastMM, mostMissedMM := best.worth.marginMM-asGoodMM, best.worth.missedMM+asGoodMM
	for tried := len(c.units) - 1; tried >= 0; tried-- {
		fewer := outcome{settings: slices.Clone(best.settings)}
		for _, i := range c.units[tried].set.members() {
			fewer.settings[i] = c.from[i]
		}
		if changed(c.moving, best.settings, fewer.settings) == 0 {
			*best = outcome{best.set, fewer.settings, best.worth}
			continue
		}
		for _, u := range c.units {
			if u.set&changed(c.moving, c.from, fewer.settings) != 0 {
				fewer.set |= u.set
			}
		}
		moved := fewer
		if fewer.set != 0 {
			fewer.worth, moved.worth = worth{marginMM: math.Inf(-1)}, worth{marginMM: math.Inf(-1)}
			moved = c.readableTop(moved)
		}
		for _, o := range []outcome{fewer, moved} {
			o.worth = c.sagged(o.settings)
			if o.worth.missedMM <= mostMissedMM && o.worth.marginMM >= leastMM && c.restores(o.worth) == c.restores(best.worth) {
				*best, tried = o, len(c.units) // what was needed before may now be put back as well
				break
			}
		}
	}
}

// tried describes the sets that are not enough. Those that fail are searched to the very
// top first.
func (c *planner) tried() (out []Attempt) {
	for _, o := range c.failed {
		c.top(&o)
		out = append(out, c.attempt(o, false))
	}
	for _, o := range c.thin {
		if o.set != c.chosen.set {
			out = append(out, c.attempt(o, true))
		}
	}
	return out
}

// subset is a set of settings: bit i is setting i.
type subset uint32

// maxSettings is how many settings can be compared: a million sets of as many take a
// fraction of a second to sort. No mount that anybody carries has more.
const maxSettings = 20

func (s subset) within(t subset) bool { return s&^t == 0 }
func (s subset) size() int            { return bits.OnesCount32(uint32(s)) }
func (s subset) members() (out []int) {
	for ; s != 0; s &= s - 1 {
		out = append(out, bits.TrailingZeros32(uint32(s)))
	}
	return out
}

// unit is what is loosened at once and then set: a setting, or the three of a ball.
type unit struct {
	set    subset
	effort float64 // of a ball the greatest of the three
}

// unitsOf returns the units of a mount's settings, the easiest first.
func unitsOf(moving []mount.Joint) (out []unit) {
	for i := 0; i < len(moving); i++ {
		u := unit{subset(1) << i, moving[i].Effort}
		if i+2 < len(moving) && moving[i+1].Stiffness.AnyAxis {
			u = unit{subset(7) << i, max(moving[i].Effort, moving[i+1].Effort, moving[i+2].Effort)}
			i += 2
		}
		out = append(out, u)
	}
	slices.SortStableFunc(out, func(a, b unit) int { return cmp.Compare(a.effort, b.effort) })
	return out
}

// effortOf returns the sum of the efforts of the units that a set is of.
func effortOf(units []unit, set subset) (sum float64) {
	for _, u := range units {
		if u.set&set != 0 {
			sum += u.effort
		}
	}
	return sum
}

// changed returns the settings that differ.
func changed(moving []mount.Joint, from, to mount.Settings) (set subset) {
	for i, j := range moving {
		if !j.Same(from[i], to[i]) {
			set |= 1 << i
		}
	}
	return set
}

// costed is a set of settings, of how many units it is, and the sum of their efforts.
type costed struct {
	set    subset
	units  int
	effort float64
}

// byEffort returns every set of units but the empty one, those of the least effort
// first, then the smallest, then those of the easiest units.
func byEffort(units []unit) []costed {
	all := make([]costed, 1, 1<<len(units))
	for _, u := range units { // in one order, so that equal sets of efforts have equal sums
		for _, c := range all {
			all = append(all, costed{c.set | u.set, c.units + 1, c.effort + u.effort})
		}
	}
	all = all[1:]
	slices.SortStableFunc(all, func(a, b costed) int {
		return cmp.Or(cmp.Compare(a.effort, b.effort), cmp.Compare(a.units, b.units))
	})
	return all
}
