package mount

import "math"

func (p Clamp) check(q *problems) {
	q.setting("index", Turn, p.Index, -2*math.Pi)
	q.direction("index_about", p.IndexAbout, Up, Left, Ahead)
	q.vec("offset", p.OffsetMM)
	q.length("step of along", p.AlongStepMM, 0)
	if !(p.AlongEffort >= 0) || math.IsInf(p.AlongEffort, 1) {
		q.ofPart("along: effort %g must be 0 or more", p.AlongEffort)
	}
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
		slide, turn = "reach", "twist"
	}
	q.setting(slide, Slide, p.Slide, 0)
	q.setting(turn, Turn, p.Turn, -2*math.Pi)
	q.section(p.Section)
	q.shape(p.Shape, p.Section)
	q.length("total length", p.TotalMM, 0)
	if len(q.errs) == before {
		q.held(p, slide)
	}
}

func (p *problems) section(s Section) {
	p.length("outside diameter", s.OutsideMM, 0)
	p.length("wall", s.WallMM, 0)
	if s.WallMM > s.OutsideMM/2 {
		p.ofPart("wall %g mm is more than half of the outside diameter %g mm", s.WallMM, s.OutsideMM)
	}
	m := s.Material
	for _, v := range []float64{m.YoungMPa, m.ShearMPa, m.DensityKGM3, m.YieldMPa} {
		if !(v >= 0) || math.IsInf(v, 1) {
			p.ofPart("material %q: %g must be 0 (not known) or more", m.Name, v)
		}
	}
}

func (p *problems) shape(l Centreline, s Section) {
	p.length("straight at the end", l.EndMM, 0)
	p.length("bend radius", l.BendRadiusMM, 0)
	if len(l.Bends) > maxBends {
		p.ofPart("%d bends are more than %d", len(l.Bends), maxBends)
		return
	}
	if len(l.Bends) > 0 && l.BendRadiusMM <= s.OutsideMM/2 {
		p.ofPart("bend radius %g mm must be more than half of the outside diameter %g mm", l.BendRadiusMM, s.OutsideMM)
	}
	for i, b := range l.Bends {
		if !(b.StraightMM >= 0 && b.StraightMM <= maxMM) {
			p.ofPart("bend %d: straight before it: %g mm must be 0 or more", i+1, b.StraightMM)
		}
		p.angle("rotation of a bend", b.Turn)
		if !(b.Angle >= 0 && b.Angle.Radians() < math.Pi) {
			p.ofPart("bend %d: angle %g° must be from 0° to less than 180°", i+1, b.Angle.Degrees())
		}
	}
}

// maxBends bounds the bends of one tube.
const maxBends = 50

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
	q.setting("rise", Turn, p.Rise, -2*math.Pi)
	q.vec("pan to rise", p.PanToRiseMM)
	q.vec("rise to end", p.RiseToEndMM)
	q.mass(p.MassKG)
}

func (p Bracket) check(q *problems) {
	q.vec("offset", p.OffsetMM)
	q.axes(p.Axes)
	q.mass(p.MassKG)
}

func (p Turns) check(q *problems) {
	q.setting("pan", Turn, p.Pan, -2*math.Pi)
	q.setting("tilt", Turn, p.Tilt, -2*math.Pi)
	q.setting("roll", Turn, p.Roll, -2*math.Pi)
	q.vec("pan to tilt", p.PanToTiltMM)
	q.vec("tilt to roll", p.TiltToRollMM)
	q.mass(p.MassKG)
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
	q.length("stem", p.StemMM, -maxMM)
	q.mass(p.MassKG)
}

func (p Plate) check(q *problems) {
	if p.Faces < FacesBack || p.Faces > FacesRight {
		q.ofPart("faces: %d is no way to face", p.Faces)
	}
	q.vec("offset", p.OffsetMM)
	q.vec("place on the screen", p.FixedAtMM)
	q.vec("centre of mass", p.CentreMM)
	q.mass(p.MassKG)
}
