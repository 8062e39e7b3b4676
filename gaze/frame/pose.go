package frame

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Pose is a rigid transform: a rotation, then a translation in mm. It is a
// value: methods return new poses and never modify the receiver.
//
// A Pose named aFromB takes coordinates in B to coordinates in A, so chains read
// left to right: aFromC = aFromB.Mul(bFromC). Read as a frame, the columns of
// Rot are B's axes and At is B's origin, both in A.
//
// The zero value is not a pose, because a zero matrix is not a rotation; start
// from [Identity], [Translate], [Rotate] or [RotateAround].
type Pose struct {
	Rot Rotation
	At  r3.Vec
}

// Identity returns the pose that changes nothing.
func Identity() Pose { return Pose{Rot: NoTurn()} }

// Translate returns the pose that moves by v (mm).
func Translate(v r3.Vec) Pose { return Pose{Rot: NoTurn(), At: v} }

// Rotate returns the right-handed rotation by a about the given axis through the
// origin. The axis need not be of unit length; a zero axis gives NaN entries.
func Rotate(a Angle, axis r3.Vec) Pose { return Pose{Rot: About(axis, a)} }

// RotateAround returns the right-handed rotation by a about the given axis
// through the point (mm), which stays where it is.
func RotateAround(point r3.Vec, a Angle, axis r3.Vec) Pose {
	rot := About(axis, a)
	return Pose{Rot: rot, At: r3.Sub(point, rot.Apply(point))}
}

// Apply returns the point v (mm) carried by p.
func (p Pose) Apply(v r3.Vec) r3.Vec { return r3.Add(p.Rot.Apply(v), p.At) }

// ApplyInverse returns the point v (mm) carried back by p.
func (p Pose) ApplyInverse(v r3.Vec) r3.Vec { return p.Rot.ApplyInverse(r3.Sub(v, p.At)) }

// Mul returns the pose that applies q first and p after.
func (p Pose) Mul(q Pose) Pose { return Pose{Rot: p.Rot.Mul(q.Rot), At: p.Apply(q.At)} }

// Inverse returns the pose that undoes p.
func (p Pose) Inverse() Pose {
	return Pose{Rot: p.Rot.Inverse(), At: r3.Scale(-1, p.Rot.ApplyInverse(p.At))}
}

// IsFinite reports whether no entry of p is NaN or infinite.
func (p Pose) IsFinite() bool {
	return IsFinite(p.Rot.X) && IsFinite(p.Rot.Y) && IsFinite(p.Rot.Z) && IsFinite(p.At)
}

// IsFinite reports whether no component of v is NaN or infinite.
func IsFinite(v r3.Vec) bool {
	return max(math.Abs(v.X), math.Abs(v.Y), math.Abs(v.Z)) <= math.MaxFloat64 // max of a NaN is NaN
}

// Blend returns a p + b q: in the plane of two square unit vectors p and q, the point at
// the coordinates a and b.
func Blend(p, q r3.Vec, a, b float64) r3.Vec {
	return r3.Vec{X: a*p.X + b*q.X, Y: a*p.Y + b*q.Y, Z: a*p.Z + b*q.Z}
}
