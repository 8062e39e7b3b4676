package plots

import (
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
)

// loose is the box and the rod that stand for any space to keep clear.
func loose() block { return block{r3.Vec{X: 420, Y: 170, Z: 760}, r3.Vec{X: 330, Y: 200, Z: 140}} }

func rod() (from, to r3.Vec) {
	return r3.Vec{X: 230, Y: 130, Z: 700}, r3.Vec{X: 560, Y: 240, Z: 860}
}

// boxOnly returns a sketch of a box alone in parallel projection, and its corners
// on paper.
func boxOnly() (*sketch, func(x, y, z float64) r2.Vec) {
	b := loose()
	s := newSketch(Turned{Azimuth: -55 * frame.Degree, Elevation: 25 * frame.Degree}.plane(), gaze.Posture{})
	s.shows = "a box to keep clear, in parallel projection, its front to the right"
	s.outline(s.shape(b.shape()), lookPart())
	for _, edge := range s.faced(b.shape()) {
		s.line(lookPart().line, edge...)
	}
	return s, func(x, y, z float64) r2.Vec { return s.flat(b.corner(x, y, z)) }
}

// sizeOf returns a sketch of a box's size along an axis.
func sizeOf(axis r3.Vec) func() *sketch {
	return func() *sketch {
		s, corner := boxOnly()
		const out = 45
		var a, b, away r2.Vec
		switch {
		case axis.X != 0:
			a, b, away = corner(-1, -1, -1), corner(1, -1, -1), s.flat(r3.Vec{Z: -out})
		case axis.Y != 0:
			a, b, away = corner(1, -1, -1), corner(1, 1, -1), s.flat(r3.Vec{Z: -out})
		default:
			a, b, away = corner(-1, -1, -1), corner(-1, -1, 1), s.flat(r3.Vec{X: -out})
		}
		s.line(lookExtent(), a, r2.Add(a, away))
		s.line(lookExtent(), b, r2.Add(b, away))
		s.span(r2.Add(a, away), r2.Add(b, away))
		return s
	}
}

// rodIn returns a sketch of the person with a rod, its two ends marked.
func rodIn(v View) *sketch {
	s := person(v, gaze.Posture{})
	from, to := rod()
	s.outline(s.balls(ball{from, 55}, ball{to, 55}), lookSolid())
	s.refer(s.flat(from), s.flat(to))
	s.sign(s.flat(from), cross())
	s.sign(s.flat(to), cross())
	return s
}

// rodEnd returns a sketch of the place of one end of a rod along an axis.
func rodEnd(far bool, axis r3.Vec) func() *sketch {
	return func() *sketch {
		v := Side
		if axis.Y != 0 {
			v = Front
		}
		s := rodIn(v)
		from, to := rod()
		p := s.flat(from)
		if far {
			p = s.flat(to)
		}
		switch {
		case axis.X != 0:
			s.fromJunction(p)
		case axis.Y != 0:
			s.fromMidline(p)
		default:
			s.upright(r2.Vec{X: p.X}, p, s.hiX+70)
		}
		return s
	}
}

// keepMeasures are those of spaces to keep clear.
func keepMeasures() []measure {
	x, y, z := r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}
	box := loose()
	return []measure{
		{"keep_clear.box.middle.forward", "from the junction of seat and back support forward to the middle of the box", at(box, x)},
		{"keep_clear.box.middle.left", "from the midline of the chair to the middle of the box, to the person's left", at(box, y)},
		{"keep_clear.box.middle.up", "from the floor up to the middle of the box", at(box, z)},
		{"keep_clear.box.size.forward", "the box from back to front", sizeOf(x)},
		{"keep_clear.box.size.left", "the box from right to left", sizeOf(y)},
		{"keep_clear.box.size.up", "the box from bottom to top", sizeOf(z)},
		{"keep_clear.box.rotation", "by how much the box is rotated to the left, seen from above", boxTurned},
		{"keep_clear.capsule.from.forward", "from the junction of seat and back support forward to one end of the rod's middle line", rodEnd(false, x)},
		{"keep_clear.capsule.from.left", "from the midline of the chair to one end of the rod's middle line, to the person's left", rodEnd(false, y)},
		{"keep_clear.capsule.from.up", "from the floor up to one end of the rod's middle line", rodEnd(false, z)},
		{"keep_clear.capsule.to.forward", "from the junction of seat and back support forward to the other end of the rod's middle line", rodEnd(true, x)},
		{"keep_clear.capsule.to.left", "from the midline of the chair to the other end of the rod's middle line, to the person's left", rodEnd(true, y)},
		{"keep_clear.capsule.to.up", "from the floor up to the other end of the rod's middle line", rodEnd(true, z)},
		{"keep_clear.capsule.radius", "half the thickness of the rod", rodRadius},
		{"keep_clear.clearance", "the least clearance between the space and screen or tubes", gapTo(box, false)},
	}
}

// boxTurned draws a box turned to the left, from above.
func boxTurned() *sketch {
	s := newSketch(Top.plane(), gaze.Posture{})
	s.shows = "a box to keep clear, from above, forward to the right"
	b := loose()
	shape := b.shape()
	shape.Pose.Rot = frame.About(r3.Vec{Z: 1}, 25*frame.Degree)
	s.outline(s.shape(shape), lookPart())
	s.angle(s.flat(b.at), 200, 0, 25)
	return s
}

// rodRadius draws a rod alone.
func rodRadius() *sketch {
	s := newSketch(Side.plane(), gaze.Posture{})
	s.shows = "a rod with round ends and its middle line"
	from, to := r3.Vec{}, r3.Vec{X: 330}
	s.outline(s.balls(ball{from, 90}, ball{to, 90}), lookPart())
	s.refer(s.flat(from), s.flat(to))
	s.span(r2.Vec{X: 165}, r2.Vec{X: 165, Y: 90})
	return s
}
