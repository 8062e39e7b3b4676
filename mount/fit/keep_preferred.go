package fit

import (
	"cmp"
	"slices"

	"sightpost/gaze/frame"
	"sightpost/mount"
)

// leftAlone is what it is worth, in the cost that [mount.Solver.Prefer]
// minimizes, that a setting of effort 1 need not be touched: as much as being off
// its preferred value by half a unit. The cost alone spreads a small deviation
// over many settings; a technician rather leaves a joint where it is.
const leftAlone = 0.25

// keepPreferred returns the solution with as many settings as possible left at their
// preferred values, tried from the most awkward one down. Each must pay for
// itself.
func keepPreferred(chain mount.Chain, target frame.Pose, sol mount.Solution, opt mount.Options) mount.Solution {
	moving, place := chain.Moving(), chain.MovingPlaces()
	order := places(len(moving))
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(moving[b].Effort, moving[a].Effort) })
	opt.Starts = 1 // from where the settings are
	held := chain
	held.Joints = slices.Clone(chain.Joints)
	for _, i := range order {
		j := moving[i]
		if j.Indexed || j.Effort == 0 {
			continue // a clamp in another position is another arrangement
		}
		joint := &held.Joints[place[i]]
		joint.Low, joint.High = j.Preferred, j.Preferred
		less, err := held.Prefer(target, clampTo(held, sol.Settings), opt)
		if err == nil && less.Cost <= sol.Cost+leftAlone*j.Effort {
			sol = less
			continue
		}
		joint.Low, joint.High = j.Low, j.High
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

// clampTo returns s brought within the limits of a chain.
func clampTo(c mount.Chain, s mount.Settings) mount.Settings {
	out := slices.Clone(s)
	for i, j := range c.Moving() {
		out[i] = j.Clamp(s[i])
	}
	return out
}
