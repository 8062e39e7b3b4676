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
// screen, in metres and radians, to the last bit of every number. The base link is
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
	robot := urdfRobot{Name: xmlName(name), Links: []urdfLink{{Name: "carrier"}}}
	parent := "carrier"
	taken := map[string]bool{"carrier": true, "screen": true}
	for _, j := range c.Joints {
		link := unique(xmlName(j.Name), taken)
		robot.Links = append(robot.Links, urdfLink{Name: link})
		robot.Joints = append(robot.Joints, j.urdf(parent, link))
		parent = link
	}
	tip := Joint{Name: "screen", Origin: c.Tip}
	robot.Links = append(robot.Links, urdfLink{Name: "screen"})
	robot.Joints = append(robot.Joints, tip.urdf(parent, "screen"))

	out, err := xml.MarshalIndent(robot, "", "  ")
	if err != nil {
		return fmt.Errorf("mount: URDF: %w", err)
	}
	_, err = io.WriteString(w, xml.Header+string(out)+"\n")
	return err
}

type urdfRobot struct {
	XMLName xml.Name    `xml:"robot"`
	Name    string      `xml:"name,attr"`
	Links   []urdfLink  `xml:"link"`
	Joints  []urdfJoint `xml:"joint"`
}

type urdfLink struct {
	Name string `xml:"name,attr"`
}

type urdfJoint struct {
	Name   string     `xml:"name,attr"`
	Type   string     `xml:"type,attr"`
	Parent urdfRef    `xml:"parent"`
	Child  urdfRef    `xml:"child"`
	Origin urdfOrigin `xml:"origin"`
	Axis   *urdfAxis  `xml:"axis,omitempty"`
	Limit  *urdfLimit `xml:"limit,omitempty"`
}

type urdfRef struct {
	Link string `xml:"link,attr"`
}

type urdfOrigin struct {
	XYZ string `xml:"xyz,attr"`
	RPY string `xml:"rpy,attr"`
}

type urdfAxis struct {
	XYZ string `xml:"xyz,attr"`
}

type urdfLimit struct {
	Lower    string `xml:"lower,attr"`
	Upper    string `xml:"upper,attr"`
	Effort   string `xml:"effort,attr"`
	Velocity string `xml:"velocity,attr"`
}

func (j Joint) urdf(parent, link string) urdfJoint {
	u := urdfJoint{
		Name: link, Type: "fixed", Parent: urdfRef{parent}, Child: urdfRef{link},
		Origin: urdfOrigin{XYZ: triple(r3.Scale(1.0/metre, j.Origin.At)), RPY: triple(rollPitchYaw(j.Origin.Rot))},
	}
	if j.Motion == Fixed {
		return u
	}
	u.Type = "revolute"
	perUnit := 1.0
	if j.Motion == Slide {
		u.Type, perUnit = "prismatic", metre
	}
	u.Axis = &urdfAxis{XYZ: triple(j.Axis)}
	u.Limit = &urdfLimit{Lower: number(j.Low / perUnit), Upper: number(j.High / perUnit), Effort: "1", Velocity: "1"}
	return u
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
