package casefile

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount"
	"sightpost/mount/fit"
)

// Mountings returns the places where the case lets a kit be clamped, in carrier
// axes, and with other places of the clamp given in chair axes as measured (mm),
// those instead, on the side on which each lies. With both, the mirror image of
// each about the chair's midline follows it. The error is [ErrNoClamp].
func (c *Case) Mountings(both bool, otherMM ...r3.Vec) ([]mount.Mounting, error) {
	if len(c.mountings) == 0 {
		return nil, ErrNoClamp
	}
	own := slices.Clone(c.mountings)
	if len(otherMM) > 0 {
		own = own[:0]
		carrierFromChair := fit.CarrierFromMeasured(c.Job.Scene, c.Job.Scene.Carrier)
		for _, at := range otherMM {
			m := c.mountings[0]
			if at.Y < 0 != (m.Side == mount.OnRight) {
				m = acrossMidline(m)
			}
			m.ClampMM = carrierFromChair.Apply(at)
			own = append(own, m)
		}
	}
	if !both {
		return own, nil
	}
	var all []mount.Mounting
	for _, m := range own {
		for _, side := range []mount.Mounting{m, acrossMidline(m)} {
			if !slices.Contains(all, side) {
				all = append(all, side)
			}
		}
	}
	return all, nil
}

// WithKit returns a copy of the case with another kit in place of its own, at the
// given places, as [Case.SetKit] puts it there.
func (c *Case) WithKit(name string, kit mount.Kit, at []mount.Mounting) (*Case, error) {
	other := *c
	other.mountings = at
	other.KitNote = ""
	return &other, other.SetKit(name, kit)
}
