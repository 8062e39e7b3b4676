package mount

import "math"

func (p Clamp) check(q *problems) {
	q.setting("index", Turn, p.Index, -2*math.Pi)
	q.direction("index_about", p.IndexAbout, Up, Left, Ahead)
	q.vec("offset", p.OffsetMM)
	q.length("step of along", p.PositionStepMM, 0)
	if !(p.PositionEffort >= 0) || math.IsInf(p.PositionEffort, 1) {
		q.ofPart("along: effort %g must be 0 or more", p.PositionEffort)
	}
	q.stiffness("position", Slide, p.PositionStiffness)
	q.rating(p.RatedKG)
}

func (p *problems) direction(what string, d Direction, allowed ...Direction) {
	for _, a := range allowed {
		if d == a {
			return
		}
	}
	p.ofPart("%s: direction %d is not one that it can have", what, d)
}

func (p Tube) check(q *problems) {
	before := len(q.errs)
	q.direction("runs", p.Runs, Up, Ahead)
	slide, turn := "height", "swing"
	if p.Runs == Ahead {
		slide, turn = "extension", "twist"
	}
	q.setting(slide, Slide, p.Slide, 0)
	q.setting(turn, Turn, p.Turn, -2*math.Pi)
	for _, msg := range p.problems() {
		q.ofPart("%s", msg)
	}
	q.rating(p.RatedKG)
	if len(q.errs) == before {
		q.held(p, slide)
	}
}

// held reports a slide whose limits would put what holds the tube on a bend, or
// past the tube's near end. The numbers of t have been found sound.
func (p *problems) held(t Tube, slide string) {
	if t.Slide == (Range{}) {
		if n := t.Shape.LengthMM(); t.TotalMM > 0 && t.TotalMM < n {
			p.ofPart("total length %g mm is less than the %.0f mm of its shape", t.TotalMM, n)
		}
		return
	}
	if low := t.Shape.withRun(t.Slide.Low); len(low.Bends) > 0 && low.Bends[0].StraightMM < 0 {
		p.ofPart("%s: at its lowest, %.0f mm, the tube would be held %.0f mm up its first bend; raise the limit",
			slide, t.Slide.Low, -low.Bends[0].StraightMM)
	}
	if n := t.Shape.withRun(t.Slide.High).LengthMM(); t.TotalMM > 0 && n > t.TotalMM {
		p.ofPart("%s: at its highest, %.0f mm, %.0f mm of tube are needed and the total length is %.0f mm",
			slide, t.Slide.High, n, t.TotalMM)
	}
}

func (p Elbow) check(q *problems) {
	q.setting("pan", Turn, p.Pan, -2*math.Pi)
	q.setting("elevation", Turn, p.Elevation, -2*math.Pi)
	q.vec("pan to elevation", p.PanToElevationMM)
	q.vec("elevation to end", p.ElevationToEndMM)
	q.mass(p.MassKG)
	q.rating(p.RatedKG)
}

func (p Bracket) check(q *problems) {
	q.vec("offset", p.OffsetMM)
	q.axes(p.Axes)
	q.mass(p.MassKG)
	q.rating(p.RatedKG)
}

func (p Turns) check(q *problems) {
	q.setting("pan", Turn, p.Pan, -2*math.Pi)
	q.setting("tilt", Turn, p.Tilt, -2*math.Pi)
	q.setting("roll", Turn, p.Roll, -2*math.Pi)
	q.vec("pan to tilt", p.PanToTiltMM)
	q.vec("tilt to roll", p.TiltToRollMM)
	q.mass(p.MassKG)
	q.rating(p.RatedKG)
}

func (p Ball) check(q *problems) {
	step := p.Step.Radians()
	if step == 0 {
		step = 1e-3
	}
	if !(p.Cone > 0 && p.Cone.Radians() <= math.Pi) {
		q.ofPart("cone %g° must be more than 0° and at most 180°", p.Cone.Degrees())
	} else {
		q.setting("lean", Turn, Range{High: p.Cone.Radians(), Step: step, Effort: p.Effort}, 0)
	}
	if p.Spin.Indexed {
		q.ofPart("spin: the spin of a ball has no stops")
	}
	q.setting("spin", Turn, p.Spin, -2*math.Pi)
	if p.Spin.Stiffness != (JointStiffness{}) {
		q.ofPart("spin: a ball has one stiffness for all axes, its own")
	}
	q.stiffness("the ball", Turn, JointStiffness{SlipLoad: p.Stiffness.SlipLoad, Compliance: p.Stiffness.Compliance})
	q.length("stem", p.StemMM, -maxMM)
	q.mass(p.MassKG)
	q.rating(p.RatedKG)
}

func (p Plate) check(q *problems) {
	if p.Faces < FacesBack || p.Faces > FacesRight {
		q.ofPart("faces: %d is no way to face", p.Faces)
	}
	q.vec("offset", p.OffsetMM)
	q.vec("place on the screen", p.FixedAtMM)
	q.vec("centre of mass", p.CentreMM)
	q.mass(p.MassKG)
	if !(p.PlateKG >= 0 && p.PlateKG <= p.MassKG) {
		q.ofPart("%g kg of the plate's own: must be from 0 to the %g kg of plate and screen together", p.PlateKG, p.MassKG)
	}
	q.rating(p.RatedKG)
}
