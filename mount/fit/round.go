package fit

import (
	"slices"

	"sightpost/mount"
)

// mostExhaustive is the greatest number of settings for which every choice of
// neighbours is compared.
const mostExhaustive = 10

// mostConfirmed is how many of the best choices are compared with the sag that they
// have themselves.
const mostConfirmed = 8

// round finds readable settings: for each the neighbour below or above, chosen
// together so that the score is best and, if possible, no keep-clear zone is
// touched. All are compared with the sag at the exact settings, the best again with
// their own.
func (t *mountingSolver) round() error {
	compiled := t.sagging.compiled
	r := rounding{value: func(s mount.Settings) float64 { return t.value(compiled.Pose(s)) }}
	for i, j := range t.chain().Moving() {
		below, above := j.Neighbours(t.set.Exact[i])
		r.base = append(r.base, below)
		if above != below {
			r.free = append(r.free, choice{setting: i, below: below, above: above})
		}
	}
	var choices []rounded
	if len(r.free) <= mostExhaustive {
		choices = r.all()
	} else {
		choices = r.byPairs(t.set.Exact)
	}
	slices.SortStableFunc(choices, func(a, b rounded) int { return compareClear(b.value, a.value) })
	confirmed := 0
	for _, c := range choices {
		s := r.settings(c.above)
		if confirmed == mostConfirmed || confirmed > 0 && c.value < t.worth-hopelessMM {
			break
		}
		if t.allowed(s) {
			confirmed++
			if err := t.take(s); err != nil {
				return err
			}
		}
	}
	if confirmed == 0 {
		if err := t.take(r.settings(choices[0].above)); err != nil {
			return err
		}
	}
	for i := 0; i < min(len(choices), mostConfirmed) && t.shortMM > 0; i++ {
		if err := t.take(t.stepped(r.settings(choices[i].above), r.value)); err != nil {
			return err
		}
	}
	return nil
}

// stepped returns the settings that changes of one or two settings by a step lead to, for
// as long as they better what the search asks for: further than the neighbors, where
// these have too little margin.
func (t *mountingSolver) stepped(best mount.Settings, value func(mount.Settings) float64) mount.Settings {
	moving := t.chain().Moving()
	worth, s := value(best), slices.Clone(best)
	step := func(i int, by float64) { s[i] = moving[i].Round(best[i] + by*moving[i].Step) }
	for improved := true; improved; {
		improved = false
		for i := range moving {
			for k := i; k < len(moving); k++ {
				for _, by := range [4][2]float64{{-1, -1}, {-1, 1}, {1, -1}, {1, 1}} {
					copy(s, best)
					step(i, by[0])
					if k > i {
						step(k, by[1])
					}
					if v := value(s); v > worth+clearMM && t.allowed(s) {
						copy(best, s)
						worth, improved = v, true
					}
				}
			}
		}
	}
	return best
}

// hopelessMM is by how much the score of a choice cannot change with its own sag.
const hopelessMM = 2

// take makes readable settings those of the mount if they are better than any
// before, sagging as the mount does with them.
func (t *mountingSolver) take(s mount.Settings) error {
	sags, err := t.sagging.Motions(s)
	if err != nil {
		return err
	}
	screen := t.sagging.compiled.Pose(s)
	own := t.sagged(sags)
	worth := own.value(screen)
	if len(own.keeps) > 0 {
		tubes, err := t.sagging.Tubes(s)
		if err != nil {
			return err
		}
		for _, g := range own.gaps(screen, tubes) {
			if short := g.KeepClear.RequiredMM - g.MM; short > roundingMM {
				worth -= brokenWeight * short
			}
		}
	}
	if t.set.Settings == nil || worth > t.worth+clearMM {
		t.set.Settings, t.screen, t.worth = s, screen, worth
		margin, _, _ := own.request.Judge.Worst(screen, own.request.Postures)
		t.shortMM = t.job.Preferences.MarginMM - margin
	}
	return nil
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
				if t := try(best.above ^ (1<<i | 1<<k)); t.value > best.value+clearMM {
					best, improved = t, true
					seen = append(seen, t)
				}
			}
		}
	}
	return seen
}
