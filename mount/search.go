package mount

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// search brings the screen to a target by damped least squares within a box.
//
// Inside, lengths are in meters and a turn of the screen counts 0.3 m per radian,
// its half diagonal and some more, so that one weight fits all six residuals;
// settings are in meters and radians, so that a unit of each moves the screen about
// equally far. The damped step
//
//	d = Jᵀ (J Jᵀ + λ I)⁻¹ e
//
// needs a 6×6 Cholesky factor however many settings there are; see [search.step].
//
// References: Levenberg, "A method for the solution of certain non-linear
// problems in least squares", Quart. Appl. Math. 2, 1944; Wampler, "Manipulator
// inverse kinematic solutions based on vector formulations and damped
// least-squares methods", IEEE Trans. SMC 16(1), 1986 (both from memory).
type search struct {
	k         *Compiled
	target    frame.Pose
	unit      []float64 // mm or rad of one unit of x
	low, high []float64 // of x; infinite for a turn that goes all the way round

	x, trial []float64
	natural  Settings // scratch: x in mm and rad
	axes     []Rate   // of the joints at the last pose looked at, see Compiled.walk
	at       r3.Vec   // of the screen there
	cols     []vec6   // Jacobian at x
	off      vec6     // target minus pose at x
	offTrial vec6

	// of the step, see there
	d, flex, slope []float64
	held, stays    []bool
	gram           mat6
	rest           vec6

	// of the cost, see there
	weight, preferred, curve []float64
	turns                    []bool
	lever                    float64 // weight per (100 mm)²; 0 skips the lever arm
}

const (
	metre        = 1000 // mm
	turnWeight   = 0.3  // m per radian of the screen's turn
	stopSquared  = 1e-12
	dampingStart = 1e-2
	dampingLeast = 1e-6
)

func newSearch(k *Compiled, moving []Joint) *search {
	n := len(moving)
	s := &search{
		k: k, unit: make([]float64, n), low: make([]float64, n), high: make([]float64, n),
		x: make([]float64, n), trial: make([]float64, n), natural: make(Settings, n), axes: make([]Rate, n),
		cols: make([]vec6, n), d: make([]float64, n), flex: make([]float64, n), slope: make([]float64, n),
		held: make([]bool, n), stays: make([]bool, n),
		weight: make([]float64, n), preferred: make([]float64, n), curve: make([]float64, n),
		turns: make([]bool, n),
	}
	for i, j := range moving {
		s.unit[i], s.turns[i] = 1, j.Motion == Turn
		if j.Motion == Slide {
			s.unit[i] = metre
		}
		one := j.Motion.CostUnit() / s.unit[i]
		s.weight[i], s.preferred[i] = j.Effort/(one*one), j.Preferred/s.unit[i]
	}
	return s
}

// look returns the squared residual at x, and writes the residual to off and where the
// joints are to axes.
func (s *search) look(x []float64, off *vec6) float64 {
	for i, v := range x {
		s.natural[i] = v * s.unit[i]
	}
	pose := s.k.walk(s.natural, s.axes)
	s.at = pose.At
	*off = residual(&s.target, &pose)
	return off.dot(off)
}

// residual returns target minus pose: the way, and the axis of the turn that is left, as
// long as twice the sine of half its angle, which costs no arc tangent.
func residual(target, pose *frame.Pose) vec6 {
	t, p := &target.Rot, &pose.Rot
	way := r3.Scale(1./metre, r3.Sub(target.At, pose.At))
	turn := r3.Add(r3.Add(r3.Cross(p.X, t.X), r3.Cross(p.Y, t.Y)), r3.Cross(p.Z, t.Z)) // 2 sin(angle) axis
	if part := 1 + trace(t, p); part > 1e-6 {                                          // 4 cos²(angle/2)
		turn = r3.Scale(turnWeight/math.Sqrt(part), turn)
	} else {
		turn = r3.Scale(2*turnWeight, r3.Unit(t.Mul(p.Inverse()).Vector()))
	}
	return vec6{way.X, way.Y, way.Z, turn.X, turn.Y, turn.Z}
}

// trace returns that of the turn from p to t: 1 + 2 cos(angle), or 3 less the square of
// what [residual] makes of it before it is weighed.
func trace(t, p *frame.Rotation) float64 {
	return r3.Dot(t.X, p.X) + r3.Dot(t.Y, p.Y) + r3.Dot(t.Z, p.Z)
}

// linearize takes the Jacobian over from where the joints are.
func (s *search) linearize() {
	for i := range s.cols {
		r, u := s.k.stages[i].rate(s.axes[i], s.at), s.unit[i]
		m, t := u/metre, u*turnWeight
		s.cols[i] = vec6{m * r.Move.X, m * r.Move.Y, m * r.Move.Z, t * r.Turn.X, t * r.Turn.Y, t * r.Turn.Z}
	}
}

// descend goes from s.x toward the target and leaves in s.x where it got to. It
// returns the squared residual there.
func (s *search) descend(iterations int) float64 {
	f := s.look(s.x, &s.off)
	damping, slow := dampingStart, 0
	for it := 0; it < iterations && f > stopSquared && slow < 3; it++ {
		s.linearize()
		for tries := 0; ; tries++ {
			for i, x := range s.x {
				g := s.cols[i].dot(&s.off)
				s.held[i] = x <= s.low[i] && g <= 0 || x >= s.high[i] && g >= 0
				s.flex[i], s.slope[i] = 1, 0
			}
			// Damping in proportion to the residual: it must vanish at the target.
			s.step(min(damping, damping*f+1e-9), false)
			f2 := s.look(s.trial, &s.offTrial)
			if f2 < f {
				if slow++; f2 < 0.98*f {
					slow = 0
				}
				f = f2
				break
			}
			if damping *= 6; tries > 8 {
				return f
			}
		}
		s.x, s.trial = s.trial, s.x
		s.off = s.offTrial
		damping = max(damping/5, dampingLeast)
	}
	return f
}

// step writes to trial the step from x within the limits that solves
//
//	minimize slope·d + ½ Σ d²/flex  subject to  J d = e,
//
// where damping trades how nearly J d is e for a smaller d. With y the multipliers of
// J d = e,
//
//	d = flex (Jᵀ y - slope),   (J flex Jᵀ + damping) y = e + J flex slope,
//
// a 6×6 system. Settings that would pass a limit are put on it and held, beside those
// held before, and the others solved again for what remains. If freeing, one held on a
// limit whose multiplier says that it would rather leave is let go, once.
//
// Reference: J. Nocedal and S. J. Wright, Numerical Optimization (2006), ch. 16
// and 18 (from memory).
func (s *search) step(damping float64, freeing bool) {
	s.gram, s.rest = mat6{}, s.off
	for i := range s.x {
		s.d[i] = 0
		if s.stays[i] = s.held[i]; !s.held[i] {
			s.count(i, 1)
		}
	}
	s.gram.addDiagonal(damping)
	for range 2*len(s.x) + 2 {
		factor, y := s.gram, s.rest
		if !factor.solve(&y) || !s.hold(&y) && (!freeing || !s.letGo(&y)) {
			break
		}
	}
	for i, d := range s.d {
		s.trial[i] = min(max(s.x[i]+d, s.low[i]), s.high[i])
	}
}

// count adds setting i to the free ones, or with sign -1 takes it from them and leaves it
// at d.
func (s *search) count(i int, sign float64) {
	s.gram.addOuter(sign*s.flex[i], &s.cols[i])
	s.rest.addScaled(sign*(s.flex[i]*s.slope[i]+s.d[i]), &s.cols[i])
}

// hold takes the step that y gives, holds what it takes past a limit, and reports
// whether there was any.
func (s *search) hold(y *vec6) bool {
	passed := false
	for i, x := range s.x {
		if s.held[i] {
			continue
		}
		d := s.flex[i] * (s.cols[i].dot(y) - s.slope[i])
		limit := min(max(x+d, s.low[i]), s.high[i])
		s.d[i] = d
		if limit != x+d {
			s.d[i], s.held[i], passed = limit-x, true, true
			s.count(i, -1)
		}
	}
	return passed
}

// letGo frees the held setting that gains most by leaving its limit, if there is
// one that may and has not been freed before, and reports whether it did.
func (s *search) letGo(y *vec6) bool {
	most, which := 1e-9, -1
	for i, d := range s.d {
		if !s.held[i] || s.stays[i] {
			continue
		}
		gain := s.slope[i] + d/s.flex[i] - s.cols[i].dot(y) // slope toward higher values
		if s.x[i]+d <= s.low[i] {
			gain = -gain
		}
		if gain > most {
			most, which = gain, i
		}
	}
	if which < 0 {
		return false
	}
	s.held[which], s.stays[which] = false, true
	s.count(which, 1)
	return true
}
