package mount

import (
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// What counts as one unit of moving a setting away from where it is best left: a
// turn by 15° moves what is 380 mm away, about an arm's reach, by 100 mm.
const (
	costSlideMM = 100.0
	costTurn    = 15 * frame.Degree
	costLever   = 0.1 // m
)

// CostUnit returns what counts as one unit of a motion, mm or radians.
func (m Motion) CostUnit() float64 {
	if m == Turn {
		return costTurn.Radians()
	}
	return costSlideMM
}

// cost returns what Prefer minimizes over x, in units of the search:
//
//	Σ effort ((q - preferred) / unit)² + Σ over turns lever (distance / 100 mm)²
//
// with 100 mm for a slide and 15° for a turn as the unit, and the distance the
// horizontal one from the joint to the target of the screen's middle.
func (s *search) cost() float64 {
	sum := 0.0
	for i, v := range s.x {
		d := v - s.preferred[i]
		sum += s.weight[i] * d * d
	}
	if s.lever == 0 {
		return sum
	}
	s.k.walk(s.settings(), s.axes)
	for i := range s.axes {
		if s.turns[i] {
			h := leverArm(s.axes[i].Move, s.target)
			sum += s.lever * r3.Dot(h, h)
		}
	}
	return sum
}

// leverArm returns the horizontal part of the way from the target to o, in units
// of 100 mm.
func leverArm(o r3.Vec, target frame.Pose) r3.Vec {
	const one = costLever * metre
	return r3.Vec{X: (o.X - target.At.X) / one, Y: (o.Y - target.At.Y) / one}
}

// differentiate writes the gradient of the cost at the search's x, the last that was
// looked at, to its slope, and the diagonal of the Hessian to curve. The lever's curvature is the Gauss-Newton one, without
// the second derivatives of the joints' places.
func (s *search) differentiate() {
	for i, v := range s.x {
		s.slope[i] = 2 * s.weight[i] * (v - s.preferred[i])
		s.curve[i] = 2 * s.weight[i]
	}
	if s.lever == 0 {
		return
	}
	const one = costLever * metre
	for i := range s.axes {
		if !s.turns[i] {
			continue
		}
		o := s.axes[i].Move
		h := leverArm(o, s.target)
		for j := range i {
			move := s.k.stages[j].rate(s.axes[j], o).Move
			move = r3.Scale(s.unit[j]/one, r3.Vec{X: move.X, Y: move.Y})
			s.slope[j] += 2 * s.lever * r3.Dot(h, move)
			s.curve[j] += 2 * s.lever * r3.Dot(move, move)
		}
	}
}
