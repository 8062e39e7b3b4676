package fit

import (
	"cmp"
	"fmt"
	"slices"

	"sightpost/gaze"
	"sightpost/mount"
)

// Attempt is a set of settings that is not enough.
type Attempt struct {
	// Settings are places in the order of the settings, Effort the sum of their
	// efforts.
	Settings []int
	Effort   float64
	// MarginMM is the best margin that they can give, the others left alone, and
	// At are the settings that give it.
	MarginMM float64
	At       mount.Settings
	// Unreadable says that they would do if they could be set more finely than
	// they can be read: MarginMM and At are then the best at readable settings.
	Unreadable bool
	// Against are the conditions that stop them there, the tightest first.
	Against []Stop
	// Kept says what could not be kept clear; empty when all is.
	Kept string
	// AtLimit are those of the settings that sit at a limit.
	AtLimit []mount.AtLimit
}

// Stop is a condition that stops a posture.
type Stop struct {
	Posture string
	Room    gaze.ConditionMargin
}

// againstMM is how near a condition's room must come to the least to be named
// with it, and mostNamed how many are.
const (
	againstMM = 0.5
	mostNamed = 3
)

// attempt describes a set that is not enough.
func (s *subsetSearch) attempt(o outcome, unreadable bool) Attempt {
	a := Attempt{Settings: o.set.members(), MarginMM: o.worth.marginMM, At: o.settings, Unreadable: unreadable}
	for _, i := range a.Settings {
		j := s.moving[i]
		a.Effort += j.Effort
		low, high := still(j, o.settings[i], j.Low), still(j, o.settings[i], j.High)
		if (low || high) && !j.Indexed {
			a.AtLimit = append(a.AtLimit, mount.AtLimit{Setting: i, Joint: j.Name, High: high})
		}
	}
	screen := s.all.compiled.Pose(o.settings)
	for i := range s.all.b.request.Postures {
		st := &s.all.b.request.Postures[i]
		for _, room := range s.all.b.request.Judge.Margins(nil, screen, st) {
			if room.MM <= o.worth.marginMM+againstMM {
				a.Against = append(a.Against, Stop{Posture: st.Posture.Name, Room: room})
			}
		}
	}
	slices.SortStableFunc(a.Against, func(x, y Stop) int { return byRoom(x.Room, y.Room) })
	a.Against = a.Against[:min(len(a.Against), mostNamed)]
	if o.worth.missedMM > 0 {
		a.Kept = s.missed(o.settings)
	}
	return a
}

// byRoom orders rooms, the least first.
func byRoom(a, b gaze.ConditionMargin) int { return cmp.Compare(a.MM, b.MM) }

// missed says in plain words what settings s miss most of what is to be kept.
func (s *subsetSearch) missed(at mount.Settings) string {
	screen := s.all.compiled.Pose(at)
	worst, what := 0.0, "the ranges of the aim"
	for _, l := range s.all.b.request.Limits {
		if mm, _, _ := l.Margin(screen); mm < worst-roundingMM {
			worst, what = mm, l.String()
		}
	}
	s.all.evaluate(at, s.f, nil)
	first := s.all.problem.Terms + s.all.b.scorer.Limits()
	for k, mm := range s.f[first : first+len(s.all.b.keeps)] {
		if mm < worst-roundingMM {
			worst, what = mm, fmt.Sprintf("mount at least %.0f mm from %s", s.all.b.keeps[k].keep.RequiredMM, s.all.b.keeps[k].keep.Name)
		}
	}
	if len(s.all.tails) > 0 && s.f[first+len(s.all.b.keeps)] < worst-roundingMM {
		what = "the tubes above the floor"
	}
	return what
}
