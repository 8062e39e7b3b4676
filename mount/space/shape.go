package space

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// LimitMM is the largest size and the largest coordinate that a [Shape] may
// have. It is far beyond any room, and small enough that no product of two
// lengths loses its digits.
const LimitMM = 1e9

// Shape is a solid: all points within RoundMM of a box.
//
// Build a Shape with [Box] or [Capsule]. The fields may be read, and set
// to any value for which [Shape.Check] returns nil. The zero value is not a
// shape, because its zero pose is not a pose.
type Shape struct {
	Pose    frame.Pose // from the box's axes, origin at its middle, to the frame it is placed in
	HalfMM  r3.Vec     // half edge lengths along the box's axes, >= 0
	RoundMM float64    // rounding radius, added outside the box, >= 0
}

// Box returns the sharp-edged box with its middle at the origin of pose and the
// given full edge lengths (mm) along the axes of pose. A length may be zero: a
// plate or a rod without thickness. A negative, non-finite or excessive value is
// an error.
func Box(pose frame.Pose, sizeMM r3.Vec) (Shape, error) {
	s := Shape{Pose: pose, HalfMM: r3.Scale(0.5, sizeMM)}
	if err := s.Check(); err != nil {
		return Shape{}, fmt.Errorf("space: box: %w", err)
	}
	return s, nil
}

// Capsule returns the capsule of all points within radiusMM of the straight
// segment from a to b (mm). Where a and b coincide it is a ball. A negative,
// non-finite or excessive value is an error.
func Capsule(a, b r3.Vec, radiusMM float64) (Shape, error) {
	along := r3.Sub(b, a)
	s := Shape{
		Pose:    frame.Translate(r3.Scale(0.5, r3.Add(a, b))),
		HalfMM:  r3.Vec{X: length(along) / 2},
		RoundMM: radiusMM,
	}
	if err := s.Check(); err != nil {
		return Shape{}, fmt.Errorf("space: capsule: %w", err)
	}
	if s.HalfMM.X < pointMM {
		s.HalfMM.X = 0
		return s, nil
	}
	s.Pose.Rot = frame.FromAxes(along, acrossFrom(along))
	return s, nil
}

// pointMM is the half length below which a capsule's segment is taken as a
// point: so short that its direction is rounding error.
const pointMM = 1e-9

// acrossFrom returns the coordinate axis that lies most nearly square to v.
func acrossFrom(v r3.Vec) r3.Vec {
	x, y, z := math.Abs(v.X), math.Abs(v.Y), math.Abs(v.Z)
	switch {
	case x <= y && x <= z:
		return r3.Vec{X: 1}
	case y <= z:
		return r3.Vec{Y: 1}
	default:
		return r3.Vec{Z: 1}
	}
}

// Check returns nil if s is a shape, otherwise an error that says which of its
// values is negative, not finite, beyond [LimitMM], or not a rotation.
func (s Shape) Check() error {
	for i, mm := range [4]float64{s.HalfMM.X, s.HalfMM.Y, s.HalfMM.Z, s.RoundMM} {
		if !isLength(mm) {
			what := [4]string{"half length along x", "half length along y", "half length along z", "radius"}[i]
			return fmt.Errorf("%s %g mm is outside 0 to %g mm", what, mm, float64(LimitMM))
		}
	}
	if !s.isPlaced() {
		return fmt.Errorf("place (%g, %g, %g) mm is not finite and within %g mm, or its rotation is not one: start from frame.Identity",
			s.Pose.At.X, s.Pose.At.Y, s.Pose.At.Z, float64(LimitMM))
	}
	return nil
}

// isLength reports whether mm is a length; a NaN fails both comparisons.
func isLength(mm float64) bool { return mm >= 0 && mm <= LimitMM }

// isShape reports whether Check would return nil, and sooner.
func (s *Shape) isShape() bool {
	return isLength(s.HalfMM.X) && isLength(s.HalfMM.Y) && isLength(s.HalfMM.Z) && isLength(s.RoundMM) && s.isPlaced()
}

// rotationSlack is how far the columns of a rotation may be from unit length and
// square to each other. Long chains of products stay within 1e-12; only a matrix
// that is no rotation lies beyond this.
const rotationSlack = 1e-6

func (s *Shape) isPlaced() bool {
	at, r := s.Pose.At, s.Pose.Rot
	return math.Abs(at.X) <= LimitMM && math.Abs(at.Y) <= LimitMM && math.Abs(at.Z) <= LimitMM &&
		math.Abs(r3.Dot(r.X, r.X)-1) <= rotationSlack &&
		math.Abs(r3.Dot(r.Y, r.Y)-1) <= rotationSlack &&
		math.Abs(r3.Dot(r3.Cross(r.X, r.Y), r.Z)-1) <= rotationSlack &&
		math.Abs(r3.Dot(r.Z, r.Z)-1) <= rotationSlack
}

// Moved returns s carried by p.
func (s Shape) Moved(p frame.Pose) Shape {
	s.Pose = p.Mul(s.Pose)
	return s
}

// ReachMM returns the largest distance (mm) of any point of s from the straight
// line through the given point (mm) along the given direction, which need not be
// of unit length. A zero direction gives the largest distance from the point.
//
// A shape that turns by an angle about that line moves no point farther than
// the angle in radians times ReachMM.
func (s Shape) ReachMM(through, along r3.Vec) float64 {
	if n := length(along); n > 0 {
		along = r3.Scale(1/n, along)
	}
	far := 0.0
	for corner := range 8 { // distance from a line is convex, so a corner is farthest
		d := r3.Sub(s.Pose.Apply(s.Corner(corner)), through)
		far = max(far, length(r3.Sub(d, r3.Scale(r3.Dot(d, along), along))))
	}
	return far + s.RoundMM
}

// Farthest returns the greatest of p·along over all points p of s: how far s
// reaches that way (mm, for a direction of unit length).
func (s Shape) Farthest(along r3.Vec) float64 {
	a := s.Pose.Rot.ApplyInverse(along)
	return r3.Dot(s.Pose.At, along) + s.HalfMM.X*math.Abs(a.X) + s.HalfMM.Y*math.Abs(a.Y) + s.HalfMM.Z*math.Abs(a.Z) +
		s.RoundMM*length(along)
}

// ballMM is the radius of the ball about the middle of s that holds all of it.
func (s *Shape) ballMM() float64 { return length(s.HalfMM) + s.RoundMM }

// beyondBox returns how far a point is beyond the faces of the box of s, in the box's
// axes; zero inside. Its length is the point's distance from the box.
func (s *Shape) beyondBox(p r3.Vec) r3.Vec {
	p = s.Pose.ApplyInverse(p)
	return r3.Vec{X: outside(p.X, s.HalfMM.X), Y: outside(p.Y, s.HalfMM.Y), Z: outside(p.Z, s.HalfMM.Z)}
}

// outside returns how far x is beyond -h or h, with its sign.
func outside(x, h float64) float64 { return x - min(max(x, -h), h) }

// Corner returns one of the eight corners of the box in its own axes; bits 0, 1
// and 2 of i choose the sign along x, y and z.
func (s Shape) Corner(i int) r3.Vec {
	c := s.HalfMM
	if i&1 != 0 {
		c.X = -c.X
	}
	if i&2 != 0 {
		c.Y = -c.Y
	}
	if i&4 != 0 {
		c.Z = -c.Z
	}
	return c
}

// length returns |v|. It leaves out r3.Norm's guard against overflow, which no
// value within LimitMM needs, for speed.
func length(v r3.Vec) float64 { return math.Sqrt(r3.Dot(v, v)) }
