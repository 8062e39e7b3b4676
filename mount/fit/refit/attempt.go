package refit

import (
	"cmp"
	"slices"

	"sightpost/mount"
	"sightpost/mount/fit"
)

// Attempt is a set of settings that is not enough.
type Attempt struct {
	// Settings are places in the order of the settings, Effort the sum of their
	// efforts.
	Settings []int
	Effort   float64
	// MarginMM is the best margin that they can give, the other settings as found, and
	// At are the settings that give it.
	MarginMM float64
	At       mount.Settings
	// Unreadable says that they would do if they could be set more finely than
	// they can be read: MarginMM and At are then the best at readable settings.
	Unreadable bool
	// Against are the conditions that stop them there, the least margin first.
	Against []fit.PostureMargin
	// Missed is what is missed most of what must be kept; nil if everything is kept.
	Missed *fit.Reason
	// AtLimit are the joints of those of the settings that sit at a limit.
	AtLimit []string
}

// againstMM is how near a condition's margin must come to the least to be named
// with it, and mostNamed how many are.
const (
	againstMM = 0.5
	mostNamed = 3
)

// attempt describes a set that is not enough, with the sag at its settings.
func (s *searcher) attempt(o outcome, unreadable bool) (Attempt, error) {
	if err := s.SagAt(o.settings); err != nil {
		return Attempt{}, err
	}
	worth := s.worth(o.settings)
	a := Attempt{Settings: o.set.members(), MarginMM: worth.marginMM, At: o.settings, Unreadable: unreadable, AtLimit: []string{}}
	for _, i := range a.Settings {
		j := s.moving[i]
		a.Effort += j.Effort
		if (j.Same(o.settings[i], j.Low) || j.Same(o.settings[i], j.High)) && !j.Indexed {
			a.AtLimit = append(a.AtLimit, j.Name)
		}
	}
	a.Against = slices.DeleteFunc(s.Margins(o.settings), func(m fit.PostureMargin) bool {
		return m.Margin.MM > worth.marginMM+againstMM
	})
	slices.SortStableFunc(a.Against, func(x, y fit.PostureMargin) int { return cmp.Compare(x.Margin.MM, y.Margin.MM) })
	a.Against = a.Against[:min(len(a.Against), mostNamed)]
	if worth.missedMM > 0 {
		a.Missed = s.MostMissed(o.settings)
	}
	return a, s.SagAt(s.from)
}
