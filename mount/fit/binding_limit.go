package fit

import (
	"cmp"
	"math"
	"slices"

	"sightpost/gaze"
	"sightpost/mount"
)

// bindingLimits returns what holds the screen back from a target that is out of reach:
// each limit that a setting sits at and that, moved out, would let the target be
// reached, with the least by which it must be moved. When no single one would, it
// returns those that would together.
func (t *mountingSolver) bindingLimits() []BindingLimit {
	edges := t.edges()
	gain := t.target.Score
	if score, _, _ := t.scorer.Score(t.screen); !math.IsInf(score, 0) {
		gain -= score
	}
	var out []BindingLimit
	for _, e := range edges {
		if h := relax(t.set.Chain, t.target, []edge{e}); h != nil {
			out = append(out, h...)
		}
	}
	if out == nil {
		out = relax(t.set.Chain, t.target, edges)
	}
	for i := range out {
		out[i].Gain = gain
	}
	slices.SortStableFunc(out, func(a, c BindingLimit) int { return cmp.Compare(a.size(), c.size()) })
	return out
}

// size compares how far limits must be moved: mm, and the mm that a turn moves
// the end of an arm of half a metre.
func (h BindingLimit) size() float64 {
	if h.Joint.Motion == mount.Turn {
		return 500 * h.Need
	}
	return h.Need
}

// edge is a limit of a setting.
type edge struct {
	setting int
	high    bool
}

// edges returns the limits that the best settings, or those nearest to the
// target, sit at. Where a setting turns all the way round it has none.
func (t *mountingSolver) edges() []edge {
	var out []edge
	for i, j := range t.set.Chain.Moving() {
		if j.Indexed || j.Motion == mount.Turn && j.High-j.Low >= 2*math.Pi-1e-9 {
			continue
		}
		near := 1e-3 * (j.High - j.Low)
		at := func(v float64) (low, high bool) { return v <= j.Low+near, v >= j.High-near }
		low, high := at(t.set.Exact[i])
		if t.near != nil {
			l, h := at(t.near[i])
			low, high = low || l, high || h
		}
		if low {
			out = append(out, edge{i, false})
		}
		if high {
			out = append(out, edge{i, true})
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
// returns by how much each was passed, or nil when the target stays out of reach.
func relax(chain mount.Chain, target gaze.Target, edges []edge) []BindingLimit {
	if len(edges) == 0 {
		return nil
	}
	free := chain
	free.Joints = slices.Clone(chain.Joints)
	moving := chain.Moving()
	place := free.MovingPlaces()
	for i := range moving {
		free.Joints[place[i]].Effort = 1e-4
	}
	for _, e := range edges {
		j := &free.Joints[place[e.setting]]
		out := outMM
		if j.Motion == mount.Turn {
			out = outTurn
		}
		j.Effort = 1
		if e.high {
			j.Preferred = j.High
			j.High += out
		} else {
			j.Preferred = j.Low
			j.Low -= out
		}
	}
	sol, err := free.Prefer(target.Pose, free.Preferred(), mount.Options{Starts: 6})
	if err != nil {
		return nil
	}
	var held []BindingLimit
	for _, e := range edges {
		j := moving[e.setting]
		past := j.Low - sol.Settings[e.setting]
		if e.high {
			past = sol.Settings[e.setting] - j.High
		}
		if past > 1e-6 {
			held = append(held, BindingLimit{Joint: j, High: e.high, Need: past})
		}
	}
	return held
}
