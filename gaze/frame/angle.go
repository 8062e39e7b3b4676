package frame

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Angle is a plane angle. Write 12 * frame.Degree, never a bare number; read it
// back with [Angle.Degrees] or [Angle.Radians]. The zero value is a zero angle.
type Angle float64

// Units of [Angle].
const (
	Radian Angle = 1
	Degree       = math.Pi / 180 * Radian
)

// Degrees returns a in degrees.
func (a Angle) Degrees() float64 { return float64(a) * (180 / math.Pi) }

// Radians returns a in radians.
func (a Angle) Radians() float64 { return float64(a) }

// Wrapped returns the angle in (-180°, 180°] that differs from a by whole turns.
// It returns NaN for an infinite or NaN angle.
func (a Angle) Wrapped() Angle {
	w := math.Remainder(float64(a), 2*math.Pi)
	if w == -math.Pi {
		w = math.Pi
	}
	return Angle(w)
}

// Between returns the angle from p to q in [0°, 180°], or NaN if either is the
// zero vector.
//
// It uses atan2(|p×q|, p·q), which keeps full precision near 0° and 180° where
// the arccosine form loses half its digits.
func Between(p, q r3.Vec) Angle {
	cross, dot := r3.Norm(r3.Cross(p, q)), r3.Dot(p, q)
	if cross == 0 && dot == 0 {
		return Angle(math.NaN())
	}
	return Angle(math.Atan2(cross, dot))
}
