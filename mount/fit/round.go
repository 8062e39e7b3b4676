package fit

import (
	"slices"

	"sightpost/mount"
)

// mostExhaustive is for how many settings every choice of neighbors is compared; any more
// take the nearest.
const mostExhaustive = 10

// Nearby returns every choice of the readable values below and above some settings, by
// their places, of all.
func Nearby(moving []mount.Joint, all mount.Settings, places []int) []mount.Settings {
	out := []mount.Settings{slices.Clone(all)}
	for _, i := range places {
		below, above := moving[i].Neighbors(all[i])
		if len(out) == 1<<mostExhaustive {
			below = moving[i].Round(all[i])
			above = below
		}
		for _, s := range out {
			s[i] = below
		}
		if above == below {
			continue
		}
		for _, s := range out {
			up := slices.Clone(s)
			up[i] = above
			out = append(out, up)
		}
	}
	return out
}

// mostConfirmed is how many of the best choices are compared with the sag that they
// have themselves.
const mostConfirmed = 8

// choice is readable settings with their value at the sag of the exact ones.
type choice struct {
	settings mount.Settings
	value    float64
}

// round finds readable settings: for each the neighbor below or above, chosen
// together so that the score is best and, if possible, no keep-clear zone is
// touched. All are compared with the sag at the exact settings, the best again with
// their own.
func (t *mountingSolver) round() error {
	value := func(s mount.Settings) float64 { return t.value(t.sagging.compiled.Pose(s)) }
	var choices []choice
	for _, s := range Nearby(t.chain().Moving(), t.set.Exact, places(len(t.set.Exact))) {
		choices = append(choices, choice{s, value(s)})
	}
	slices.SortStableFunc(choices, func(a, b choice) int { return compareClear(b.value, a.value) })
	confirmed := 0
	for _, c := range choices {
		if confirmed == mostConfirmed || confirmed > 0 && c.value < t.worth-hopelessMM {
			break
		}
		if t.allowed(c.settings) {
			confirmed++
			if err := t.take(c.settings); err != nil {
				return err
			}
		}
	}
	if confirmed == 0 {
		if err := t.take(choices[0].settings); err != nil {
			return err
		}
	}
	for i := 0; i < min(len(choices), mostConfirmed) && t.shortMM > 0; i++ {
		if err := t.take(t.stepped(choices[i].settings, value)); err != nil {
			return err
		}
	}
	return nil
}

// stepped returns the settings that changes of one or two settings by a step lead to, for
// as long as they better what the search asks for: further than the neighbors, where
// these have too little margin.
func (t *mountingSolver) stepped(from mount.Settings, value func(mount.Settings) float64) mount.Settings {
	moving := t.chain().Moving()
	best, s := slices.Clone(from), slices.Clone(from)
	worth := value(best)
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
	poses, err := t.sagging.Poses(s)
	if err != nil {
		return err
	}
	screen := t.sagging.compiled.Pose(s)
	own := t.sagged(poses.motions())
	worth := own.value(screen)
	for _, g := range clearancesOf(own, screen, poses) {
		if g.TooClose() {
			worth -= BrokenWeight * (g.KeepClear.RequiredMM - g.MM)
		}
	}
	if gap := own.sightAt(t.sagging, s); !t.inFront && gap.crosses() {
		worth += BrokenWeight * gap.MM
	}
	if t.set.Settings == nil || worth > t.worth+clearMM {
		t.set.Settings, t.screen, t.worth = s, screen, worth
		margin, _, _ := own.request.Judge.Worst(screen, own.request.Postures)
		t.shortMM = t.job.Preferences.MarginMM - margin
	}
	return nil
}
