package mount

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// loadProblems says what is wrong with the tubes, masses and ratings of c.
func (c Chain) loadProblems() []error {
	var errs []error
	say := func(format string, args ...any) { errs = append(errs, fmt.Errorf("mount: "+format, args...)) }
	moving := c.Moving()
	for _, t := range c.Spans {
		switch {
		case t.Carrier < 0 || t.Carrier >= len(c.Joints) || t.Slide < -1 || t.Slide >= len(moving):
			say("tube %q is carried by a joint that is not there", t.Part)
		case t.Slide >= 0 && moving[t.Slide].Motion != Slide:
			say("tube %q slides with joint %q, which is no slide", t.Part, moving[t.Slide].Name)
		}
		if !soundPose(t.FromTube) {
			say("tube %q: its place in the frame that carries it is not a pose within 100 m", t.Part)
		}
		for _, msg := range (Tube{Section: t.Section, Shape: t.Shape, TotalMM: t.TotalMM}).problems() {
			say("tube %q: %s", t.Part, msg)
		}
	}
	for _, m := range c.Masses {
		if m.Carrier < 0 || m.Carrier > len(c.Joints) {
			say("the mass of %q is carried by a joint that is not there", m.Part)
		}
		if !(m.KG >= 0 && m.KG <= maxKG) {
			say("the mass of %q, %g kg, must be from 0 to %g", m.Part, m.KG, maxKG)
		}
		if !frame.IsFinite(m.AtMM) || r3.Norm(m.AtMM) > maxMM {
			say("the mass of %q: %v mm is not a place within 100 m", m.Part, m.AtMM)
		}
	}
	for _, r := range c.Rated {
		if r.First < 0 || r.First > r.Next || r.Next > len(c.Joints) {
			say("part %q: joints %d to %d are not there", r.Part, r.First, r.Next)
		}
		if !(r.KG >= 0 && r.KG <= maxKG) {
			say("part %q: rated mass %g kg must be from 0 (not known) to %g", r.Part, r.KG, maxKG)
		}
	}
	return errs
}

// Bounds of a stiffness, far beyond any tool: they catch mistakes of units, and a joint
// with more compliance moves too far to be called tightened.
const (
	maxHolds = 1e6 // N·m or N
	maxGives = 1.0 // radians for each N·m
)

// problems says what is wrong with the stiffness of a joint that can move as m says.
func (g JointStiffness) problems(m Motion) []string {
	var msgs []string
	if !(g.SlipLoad >= 0 && g.SlipLoad <= maxHolds) {
		msgs = append(msgs, fmt.Sprintf("slip load %g: must be from 0 (not known) to %g", g.SlipLoad, maxHolds))
	}
	if !(g.Compliance >= 0 && g.Compliance <= maxGives) {
		msgs = append(msgs, fmt.Sprintf("compliance %.4g° per N·m: must be from 0 to %.1f°",
			frame.Angle(g.Compliance).Degrees(), frame.Angle(maxGives).Degrees()))
	}
	if m == Slide && (g.Compliance != 0 || g.AnyAxis) {
		msgs = append(msgs, "a slide does not give about an axis: only turns do")
	}
	return msgs
}

// problems says what is wrong with the section, shape and length of a tube.
func (p Tube) problems() []string {
	msgs := append(p.Section.problems(), p.Shape.problems(p.Section)...)
	if !(p.TotalMM >= 0 && p.TotalMM <= maxMM) {
		msgs = append(msgs, fmt.Sprintf("total length: %g mm must be from 0 (not known) to 100 m", p.TotalMM))
	}
	return msgs
}

// minOutsideMM and minWallMM bound a section, a hair and a foil: what is thinner is a
// mistake of units, as metres for mm.
const (
	minOutsideMM = 0.1
	minWallMM    = 0.01
)

func (s Section) problems() []string {
	if s == (Section{}) {
		return nil
	}
	var msgs []string
	switch {
	case !(s.OutsideMM >= minOutsideMM && s.OutsideMM <= maxMM):
		msgs = append(msgs, fmt.Sprintf("outside diameter %g mm must be from %g mm to 100 m", s.OutsideMM, minOutsideMM))
	case !(s.WallMM >= minWallMM):
		msgs = append(msgs, fmt.Sprintf("wall %g mm must be at least %g mm", s.WallMM, minWallMM))
	case !(s.WallMM <= s.OutsideMM/2):
		msgs = append(msgs, fmt.Sprintf("wall %g mm is more than half of the outside diameter %g mm", s.WallMM, s.OutsideMM))
	}
	return append(msgs, s.Material.problems()...)
}

// maxMPa and maxKGM3 bound what a material can be, some hundred times beyond
// diamond and osmium.
const (
	maxMPa  = 1e8
	maxKGM3 = 1e6
)

func (m Material) problems() []string {
	if m == (Material{}) {
		return nil
	}
	var msgs []string
	for _, row := range []struct {
		what   string
		v, max float64
		unit   string
	}{
		{"Young's modulus", m.YoungMPa, maxMPa, "N/mm²"},
		{"shear modulus", m.ShearMPa, maxMPa, "N/mm²"},
		{"density", m.DensityKGM3, maxKGM3, "kg/m³"},
	} {
		if !(row.v > 0 && row.v <= row.max) {
			msgs = append(msgs, fmt.Sprintf("material %q: %s %g %s must be more than 0 and at most %g",
				m.Name, row.what, row.v, row.unit, row.max))
		}
	}
	if !(m.YieldMPa >= 0 && m.YieldMPa <= maxMPa) {
		msgs = append(msgs, fmt.Sprintf("material %q: yield strength %g N/mm² must be from 0 (not known) to %g",
			m.Name, m.YieldMPa, maxMPa))
	}
	return msgs
}

// maxBends bounds the bends of one tube.
const maxBends = 50

// problems says what is wrong with the middle line of a tube of the given section.
func (l Centreline) problems(s Section) []string {
	var msgs []string
	say := func(format string, args ...any) { msgs = append(msgs, fmt.Sprintf(format, args...)) }
	if !(l.EndMM >= 0 && l.EndMM <= maxMM) {
		say("straight at the end: %g mm must be from 0 to 100 m", l.EndMM)
	}
	switch {
	case len(l.Bends) > maxBends:
		say("%d bends are more than %d", len(l.Bends), maxBends)
		return msgs
	case !(l.BendRadiusMM >= 0 && l.BendRadiusMM <= maxMM):
		say("bend radius: %g mm must be from 0 to 100 m", l.BendRadiusMM)
	case len(l.Bends) > 0 && l.BendRadiusMM <= s.OutsideMM/2:
		say("bend radius %g mm must be more than half of the outside diameter %g mm", l.BendRadiusMM, s.OutsideMM)
	}
	for i, b := range l.Bends {
		if !(b.StraightMM >= 0 && b.StraightMM <= maxMM) {
			say("bend %d: straight before it: %g mm must be 0 or more", i+1, b.StraightMM)
		}
		if !(math.Abs(b.Turn.Radians()) <= 2*math.Pi) {
			say("bend %d: rotation %g° is not within a whole turn", i+1, b.Turn.Degrees())
		}
		if !(b.Angle >= 0 && b.Angle.Radians() < math.Pi) {
			say("bend %d: angle %g° must be from 0° to less than 180°", i+1, b.Angle.Degrees())
		}
	}
	return msgs
}
