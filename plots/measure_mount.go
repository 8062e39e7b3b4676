package plots

import (
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot/vg/draw"

	"sightpost/gaze"
)

// clampAt is where the clamp of sketches sits (mm, chair axes).
func clampAt() r3.Vec { return r3.Vec{X: 330, Y: 260, Z: 470} }

// clamped returns a sketch of the person with a clamp and a post in it.
func clamped(v View) *sketch {
	s := person(v, gaze.Posture{})
	s.shows += ", with a post in its clamp at the chair"
	at := clampAt()
	for _, o := range s.tube([]r3.Vec{r3.Add(at, r3.Vec{Z: -90}), r3.Add(at, r3.Vec{Z: 420})}, 16) {
		s.outline(o, lookTube())
	}
	s.sign(s.flat(at), clampMark())
	return s
}

// railAlong and railAcross return a rail as it is seen from its side and end-on.
func railAlong() []r2.Vec {
	return []r2.Vec{{X: -170, Y: -15}, {X: 170, Y: -15}, {X: 170, Y: 15}, {X: -170, Y: 15}}
}

func railAcross() []r2.Vec {
	return []r2.Vec{{X: -15, Y: -15}, {X: 15, Y: -15}, {X: 15, Y: 15}, {X: -15, Y: 15}}
}

// railed returns a sketch of a rail with a clamp on it and a post leaned from
// upright (degrees, counter-clockwise).
func railed(shows string, rail []r2.Vec, lean float64) *sketch {
	s := newSketch(Side.plane(), gaze.Posture{})
	s.shows = shows
	s.outline(rail, lookPart())
	way, side := toward(1, 90+lean), toward(1, lean)
	corner := func(x, y float64) r2.Vec { return r2.Add(r2.Scale(x, side), r2.Scale(y, way)) }
	s.outline([]r2.Vec{corner(-11, -60), corner(11, -60), corner(11, 210), corner(-11, 210)}, lookTube())
	s.outline([]r2.Vec{corner(-30, -34), corner(30, -34), corner(30, 34), corner(-30, 34)}, lookSolid())
	return s
}

// leanedBack draws a clamp leaned back, from the side.
func leanedBack() *sketch {
	const by = 20
	s := railed("a clamp on its rail with a post, from the side, forward to the right", railAlong(), by)
	s.angle(r2.Vec{}, 150, 90, 90+by)
	return s
}

// leanedLeft draws a clamp leaned to the left, from behind: the rail, which runs
// forward, is seen end-on, in front of the clamp.
func leanedLeft() *sketch {
	const by = 20
	s := railed("a clamp on a rail that is seen end-on, with a post, from behind the person", nil, by)
	s.outline(railAcross(), lookPart())
	s.angle(r2.Vec{}, 150, 90, 90+by)
	return s
}

// clampMeasures are those of the clamp.
func clampMeasures() []measure {
	return append(alongMeasures(), []measure{
		{"mount.clamp.at.forward", "from the junction of seat and back support forward to the middle of the clamp", func() *sketch {
			s := clamped(Side)
			s.fromJunction(s.flat(clampAt()))
			return s
		}},
		{"mount.clamp.at.left", "from the midline of the chair to the middle of the clamp, to the person's left", func() *sketch {
			s := clamped(Front)
			s.fromMidline(s.flat(clampAt()))
			return s
		}},
		{"mount.clamp.at.up", "from the floor up to the middle of the clamp", func() *sketch {
			s := clamped(Side)
			s.upright(r2.Vec{X: clampAt().X}, s.flat(clampAt()), s.hiX+70)
			return s
		}},
		{"mount.clamp.rotation", "by how much the clamp is rotated to the left from looking forward", clampTurned},
		{"mount.clamp.tilt", "by how much the clamp is tilted backward from upright", leanedBack},
		{"mount.clamp.roll", "by how much the clamp is rolled to the person's left from upright", leanedLeft},
		{"mount.clamp.slides", "how far the clamp can be moved along its tube, from one end to the other", func() *sketch {
			s := railed("a clamp on its rail with a post, from the side", railAlong(), 0)
			s.line(lookExtent(), r2.Vec{X: -110, Y: 30}, r2.Vec{X: -110, Y: -90})
			s.line(lookExtent(), r2.Vec{X: 110, Y: 30}, r2.Vec{X: 110, Y: -90})
			s.span(r2.Vec{X: -110, Y: -85}, r2.Vec{X: 110, Y: -85})
			return s
		}},
	}...)
}

// clampTurned draws a clamp turned to the left, from above.
func clampTurned() *sketch {
	s := newSketch(Top.plane(), gaze.Posture{})
	s.shows = "a clamp with its post, from above, forward to the right"
	const by = 30
	a, b := toward(1, by), toward(1, by+90)
	corner := func(x, y float64) r2.Vec { return r2.Add(r2.Scale(x, a), r2.Scale(y, b)) }
	s.outline([]r2.Vec{corner(-40, -26), corner(40, -26), corner(40, 26), corner(-40, 26)}, lookSolid())
	s.outline(s.circle(r2.Vec{}, 14), look{fill: lookTube().fill})
	s.angle(r2.Vec{}, 130, 0, by)
	return s
}

// alongMeasures are those of the direction of the tube that the clamp slides on:
// how far one gets each way when following it.
func alongMeasures() []measure {
	way := func(v View, axis r3.Vec) func() *sketch {
		return func() *sketch {
			s := newSketch(v.plane(), gaze.Posture{})
			s.shows = "the tube that the clamp slides on, from the side, forward to the right"
			if v == Top {
				s.shows = "the tube that the clamp slides on, from above, forward to the right"
			}
			from, to := r3.Vec{}, r3.Vec{X: 300, Y: 110, Z: 130}
			for _, o := range s.tube([]r3.Vec{r3.Scale(-0.2, to), r3.Scale(1.2, to)}, 14) {
				s.outline(o, lookPart())
			}
			a, b := s.flat(from), s.flat(to)
			for _, p := range []r2.Vec{a, b} {
				s.sign(p, mark{glyph: draw.GlyphStyle{Color: ink(), Radius: 3, Shape: draw.CircleGlyph{}}})
			}
			if axis.X != 0 {
				s.level(a, b, a.Y-70)
			} else {
				s.upright(a, b, b.X+90)
			}
			return s
		}
	}
	return []measure{
		{"mount.clamp.along.forward", "how far forward one gets when following the tube", way(Side, r3.Vec{X: 1})},
		{"mount.clamp.along.left", "how far to the left one gets when following the tube", way(Top, r3.Vec{Y: 1})},
		{"mount.clamp.along.up", "how far up one gets when following the tube", way(Side, r3.Vec{Z: 1})},
	}
}

// passageMeasures are those of what chair and mount must pass through.
func passageMeasures() []measure {
	return []measure{
		{"passage.doorway", "the clear width of the narrowest doorway", func() *sketch {
			s := person(Top, gaze.Posture{})
			s.shows += ", before a doorway"
			const half = 420
			s.outline([]r2.Vec{{X: 1080, Y: half}, {X: 1180, Y: half}, {X: 1180, Y: half + 260}, {X: 1080, Y: half + 260}}, lookSolid())
			s.outline([]r2.Vec{{X: 1080, Y: -half - 260}, {X: 1180, Y: -half - 260}, {X: 1180, Y: -half}, {X: 1080, Y: -half}}, lookSolid())
			s.span(r2.Vec{X: 1130, Y: -half}, r2.Vec{X: 1130, Y: half})
			return s
		}},
		{"passage.clear_floor.width", "the clear floor space across the way that the chair faces", clearFloor(false)},
		{"passage.clear_floor.length", "the clear floor space along the way that the chair faces", clearFloor(true)},
	}
}

// clearFloor returns a sketch of the person on a clear floor space.
func clearFloor(along bool) func() *sketch {
	return func() *sketch {
		s := person(Top, gaze.Posture{})
		s.shows += ", on a clear floor space"
		const back, front, half = -420, 1000, 440
		s.outline([]r2.Vec{{X: back, Y: -half}, {X: front, Y: -half}, {X: front, Y: half}, {X: back, Y: half}}, look{line: stroke(grey(0.25), 0.7, 3, 2)})
		if along {
			s.level(r2.Vec{X: back, Y: -half}, r2.Vec{X: front, Y: -half}, -half-80)
		} else {
			s.upright(r2.Vec{X: front, Y: -half}, r2.Vec{X: front, Y: half}, front+80)
		}
		return s
	}
}
