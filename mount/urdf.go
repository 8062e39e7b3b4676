package mount

import (
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// WriteURDF writes c in the Unified Robot Description Format, in which robotics
// libraries read a chain: one link for each joint's moved frame and one for the
// screen, in meters and radians, to the last bit of every number. The base link is
// "carrier", the last "screen", and the name of the robot and of every joint are
// c's with what is not a letter, a digit or one of "_.-" replaced by "_".
//
// The format names no effort or speed that fits a mount set by hand; both are
// written as 1. Stops are not part of it either: an indexed joint is written with
// its limits. The error is that of [Chain.Check] or of the writer.
//
// Reference: the URDF specification of the Robot Operating System, elements robot,
// link and joint (from memory): the joint's origin is xyz, then fixed-axis roll, pitch
// and yaw, R = Rz(yaw) Ry(pitch) Rx(roll).
func (c Chain) WriteURDF(w io.Writer, name string) error {
	if err := c.Check(); err != nil {
		return err
	}
	var links, joints strings.Builder
	link := func(name string) { fmt.Fprintf(&links, "  <link name=%q></link>\n", name) }
	link("carrier")
	parent, taken := "carrier", map[string]bool{"carrier": true, "screen": true}
	for _, j := range c.Joints {
		child := unique(xmlName(j.Name), taken)
		link(child)
		j.writeURDF(&joints, parent, child)
		parent = child
	}
	link("screen")
	Joint{Origin: c.Tip}.writeURDF(&joints, parent, "screen")
	_, err := fmt.Fprintf(w, "%s<robot name=%q>\n%s%s</robot>\n", xml.Header, xmlName(name), &links, &joints)
	return err
}

// writeURDF writes j as the joint between two links, whose names need no escapes.
func (j Joint) writeURDF(w *strings.Builder, parent, child string) {
	kind, perUnit := "fixed", 1.0
	switch j.Motion {
	case Slide:
		kind, perUnit = "prismatic", metre
	case Turn:
		kind = "revolute"
	case Fixed:
	}
	fmt.Fprintf(w, "  <joint name=%q type=%q>\n    <parent link=%q></parent>\n    <child link=%q></child>\n", child, kind, parent, child)
	fmt.Fprintf(w, "    <origin xyz=%q rpy=%q></origin>\n", triple(r3.Scale(1.0/metre, j.Origin.At)), triple(rollPitchYaw(j.Origin.Rot)))
	if j.Motion != Fixed {
		fmt.Fprintf(w, "    <axis xyz=%q></axis>\n", triple(j.Axis))
		fmt.Fprintf(w, "    <limit lower=%q upper=%q effort=\"1\" velocity=\"1\"></limit>\n", number(j.Low/perUnit), number(j.High/perUnit))
	}
	fmt.Fprintln(w, "  </joint>")
}

// rollPitchYaw returns the angles, in radians, with r = Rz(yaw) Ry(pitch) Rx(roll).
//
// Roll is read from the middle row of Rz(-yaw) r, which pitch does not touch, so
// that it makes up for whatever yaw came out of a pitch near ±90°, where r fixes
// only the sum or difference of the two.
func rollPitchYaw(r frame.Rotation) r3.Vec {
	yaw := math.Atan2(r.X.Y, r.X.X)
	sin, cos := math.Sincos(yaw)
	return r3.Vec{
		X: math.Atan2(sin*r.Z.X-cos*r.Z.Y, cos*r.Y.Y-sin*r.Y.X),
		Y: math.Atan2(-r.X.Z, math.Hypot(r.X.X, r.X.Y)),
		Z: yaw,
	}
}

// triple writes three numbers so that they read back to the same bits.
func triple(v r3.Vec) string { return number(v.X) + " " + number(v.Y) + " " + number(v.Z) }

func number(v float64) string { return strconv.FormatFloat(v+0, 'g', -1, 64) }

// xmlName returns s with what is not a plain letter, digit or "_.-" replaced.
func xmlName(s string) string {
	name := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', strings.ContainsRune("_.-", r):
			return r
		}
		return '_'
	}, s)
	if name == "" {
		return "mount"
	}
	return name
}

// unique returns name, with "_" added until it differs from those taken.
func unique(name string, taken map[string]bool) string {
	for taken[name] {
		name += "_"
	}
	taken[name] = true
	return name
}
