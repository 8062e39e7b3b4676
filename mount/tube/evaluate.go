package tube

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount"
)

// At fills dst with what weight does to the mount at s under gravity (m/s², carrier
// axes). What dst held before is overwritten, its memory used again. Errors are those
// of [Model.Screen], and of a stress that is not finite.
func (m *Model) At(dst *Load, s mount.Settings, gravity r3.Vec) error {
	sag, err := m.Screen(s, gravity)
	if err != nil {
		return err
	}
	dst.Screen = sag
	dst.Tubes, dst.Joints, dst.Parts = dst.Tubes[:0], dst.Joints[:0], dst.Parts[:0]
	for i := range m.spans {
		worst := m.spans[i].worst()
		if !finite(worst.MPa) || !finite(worst.MomentNM) {
			return ErrNoStiffness
		}
		dst.Tubes = append(dst.Tubes, worst)
	}
	for i := range m.chain.Joints {
		if j := &m.chain.Joints[i]; j.Motion != mount.Fixed && !m.part[i] {
			dst.Joints = append(dst.Joints, JointLoad{Joint: i, Load: math.Abs(m.Drive(i)), SlipLoad: j.Stiffness.SlipLoad})
		}
	}
	for _, r := range m.chain.Rated {
		if r.KG > 0 {
			dst.Parts = append(dst.Parts, Carry{Part: r.Part, KG: m.carried(r), RatedKG: r.KG})
		}
	}
	return nil
}

// Drive returns how the load that was last given to the model drives a joint of the
// chain, in the sense of rising settings: the moment about the axis of a turn (N·m), the
// force along the axis of a slide (N). A ball gives way about every axis: of the joint that
// stands for it, [mount.JointStiffness].AnyAxis, it is the whole moment, in no sense. It is
// zero for a joint that does not move or is not there.
func (m *Model) Drive(joint int) float64 {
	if joint < 0 || joint >= len(m.chain.Joints) {
		return 0
	}
	switch j := &m.chain.Joints[joint]; {
	case j.Motion == mount.Slide:
		return m.beyond[joint].kg * r3.Dot(m.gravity, m.axis(joint))
	case j.Stiffness.AnyAxis:
		return r3.Norm(m.moment(joint)) / nmm
	case j.Motion == mount.Turn:
		return r3.Dot(m.moment(joint), m.axis(joint)) / nmm
	}
	return 0
}

// CarriedKG returns the mass of all that hangs on the chain's carrier (kg) at the
// settings last given to the model.
func (m *Model) CarriedKG() float64 { return m.beyond[0].kg }

// Beyond returns what a joint of the chain carries at the settings last given to the model:
// its mass (kg), and mass times place (kg mm, carrier axes).
func (m *Model) Beyond(joint int) (kg float64, moment r3.Vec) {
	return m.beyond[joint].kg, m.beyond[joint].sum
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
