package fit

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount"
)

const (
	// gravity is the standard acceleration of free fall (m/s²): 3rd General
	// Conference on Weights and Measures, 1901.
	gravity = 9.80665
	// slidesN and swingsNM are the force and moment that a freed setting is taken to
	// hold by its own friction: judgement, no source.
	slidesN, swingsNM = 2.0, 0.1
)

// weight returns what the load does to a setting that is freed: along a slide's
// axis a the force W·a, about a turn's axis a through o the moment
// ((c - o) × W)·a, W being the weight of all that the joint carries and c its
// centre.
func (c *changeover) weight(ch Change) ([]Caution, error) {
	at := movingPlaces(c.chain)[ch.Setting]
	frames, err := c.chain.Frames(c.now)
	if err != nil {
		return nil, err
	}
	l, err := c.job.loadBeyond(at, c.chain, c.now, !c.off)
	if err != nil {
		return nil, err
	}
	axis := frames[at].Rot.Apply(ch.Joint.Axis)
	weight := r3.Scale(gravity*l.kg, c.down)
	if ch.Joint.Motion == mount.Slide {
		if n := r3.Dot(weight, axis); math.Abs(n) > slidesN {
			return []Caution{{Kind: Slides, ForceN: math.Abs(n), High: n > 0}}, nil
		}
		return nil, nil
	}
	arm := r3.Sub(l.centre, frames[at].At)
	nm := r3.Dot(r3.Cross(arm, weight), axis) / 1000
	if math.Abs(nm) > swingsNM {
		return []Caution{{Kind: Swings, MomentNM: math.Abs(nm), High: nm > 0}}, nil
	}
	return nil, nil
}

// load is a mass and its centre, in carrier axes (mm).
type load struct {
	kg     float64
	centre r3.Vec
}

// add takes in kg at a point.
func (l *load) add(kg float64, at r3.Vec) {
	if kg > 0 {
		l.kg += kg
		l.centre = r3.Add(l.centre, r3.Scale(kg/l.kg, r3.Sub(at, l.centre)))
	}
}

// loadBeyond returns what the joint at a place of the chain carries at settings s:
// parts, tubes and, if it is on, the device. A plate that has no mass of its own
// carries the device's at the middle of the casing. At place 0 that is all that
// hangs on the carrier.
func (j *Job) loadBeyond(at int, chain mount.Chain, s mount.Settings, deviceOn bool) (load, error) {
	frames, err := chain.Frames(s)
	if err != nil {
		return load{}, err
	}
	var l load
	weighed := false
	screen := len(chain.Joints)
	for _, m := range chain.Masses {
		weighed = weighed || m.Carrier == screen
		if m.Carrier >= at && (deviceOn || m.Carrier != screen) {
			l.add(m.KG, frames[m.Carrier].Apply(m.AtMM))
		}
	}
	if !weighed && deviceOn {
		middle, _ := j.Device.Screen.Casing()
		l.add(j.Device.Screen.MassKG, frames[screen].Apply(middle))
	}
	links, err := chain.Links(s)
	if err != nil {
		return l, err
	}
	for i, link := range links {
		if chain.Spans[i].Carrier >= at {
			l.add(tubeMass(link))
		}
	}
	return l, nil
}

// tubeMass returns the mass of a tube (kg) and its centre in carrier axes: density
// times the area of the section times the length of the middle line.
func tubeMass(l mount.Link) (kg float64, centre r3.Vec) {
	var whole load
	for i := 1; i < len(l.LineMM); i++ {
		a, b := l.LineMM[i-1], l.LineMM[i]
		whole.add(r3.Norm(r3.Sub(b, a)), r3.Scale(0.5, r3.Add(a, b)))
	}
	const m3 = 1e-9 // of a mm³
	return areaMM2(l.Section) * whole.kg * m3 * l.Section.Material.DensityKGM3, whole.centre
}

// areaMM2 returns the area of a ring: π (outside - wall) wall.
func areaMM2(s mount.Section) float64 { return math.Pi * (s.OutsideMM - s.WallMM) * s.WallMM }
