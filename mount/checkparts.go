package mount

import "math"

func (p Clamp) check(q *problems) {
	q.setting("index", Turn, p.Index, -2*math.Pi)
	q.direction("index_about", p.IndexAbout, Up, Left, Ahead)
	q.vec("offset", p.OffsetMM)
	q.length("step of along", p.AlongStepMM, 0)
	if !(p.AlongEffort >= 0) || math.IsInf(p.AlongEffort, 1) {
		q.part0("along: effort %g must be 0 or more", p.AlongEffort)
	}
}

func (q *problems) direction(what string, d Direction, allowed ...Direction) {
	for _, a := range allowed {
		if d == a {
			return
		}
	}
	q.part0("%s: direction %d is not one that it can have", what, d)
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

func (q *problems) section(s Section) {
	q.length("outside diameter", s.OutsideMM, 0)
	q.length("wall", s.WallMM, 0)
	if s.WallMM > s.OutsideMM/2 {
		q.part0("wall %g mm is more than half of the outside diameter %g mm", s.WallMM, s.OutsideMM)
	}
	m := s.Material
	for _, v := range []float64{m.YoungMPa, m.ShearMPa, m.DensityKGM3, m.YieldMPa} {
		if !(v >= 0) || math.IsInf(v, 1) {
			q.part0("material %q: %g must be 0 (not known) or more", m.Name, v)
		}
	}
}

func (q *problems) shape(l Centreline, s Section) {
	q.length("straight at the end", l.EndMM, 0)
	q.length("bend radius", l.BendRadiusMM, 0)
	if len(l.Bends) > maxBends {
		q.part0("%d bends are more than %d", len(l.Bends), maxBends)
		return
	}
	if len(l.Bends) > 0 && l.BendRadiusMM <= s.OutsideMM/2 {
		q.part0("bend radius %g mm must be more than half of the outside diameter %g mm", l.BendRadiusMM, s.OutsideMM)
	}
	for i, b := range l.Bends {
		if !(b.StraightMM >= 0 && b.StraightMM <= maxMM) {
			q.part0("bend %d: straight before it: %g mm must be 0 or more", i+1, b.StraightMM)
		}
		q.angle("rotation of a bend", b.Turn)
		if !(b.Angle >= 0 && b.Angle.Radians() < math.Pi) {
			q.part0("bend %d: angle %g° must be from 0° to less than 180°", i+1, b.Angle.Degrees())
		}
	}
}

// maxBends bounds the bends of one tube.
const maxBends = 50

// held reports a slide whose limits would put what holds the tube on a bend, or
// past the tube's near end. The parts of p have been found sound.
func (q *problems) held(p Tube, slide string) {
	if p.Slide == (Range{}) {
		if n := p.Shape.LengthMM(); p.TotalMM > 0 && p.TotalMM < n {
			q.part0("total length %g mm is less than the %.0f mm of its shape", p.TotalMM, n)
		}
		return
	}
	if low := p.Shape.withRun(p.Slide.Low); len(low.Bends) > 0 && low.Bends[0].StraightMM < 0 {
		q.part0("%s: at its lowest, %.0f mm, the tube would be held %.0f mm up its first bend; raise the limit",
			slide, p.Slide.Low, -low.Bends[0].StraightMM)
	}
	if n := p.Shape.withRun(p.Slide.High).LengthMM(); p.TotalMM > 0 && n > p.TotalMM {
		q.part0("%s: at its highest, %.0f mm, %.0f mm of tube are needed and the total length is %.0f mm",
			slide, p.Slide.High, n, p.TotalMM)
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
		q.part0("cone %g° must be more than 0° and at most 180°", p.Cone.Degrees())
	} else {
		q.setting("lean", Turn, Range{High: p.Cone.Radians(), Step: step, Effort: p.Effort}, 0)
	}
	if p.Spin.Indexed {
		q.part0("spin: the spin of a ball has no stops")
	}
	q.setting("spin", Turn, p.Spin, -2*math.Pi)
	q.length("stem", p.StemMM, -maxMM)
	q.mass(p.MassKG)
}

func (p Plate) check(q *problems) {
	if p.Faces < FacesBack || p.Faces > FacesRight {
		q.part0("faces: %d is no way to face", p.Faces)
	}
	q.vec("offset", p.OffsetMM)
	q.vec("centre of mass", p.CentreMM)
	q.mass(p.MassKG)
}
