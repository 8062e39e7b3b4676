package mount

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// search brings the screen to a target by damped least squares within a box.
//
// Inside, lengths are in metres and a turn of the screen counts 0.3 m per radian,
// its half diagonal and some more, so that one weight fits all six residuals;
// settings are in metres and radians, so that a unit of each moves the screen about
// equally far. The damped step
//
//	d = Jᵀ (J Jᵀ + λ I)⁻¹ e
//
// needs a 6×6 Cholesky factor however many settings there are. Settings that the
// step would take past a limit are put on it and held, and the others solved
// again for what remains.
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
	rates    []Rate   // scratch: of the last pose looked at
	cols     []vec6   // Jacobian at x
	d        []float64
	held     []bool
	off      vec6 // target minus pose at x
	offTrial vec6
	gram     mat6 // J Jᵀ at x
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
		x: make([]float64, n), trial: make([]float64, n), natural: make(Settings, n), rates: make([]Rate, n),
		cols: make([]vec6, n), d: make([]float64, n), held: make([]bool, n),
	}
	for i, j := range moving {
		s.unit[i] = 1
		if j.Motion == Slide {
			s.unit[i] = metre
		}
	}
	return s
}

// look returns the squared residual at x and writes the residual to off and the
// rates to s.rates.
func (s *search) look(x []float64, off *vec6) float64 {
	for i, v := range x {
		s.natural[i] = v * s.unit[i]
	}
	pose := s.k.PoseAndRates(s.natural, s.rates)
	return s.offTarget(pose, off)
}

// offTarget writes target minus pose to off and returns its square.
func (s *search) offTarget(pose frame.Pose, off *vec6) float64 {
	move := r3.Sub(s.target.At, pose.At)
	turn := s.target.Rot.Mul(pose.Rot.Inverse()).Vector()
	*off = vec6{
		move.X / metre, move.Y / metre, move.Z / metre,
		turn.X * turnWeight, turn.Y * turnWeight, turn.Z * turnWeight,
	}
	return off.dot(off)
}

// linearise takes the Jacobian over from rates.
func (s *search) linearise() {
	s.gram = mat6{}
	for i := range s.cols {
		r, u := &s.rates[i], s.unit[i]
		m, t := u/metre, u*turnWeight
		s.cols[i] = vec6{m * r.Move.X, m * r.Move.Y, m * r.Move.Z, t * r.Turn.X, t * r.Turn.Y, t * r.Turn.Z}
		s.gram.addOuter(1, &s.cols[i])
	}
}

// descend goes from s.x toward the target and leaves in s.x where it got to. It
// returns the squared residual there.
func (s *search) descend(iterations int) float64 {
	f := s.look(s.x, &s.off)
	damping, slow := dampingStart, 0
	for it := 0; it < iterations && f > stopSquared && slow < 3; it++ {
		s.linearise()
		for tries := 0; ; tries++ {
			// Damping in proportion to the residual: it must vanish at the target.
			s.step(math.Min(damping, damping*f+1e-9))
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
		damping = math.Max(damping/5, dampingLeast)
	}
	return f
}

// step writes to trial the damped step from x within the limits.
func (s *search) step(damping float64) {
	gram, rest := s.gram, s.off
	gram.addDiagonal(damping)
	for i, x := range s.x {
		s.d[i] = 0
		g := s.cols[i].dot(&s.off)
		s.held[i] = x <= s.low[i] && g <= 0 || x >= s.high[i] && g >= 0
		if s.held[i] {
			gram.addOuter(-1, &s.cols[i])
		}
	}
	for range len(s.x) + 1 {
		factor, y := gram, rest
		if !factor.solve(&y) {
			break
		}
		if !s.hold(&y, &gram, &rest) {
			break
		}
	}
	for i, d := range s.d {
		s.trial[i] = math.Min(math.Max(s.x[i]+d, s.low[i]), s.high[i])
	}
}

// hold takes the step Jᵀ y, puts what it takes past a limit onto the limit, and
// moves that part from gram to rest. It reports whether there was any.
func (s *search) hold(y *vec6, gram *mat6, rest *vec6) bool {
	passed := false
	for i, x := range s.x {
		if s.held[i] {
			continue
		}
		d := s.cols[i].dot(y)
		limit := math.Min(math.Max(x+d, s.low[i]), s.high[i])
		if limit != x+d {
			d = limit - x
			s.held[i] = true
			gram.addOuter(-1, &s.cols[i])
			rest.addScaled(-d, &s.cols[i])
			passed = true
		}
		s.d[i] = d
	}
	return passed
}
