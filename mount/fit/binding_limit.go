package fit

import (
	"cmp"
	"math"
	"slices"

	"sightpost/mount"
)

// bindingLimits returns what holds the screen back from a target that is out of reach:
// each limit that a setting sits at and that, moved out, would let the target be
// reached, with the least by which it must be moved. When no single one would, it
// returns those that would together.
func (t *mountingSolver) bindingLimits() []BindingLimit {
	edges := t.edges()
	var out []BindingLimit
	for i := range edges {
		out = append(out, t.relax(edges[i:i+1])...)
	}
	if out == nil {
		out = t.relax(edges)
	}
	gain := t.target.Score
	if score, _, _ := t.scorer.Score(t.screen); !math.IsInf(score, 0) {
		gain -= score
	}
	for i := range out {
		out[i].Gain = gain
	}
	slices.SortStableFunc(out, func(a, c BindingLimit) int { return cmp.Compare(a.size(), c.size()) })
	return out
}

// size compares how far limits must be moved: mm, and the mm that a turn moves
// the end of an arm of half a meter.
func (h BindingLimit) size() float64 {
	if h.Joint.Motion == mount.Turn {
		return 500 * h.Need
	}
	return h.Need
}

// edges returns the limits that the best settings, or those nearest to the
// target, sit at. Where a setting turns all the way round it has none.
func (t *mountingSolver) edges() []BindingLimit {
	var out []BindingLimit
	for i, j := range t.chain().Moving() {
		if j.Indexed || j.Motion == mount.Turn && j.High-j.Low >= 2*math.Pi-1e-9 {
			continue
		}
		near := 1e-3 * (j.High - j.Low)
		for _, high := range []bool{false, true} {
			at := func(s mount.Settings) bool { return !high && s[i] <= j.Low+near || high && s[i] >= j.High-near }
			if at(t.set.Exact) || t.near != nil && at(t.near) {
				out = append(out, BindingLimit{Joint: j, High: high, setting: i})
			}
		}
	}
	return out
}

const (
	// outMM and outTurn are how far a limit is moved out to see what it holds back.
	outMM   = 1500.0
	outTurn = math.Pi / 2
)

// relax moves the given limits out, prefers settings that use little of that, and
// returns those that are passed, or nil when the target stays out of reach.
func (t *mountingSolver) relax(edges []BindingLimit) []BindingLimit {
	if len(edges) == 0 {
		return nil
	}
	free := t.chain()
	free.Joints = slices.Clone(free.Joints)
	place := free.MovingPlaces()
	for _, i := range place {
		free.Joints[i].Effort = 1e-4
	}
	for _, e := range edges {
		j := &free.Joints[place[e.setting]]
		out := outMM
		if j.Motion == mount.Turn {
			out = outTurn
		}
		j.Effort = 1
		if e.High {
			j.Preferred = j.High
			j.High += out
		} else {
			j.Preferred = j.Low
			j.Low -= out
		}
	}
	sol, err := free.Prefer(t.target.Pose, free.Preferred(), mount.Options{Starts: 6})
	if err != nil {
		return nil
	}
	var held []BindingLimit
	for _, e := range edges {
		e.Need = e.Joint.Low - sol.Settings[e.setting]
		if e.High {
			e.Need = sol.Settings[e.setting] - e.Joint.High
		}
		if e.Need > 1e-6 {
			held = append(held, e)
		}
	}
	return held
}
