package fit

import (
	"cmp"
	"slices"

	"sightpost/mount"
)

// mostExhaustive is the greatest number of settings for which every choice of
// neighbours is compared.
const mostExhaustive = 10

// round returns readable settings: for each the neighbour below or above, chosen
// together so that the score is best and, if possible, nothing to be kept clear is
// touched.
func (b *bench) round(chain mount.Chain, exact mount.Settings, allowed func(mount.Settings) bool) (mount.Settings, error) {
	compiled, err := chain.Compile()
	if err != nil {
		return nil, err
	}
	r := rounding{value: func(s mount.Settings) float64 { return b.value(compiled.Pose(s)) }}
	for i, j := range chain.Moving() {
		below, above := j.Neighbours(exact[i])
		r.base = append(r.base, below)
		if above != below {
			r.free = append(r.free, choice{setting: i, below: below, above: above})
		}
	}
	var choices []rounded
	if len(r.free) <= mostExhaustive {
		choices = r.all()
	} else {
		choices = r.byPairs(exact)
	}
	slices.SortStableFunc(choices, func(a, b rounded) int { return cmp.Compare(b.value, a.value) })
	for _, c := range choices {
		if s := r.settings(c.above); allowed == nil || allowed(s) {
			return s, nil
		}
	}
	return r.settings(choices[0].above), nil
}

// rounding is the choice, for each setting that lies between two readable
// values, of one of them.
type rounding struct {
	base  mount.Settings
	free  []choice
	value func(mount.Settings) float64
}

type choice struct {
	setting      int
	below, above float64
}

// rounded is one choice; bit k of above says that free setting k goes up.
type rounded struct {
	above uint64
	value float64
}

// settings returns the settings of a choice.
func (r *rounding) settings(above uint64) mount.Settings {
	s := slices.Clone(r.base)
	r.set(s, above)
	return s
}

func (r *rounding) set(s mount.Settings, above uint64) {
	for k, c := range r.free {
		s[c.setting] = c.below
		if above>>k&1 == 1 {
			s[c.setting] = c.above
		}
	}
}

// all returns every choice with its value.
func (r *rounding) all() []rounded {
	s := slices.Clone(r.base)
	out := make([]rounded, 0, 1<<len(r.free))
	for above := range uint64(1) << len(r.free) {
		r.set(s, above)
		out = append(out, rounded{above, r.value(s)})
	}
	return out
}

// byPairs starts from the nearest readable values and changes one or two of them
// at a time for as long as that helps. Only the first 64 settings are compared;
// no mount has so many.
func (r *rounding) byPairs(exact mount.Settings) []rounded {
	n := min(len(r.free), 64)
	var best rounded
	for k, c := range r.free[:n] {
		if c.above-exact[c.setting] < exact[c.setting]-c.below {
			best.above |= 1 << k
		}
	}
	s := slices.Clone(r.base)
	try := func(above uint64) rounded {
		r.set(s, above)
		return rounded{above, r.value(s)}
	}
	best = try(best.above)
	seen := []rounded{best}
	for improved := true; improved; {
		improved = false
		for i := range n {
			for k := i; k < n; k++ {
				if t := try(best.above ^ (1<<i | 1<<k)); t.value > best.value+1e-9 {
					best, improved = t, true
					seen = append(seen, t)
				}
			}
		}
	}
	return seen
}
