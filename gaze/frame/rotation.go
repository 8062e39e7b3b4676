package frame

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Rotation is a proper rotation, held as the images of the three axes (the
// columns of its matrix). A matrix is chosen over a quaternion because poses
// here are applied far more often than they are composed.
//
// The fields are read-only for callers: build a Rotation with [About],
// [FromVector], [FromAxes] or [NoTurn]. The zero value is not a rotation.
type Rotation struct{ X, Y, Z r3.Vec }

// NoTurn returns the rotation that changes nothing.
func NoTurn() Rotation {
	return Rotation{X: r3.Vec{X: 1}, Y: r3.Vec{Y: 1}, Z: r3.Vec{Z: 1}}
}

// About returns the right-handed rotation by a about axis. The axis need not be
// of unit length; a zero axis gives NaN entries.
//
// Reference: O. Rodrigues (1840); R = I + sin a K + (1 - cos a) K², K the cross
// product matrix of the unit axis.
func About(axis r3.Vec, a Angle) Rotation {
	k := axis
	if n := r3.Norm2(axis); n < 1e-200 || n > 1e200 {
		k = r3.Unit(axis)
	} else if n != 1 {
		k = r3.Scale(1/math.Sqrt(n), axis)
	}
	s, c := Sincos(a)
	v := 1 - c
	return Rotation{
		X: r3.Vec{X: c + v*k.X*k.X, Y: v*k.X*k.Y + s*k.Z, Z: v*k.X*k.Z - s*k.Y},
		Y: r3.Vec{X: v*k.X*k.Y - s*k.Z, Y: c + v*k.Y*k.Y, Z: v*k.Y*k.Z + s*k.X},
		Z: r3.Vec{X: v*k.X*k.Z + s*k.Y, Y: v*k.Y*k.Z - s*k.X, Z: c + v*k.Z*k.Z},
	}
}

// FromAxes returns the rotation whose X and Y images point along x and along
// the part of y that is square to x. Parallel or zero vectors give NaN entries.
func FromAxes(x, y r3.Vec) Rotation {
	x = r3.Unit(x)
	z := r3.Unit(r3.Cross(x, y))
	return Rotation{X: x, Y: r3.Cross(z, x), Z: z}
}

// FromVector returns the rotation by |v| radians about v; a vector below 1e-300,
// the direction of which cannot be scaled to one, gives no turn.
func FromVector(v r3.Vec) Rotation {
	n := r3.Norm(v)
	if n < 1e-300 {
		return NoTurn()
	}
	return About(v, Angle(n))
}

// Apply returns v turned by r.
func (r Rotation) Apply(v r3.Vec) r3.Vec {
	return r3.Vec{
		X: r.X.X*v.X + r.Y.X*v.Y + r.Z.X*v.Z,
		Y: r.X.Y*v.X + r.Y.Y*v.Y + r.Z.Y*v.Z,
		Z: r.X.Z*v.X + r.Y.Z*v.Y + r.Z.Z*v.Z,
	}
}

// ApplyInverse returns v turned back by r.
func (r Rotation) ApplyInverse(v r3.Vec) r3.Vec {
	return r3.Vec{X: r3.Dot(r.X, v), Y: r3.Dot(r.Y, v), Z: r3.Dot(r.Z, v)}
}

// Mul returns the rotation that turns by q first and by r after.
func (r Rotation) Mul(q Rotation) Rotation {
	return Rotation{X: r.Apply(q.X), Y: r.Apply(q.Y), Z: r.Apply(q.Z)}
}

// Inverse returns the rotation that undoes r.
func (r Rotation) Inverse() Rotation {
	return Rotation{
		X: r3.Vec{X: r.X.X, Y: r.Y.X, Z: r.Z.X},
		Y: r3.Vec{X: r.X.Y, Y: r.Y.Y, Z: r.Z.Y},
		Z: r3.Vec{X: r.X.Z, Y: r.Y.Z, Z: r.Z.Z},
	}
}

// Vector returns the rotation vector of r: its direction is the axis, its length
// the angle in radians, in [0, π]. At exactly π either of the two opposite
// vectors may come back.
//
// Small angles come from the antisymmetric part, angles near π from the column
// of the symmetric part with the largest diagonal entry, so that precision is
// kept at both ends.
func (r Rotation) Vector() r3.Vec {
	w := r3.Vec{X: r.Y.Z - r.Z.Y, Y: r.Z.X - r.X.Z, Z: r.X.Y - r.Y.X} // 2 sin(angle) axis
	sin2, cos2 := r3.Norm(w), r.X.X+r.Y.Y+r.Z.Z-1                     // 2 sin, 2 cos
	angle := math.Atan2(sin2, cos2)
	if cos2 > -1.9 {
		if sin2 == 0 {
			return r3.Vec{}
		}
		return r3.Scale(angle/sin2, w)
	}
	// R + Rᵀ - 2 cos I = 2 (1 - cos) k kᵀ
	c := cos2 / 2
	col := r3.Vec{X: r.X.X - c, Y: (r.X.Y + r.Y.X) / 2, Z: (r.X.Z + r.Z.X) / 2}
	if r.Y.Y > r.X.X && r.Y.Y >= r.Z.Z {
		col = r3.Vec{X: (r.X.Y + r.Y.X) / 2, Y: r.Y.Y - c, Z: (r.Y.Z + r.Z.Y) / 2}
	} else if r.Z.Z > r.X.X {
		col = r3.Vec{X: (r.X.Z + r.Z.X) / 2, Y: (r.Y.Z + r.Z.Y) / 2, Z: r.Z.Z - c}
	}
	axis := r3.Unit(col)
	if r3.Dot(axis, w) < 0 {
		angle = -angle
	}
	return r3.Scale(angle, axis)
}

// Angle returns the angle by which r turns, in [0°, 180°].
func (r Rotation) Angle() Angle { return Angle(r3.Norm(r.Vector())) }
