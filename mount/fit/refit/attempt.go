package refit

import (
	"slices"

	"sightpost/gaze"
	"sightpost/mount"
	"sightpost/mount/fit"
)

// Attempt is a set of settings that is not enough.
type Attempt struct {
	// Settings are places in the order of the settings, Effort the sum of their
	// efforts, as in [Plan].
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
	Against []PostureMargin
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

// PostureMargin is the margin of one condition in one posture.
type PostureMargin struct {
	Posture string
	Margin  gaze.ConditionMargin
}

// attempt describes a set that is not enough, with the sag at its settings.
func (s *searcher) attempt(o outcome, unreadable bool) Attempt {
	worth := s.sagged(o.settings)
	a := Attempt{Settings: o.set.members(), Effort: effortOf(s.units, o.set), MarginMM: worth.marginMM, At: o.settings, Unreadable: unreadable, AtLimit: []string{}}
	for _, i := range a.Settings {
		j := s.moving[i]
		if (j.Same(o.settings[i], j.Low) || j.Same(o.settings[i], j.High)) && !j.Indexed {
			a.AtLimit = append(a.AtLimit, j.Name)
		}
	}
	r, err := s.Check(o.settings)
	if s.fails(err) {
		return a
	}
	for i := range r.Postures {
		f := &r.Postures[i]
		for _, m := range f.Margins {
			if f.Posture.MustWork && m.MM <= worth.marginMM+againstMM {
				a.Against = append(a.Against, PostureMargin{f.Posture.Name, m})
			}
		}
	}
	slices.SortStableFunc(a.Against, func(x, y PostureMargin) int { return byMargin(x.Margin, y.Margin) })
	a.Against = a.Against[:min(len(a.Against), mostNamed)]
	if worth.missedMM > 0 {
		a.Missed = mostMissed(r)
	}
	s.fails(s.SagAt(s.from))
	return a
}

// byMargin orders margins, the least first; those that are as good stay in their order.
func byMargin(a, b gaze.ConditionMargin) int {
	switch {
	case gaze.Less(a.MM, b.MM):
		return -1
	case gaze.Less(b.MM, a.MM):
		return 1
	}
	return 0
}

// mostMissed returns what is missed most of what must be kept; an aim range only where
// nothing else is missed.
func mostMissed(r *fit.Result) *fit.Reason {
	most := &fit.Reason{Kind: fit.OutOfRange}
	for i := range r.Reasons {
		why := &r.Reasons[i]
		kept := slices.Contains([]fit.ReasonKind{fit.TooClose, fit.FaceTooClose, fit.NearFloor, fit.InFront}, why.Kind)
		if kept && why.Limit-why.Is > most.Limit-most.Is+fit.RoundingMM {
			most = why
		}
	}
	return most
}
