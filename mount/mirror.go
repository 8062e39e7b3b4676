package mount

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Mirrored returns the mirror image of c in the plane y = 0 of the carrier: left
// becomes right. Its settings mean the same, so that c and its mirror image at the
// same settings are mirror images.
//
// With M = diag(1, -1, 1) every frame A becomes M A M, which is a rotation again.
// A slide along a becomes one along M a. A turn obeys M R(a, q) M = R(-M a, q),
// because a mirror reverses the sense of a turn: its axis becomes -M a. The
// screen is seen in the mirror with its normal and its up; its right then follows
// from up × normal, so the tip becomes M Tip diag(-1, 1, 1).
func (c Chain) Mirrored() Chain {
	m := c
	m.Joints = make([]Joint, len(c.Joints))
	for i, j := range c.Joints {
		j.Origin = mirrorPose(j.Origin)
		j.Axis = mirrorVec(j.Axis)
		if j.Motion == Turn {
			j.Axis = r3.Scale(-1, j.Axis)
		}
		m.Joints[i] = j
	}
	m.Tip = MirrorScreen(c.Tip)
	m.Spans = make([]Span, len(c.Spans))
	for i, t := range c.Spans {
		m.Spans[i] = t.mirrored()
	}
	m.Masses = make([]Mass, len(c.Masses))
	for i, mass := range c.Masses {
		mirror := mirrorVec
		if mass.Carrier == len(c.Joints) {
			mirror = mirrorInScreen
		}
		mass.AtMM = mirror(mass.AtMM)
		m.Masses[i] = mass
	}
	m.Rated = slices.Clone(c.Rated)
	return m
}

// MirrorScreen returns the pose of a screen as seen in the mirror y = 0: the
// middle, normal and up are mirrored, and right = up × normal. Doing it twice
// gives the pose back.
func MirrorScreen(p frame.Pose) frame.Pose {
	return frame.Pose{
		Rot: frame.Rotation{
			X: r3.Scale(-1, mirrorVec(p.Rot.X)),
			Y: mirrorVec(p.Rot.Y),
			Z: mirrorVec(p.Rot.Z),
		},
		At: mirrorVec(p.At),
	}
}

// mirrorVec returns M v. It subtracts from zero, so that a zero stays a plain 0.
func mirrorVec(v r3.Vec) r3.Vec { return r3.Vec{X: v.X, Y: 0 - v.Y, Z: v.Z} }

// mirrorInScreen returns diag(-1, 1, 1) v: what the mirror does in screen axes.
func mirrorInScreen(v r3.Vec) r3.Vec { return r3.Vec{X: 0 - v.X, Y: v.Y, Z: v.Z} }

// mirrorPose returns M p M.
func mirrorPose(p frame.Pose) frame.Pose {
	return frame.Pose{
		Rot: frame.Rotation{
			X: mirrorVec(p.Rot.X),
			Y: r3.Scale(-1, mirrorVec(p.Rot.Y)),
			Z: mirrorVec(p.Rot.Z),
		},
		At: mirrorVec(p.At),
	}
}
