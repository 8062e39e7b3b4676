package tube

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount"
)

// At fills dst with what weight does to the mount at s under gravity (m/s², carrier
// axes). What dst held before is overwritten, its room used again. Errors are those
// of [Model.Screen], and of a stress that is not finite.
func (m *Model) At(dst *Load, s mount.Settings, gravity r3.Vec) error {
	if err := m.load(s, gravity); err != nil {
		return err
	}
	sag, err := m.screen()
	if err != nil {
		return err
	}
	dst.Screen = sag
	dst.Tubes, dst.Joints, dst.Parts = dst.Tubes[:0], dst.Joints[:0], dst.Parts[:0]
	for i := range m.spans {
		worst := m.spans[i].worst()
		if !finite(worst.MPa) || !finite(worst.MomentNM) {
			return errNoStiffness
		}
		dst.Tubes = append(dst.Tubes, worst)
	}
	for i := range m.chain.Joints {
		if j := &m.chain.Joints[i]; j.Motion != mount.Fixed && !m.part[i] {
			dst.Joints = append(dst.Joints, Hold{Joint: i, Acts: m.acts(i), Holds: j.Grip.Holds})
		}
	}
	for _, r := range m.chain.Rated {
		if r.KG > 0 {
			dst.Parts = append(dst.Parts, Carry{Part: r.Part, KG: m.carried(r), RatedKG: r.KG})
		}
	}
	return nil
}

// acts returns what would move the joint with the given place, N m or N.
func (m *Model) acts(i int) float64 {
	if m.chain.Joints[i].Motion == mount.Slide {
		axis := m.frames[i].Rot.Apply(m.chain.Joints[i].Axis)
		return math.Abs(m.beyond[i].kg * r3.Dot(m.gravity, axis))
	}
	return r3.Norm(m.acting(i)) / nmm
}

// carried returns the mass beyond a part, kg: of all that sits further out and is
// not of the part itself.
func (m *Model) carried(r mount.Rated) float64 {
	kg := m.beyond[r.Next].kg
	for _, mass := range m.chain.Masses {
		if mass.Carrier >= r.Next && mass.Part == r.Part {
			kg -= mass.KG
		}
	}
	return max(kg, 0)
}
