package tube

import (
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

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
