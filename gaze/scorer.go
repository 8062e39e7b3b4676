package gaze

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Scorer evaluates the score of a screen's pose, however the pose came about, so
// that a search among a mount's settings maximizes the same number as [Place].
// It holds buffers: one Scorer serves one goroutine.
type Scorer struct {
	r      Request
	lead   PostureInCarrier
	aiming aiming
	buf    []ConditionMargin
	slopes []Slope
}

// NewScorer returns the scorer of a request. Without a posture it has no margins and
// no margin, and aims are those of a head upright at the origin.
func NewScorer(r Request) *Scorer {
	s := &Scorer{r: r, lead: PostureInCarrier{Carrier: frame.Identity(), Head: frame.Identity(), Seat: frame.NoTurn()}}
	if len(r.Postures) > 0 {
		s.lead = r.Postures[0]
	}
	s.aiming = newAiming(&s.lead, r.Upright)
	return s
}

// Terms returns the number of margins whose least is the margin.
func (s *Scorer) Terms() int { return s.r.Judge.Count() * len(s.r.Postures) }

// Limits returns the number of limits that follow the margins in [Scorer.At]: those
// of the request, and both ends of the range of each variable of the aim.
func (s *Scorer) Limits() int { return len(s.r.Limits) + 12 }

// Rates returns the rates of the costs that follow the limits in [Scorer.At].
func (s *Scorer) Rates() []float64 { return s.r.Rates.vector() }

// At returns, for a screen at pose, the margins of every condition in every posture,
// then the limits, then the deviations from the preferred aim. The slice is
// reused by the next call. A pose that is not finite gives numbers that are none.
func (s *Scorer) At(pose frame.Pose) []Slope {
	s.margins(pose)
	x := AimAt(pose, &s.lead, s.r.Upright)
	rates, value, unit := s.aiming.rates(x), x.Vector(), aimUnit()
	low, high, prefer := s.r.Ranges.Low.Vector(), s.r.Ranges.High.Vector(), s.r.Prefer.Vector()
	for k, t := range rates {
		size := unit[2] / unit[k] // limits are weighed in mm
		s.slopes = append(s.slopes,
			Slope{MM: size * (value[k] - low[k]), Shift: r3.Scale(size, t.shift), Turn: r3.Scale(size, t.turn)},
			Slope{MM: size * (high[k] - value[k]), Shift: r3.Scale(-size, t.shift), Turn: r3.Scale(-size, t.turn)})
	}
	for k, t := range rates {
		s.slopes = append(s.slopes, Slope{MM: value[k] - prefer[k], Shift: t.shift, Turn: t.turn})
	}
	return s.slopes
}

// margins fills the slopes of the margins and of the request's own limits.
func (s *Scorer) margins(pose frame.Pose) []Slope {
	s.slopes = slices.Grow(s.slopes[:0], s.Terms()+s.Limits()+len(aimUnit()))
	for i := range s.r.Postures {
		s.buf = s.r.Judge.Margins(s.buf[:0], pose, &s.r.Postures[i])
		for k := range s.buf {
			s.slopes = append(s.slopes, s.buf[k].Slope)
		}
	}
	for _, l := range s.r.Limits {
		s.slopes = append(s.slopes, l.Margin(pose))
	}
	return s.slopes
}

// Score returns the score of a screen at pose: the least margin, zero without a
// posture, less the costs of the aim; by how much the margin falls short of the required one;
// and by how much a limit or range is broken (mm).
func (s *Scorer) Score(pose frame.Pose) (score, shortMM, brokenMM float64) {
	slopes := s.At(pose)
	terms, costs := s.Terms(), s.Terms()+s.Limits()
	for i, v := range slopes[:terms] {
		if i == 0 || !(v.MM >= score) {
			score = v.MM
		}
	}
	if terms > 0 {
		shortMM = max(0, s.r.RequiredMM-score)
	}
	for _, v := range slopes[terms:costs] {
		brokenMM = max(brokenMM, -v.MM)
	}
	for k, rate := range s.Rates() {
		score -= rate * math.Abs(slopes[costs+k].MM)
	}
	return score, shortMM, brokenMM
}
