package plots

import (
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/space"
)

// axisAt returns a sketch of a place about which the chair turns, measured forward
// from the junction or up from the floor.
func axisAt(of func(gaze.Chair) r3.Vec, up bool) func() *sketch {
	return func() *sketch {
		s := person(Side, gaze.Posture{})
		chair := &s.job.Scene.Chair
		chair.BackHingeMM = r3.Vec{X: -50, Z: 530} // apart from the junction, so that both can be told
		at := s.flat(of(*chair))
		chair.BackHingeMM = r3.Vec{Z: 500}
		s.sign(at, ring())
		if up {
			s.upright(r2.Vec{X: at.X}, at, s.loX-60)
		} else {
			s.refer(s.junction(), r2.Vec{X: s.junction().X, Y: 180})
			s.line(lookExtent(), at, r2.Vec{X: at.X, Y: 240})
			s.span(r2.Vec{X: s.junction().X, Y: 240}, r2.Vec{X: at.X, Y: 240})
		}
		return s
	}
}

// pivotOf and hingeOf return where the chair turns.
func pivotOf(c gaze.Chair) r3.Vec { return c.TiltPivotMM }
func hingeOf(c gaze.Chair) r3.Vec { return c.BackHingeMM }

// chairMeasures are those of seat and chair.
func chairMeasures() []measure {
	return []measure{
		{"chair.tilt_pivot.forward", "from below the junction of seat and back support forward to the axis about which the seat tilts", axisAt(pivotOf, false)},
		{"chair.tilt_pivot.up", "from the floor up to the axis about which the seat tilts", axisAt(pivotOf, true)},
		{"chair.back_hinge.forward", "from below the junction of seat and back support to the axis about which the back support reclines, negative behind", axisAt(hingeOf, false)},
		{"chair.back_hinge.up", "from the floor up to the axis about which the back support reclines", axisAt(hingeOf, true)},
		{"chair.seat_height", "from the floor up to the top of the seat, where it meets the back support", func() *sketch {
			s := person(Side, gaze.Posture{})
			s.upright(r2.Vec{}, s.junction(), s.loX-60)
			return s
		}},
		{"chair.size.width", "the greatest width of the chair", func() *sketch {
			s := room(Top)
			s.upright(r2.Vec{X: 915, Y: -330}, r2.Vec{X: 915, Y: 330}, 985)
			return s
		}},
		{"chair.size.behind", "how far the chair reaches behind the junction of seat and back support", func() *sketch {
			s := room(Top)
			s.refer(r2.Vec{Y: -330}, r2.Vec{Y: 420})
			s.span(r2.Vec{X: -300, Y: 400}, r2.Vec{Y: 400})
			s.line(lookExtent(), r2.Vec{X: -300, Y: 330}, r2.Vec{X: -300, Y: 400})
			return s
		}},
		{"chair.size.ahead", "how far chair and toes reach ahead of the junction of seat and back support", func() *sketch {
			s := room(Top)
			s.refer(r2.Vec{Y: -330}, r2.Vec{Y: 420})
			s.span(r2.Vec{Y: 400}, r2.Vec{X: 915, Y: 400})
			s.line(lookExtent(), r2.Vec{X: 915, Y: 330}, r2.Vec{X: 915, Y: 400})
			return s
		}},
	}
}

// room returns a sketch of the person from above with the room that the chair takes
// up.
func room(v View) *sketch {
	s := person(v, gaze.Posture{})
	s.outline([]r2.Vec{{X: -300, Y: -330}, {X: 915, Y: -330}, {X: 915, Y: 330}, {X: -300, Y: 330}}, look{line: stroke(grey(0.25), 0.7, 3, 2)})
	return s
}

// block is a box on the chair, by its middle and size (mm, chair axes).
type block struct{ at, size r3.Vec }

// corner returns a corner of b: 1 or -1 along each axis.
func (b block) corner(x, y, z float64) r3.Vec {
	return r3.Add(b.at, r3.Vec{X: x * b.size.X / 2, Y: y * b.size.Y / 2, Z: z * b.size.Z / 2})
}

// The parts of the chair in the way.
func armrest() block { return block{r3.Vec{X: 230, Y: 255, Z: 755}, r3.Vec{X: 340, Y: 70, Z: 50}} }

func joystick() block { return block{r3.Vec{X: 430, Y: 255, Z: 820}, r3.Vec{X: 130, Y: 100, Z: 150}} }
func tray() block     { return block{r3.Vec{X: 460, Z: 800}, r3.Vec{X: 400, Y: 600, Z: 40}} }

// with returns a sketch of the person in a view with a box on the chair; with pair,
// with its mirror image too.
func with(v View, b block, pair bool) *sketch {
	s := person(v, gaze.Posture{})
	boxes := []block{b}
	if pair {
		other := b
		other.at.Y = -other.at.Y
		boxes = append(boxes, other)
	}
	for _, k := range boxes {
		s.outline(s.shape(k.shape()), lookSolid())
	}
	return s
}

// shape returns b as a shape.
func (b block) shape() space.Shape {
	return space.Shape{Pose: frame.Translate(b.at), HalfMM: r3.Scale(0.5, b.size)}
}

// The dimensions of a box on the chair, each in the view that shows it.

// end is how far forward of the junction a box begins (-1) or ends (1).
func end(b block, side float64, pair bool) func() *sketch {
	return func() *sketch {
		s := with(Side, b, pair)
		s.fromJunction(s.flat(b.corner(side, 0, 1)))
		return s
	}
}

// topOf is how high the upper side of a box is.
func topOf(b block, pair bool) func() *sketch {
	return func() *sketch {
		s := with(Side, b, pair)
		s.upright(s.flat(r3.Vec{X: b.corner(1, 0, 0).X}), s.flat(b.corner(1, 0, 1)), s.hiX+70)
		return s
	}
}

// thick is from the lower to the upper side of a box.
func thick(b block, pair bool) func() *sketch {
	return func() *sketch {
		s := with(Side, b, pair)
		s.upright(s.flat(b.corner(1, 0, -1)), s.flat(b.corner(1, 0, 1)), s.hiX+70)
		return s
	}
}

// long is from the rear to the front of a box.
func long(b block, pair bool) func() *sketch {
	return func() *sketch {
		s := with(Side, b, pair)
		s.level(s.flat(b.corner(-1, 0, 1)), s.flat(b.corner(1, 0, 1)), b.corner(0, 0, 1).Z+170)
		return s
	}
}

// wide is from side to side of a box.
func wide(b block, pair bool) func() *sketch {
	return func() *sketch {
		s := with(Front, b, pair)
		s.level(s.flat(b.corner(0, -1, 1)), s.flat(b.corner(0, 1, 1)), b.corner(0, 0, 1).Z+130)
		return s
	}
}

// at is the middle of a box on one of the axes.
func at(b block, axis r3.Vec) func() *sketch {
	return func() *sketch {
		v := Side
		if axis.Y != 0 {
			v = Front
		}
		s := with(v, b, false)
		middle := s.flat(b.at)
		s.sign(middle, cross())
		switch {
		case axis.X != 0:
			s.fromJunction(middle)
		case axis.Y != 0:
			s.fromMidline(middle)
		default:
			s.upright(r2.Vec{X: middle.X}, middle, s.hiX+70)
		}
		return s
	}
}

// gapTo is the gap that is kept between a box and the screen.
func gapTo(b block, pair bool) func() *sketch {
	return func() *sketch {
		s := with(Side, b, pair)
		s.fare.Screen.At = r3.Add(b.corner(1, 0, 1), r3.Vec{X: 40, Z: 285})
		s.device()
		_, low, _ := s.box()
		s.upright(s.flat(b.corner(1, 0, 1)), s.on(0, low, -s.job.Device.Screen.HousingMM.Z), s.hiX+70)
		return s
	}
}

// chairPartMeasures are those of what is on the chair.
func chairPartMeasures() []measure {
	arm, stick, board := armrest(), joystick(), tray()
	x, y, z := r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}
	return []measure{
		{"chair.armrests.spacing", "from the middle of one armrest to the middle of the other", func() *sketch {
			s := with(Front, arm, true)
			s.level(s.flat(r3.Vec{Y: -arm.at.Y, Z: arm.at.Z}), s.flat(arm.at), arm.at.Z+130)
			return s
		}},
		{"chair.armrests.top", "from the floor up to the upper side of the armrest", topOf(arm, true)},
		{"chair.armrests.back", "from the junction of seat and back support forward to the rear end of the armrest", end(arm, -1, true)},
		{"chair.armrests.front", "from the junction of seat and back support forward to the front end of the armrest", end(arm, 1, true)},
		{"chair.armrests.width", "an armrest from side to side", wide(arm, true)},
		{"chair.armrests.thickness", "an armrest from its lower to its upper side", thick(arm, true)},
		{"chair.armrests.clearance", "the least clearance between the armrest and screen or tubes", gapTo(arm, true)},
		{"chair.joystick.at.forward", "from the junction of seat and back support forward to the middle of joystick and hand", at(stick, x)},
		{"chair.joystick.at.left", "from the midline of the chair to the middle of joystick and hand, to the person's left", at(stick, y)},
		{"chair.joystick.at.up", "from the floor up to the middle of joystick and hand", at(stick, z)},
		{"chair.joystick.size.forward", "joystick and hand from back to front", long(stick, false)},
		{"chair.joystick.size.left", "joystick and hand from side to side", wide(stick, false)},
		{"chair.joystick.size.up", "joystick and hand from bottom to top", thick(stick, false)},
		{"chair.joystick.clearance", "the least clearance between joystick or hand and screen or tubes", gapTo(stick, false)},
		{"chair.tray.width", "the tray from side to side", wide(board, false)},
		{"chair.tray.back", "from the junction of seat and back support forward to the edge of the tray before the trunk", end(board, -1, false)},
		{"chair.tray.front", "from the junction of seat and back support forward to the far edge of the tray", end(board, 1, false)},
		{"chair.tray.top", "from the floor up to the upper side of the tray", topOf(board, false)},
		{"chair.tray.thickness", "the tray from its lower to its upper side", thick(board, false)},
		{"chair.tray.clearance", "the least clearance between the tray and screen or tubes", gapTo(board, false)},
	}
}
