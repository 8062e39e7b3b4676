package fit

import (
	"slices"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/space"
)

// front returns the front of the housing, a rectangle in screen axes, that the tubes of a
// chain must not pass through; nil when the plate joint is so near to it that the kit cannot
// have measured the plate. What is behind the front may be as near as it is: there the
// plate is fixed.
func front(d gaze.Device, chain mount.Chain) *space.Shape {
	joint, wide := chain.Tip.Inverse(), 0.0 // the plate joint, in screen axes
	for _, j := range slices.Backward(chain.Joints) {
		if j.Motion != mount.Fixed {
			break
		}
		joint = joint.Mul(j.Origin.Inverse())
	}
	for _, s := range chain.Spans {
		wide = max(wide, s.Section.OutsideMM/2)
	}
	if -joint.At.Z < wide {
		return nil
	}
	face := Housing(d)
	face.Pose.At.Z += face.HalfMM.Z
	face.HalfMM.Z = 0
	return &face
}

// throughDevice returns the part whose tube passes through the front of the device at
// carrierFromScreen, "" if none does. Mount and device sag together: what the load changes
// between them does not count.
func throughDevice(d gaze.Device, chain mount.Chain, tubes []TubePiece, screen frame.Pose) string {
	face := front(d, chain)
	if face == nil {
		return ""
	}
	there := face.Moved(screen)
	if _, at := nearest(tubes, &there, -roundingMM); at >= 0 {
		return tubes[at].Part
	}
	return ""
}
