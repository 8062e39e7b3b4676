package mount

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// face turns the frame about z to where the screen faces, once in a chain.
func (b *builder) face(part string) {
	if !b.faced && b.faces != FacesAhead {
		b.fix(part, "faces", frame.Pose{Rot: b.faces.rotation()})
	}
	b.faced = true
}

// rotation returns the turn about z that takes x to where f faces, with exact
// entries.
func (f Facing) rotation() frame.Rotation {
	r := frame.NoTurn()
	switch f {
	case FacesBack:
		r.X, r.Y = r3.Vec{X: -1}, r3.Vec{Y: -1}
	case FacesLeft:
		r.X, r.Y = r3.Vec{Y: 1}, r3.Vec{X: -1}
	case FacesRight:
		r.X, r.Y = r3.Vec{Y: -1}, r3.Vec{X: 1}
	case FacesAhead:
	}
	return r
}

// PartName returns the plate joint's name.
func (p Turns) PartName() string { return p.Name }

func (p Turns) rated() float64 { return p.RatedKG }

func (p Turns) build(b *builder) {
	b.face(p.Name)
	b.move(Joint{Name: p.Name + ".pan", Motion: Turn, Axis: r3.Vec{Z: 1}}, p.Pan)
	b.shift(p.Name, "pan_to_tilt", p.PanToTiltMM)
	b.move(Joint{Name: p.Name + ".tilt", Motion: Turn, Axis: r3.Vec{Y: -1}}, p.Tilt)
	b.shift(p.Name, "tilt_to_roll", p.TiltToRollMM)
	b.move(Joint{Name: p.Name + ".roll", Motion: Turn, Axis: r3.Vec{X: 1}}, p.Roll)
	b.weigh(p.Name, p.MassKG)
}

// PartName returns the ball's name.
func (p Ball) PartName() string { return p.Name }

func (p Ball) rated() float64 { return p.RatedKG }

func (p Ball) build(b *builder) {
	step := p.Step.Radians()
	if step == 0 {
		step = frame.Degree.Radians()
	}
	b.face(p.Name)
	// The direction of a lean costs nothing: only how far it leans does.
	toward := Joint{Name: p.Name + ".lean_toward", Motion: Turn, Axis: r3.Vec{X: 1}}
	if b.move(toward, Range{Low: -math.Pi, High: math.Pi, Step: step}) {
		b.chain.Joints[len(b.chain.Joints)-1].Effort = 0
	}
	stiffness := p.Stiffness
	stiffness.AnyAxis = true
	b.move(Joint{Name: p.Name + ".lean", Motion: Turn, Axis: r3.Vec{Y: -1}},
		Range{High: p.Cone.Radians(), Step: step, Effort: p.Effort, Stiffness: stiffness})
	spin := p.Spin
	if spin == (Range{}) {
		spin = Range{Low: -math.Pi, High: math.Pi, Step: step}
	}
	b.move(Joint{Name: p.Name + ".spin", Motion: Turn, Axis: r3.Vec{X: 1}}, spin)
	b.weigh(p.Name, p.MassKG)
	b.shift(p.Name, "stem", r3.Vec{X: p.StemMM})
}

// PartName returns the plate's name.
func (p Plate) PartName() string { return p.Name }

func (p Plate) rated() float64 { return p.RatedKG }

func (p Plate) build(b *builder) {
	b.face(p.Name)
	// Screen axes right, up, normal in the joint's normal, right, up.
	rot := frame.Rotation{X: r3.Vec{Y: 1}, Y: r3.Vec{Z: 1}, Z: r3.Vec{X: 1}}
	b.chain.Tip = frame.Pose{Rot: rot, At: rot.Apply(r3.Sub(p.OffsetMM, p.FixedAtMM))}
	b.chain.Masses = append(b.chain.Masses, p.masses(len(b.chain.Joints))...)
}

// masses returns the plate's own mass and the screen's, which it carries. Both are
// put at their common centre, the only one that is known.
func (p Plate) masses(carrier int) []Mass {
	var masses []Mass
	for _, m := range []Mass{{Part: p.Name, KG: p.PlateKG}, {Part: p.Name + ".screen", KG: p.MassKG - p.PlateKG}} {
		if m.KG > 0 {
			m.Carrier, m.AtMM = carrier, p.CentreMM
			masses = append(masses, m)
		}
	}
	return masses
}
