package tube

import (
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Sag is how a body has moved under load: a shift of a point of it and a small
// turn.
type Sag struct {
	ShiftMM r3.Vec // of the point, mm
	Turn    r3.Vec // radians, about each axis by the right-hand rule
}

// Pose returns the motion of the whole body as a pose, from where it was to where
// it is, in the axes of the sag. The point that shifted by ShiftMM was at atMM.
func (s Sag) Pose(atMM r3.Vec) frame.Pose {
	rot := frame.FromVector(s.Turn)
	return frame.Pose{Rot: rot, At: r3.Add(s.ShiftMM, r3.Sub(atMM, rot.Apply(atMM)))}
}

// Seen returns the turn of a screen as its viewer sees it, from the pose of the screen in
// the axes of the sag: pitch, positive with the top toward the viewer, yaw, positive with
// the viewer's left edge toward them, and roll, positive counterclockwise.
//
// About right (x), up (y) and normal (z) of the screen: a turn about x takes y
// toward z, the top toward the viewer; one about y takes z toward x, and -x, the
// left edge, toward z. Small turns add up like vectors.
func (s Sag) Seen(screen frame.Pose) (pitch, yaw, roll frame.Angle) {
	t := screen.Rot.ApplyInverse(s.Turn)
	return frame.Angle(t.X), frame.Angle(t.Y), frame.Angle(t.Z)
}

// Load is what weight does to a mount as it is set.
type Load struct {
	Screen Sag         // of the middle of the screen
	Tubes  []Stress    // of every tube, from the carrier outward
	Joints []JointLoad // of every joint that moves, in chain order
	Parts  []Carry     // of every part that is rated, from the carrier outward
}

// Stress is the greatest stress in one tube.
type Stress struct {
	Part     string
	AtMM     float64 // where, from the point held along the middle line, mm
	MPa      float64 // equivalent stress after von Mises, N/mm²
	YieldMPa float64 // of the tube's material
	MomentNM float64 // bending and twisting moment together at that place
}

// JointLoad is the load on one joint that moves.
type JointLoad struct {
	Joint int // index in the chain's joints
	// Acts is what would move the joint: the moment about the axis of a turn (N·m),
	// the force along the axis of a slide (N), without sign; of a ball the whole
	// moment. SlipLoad is the load at which it slips, 0 if not known.
	Load, SlipLoad float64
}

// Utilization returns the load as a part of the slip load; 0 when that
// is not known.
func (h JointLoad) Utilization() float64 {
	if h.SlipLoad == 0 {
		return 0
	}
	return h.Load / h.SlipLoad
}

// Carry is the mass that one part carries beyond itself.
type Carry struct {
	Part        string
	KG, RatedKG float64
}

// Bent is a place along the mount and what the load does there.
type Bent struct {
	Part     string
	AlongMM  float64 // from the first tube's point held, along all middle lines, mm
	AtMM     r3.Vec  // unloaded
	Sag      Sag     // of the section
	MomentNM float64
	MPa      float64
}

// weight is what hangs on a section: a mass and its first moment about the origin
// of the axes at hand. Both just add up, and gravity comes in last.
type weight struct {
	kg  float64
	sum r3.Vec // Σ mass · place, kg mm
}

func (w weight) plus(v weight) weight { return weight{kg: w.kg + v.kg, sum: r3.Add(w.sum, v.sum)} }

// massAt returns the weight of kg at a place.
func massAt(kg float64, at r3.Vec) weight { return weight{kg: kg, sum: r3.Scale(kg, at)} }

// about returns the moment of w about a point under gravity (m/s²), N mm:
//
//	Σ (place - point) × mass gravity = (sum - mass point) × gravity
func (w weight) about(point, gravity r3.Vec) r3.Vec {
	return r3.Cross(r3.Sub(w.sum, r3.Scale(w.kg, point)), gravity)
}

// in returns w, given in outer axes, in the axes of p.
func (w weight) in(p frame.Pose) weight {
	return weight{kg: w.kg, sum: p.Rot.ApplyInverse(r3.Sub(w.sum, r3.Scale(w.kg, p.At)))}
}

// out returns w, given in the axes of p, in outer axes.
func (w weight) out(p frame.Pose) weight {
	return weight{kg: w.kg, sum: r3.Add(p.Rot.Apply(w.sum), r3.Scale(w.kg, p.At))}
}

// drift is a small motion of a rigid body: every point y of it moves by
// move + turn × y. The motions of one section after the other along a mount
// therefore just add up.
type drift struct{ move, turn r3.Vec }

func (d drift) plus(e drift) drift {
	return drift{move: r3.Add(d.move, e.move), turn: r3.Add(d.turn, e.turn)}
}

// bentAt adds a small turn about an axis through a point to d.
func (d *drift) bentAt(point, turn r3.Vec) {
	d.turn = r3.Add(d.turn, turn)
	d.move = r3.Sub(d.move, r3.Cross(turn, point))
}

// at returns the motion of the body and of its point at a place.
func (d drift) at(place r3.Vec) Sag {
	return Sag{ShiftMM: r3.Add(d.move, r3.Cross(d.turn, place)), Turn: d.turn}
}

// out returns d, given in the axes of p, in outer axes.
func (d drift) out(p frame.Pose) drift {
	turn := p.Rot.Apply(d.turn)
	return drift{turn: turn, move: r3.Sub(p.Rot.Apply(d.move), r3.Cross(turn, p.At))}
}
