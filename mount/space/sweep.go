package space

import (
	"errors"
	"fmt"
	"math"
)

// Arc describes shapes on the move, such as a screen being swung aside.
type Arc struct {
	// At appends the moving shapes, as they stand at t in [0, 1], to shapes and
	// returns the result: always equally many, in the same order. It is called
	// for many t in no particular order.
	At func(t float64, shapes []Shape) []Shape
	// SpeedMM is how fast any point of any shape moves at most, in mm per unit of
	// t. For a turn it is the angle in radians times [Shape.ReachMM]; for turns
	// and slides together, their sum. Too large a value costs time; too small a
	// one makes Sweep fail or miss a contact.
	SpeedMM float64
	// ResolutionMM is how far below the reported gap the true least gap may lie.
	// Zero means 0.1 mm.
	ResolutionMM float64
}

// Closest is the least gap along an [Arc].
type Closest struct {
	Gap           // measured at T
	T     float64 // where on the arc, in [0, 1]
	Mover int     // index of the moving shape
	Fixed int     // index of the fixed shape
}

// ErrNoShapes is returned by [Sweep] if nothing moves or nothing stands in the way.
var ErrNoShapes = errors.New("space: sweep: there are no moving shapes, or no fixed ones, to measure between")

// MaxSweepSteps is the largest number of positions that [Sweep] examines.
const MaxSweepSteps = 1_000_000

const defaultResolutionMM = 0.1

// Sweep returns the least gap between any shape that moves along arc and any of
// the fixed shapes. The gap returned occurs at Closest.T, and nowhere on the arc
// is the gap smaller by more than the resolution: a contact between two samples
// cannot be missed.
//
// It returns [ErrNoShapes] if there is nothing to measure between, and an error
// for a shape that fails [Shape.Check], a speed or resolution that is negative or
// not finite, a resolution so fine that it could need more than [MaxSweepSteps],
// a number of shapes that changes, and a gap seen to change faster than SpeedMM.
//
// A gap changes no faster than the points of the shape that moves. So between
// positions a and b with gaps f(a), f(b) it can't fall below
//
//	( f(a) + f(b) - SpeedMM (b - a) ) / 2,
//
// and an interval for which that is no better than the best gap found so far, less
// the resolution, is done with; any other is halved.
//
// Reference: B. Mirtich, "Impulse-based dynamic simulation of rigid body systems",
// 1996, for conservative advancement, and S. A. Piyavskii, "An algorithm for finding
// the absolute extremum of a function", 1972, for the two-sided bound (both from
// memory).
func Sweep(arc Arc, fixed []Shape) (Closest, error) {
	if arc.ResolutionMM == 0 {
		arc.ResolutionMM = defaultResolutionMM
	}
	if err := arc.check(); err != nil {
		return Closest{}, err
	}
	for i, f := range fixed {
		if err := f.Check(); err != nil {
			return Closest{}, fmt.Errorf("space: sweep: fixed shape %d: %w", i, err)
		}
	}
	s := sweep{arc: arc, fixed: fixed, movers: -1, best: Closest{Gap: Gap{MM: math.Inf(1)}}}
	from, err := s.measure(0)
	if err != nil {
		return Closest{}, err
	}
	to, err := s.measure(1)
	if err != nil {
		return Closest{}, err
	}
	if err := s.between(from, to); err != nil {
		return Closest{}, err
	}
	return s.best, nil
}

func (a Arc) check() error {
	switch {
	case a.At == nil:
		return errors.New("space: sweep: Arc.At is nil: give the function that places the moving shapes")
	case !isLength(a.SpeedMM):
		return fmt.Errorf("space: sweep: speed %g mm is outside 0 to %g mm", a.SpeedMM, float64(LimitMM))
	case !isLength(a.ResolutionMM):
		return fmt.Errorf("space: sweep: resolution %g mm is outside 0 to %g mm", a.ResolutionMM, float64(LimitMM))
	case a.SpeedMM > a.ResolutionMM*MaxSweepSteps:
		return fmt.Errorf("space: sweep: resolution %g mm is too fine for a speed of %g mm: use at least %g mm",
			a.ResolutionMM, a.SpeedMM, a.SpeedMM/MaxSweepSteps)
	}
	return nil
}

// sweep is the state of one [Sweep].
type sweep struct {
	arc    Arc
	fixed  []Shape
	movers int     // how many shapes move, -1 before the first look
	shapes []Shape // kept between looks to save allocations
	best   Closest
}

// sample is the least gap over all pairs at one position.
type sample struct{ t, mm float64 }

// measure returns the least gap at t, and keeps it if it is the best so far.
func (s *sweep) measure(t float64) (sample, error) {
	s.shapes = s.arc.At(t, s.shapes[:0])
	if len(s.shapes) == 0 || len(s.fixed) == 0 {
		return sample{}, ErrNoShapes
	}
	if s.movers >= 0 && len(s.shapes) != s.movers {
		return sample{}, fmt.Errorf("space: sweep: %d shapes at t = %g, %d before: give the same shapes at every t",
			len(s.shapes), t, s.movers)
	}
	s.movers = len(s.shapes)
	here := sample{t: t, mm: math.Inf(1)}
	for i, m := range s.shapes {
		if err := m.Check(); err != nil {
			return sample{}, fmt.Errorf("space: sweep: moving shape %d at t = %g: %w", i, t, err)
		}
		for j, f := range s.fixed {
			g := Between(m, f)
			here.mm = min(here.mm, g.MM)
			if g.MM < s.best.MM {
				s.best = Closest{Gap: g, T: t, Mover: i, Fixed: j}
			}
		}
	}
	return here, nil
}

// between examines the arc between two samples, the nearer end first, because a
// good find there saves looking elsewhere. Halving ends where the interval is
// short against the resolution, at most log2(MaxSweepSteps) deep.
func (s *sweep) between(a, b sample) error {
	span := s.arc.SpeedMM * (b.t - a.t)
	const slack = 1e-6 // rounding in placing the shapes, and in the gaps, in mm
	if math.Abs(a.mm-b.mm) > span*(1+slack)+slack {
		return fmt.Errorf("space: sweep: the gap goes from %.4g to %.4g mm between t = %g and %g, faster than %g mm per unit: raise SpeedMM",
			a.mm, b.mm, a.t, b.t, s.arc.SpeedMM)
	}
	if (a.mm+b.mm-span)/2 >= s.best.MM-s.arc.ResolutionMM {
		return nil
	}
	mid, err := s.measure((a.t + b.t) / 2)
	if err != nil {
		return err
	}
	halves := [2][2]sample{{a, mid}, {mid, b}}
	if b.mm < a.mm {
		halves[0], halves[1] = halves[1], halves[0]
	}
	for _, h := range halves {
		if err := s.between(h[0], h[1]); err != nil {
			return err
		}
	}
	return nil
}
