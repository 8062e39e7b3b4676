package mount

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Compiled is a chain made ready for inner loops. It never changes, so many
// goroutines may share one; nothing it does allocates, and nothing is checked:
// settings must be as many as the joints that move. Build one with [Chain.Compile].
//
// # The form
//
// With the fixed poses gathered into A0 ... An and every motion brought to the
// local z axis, carrierFromScreen = A0 Z(q1) A1 Z(q2) ... Z(qn) An. Each inner A
// is split into a translation and Rz(θ) Rx(α) Rz(φ). Rotations about z commute
// with motions along and about z, so θ moves left into the motion before it and φ right
// into the A after: a stage is then a motion, a translation and one turn by α
// about x. That is the saving of Denavit and Hartenberg's link frames ("A
// kinematic notation for lower-pair mechanisms based on matrices", J. Appl.
// Mech. 22, 1955, from memory) without their trouble at nearly parallel axes,
// because the translation stays general.
type Compiled struct {
	base           frame.Pose
	stages         []stage
	cosTip, sinTip float64 // the last φ
}

// stage is one motion and the fixed pose after it: Z(q) Rz(θ) Tr(v) Rx(α).
type stage struct {
	turns        bool
	theta        float64 // added to the setting of a turn
	cosTh, sinTh float64 // the same for a slide, where it is constant
	v            r3.Vec
	shifts       bool // v is not zero
	cosA, sinA   float64
}

// Compile returns c made ready for inner loops, or what [Chain.Check] reports.
func (c Chain) Compile() (*Compiled, error) {
	if err := c.Check(); err != nil {
		return nil, err
	}
	k := &Compiled{}
	pending := frame.Identity()
	for _, j := range c.Joints {
		pending = pending.Mul(j.Origin)
		if j.Motion == Fixed {
			continue
		}
		toAxis := zTo(j.Axis)
		pending = k.close(frame.Pose{Rot: pending.Rot.Mul(toAxis), At: pending.At})
		k.stages = append(k.stages, stage{turns: j.Motion == Turn})
		pending.Rot = pending.Rot.Mul(toAxis.Inverse())
	}
	pending = pending.Mul(c.Tip)
	left := k.close(pending)
	k.cosTip, k.sinTip = left.Rot.X.X, left.Rot.X.Y
	return k, nil
}

// close ends the last stage with the fixed pose a and returns what is left of a,
// a turn about z, for the next. Before the first stage a is the base.
func (k *Compiled) close(a frame.Pose) (rest frame.Pose) {
	if len(k.stages) == 0 {
		k.base = a
		return frame.Identity()
	}
	st := &k.stages[len(k.stages)-1]
	theta, alpha := math.Atan2(a.Rot.Z.X, -a.Rot.Z.Y), math.Atan2(math.Hypot(a.Rot.Z.X, a.Rot.Z.Y), a.Rot.Z.Z)
	st.theta = theta
	st.sinTh, st.cosTh = math.Sincos(theta)
	st.sinA, st.cosA = math.Sincos(alpha)
	thetaRot := frame.About(r3.Vec{Z: 1}, frame.Angle(theta))
	st.v = thetaRot.ApplyInverse(a.At)
	st.shifts = st.v != r3.Vec{}
	left := thetaRot.Mul(frame.About(r3.Vec{X: 1}, frame.Angle(alpha))).Inverse().Mul(a.Rot)
	return frame.Rotate(frame.Angle(math.Atan2(left.X.Y, left.X.X)), r3.Vec{Z: 1})
}

// zTo returns a rotation that takes z to the unit vector axis.
func zTo(axis r3.Vec) frame.Rotation {
	other := r3.Vec{X: 1}
	if math.Abs(axis.X) > 0.7 {
		other = r3.Vec{Y: 1}
	}
	f := frame.FromAxes(axis, other) // x along axis; z, x, y is as right-handed
	return frame.Rotation{X: f.Y, Y: f.Z, Z: f.X}
}

// Pose returns carrierFromScreen at s.
func (k *Compiled) Pose(s Settings) frame.Pose { return k.walk(s, nil) }

// PoseAndRates returns carrierFromScreen at s and fills rates, which must be as
// long as s, with the motion of the screen for each unit of every setting.
//
// For a slide along the unit vector u: Move = u, Turn = 0. For a turn about u
// through the point o: Move = u × (p - o), Turn = u, p being the screen's middle.
// Reference: D. E. Whitney, "The mathematics of coordinated control of
// prosthetic arms and manipulators", J. Dyn. Sys. Meas. Control 94, 1972 (from
// memory), the geometric Jacobian.
func (k *Compiled) PoseAndRates(s Settings, rates []Rate) frame.Pose {
	pose := k.walk(s, rates)
	for i := range k.stages {
		rates[i] = k.stages[i].rate(rates[i], pose.At)
	}
	return pose
}

// rate returns the motion of the point at for each unit of a setting whose axis is as
// [Compiled.walk] writes it.
func (st *stage) rate(axis Rate, at r3.Vec) Rate {
	if !st.turns {
		return Rate{Move: axis.Turn}
	}
	return Rate{Move: r3.Cross(axis.Turn, r3.Sub(at, axis.Move)), Turn: axis.Turn}
}

// walk returns carrierFromScreen at s. Unless axes is nil it writes there, as Turn
// and Move, the axis of every joint and the point on it where the joint's frame sits.
//
// It is one loop, with the frame in local variables, because it is most of the
// time that a search takes.
func (k *Compiled) walk(s Settings, axes []Rate) frame.Pose {
	x, y, z, at := k.base.Rot.X, k.base.Rot.Y, k.base.Rot.Z, k.base.At
	for i := range k.stages {
		st := &k.stages[i]
		if axes != nil {
			axes[i] = Rate{Move: at, Turn: z}
		}
		sin, cos := st.sinTh, st.cosTh
		if st.turns {
			sin, cos = frame.Sincos(frame.Angle(s[i] + st.theta))
		} else {
			at = r3.Vec{X: at.X + s[i]*z.X, Y: at.Y + s[i]*z.Y, Z: at.Z + s[i]*z.Z}
		}
		x, y = frame.Blend(x, y, cos, sin), frame.Blend(x, y, -sin, cos)
		if st.shifts {
			at.X += st.v.X*x.X + st.v.Y*y.X + st.v.Z*z.X
			at.Y += st.v.X*x.Y + st.v.Y*y.Y + st.v.Z*z.Y
			at.Z += st.v.X*x.Z + st.v.Y*y.Z + st.v.Z*z.Z
		}
		y, z = frame.Blend(y, z, st.cosA, st.sinA), frame.Blend(y, z, -st.sinA, st.cosA)
	}
	x, y = frame.Blend(x, y, k.cosTip, k.sinTip), frame.Blend(x, y, -k.sinTip, k.cosTip)
	return frame.Pose{Rot: frame.Rotation{X: x, Y: y, Z: z}, At: at}
}
