package mount

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// A mount on the right is the mirror image, in the plane y = 0 of the clamp, of one on the
// left, at the same settings. With M = diag(1, -1, 1) every frame A becomes M A M, which is a
// rotation again. The screen itself is not mirrored: its right follows from up × normal.

// mirrorVec returns M v. It subtracts from zero, so that a zero stays a plain 0.
func mirrorVec(v r3.Vec) r3.Vec { return r3.Vec{X: v.X, Y: 0 - v.Y, Z: v.Z} }

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

// mirrored returns the center line with every bend's plane turned the other way.
func (l Centerline) mirrored() Centerline {
	l.Bends = slices.Clone(l.Bends)
	for i := range l.Bends {
		l.Bends[i].Turn = 0 - l.Bends[i].Turn
	}
	return l
}
