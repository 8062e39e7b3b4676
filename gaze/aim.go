package gaze

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Aim places a screen relative to a head: first where its middle is seen, then
// how it faces the line of sight.
type Aim struct {
	// Left and Down are the direction of the line of sight in head axes.
	Left, Down frame.Angle
	// DistanceMM leads from the point midway between the eyes to the middle of
	// the display area.
	DistanceMM float64
	// FacingUp and FacingRight turn the screen's face off the line back to the
	// eyes, up and toward the viewer's right.
	FacingUp, FacingRight frame.Angle
	// Roll turns the screen about its normal, counterclockwise as seen, off the
	// upright that [Upright] chooses.
	Roll frame.Angle
}

// Upright says what an unrolled screen's upper edge follows. The zero value is
// the head.
type Upright int

// The choices of [Upright].
const (
	WithHead Upright = iota
	WithLevel
)

// aiming turns aims into poses for one posture.
type aiming struct {
	head frame.Pose
	up   r3.Vec // unit, carrier axes: what the upper edge follows
}

// levelCone is how close a line of sight may come to the vertical before "level"
// has no meaning for a screen across it; the upper edge then follows the head.
const levelCone = 10 * frame.Degree

// newAiming returns the aiming for posture st. A screen that is to be level is
// unrolled against plumb in that posture, except for a line of
// sight at rest within 10° of the vertical, where it follows the head.
func newAiming(st *PostureInCarrier, upright Upright) aiming {
	a := aiming{head: st.Head, up: st.Head.Rot.Z}
	vertical := st.Carrier.Rot.ApplyInverse(r3.Vec{Z: 1})
	rest := a.sight(st.Rest.Left, st.Rest.Down)
	off := frame.Between(vertical, rest)
	if upright == WithLevel && off > levelCone && off < math.Pi-levelCone {
		a.up = vertical
	}
	return a
}

// sight returns the unit line of sight in carrier axes.
func (a aiming) sight(left, down frame.Angle) r3.Vec {
	return a.head.Rot.Apply(Aim{Left: left, Down: down}.Sight())
}

// Sight returns the unit line of sight in head axes.
func (x Aim) Sight() r3.Vec {
	sl, cl := math.Sincos(x.Left.Radians())
	sd, cd := math.Sincos(x.Down.Radians())
	return r3.Vec{X: cd * cl, Y: cd * sl, Z: -sd}
}

// square returns the axes of a screen that faces back along the sight d, with
// its upper edge square to the line of sight and as near to up as that allows.
func (a aiming) square(d r3.Vec) frame.Rotation {
	normal := r3.Scale(-1, d)
	up := a.up
	if r3.Norm(r3.Cross(up, normal)) < 1e-9 { // straight along up: any upright will do
		up = squareTo(normal)
	}
	right := r3.Unit(r3.Cross(up, normal))
	return frame.Rotation{X: right, Y: r3.Cross(normal, right), Z: normal}
}

// pose returns carrierFromScreen for aim x.
func (a aiming) pose(x Aim) frame.Pose {
	d := a.sight(x.Left, x.Down)
	rot := a.square(d).
		Mul(frame.About(r3.Vec{Y: 1}, x.FacingRight)).
		Mul(frame.About(r3.Vec{X: 1}, -x.FacingUp)).
		Mul(frame.About(r3.Vec{Z: 1}, x.Roll))
	return frame.Pose{Rot: rot, At: r3.Add(a.head.At, r3.Scale(x.DistanceMM, d))}
}

// twist is the movement of a screen per unit of a variable: shift of its middle
// in mm and turn in radians, in carrier axes.
type twist struct{ shift, turn r3.Vec }

// twists returns the movement of the screen per radian or mm of each variable of
// x, in the order of [Aim]'s fields.
//
// When the sight d moves by δd, the square axes turn by ω = n × δn, n = -d the
// normal, and spin about n by as much as keeps their right axis r square to up:
// with a = r × up, (ω + σ n)·a = 0.
func (a aiming) twists(x Aim) [6]twist {
	d := a.sight(x.Left, x.Down)
	sq := a.square(d)
	yawed := sq.Mul(frame.About(r3.Vec{Y: 1}, x.FacingRight))
	pitched := yawed.Mul(frame.About(r3.Vec{X: 1}, -x.FacingUp))
	sl, cl := math.Sincos(x.Left.Radians())
	sd, cd := math.Sincos(x.Down.Radians())
	moved := func(v r3.Vec) twist {
		dd := a.head.Rot.Apply(v)
		turn := r3.Cross(d, dd) // (-d) × (-δd)
		side := r3.Cross(sq.X, a.up)
		if lever := r3.Dot(sq.Z, side); math.Abs(lever) > 1e-9 {
			turn = r3.Sub(turn, r3.Scale(r3.Dot(turn, side)/lever, sq.Z))
		}
		return twist{shift: r3.Scale(x.DistanceMM, dd), turn: turn}
	}
	return [6]twist{
		moved(r3.Vec{X: -cd * sl, Y: cd * cl}),
		moved(r3.Vec{X: -sd * cl, Y: -sd * sl, Z: -cd}),
		{shift: d},
		{turn: r3.Scale(-1, yawed.X)},
		{turn: sq.Y},
		{turn: pitched.Z},
	}
}

// aimUnit returns changes of the variables that matter about alike: at 600 mm,
// a turn of 0.1 rad sweeps 60 mm.
func aimUnit() []float64 { return []float64{0.1, 0.1, 60, 0.1, 0.1, 0.1} }

// rates returns the change of each variable of x, in the order of [Aim]'s fields,
// per mm of shift and radian of turn of the screen: the inverse of twists.
//
// The first three depend on the screen's middle alone. The turn that is left
// when the square axes have followed it is shared out among the axes of the
// three facing turns by their reciprocal vectors.
//
// Where a variable has no rate it is given none: a direction, of a middle that is
// at the eyes or, to the left, straight above or below them; the facing turns, of a
// face a quarter turn up or down, where two of their axes are one.
func (a aiming) rates(x Aim) [6]twist {
	const least = 1e-9 // mm per radian, and a sine
	tw := a.twists(x)
	d := a.sight(x.Left, x.Down)
	var out [6]twist
	for k := range 2 {
		if r3.Norm(tw[k].shift) > least {
			out[k].shift = r3.Scale(1/r3.Norm2(tw[k].shift), tw[k].shift)
		}
	}
	out[2].shift = d
	e := [3]r3.Vec{tw[3].turn, tw[4].turn, tw[5].turn}
	det := r3.Dot(e[0], r3.Cross(e[1], e[2]))
	if math.Abs(det) < least {
		return out
	}
	for k := range 3 {
		own := r3.Scale(1/det, r3.Cross(e[(k+1)%3], e[(k+2)%3]))
		out[3+k].turn = own
		for m := range 2 {
			out[3+k].shift = r3.Sub(out[3+k].shift, r3.Scale(r3.Dot(own, tw[m].turn), out[m].shift))
		}
	}
	return out
}

// Vector returns x as six numbers in the order of its fields, mm and radians.
func (x Aim) Vector() []float64 {
	return []float64{x.Left.Radians(), x.Down.Radians(), x.DistanceMM, x.FacingUp.Radians(), x.FacingRight.Radians(), x.Roll.Radians()}
}

// AimOf is the inverse of [Aim.Vector].
func AimOf(v []float64) Aim {
	return Aim{
		Left: frame.Angle(v[0]), Down: frame.Angle(v[1]), DistanceMM: v[2],
		FacingUp: frame.Angle(v[3]), FacingRight: frame.Angle(v[4]), Roll: frame.Angle(v[5]),
	}
}

// AimAt returns how a screen at pose is placed relative to the head of posture st: the
// inverse of placing it by its aim. A middle at the eyes is taken to be seen
// straight ahead, at no distance; a pose that is not finite gives an aim that is
// none either.
func AimAt(pose frame.Pose, st *PostureInCarrier, upright Upright) Aim {
	a := newAiming(st, upright)
	to := a.head.Rot.ApplyInverse(r3.Sub(pose.At, a.head.At))
	x := Aim{
		Left:       frame.Angle(math.Atan2(to.Y, to.X)),
		Down:       frame.Angle(math.Atan2(-to.Z, math.Hypot(to.X, to.Y))),
		DistanceMM: r3.Norm(to),
	}
	rel := a.square(a.sight(x.Left, x.Down)).Inverse().Mul(pose.Rot)
	// rel = Ry(right) Rx(-up) Rz(roll): its third column is the face.
	x.FacingUp = frame.Angle(math.Atan2(rel.Z.Y, math.Hypot(rel.Z.X, rel.Z.Z)))
	x.FacingRight = frame.Angle(math.Atan2(rel.Z.X, rel.Z.Z))
	x.Roll = frame.Angle(math.Atan2(rel.X.Y, rel.Y.Y))
	return x
}
