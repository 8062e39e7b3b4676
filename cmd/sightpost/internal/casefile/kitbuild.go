package casefile

import (
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount"
)

// build returns the kit of a form without problems.
func (k *kitForm) build() mount.Kit {
	kit := mount.Kit{Name: k.Name.Text, RatedKG: or0(k.Rated)}
	for i := range k.Parts {
		kit.Parts = append(kit.Parts, k.Parts[i].build())
	}
	return kit
}

func (p *partForm) build() mount.Part {
	return p.form().Addr().Interface().(interface{ build() mount.Part }).build()
}

func (c *clampForm) build() mount.Part {
	clamp := mount.Clamp{
		Name: c.Name.Text, PositionStepMM: c.PositionStep.mm(), PositionEffort: c.PositionEffort.number(),
		Index: c.Index.build(), OffsetMM: c.Offset.vec(), RatedKG: or0(c.Rated),
	}
	if c.PositionSlipForce != nil {
		clamp.PositionStiffness.SlipLoad = c.PositionSlipForce.newtons()
	}
	if c.About != nil {
		switch c.About.Word {
		case "left":
			clamp.IndexAbout = mount.Left
		case "ahead":
			clamp.IndexAbout = mount.Ahead
		}
	}
	return clamp
}

func (p *postForm) build() mount.Part {
	tube := p.tubeCommon.build()
	tube.Name, tube.Runs, tube.Slide, tube.Turn = p.Name.Text, mount.Up, p.Height.build(), p.Swing.build()
	tube.RatedKG = or0(p.Rated)
	return tube
}

func (a *armForm) build() mount.Part {
	tube := a.tubeCommon.build()
	tube.Name, tube.Runs, tube.Slide, tube.Turn = a.Name.Text, mount.Ahead, a.Extension.build(), a.Twist.build()
	tube.RatedKG = or0(a.Rated)
	return tube
}

func (t *tubeCommon) build() mount.Tube {
	tube := mount.Tube{
		Section: mount.Section{OutsideMM: t.Tube.Outside.mm(), WallMM: t.Tube.Wall.mm(), Material: t.Tube.Material.build()},
		Shape:   mount.Centreline{BendRadiusMM: or0(t.BendRadius), EndMM: or0(t.End)},
		TotalMM: or0(t.Total),
	}
	for _, b := range t.Bends {
		tube.Shape.Bends = append(tube.Shape.Bends, mount.Bend{StraightMM: b.Straight.mm(), Turn: b.Rotation.of(), Angle: b.Angle.of()})
	}
	return tube
}

func (e *elbowForm) build() mount.Part {
	return mount.Elbow{
		Name: e.Name.Text, Pan: e.Pan.build(), Elevation: e.Elevation.build(),
		PanToElevationMM: e.PanToElevation.vec(), ElevationToEndMM: e.ElevationToEnd.vec(),
		MassKG: e.Mass.kg(), RatedKG: or0(e.Rated),
	}
}

func (b *bracketForm) build() mount.Part {
	return mount.Bracket{
		Name: b.Name.Text, OffsetMM: b.Offset.vec(), MassKG: b.Mass.kg(), RatedKG: or0(b.Rated),
		Axes: mount.Axes{Rotation: b.Rotation.of(), Tilt: b.Tilt.of(), Roll: b.Roll.of()},
	}
}

func (p *plateJointForm) build() mount.Part {
	return mount.Turns{
		Name: p.Name.Text, Pan: p.Pan.build(), Tilt: p.Tilt.build(), Roll: p.Roll.build(),
		PanToTiltMM: p.PanToTilt.inJoint(), TiltToRollMM: p.TiltToRoll.inJoint(),
		MassKG: p.Mass.kg(), RatedKG: or0(p.Rated),
	}
}

func (b *ballForm) build() mount.Part {
	return mount.Ball{
		Name: b.Name.Text, Cone: b.Cone.of(), Step: angleOr0(b.Step), Effort: b.Effort.number(),
		Spin: b.Spin.build(), StemMM: or0(b.Stem),
		Stiffness: b.gripCommon.build(), MassKG: b.Mass.kg(), RatedKG: or0(b.Rated),
	}
}

func (p *plateForm) build() mount.Part {
	plate := mount.Plate{Name: p.Name.Text, OffsetMM: p.Offset.inScreen(), MassKG: p.Mass.kg(), RatedKG: or0(p.Rated)}
	switch p.Faces.Word {
	case "ahead":
		plate.Faces = mount.FacesAhead
	case "left":
		plate.Faces = mount.FacesLeft
	case "right":
		plate.Faces = mount.FacesRight
	}
	return plate
}

func (s *slideForm) build() mount.Range {
	if s == nil {
		return mount.Range{}
	}
	r := mount.Range{Low: s.From.mm(), High: s.To.mm(), Preferred: s.Preferred.mm(), Step: or0(s.Step)}
	if s.Stops != nil {
		r.Step, r.Indexed = s.Stops.mm(), true
	}
	if s.SlipForce != nil {
		r.Stiffness.SlipLoad = s.SlipForce.newtons()
	}
	return s.onto(r)
}

func (t *turnForm) build() mount.Range {
	if t == nil {
		return mount.Range{}
	}
	r := mount.Range{Low: t.From.of().Radians(), High: t.To.of().Radians(), Preferred: t.Preferred.of().Radians(), Step: angleOr0(t.Step).Radians()}
	if t.Stops != nil {
		r.Step, r.Indexed = t.Stops.of().Radians(), true
	}
	r.Stiffness = t.gripCommon.build()
	return t.onto(r)
}

func (g gripCommon) build() mount.JointStiffness {
	grip := mount.JointStiffness{Compliance: g.Compliance.of().Radians()}
	if g.SlipTorque != nil {
		grip.SlipLoad = g.SlipTorque.newtonMetres()
	}
	return grip
}

func (s settingCommon) onto(r mount.Range) mount.Range {
	r.Effort, r.Read = s.Effort.number(), s.Read.words()
	return r
}

func (o *offsetForm) vec() r3.Vec {
	if o == nil {
		return r3.Vec{}
	}
	return r3.Vec{X: o.Ahead.mm(), Y: o.Left.mm(), Z: o.Up.mm()}
}

// inScreen returns the move in screen axes: right, up, toward the viewer.
func (f *faceForm) inScreen() r3.Vec {
	if f == nil {
		return r3.Vec{}
	}
	return r3.Vec{X: f.Right.mm(), Y: f.Up.mm(), Z: f.Toward.mm()}
}

// inJoint returns the move in the axes of a plate joint: toward, right, up.
func (f *faceForm) inJoint() r3.Vec {
	v := f.inScreen()
	return r3.Vec{X: v.Z, Y: v.X, Z: v.Y}
}

// or0 returns what a quantity is, in the first unit of its kind; 0 if it is left out.
func or0[Q interface{ number() float64 }](q *Q) float64 {
	if q == nil {
		return 0
	}
	return (*q).number()
}

// alloy returns the numbers of a named alloy. Moduli are independent published
// values: they need not fit each other.
func alloy(word string) mount.Material {
	m := mount.Material{Name: word}
	switch word {
	case "aluminum-6061-T6":
		// Data sheets of suppliers: E 68.9 GPa, G 26.0 GPa, 2.70 g/cm³, yield 276 MPa.
		m.YoungMPa, m.ShearMPa, m.DensityKGM3, m.YieldMPa = 68900, 26000, 2700, 276
	case "aluminum-6082-T6":
		// EN 1999-1-1 and EN 755-2, extruded tube up to 5 mm thick, from memory.
		m.YoungMPa, m.ShearMPa, m.DensityKGM3, m.YieldMPa = 70000, 27000, 2700, 250
	case "stainless-1.4301":
		// Data sheets of suppliers: E 193 GPa, G 77 GPa, 8.00 g/cm³; yield 205 MPa is
		// their least, 215 MPa their usual value.
		m.YoungMPa, m.ShearMPa, m.DensityKGM3, m.YieldMPa = 193000, 77000, 8000, 205
	case "steel-S235":
		// EN 1993-1-1, from memory.
		m.YoungMPa, m.ShearMPa, m.DensityKGM3, m.YieldMPa = 210000, 81000, 7850, 235
	}
	return m
}

func (m *materialForm) build() mount.Material {
	n := m.Form
	if n == nil {
		return alloy(m.Word.Word)
	}
	return mount.Material{
		Name: n.Name.Text, YoungMPa: n.ElasticModulus.mpa(), ShearMPa: n.ShearModulus.mpa(),
		DensityKGM3: n.Density.kgm3(), YieldMPa: n.Yield.mpa(),
	}
}
