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
// clear, the front of the device where it is watched and, if a tube sticks out behind what
// holds it, the floor.
func (s *settingSearch) tubeLimits() int {
	n := len(s.b.keeps) + min(len(s.tails), 1)
	if s.b.frontWatched {
		n++
	}
	return n
}

// evaluate computes the score's functions at settings x, and the limits of the
// tubes after those of the score.
func (s *settingSearch) evaluate(x, f, grad []float64) {
	n := len(x)
	pose := s.compiled.PoseAndRates(x, s.rates)
	slopes := s.b.scorer.At(pose)
	first, limits := s.problem.Terms+s.b.scorer.Limits(), s.tubeLimits()
	for i := range slopes {
		at := i
		if i >= first {
			at += limits // costs come after all limits
		}
		f[at] = slopes[i].MM
		if grad == nil {
			continue
		}
		for k := range s.rates {
			grad[at*n+k] = slopes[i].Along(s.rates[k].Move, s.rates[k].Turn)
		}
	}
	if limits == 0 {
		return
	}
	if grad != nil {
		grad = grad[first*n : (first+limits)*n]
	}
	s.evaluateTubes(x, f[first:first+limits], grad)
}

// evaluateTubes computes the limits of the tubes. The gradient is that of the nearest
// point, which moves with every setting between the carrier and the tube.
func (s *settingSearch) evaluateTubes(x mount.Settings, f, grad []float64) {
	tubes := s.geometry.at(x)
	next := func(mm float64) (row []float64) {
		f[0], f = mm, f[1:]
		if grad != nil {
			row, grad = grad[:len(x)], grad[len(x):]
			clear(row)
		}
		return row
	}
	for k := range s.b.keeps {
		mm, gap, carrier := tubeMargin(tubes, &s.b.keeps[k])
		s.move(next(mm), 0, carrier, gap.On, gap.Toward)
	}
	if s.b.frontWatched {
		gap, screen, last := s.b.sightGap(s.geometry), s.geometry.screen(), len(s.chain.Joints)-1
		row := next(gap.MM - s.b.spareMM)
		s.move(row, 0, last, screen.Apply(gap.eye), screen.Rot.Apply(gap.shut))
		s.move(row, gap.carrier+1, last, screen.Apply(gap.on), screen.Rot.Apply(r3.Scale(-1, gap.toward)))
	}
	if len(s.tails) > 0 {
		mm, low, carrier := s.lowestTail()
		s.move(next(mm), 0, carrier, low.On, low.Toward)
	}
}

// lowestTail returns by how much the lowest free end of a tube is higher above the floor than
// required, in the postures in which the mount is used (mm), where that is, and the joint that
// carries it.
func (s *settingSearch) lowestTail() (mm float64, low space.Clearance, carrier int) {
	frames := s.geometry.frames
	least := math.Inf(1)
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
	return least - s.b.floorSagMM - s.b.job.Passage.GroundMM, low, carrier
}

// move adds to a row, unless it is nil, how far a point moves along a direction with each
// setting of the joints at the places from first to last.
func (s *settingSearch) move(row []float64, first, last int, point, along r3.Vec) {
	if row == nil {
		return
	}
	frames, setting := s.geometry.frames, 0
	for place := range s.chain.Joints[:last+1] {
		j := &s.chain.Joints[place]
		if j.Motion == mount.Fixed {
			continue
		}
		if place >= first {
			move := frames[place].Rot.Apply(j.Axis)
			if j.Motion == mount.Turn {
				move = r3.Cross(move, r3.Sub(point, frames[place].At))
			}
			row[setting] += r3.Dot(along, move)
		}
		setting++
	}
}

// works reports whether settings have the required margin and keep all limits.
func (s *settingSearch) works(settings mount.Settings) bool {
	_, missed := s.worth(settings)
	return slices.Min(s.f[:s.problem.Terms]) >= s.b.request.RequiredMM && missed <= RoundingMM
}

// worth returns the score of settings and by how much they miss a limit, as a climb does.
func (s *settingSearch) worth(settings mount.Settings) (score, missed float64) {
	s.f = slices.Grow(s.f[:0], s.rows())[:s.rows()]
	s.evaluate(settings, s.f, nil)
	return s.problem.Score(s.f)
}

// rows is the number of functions.
func (s *settingSearch) rows() int { return s.problem.Terms + s.problem.Limits + len(s.problem.Rates) }
