package casefile

import (
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// Doubt is something that two cases of one chair and mount say differently although it
// cannot have changed by itself, or say the same although the seat has moved it.
type Doubt struct {
	// Key is the entry, or the group that holds all of Changes.
	Key string
	// Changes are what the later case says, and what the earlier one said.
	Changes []Change
	// MovedMM is how far a clamp is from where it was on what carries it.
	MovedMM float64
	// Carried is what was not measured again; nil for all else.
	Carried *Carried
}

// Change is an entry that is another.
type Change struct {
	Name    string // below the key of its doubt; "" for that itself
	Is, Was Value
}

// Doubts returns what two cases, the earlier one first, cannot both be right about.
func Doubts(before, after *Case) []Doubt {
	var all []Doubt
	old := map[string]Said{}
	for _, s := range before.Values() {
		old[s.Path] = s
	}
	for _, s := range after.Values() {
		was, given := old[s.Path]
		key := s.steady
		if key == "" || !given || s.Assumed || was.Assumed || sameValue(s.Value, was.Value) {
			continue
		}
		if n := len(all); n == 0 || all[n-1].Key != key {
			all = append(all, Doubt{Key: key})
		}
		d := &all[len(all)-1]
		d.Changes = append(d.Changes, Change{strings.TrimPrefix(strings.TrimPrefix(s.Path, key), "."), s.Value, was.Value})
	}
	along := carried(after.form, before.form)
	for i := range along {
		all = append(all, Doubt{Key: along[i].Key, Carried: &along[i]})
	}
	clamp := func(d Doubt) bool { return d.Key == "mount.clamp" || d.Key == "mount.carried_by" }
	if mm := clampMoved(before, after); mm > clampMovedMM && !slices.ContainsFunc(all, clamp) {
		all = append(all, Doubt{Key: "mount.clamp", MovedMM: mm})
	}
	return all
}

// clampMovedMM is how far apart two measurements of one clamp may be: 5 mm each way by
// tape. A choice of this tool, no source.
const clampMovedMM = 10

// clampMoved returns how far (mm) the clamp is from where it was, on the same side.
func clampMoved(before, after *Case) float64 {
	for _, m := range after.mountings {
		for _, was := range before.mountings {
			if m.Side == was.Side {
				return r3.Norm(r3.Sub(m.ClampMM, was.ClampMM))
			}
		}
	}
	return 0
}
