package fit

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/minimax"
	"sightpost/mount"
	"sightpost/mount/space"
)

// settingSearch is the minimax problem over the settings of a chain.
type settingSearch struct {
	b        *problem
	chain    mount.Chain
	moving   []mount.Joint
	compiled *mount.Compiled
	rates    []mount.Rate
	problem  minimax.Problem
	solver   minimax.Solver
	geometry *tubeGeometry
	tails    []tail
	f        []float64 // scratch: the functions
	ends     []climb   // of the first climbs of coarse
}

func newSettingSearch(b *problem, chain mount.Chain) (*settingSearch, error) {
	compiled, err := chain.Compile()
	if err != nil {
		return nil, err
	}
	s := &settingSearch{b: b, chain: chain, moving: chain.Moving(), compiled: compiled}
	s.rates = make([]mount.Rate, len(s.moving))
	if s.geometry, err = newTubeGeometry(chain); err != nil {
		return nil, err
	}
	s.tails = s.geometry.tails()
	s.problem = minimax.Problem{
		Terms:     b.scorer.Terms(),
		Limits:    b.scorer.Limits() + s.tubeLimits(),
		Rates:     b.scorer.Rates(),
		Functions: s.evaluate,
	}
	for _, j := range s.moving {
		s.problem.Lower = append(s.problem.Lower, j.Low)
		s.problem.Upper = append(s.problem.Upper, j.High)
		unit := 40.0 // mm
		if j.Motion == mount.Turn {
			unit = 0.15 // rad; as much at the end of a 300 mm arm
		}
		s.problem.Unit = append(s.problem.Unit, unit)
	}
	return s, nil
}

// tubeLimits returns how many limits the tubes have: one for each zone to be kept
// clear and, if a tube sticks out behind what holds it, the floor.
func (s *settingSearch) tubeLimits() int { return len(s.b.keeps) + min(len(s.tails), 1) }

// evaluate computes the score's functions at settings x, and the limits of the
// tubes after those of the score.
func (s *settingSearch) evaluate(x, f, grad []float64) {
	n := len(x)
	pose := s.compiled.PoseAndRates(x, s.rates)
	slopes := s.b.scorer.At(pose)
	first := s.problem.Terms + s.b.scorer.Limits()
	keeps := len(s.b.keeps)
	for i := range slopes {
		at := i
		if i >= first {
			at += s.tubeLimits() // costs come after all limits
		}
		f[at] = slopes[i].MM
		if grad == nil {
			continue
		}
		for k := range s.rates {
			grad[at*n+k] = slopes[i].Along(s.rates[k].Move, s.rates[k].Turn)
		}
	}
	if keeps > 0 {
		s.evaluateTubes(x, f[first:first+keeps], grad, first)
	}
	if len(s.tails) > 0 {
		var row []float64
		if grad != nil {
			row = grad[(first+keeps)*n : (first+keeps+1)*n]
		}
		f[first+keeps] = s.evaluateFloor(x, row)
	}
}

// evaluateFloor returns how high above the floor the lowest free end of a tube is
// in the postures in which the mount is used (mm), and how that changes with each setting.
func (s *settingSearch) evaluateFloor(x mount.Settings, row []float64) float64 {
	s.geometry.place(x)
	frames := s.geometry.frames
	least, low := math.Inf(1), space.Clearance{}
	carrier := -1
	for _, i := range s.b.asSet {
		chairFromCarrier := s.b.postures[i].Carrier
		for _, t := range s.tails {
			at := frames[t.carrier].Apply(t.at)
			if z := chairFromCarrier.Apply(at).Z; z < least {
				least, carrier = z, t.carrier
				low = space.Clearance{On: at, Toward: chairFromCarrier.Rot.ApplyInverse(r3.Vec{Z: 1})}
			}
		}
	}
	if row != nil {
		s.moveTube(low, carrier, row)
	}
	return least - s.b.floorSagMM
}

// evaluateTubes computes the margin of the tubes to each keep-clear zone.
// Its gradient is that of the nearest point, which moves with every setting
// between the carrier and the tube.
func (s *settingSearch) evaluateTubes(x mount.Settings, margins, grad []float64, first int) {
	tubes := s.geometry.at(x)
	n := len(x)
	for k := range margins {
		mm, gap, carrier := tubeMargin(tubes, &s.b.keeps[k])
		margins[k] = mm
		if grad != nil {
			s.moveTube(gap, carrier, grad[(first+k)*n:(first+k+1)*n])
		}
	}
}

// moveTube fills in how a gap changes with each setting: by the motion, along the
// gap, of its point on the tube that the joint at place carrier carries.
func (s *settingSearch) moveTube(gap space.Clearance, carrier int, row []float64) {
	clear(row)
	frames, setting := s.geometry.frames, 0
	for place, j := range s.chain.Joints[:carrier+1] {
		if j.Motion == mount.Fixed {
			continue
		}
		move := frames[place].Rot.Apply(j.Axis)
		if j.Motion == mount.Turn {
			move = r3.Cross(move, r3.Sub(gap.On, frames[place].At))
		}
		row[setting] = r3.Dot(gap.Toward, move)
		setting++
	}
}

// works reports whether settings have the wanted margin and keep all limits.
func (s *settingSearch) works(settings mount.Settings) bool {
	_, missed := s.worth(settings)
	return slices.Min(s.f[:s.problem.Terms]) >= s.b.request.WantedMM && missed <= roundingMM
}

// worth returns the score of settings and by how much they miss a limit, as a climb does.
func (s *settingSearch) worth(settings mount.Settings) (score, missed float64) {
	s.f = slices.Grow(s.f[:0], s.rows())[:s.rows()]
	s.evaluate(settings, s.f, nil)
	return s.problem.Score(s.f)
}

// rows is the number of functions.
func (s *settingSearch) rows() int { return s.problem.Terms + s.problem.Limits + len(s.problem.Rates) }
