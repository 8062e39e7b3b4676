package fit

import (
	"cmp"
	"math"
	"slices"

	"sightpost/gaze/frame"
	"sightpost/gaze/minimax"
	"sightpost/mount"
)

// leastCost returns, of all settings that fare as well as given ones, those that cost least:
//
//	Σ effort |setting - preferred| / unit
//
// with the units of [mount.Solver.Prefer]. A sum of sizes leaves as many settings as possible
// at their preferred values, where a sum of squares would spread a change over many. It is
// sought from the given settings, and from those that put the screen where they do and are
// nearest to the preferred ones but for the limits; with too many stops, at those given.
// Searches that come to the same score at different settings so end at the same.
func (s *settingSearch) leastCost(from mount.Settings) (mount.Settings, error) {
	p := s.faringAs(from)
	starts := []mount.Settings{from}
	held := s.chain
	held.Joints = slices.Clone(held.Joints)
	_, loose := s.stops()
	for _, k := range loose {
		j := &held.Joints[held.MovingPlaces()[k]]
		j.Low, j.High = from[k], from[k]
	}
	if sol, err := held.Prefer(s.compiled.Pose(from), nil, mount.Options{Lever: leverWeight, Starts: fewStarts}); err == nil {
		starts = append(starts, sol.Settings)
	}
	best, least := from, math.Inf(1)
	for _, start := range starts {
		s.fix(s.stopsAt(start))
		sol := minimax.Solution{X: start}
		for _, penalty := range [...]float64{1, 30, 1000} { // loosely at first, to get away from the start
			var err error
			if sol, err = s.solver.Maximize(p, sol.X, minimax.Options{Penalty: penalty}); err != nil {
				return nil, err
			}
		}
		if sol.Missed <= sameMM && -sol.Score < least*(1-clearCost) {
			best, least = sol.X, -sol.Score
		}
	}
	return best, nil
}

// sameMM is by how much settings may fare worse and still count as faring as well.
const sameMM = 1e-4

// faringAs returns the problem of the least cost of settings that fare as well as given ones:
// no term and no limit below the least of theirs, no cost greater.
func (s *settingSearch) faringAs(given mount.Settings) minimax.Problem {
	_, missed := s.worth(given)
	n, rows, terms := len(s.moving), s.rows(), s.problem.Terms
	costs := terms + s.problem.Limits
	floor, most := slices.Min(s.f[:terms]), slices.Clone(s.f[costs:rows])
	return minimax.Problem{
		Terms: 1, Limits: rows + len(most), Rates: s.efforts(),
		Lower: s.problem.Lower, Upper: s.problem.Upper, Unit: s.problem.Unit,
		Functions: func(x, f, grad []float64) {
			own, all := f[1:1+rows], f[1+rows:1+rows+len(most)]
			deviations := f[1+rows+len(most):]
			f[0] = 0
			if grad == nil {
				s.evaluate(x, own, nil)
			} else {
				s.evaluate(x, own, grad[n:])
			}
			for i := range own[:terms] {
				own[i] -= floor
			}
			for i := terms; i < costs; i++ {
				own[i] += missed
			}
			for k, c := range own[costs:] {
				rate := s.problem.Rates[k]
				own[costs+k], all[k] = rate*(math.Abs(most[k])-c), rate*(math.Abs(most[k])+c)
				if grad == nil {
					continue
				}
				up, down := grad[(1+rows+k)*n:][:n], grad[(1+costs+k)*n:][:n]
				for i, g := range down {
					up[i], down[i] = rate*g, -rate*g
				}
			}
			for k, j := range s.moving {
				deviations[k] = x[k] - j.Preferred
			}
			if grad != nil {
				clear(grad[:n])
				last := grad[(1+rows+len(most))*n:]
				clear(last)
				for k := range s.moving {
					last[k*n+k] = 1
				}
			}
		},
	}
}

// efforts returns what a change of each setting by one mm or radian costs. One without effort
// costs a little, so that its value is not left open.
func (s *settingSearch) efforts() []float64 {
	out := make([]float64, len(s.moving))
	for k, j := range s.moving {
		out[k] = max(j.Effort, leastEffort) / j.Motion.CostUnit()
	}
	return out
}

const leastEffort = 0.01

// leftAlone is what it is worth, in the cost that [mount.Solver.Prefer]
// minimizes, that a setting of effort 1 need not be touched: as much as being off
// its preferred value by half a unit. The cost alone spreads a small deviation
// over many settings; a technician rather leaves a joint where it is.
const leftAlone = 0.25

// keepPreferred returns the solution with as many settings as possible left at their
// preferred values, tried from the most awkward one down. Each must pay for
// itself.
func keepPreferred(solver *mount.Solver, moving []mount.Joint, target frame.Pose, sol mount.Solution, opt mount.Options) mount.Solution {
	order := places(len(moving))
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(moving[b].Effort, moving[a].Effort) })
	opt.Starts = 1
	for _, i := range order {
		j := moving[i]
		if j.Indexed || j.Effort == 0 {
			continue // a clamp in another position is another arrangement
		}
		start := slices.Clone(sol.Settings)
		start[i] = j.Preferred
		solver.Limit(i, j.Preferred, j.Preferred)
		less, err := solver.Prefer(target, start, opt)
		if err != nil {
			less, err = solver.Prefer(target, nil, opt) // not from there, but from elsewhere
		}
		if err == nil && less.Cost <= sol.Cost+leftAlone*j.Effort {
			sol = less
			continue
		}
		solver.Limit(i, j.Low, j.High)
	}
	for i, j := range moving {
		solver.Limit(i, j.Low, j.High)
	}
	return sol
}

// places returns the numbers from 0 to below n.
func places(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}
