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

// cost is what Prefer minimises over x, in units of the search:
//
//	Σ effort ((q - preferred) / unit)² + Σ over turns lever (distance / 100 mm)²
//
// with 100 mm for a slide and 15° for a turn as the unit, and the distance the
// horizontal one from the joint to the target of the screen's middle.
type cost struct {
	weight, preferred []float64
	turns             []bool
	lever             float64 // weight per (100 mm)²; 0 skips the lever arm
	curve             []float64
	axes              []Rate // scratch: of the joints, see Compiled.walk
}

func newCost(moving []Joint, unit []float64) cost {
	n := len(moving)
	c := cost{
		weight: make([]float64, n), preferred: make([]float64, n), turns: make([]bool, n),
		curve: make([]float64, n), axes: make([]Rate, n),
	}
	for i, j := range moving {
		one := costTurn.Radians()
		if j.Motion == Slide {
			one = costSlideMM / unit[i]
		}
		c.weight[i] = j.Effort / (one * one)
		c.preferred[i] = j.Preferred / unit[i]
		c.turns[i] = j.Motion == Turn
	}
	return c
}

// total returns the cost at the search's x.
func (c *cost) total(s *search) float64 {
	sum := 0.0
	for i, v := range s.x {
		d := v - c.preferred[i]
		sum += c.weight[i] * d * d
	}
	if c.lever == 0 {
		return sum
	}
	s.k.walk(s.settings(), c.axes)
	for i := range c.axes {
		if c.turns[i] {
			h := leverArm(c.axes[i].Move, s.target)
			sum += c.lever * r3.Dot(h, h)
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

// differentiate writes the gradient of the cost at the search's x to its slope, and
// the diagonal of the Hessian to curve. The lever's curvature is the Gauss-Newton one, without
// the second derivatives of the joints' places.
//
// A joint before i moves the origin o of joint i by u if it slides along u, and
// by u × (o - its own origin) if it turns about u.
func (c *cost) differentiate(s *search) {
	for i, v := range s.x {
		s.slope[i] = 2 * c.weight[i] * (v - c.preferred[i])
		c.curve[i] = 2 * c.weight[i]
	}
	if c.lever == 0 {
		return
	}
	s.k.walk(s.settings(), c.axes)
	const one = costLever * metre
	for i := range c.axes {
		if !c.turns[i] {
			continue
		}
		o := c.axes[i].Move
		h := leverArm(o, s.target)
		for j := range i {
			move := c.axes[j].Turn // the axis of a slide
			if c.turns[j] {
				move = r3.Cross(c.axes[j].Turn, r3.Sub(o, c.axes[j].Move))
			}
			move = r3.Scale(s.unit[j]/one, r3.Vec{X: move.X, Y: move.Y})
			s.slope[j] += 2 * c.lever * r3.Dot(h, move)
			c.curve[j] += 2 * c.lever * r3.Dot(move, move)
		}
	}
}
