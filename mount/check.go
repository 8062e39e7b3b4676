package mount

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Bounds of lengths and masses: more is a mistake of units, and would come near overflow.
// Those of a section are a hair and a foil.
const (
	maxMM        = 1e5
	maxKG        = 1e4
	minOutsideMM = 0.1
	minWallMM    = 0.01
	maxBends     = 50 // of one tube
)

// Bounds of what a material can be, some hundred times beyond diamond and osmium, and of
// a stiffness: a joint with more compliance moves too far to be called tightened.
const (
	maxMPa  = 1e8
	maxKGM3 = 1e6
	maxSlip = 1e6 // N·m or N
	maxTurn = 1.0 // radians for each N·m
)

// maxStops bounds the stops of one indexed joint, and of all of them together:
// each is searched on its own.
const maxStops = 1000

// unitTolerance is how far an axis may be from unit length and a rotation from an
// orthonormal one: what numbers written with twelve digits give.
const unitTolerance = 1e-9

// Fault is one thing that is wrong with a kit or a chain.
type Fault struct {
	Part string // whose name it is; "" of the whole
	Key  string // what of the part: one of its settings, "" of all of it

	format string // what is wrong
	args   []any
}

// inMM is a length (mm) among what a fault says.
type inMM float64

// String returns it to a tenth of a mm.
func (l inMM) String() string { return fmt.Sprint(math.Round(float64(l)*10)/10, " mm") }

// Error names the place before it says what is wrong.
func (f Fault) Error() string {
	where := "mount: "
	if f.Part != "" {
		where += "part " + strconv.Quote(f.Part) + ": "
	}
	return where + f.Words(func(mm float64) string { return inMM(mm).String() })
}

// Words says what is wrong with the part, without its name, with lengths (mm) as told says them.
func (f Fault) Words(told func(mm float64) string) string {
	args := slices.Clone(f.args)
	for i, a := range args {
		if l, ok := a.(inMM); ok {
			args[i] = told(float64(l))
		}
	}
	words := fmt.Sprintf(f.format, args...)
	if f.Key != "" {
		return f.Key + ": " + words
	}
	return words
}

// Faults are all that is wrong, a line each.
type Faults []Fault

func (all Faults) Error() string {
	var lines []string
	for _, f := range all {
		lines = append(lines, f.Error())
	}
	return strings.Join(lines, "\n")
}

// problems collects what is wrong with the place that it is at.
type problems struct {
	part, key string
	faults    Faults
}

// at goes on to another place.
func (p *problems) at(part, key string) { p.part, p.key = part, key }

func (p *problems) say(format string, args ...any) { p.sayOf(p.key, format, args...) }

// sayOf says what is wrong with one setting of the part.
func (p *problems) sayOf(key, format string, args ...any) {
	p.faults = append(p.faults, Fault{p.part, key, format, args})
}

// err returns what was said, nil if nothing was.
func (p *problems) err() error {
	if p.faults == nil {
		return nil
	}
	return p.faults
}

// within says that v must be from low to high, unless it is.
func (p *problems) within(what string, v float64, unit string, low, high float64) {
	if !(v >= low && v <= high) {
		p.say("%s %.6g%s must be from %.6g to %.6g", what, v, unit, low, high)
	}
}

// Check reports everything that is wrong with the chain, as [Faults]: names, axes,
// poses, limits, stops whose combinations are more than can be tried, tubes, masses and
// ratings. Limits of a turn may go from -360° to 360°. A chain from [Kit.Chain] passes.
func (c Chain) Check() error {
	p := &problems{}
	c.check(p)
	return p.err()
}

func (c Chain) check(p *problems) {
	names := make(map[string]bool, len(c.Joints))
	stops, most := 1.0, Joint{}
	for i := range c.Joints {
		j := &c.Joints[i]
		part, what, _ := strings.Cut(j.Name, ".")
		p.at(part, what)
		if j.Name == "" {
			p.say("joint %d has no name", i+1)
		} else if names[j.Name] {
			p.say("the name is used twice")
		}
		names[j.Name] = true
		j.check(p)
		if j.Indexed && len(p.faults) == 0 {
			stops *= float64(len(j.Stops()))
			if len(j.Stops()) > len(most.Stops()) {
				most = *j
			}
		}
	}
	if part, what, _ := strings.Cut(most.Name, "."); stops > maxStops {
		p.at(part, what)
		p.say("the stops of all settings have %.0f combinations, more than %d: give this one, which has the most, a step instead", stops, maxStops)
	}
	p.at("", "")
	if !soundPose(c.Tip) {
		p.say("the tip is not a pose within 100 m")
	}
	c.checkLoad(p)
}

// checkLoad says what is wrong with the tubes, masses and ratings of c.
func (c Chain) checkLoad(p *problems) {
	moving := c.MovingPlaces()
	for _, t := range c.Spans {
		p.at(t.Part, "")
		switch {
		case t.Carrier < 0 || t.Carrier >= len(c.Joints) || t.Slide < -1 || t.Slide >= len(moving):
			p.say("its tube is carried by a joint that is not there")
		case t.Slide >= 0 && c.Joints[moving[t.Slide]].Motion != Slide:
			p.say("its tube slides with joint %q, which is no slide", c.Joints[moving[t.Slide]].Name)
		}
		if !soundPose(t.FromTube) {
			p.say("its place in the frame that carries it is not a pose within 100 m")
		}
		t.Section.check(p)
		t.Shape.check(p, t.Section)
		p.within("total length", t.TotalMM, " mm", 0, maxMM)
	}
	for _, m := range c.Masses {
		p.at(m.Part, "")
		if m.Carrier < 0 || m.Carrier > len(c.Joints) {
			p.say("its mass is carried by a joint that is not there")
		}
		p.within("mass", m.KG, " kg", 0, maxKG)
		if !frame.IsFinite(m.AtMM) || r3.Norm(m.AtMM) > maxMM {
			p.say("its center of mass, %v mm, is not a place within 100 m", m.AtMM)
		}
	}
	for _, r := range c.Rated {
		p.at(r.Part, "")
		if r.First < 0 || r.First > r.Next || r.Next > len(c.Joints) {
			p.say("joints %d to %d are not there", r.First, r.Next)
		}
		p.within("rated mass", r.KG, " kg", 0, maxKG)
	}
}

// check says what is wrong with one joint.
func (j *Joint) check(p *problems) {
	if !soundPose(j.Origin) {
		p.say("its origin is not a pose within 100 m")
	}
	g := j.Stiffness
	switch j.Motion {
	case Fixed:
		if g != (JointStiffness{}) {
			p.say("it does not move and has no stiffness")
		}
		return
	case Slide:
		if g.Compliance != 0 || g.AnyAxis {
			p.say("a slide does not give about an axis: only turns do")
		}
	case Turn:
	default:
		p.say("%v is neither fixed nor a slide nor a turn", j.Motion)
		return
	}
	p.within("slip load", g.SlipLoad, "", 0, maxSlip)
	p.within("compliance", frame.Angle(g.Compliance).Degrees(), "° per N·m", 0, frame.Angle(maxTurn).Degrees())
	if !(math.Abs(r3.Norm(j.Axis)-1) <= unitTolerance) {
		p.say("axis %v is not of unit length", j.Axis)
	}
	j.checkRange(p)
}

// checkRange says what is wrong with the numbers of a moving joint.
func (j *Joint) checkRange(p *problems) {
	most := maxMM
	if j.Motion == Turn {
		most = 2 * math.Pi
	}
	before := len(p.faults)
	show := func(v float64) any { return inMM(v) }
	if j.Motion == Turn {
		show = func(v float64) any { return fmt.Sprint(math.Round(frame.Angle(v).Degrees()*1e3)/1e3+0, "°") }
	}
	switch {
	case !(j.Low >= -most && j.High <= most): // also NaN
		p.say("limits %s to %s must lie within %s to %s", show(j.Low), show(j.High), show(-most), show(most))
	case j.Low > j.High:
		p.say("limits %s to %s: the lowest is above the highest", show(j.Low), show(j.High))
	case !j.within(j.Preferred):
		p.say("preferred %s is outside %s to %s", show(j.Preferred), show(j.Low), show(j.High))
	}
	if !(j.Effort >= 0) || math.IsInf(j.Effort, 1) {
		p.say("effort %g must be 0 or more", j.Effort)
	}
	if !(j.Step > 0 && j.Step <= most) {
		p.say("step %s must be more than 0", show(j.Step))
	}
	if len(p.faults) > before {
		return
	}
	first, last, _, ok := j.grid()
	switch {
	case !ok:
		p.say("no multiple of the step %s lies within %s to %s", show(j.Step), show(j.Low), show(j.High))
	case j.Indexed && last-first+1 > maxStops:
		p.say("%.0f stops are more than %d", last-first+1, maxStops)
	}
}

func (s Section) check(p *problems) {
	if s == (Section{}) {
		return
	}
	p.within("outside diameter", s.OutsideMM, " mm", minOutsideMM, maxMM)
	p.within("wall", s.WallMM, " mm", minWallMM, s.OutsideMM/2)
	m := s.Material
	if m == (Material{}) {
		return
	}
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
			p.say("material %q: %s %g %s must be more than 0 and at most %g", m.Name, row.what, row.v, row.unit, row.max)
		}
	}
	p.within("yield strength", m.YieldMPa, " N/mm²", 0, maxMPa)
}

// check says what is wrong with the middle line of a tube of the given section.
func (l Centerline) check(p *problems, s Section) {
	p.within("straight at the end", l.EndMM, " mm", 0, maxMM)
	if len(l.Bends) > maxBends {
		p.say("%d bends are more than %d", len(l.Bends), maxBends)
		return
	}
	p.within("bend radius", l.BendRadiusMM, " mm", 0, maxMM)
	if len(l.Bends) > 0 && l.BendRadiusMM <= s.OutsideMM/2 {
		p.say("bend radius %s must be more than half of the outside diameter %s", inMM(l.BendRadiusMM), inMM(s.OutsideMM))
	}
	for i, b := range l.Bends {
		if !(b.StraightMM >= 0 && b.StraightMM <= maxMM) {
			p.say("bend %d: straight before it: %s must be 0 or more", i+1, inMM(b.StraightMM))
		}
		if !(math.Abs(b.Turn.Radians()) <= 2*math.Pi) {
			p.say("bend %d: rotation %g° is not within a whole turn", i+1, b.Turn.Degrees())
		}
		if !(b.Angle >= 0 && b.Angle.Radians() < math.Pi) {
			p.say("bend %d: angle %g° must be from 0° to less than 180°", i+1, b.Angle.Degrees())
		}
	}
}

// soundPose reports whether p is finite, near enough, and a proper rotation.
func soundPose(p frame.Pose) bool {
	if !p.IsFinite() || r3.Norm(p.At) > maxMM {
		return false
	}
	x, y, z := p.Rot.X, p.Rot.Y, p.Rot.Z
	return math.Abs(r3.Norm(x)-1) <= unitTolerance && math.Abs(r3.Norm(y)-1) <= unitTolerance &&
		math.Abs(r3.Dot(x, y)) <= unitTolerance && r3.Norm(r3.Sub(r3.Cross(x, y), z)) <= 3*unitTolerance
}
