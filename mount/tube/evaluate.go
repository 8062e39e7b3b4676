package tube

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
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

// Along returns what the load does to a section of a tube, given by its place in
// [mount.Chain.Spans] and the developed length from the point held, mm, as the
// settings and gravity last given to the model have it. Behind the point held, and
// beyond the far end, it moves with that end. AlongMM is from this tube's point
// held. A tube that is not there gives the zero Bent.
func (m *Model) Along(tube int, mm float64) Bent {
	if tube < 0 || tube >= len(m.spans) || math.IsNaN(mm) {
		return Bent{}
	}
	s := &m.spans[tube]
	n := min(max(mm, 0), s.lengthMM())
	p, in := s.pieceAt(n)
	sec := p.section(in, s.stiff.KGPerMM)
	f := forcesOn(sec, s.hung)
	at := s.pose.Apply(r3.Add(sec.at, r3.Scale(mm-n, sec.along)))
	d := s.held.plus(s.bent(n).out(s.pose))
	return Bent{
		Part: s.Part, AlongMM: mm, AtMM: at, Sag: d.at(at),
		MomentNM: f.momentNM(), MPa: f.mises(&s.stiff, p.bend.Stress),
	}
}

// Shift returns how the load that was last given to the model moves a point of what a joint
// carries, or of the screen for the number of joints: mm, both in carrier axes.
func (m *Model) Shift(joint int, at r3.Vec) r3.Vec {
	if joint == len(m.moved) {
		return m.sag.at(at).ShiftMM
	}
	return m.moved[joint].at(at).ShiftMM
}

// Frames appends to dst the moved frame of every joint, in carrier axes, as the load
// that was last given to the model has it, and returns it.
func (m *Model) Frames(dst []frame.Pose) []frame.Pose {
	dst = slices.Grow(dst, len(m.chain.Joints))
	for i := range m.chain.Joints {
		f := m.frames[i]
		dst = append(dst, m.moved[i].at(f.At).Pose(f.At).Mul(f))
	}
	return dst
}

// pieceAt returns the piece at a length from the point held, and the length in it.
func (s *span) pieceAt(mm float64) (*piece, float64) {
	for i := range s.pieces {
		p := &s.pieces[i]
		if mm <= p.lengthMM || i == len(s.pieces)-1 {
			return p, min(mm, p.lengthMM)
		}
		mm -= p.lengthMM
	}
	return nil, 0
}

// defaultStepMM is how far the places of Lines are apart: fine enough to draw.
const defaultStepMM = 20

// Lines appends to dst the places along all tubes, from the carrier outward, at most
// stepMM apart (20 mm if that is not positive) and at every end of a straight or a
// bend, and returns it. A straight or a bend is parted into a thousand at most, whatever
// the step. AlongMM goes on from tube to tube. Errors are those of [Model.At].
func (m *Model) Lines(dst []Bent, s mount.Settings, gravity r3.Vec, stepMM float64) ([]Bent, error) {
	if _, err := m.Screen(s, gravity); err != nil {
		return dst, err
	}
	if !(stepMM > 0) {
		stepMM = defaultStepMM
	}
	before, first := 0.0, len(dst)
	for t := range m.spans {
		along := 0.0
		dst = append(dst, m.place(t, 0, before))
		for _, p := range m.spans[t].pieces {
			n := int(math.Ceil(math.Min(p.lengthMM/stepMM, maxPlaces)))
			for i := 1; i <= n; i++ {
				dst = append(dst, m.place(t, along+p.lengthMM*float64(i)/float64(n), before))
			}
			along += p.lengthMM
		}
		before += along
	}
	for i := range dst[first:] {
		b := &dst[first+i]
		if !finite(b.MPa) || !finite(b.MomentNM) || !frame.IsFinite(b.Sag.ShiftMM) || !frame.IsFinite(b.Sag.Turn) {
			return dst[:first], ErrNoStiffness
		}
	}
	return dst, nil
}

// maxPlaces bounds the places along one piece of a tube.
const maxPlaces = 1000

func (m *Model) place(tube int, mm, before float64) Bent {
	b := m.Along(tube, mm)
	b.AlongMM += before
	return b
}
