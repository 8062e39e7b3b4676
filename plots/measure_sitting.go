package plots

import (
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
)

// person returns a sketch of the seated person in a view and posture.
func person(v View, p gaze.Posture) *sketch {
	s := newSketch(v.plane(), p)
	s.v, s.shows = v, "a person seated, "+map[View]string{Side: "from the side", Top: "from above", Front: "from ahead"}[v]
	for _, part := range s.sitting() {
		s.outline(s.balls(part.balls...), part.look)
	}
	s.face(s.fare, lookPerson())
	s.grow(r2.Vec{})
	s.scene.floor()
	return s
}

// eyes returns the place of the eyes of a sketch.
func (s *sketch) eyes() r2.Vec { return s.flat(chairFromHead(s.fare).At) }

// junction returns the place of the junction of seat and back support of the
// untilted seat.
func (s *sketch) junction() r2.Vec { return s.flat(s.job.Scene.Chair.BackHingeMM) }

// sittingMeasures are drawn of the whole person.
func sittingMeasures() []measure {
	return []measure{
		{"measured.eyes.up", "from the floor up to the eyes, at the outer corner of the eye", func() *sketch {
			s := person(Side, gaze.Posture{})
			eyes := s.eyes()
			s.upright(r2.Vec{X: eyes.X}, eyes, s.hiX+60)
			return s
		}},
		{"measured.eyes.forward", "from above the junction of seat and back support forward to the eyes", func() *sketch {
			s := person(Side, gaze.Posture{})
			s.fromJunction(s.eyes())
			return s
		}},
		{"measured.eyes.left", "from the midline of the chair to the middle between the eyes, to the person's left", func() *sketch {
			s := person(Front, gaze.Posture{Head: gaze.Head{LateralFlexion: 28 * frame.Degree}})
			s.fromMidline(s.eyes())
			return s
		}},
		{"measured.seat_tilt", "by how much the seat is tilted backward from level", func() *sketch {
			s := person(Side, gaze.Posture{SeatTilt: 25 * frame.Degree})
			at := s.flat(s.onSeat(r3.Vec{Z: -padMM}))
			s.angle(at, 620, 0, 25)
			return s
		}},
		{"measured.back_angle", "between the seat and the back support", func() *sketch {
			s := person(Side, gaze.Posture{BackAngle: 110 * frame.Degree})
			at := s.junction()
			s.refer(at, r2.Add(at, toward(640, 0)))
			s.refer(at, r2.Add(at, toward(640, 110)))
			s.arc(at, 330, 0, 110)
			return s
		}},
		{"postures.slump", "how far trunk and head have slid down along the back support", slump},
	}
}

// fromJunction draws the arrow from above the junction of seat and back support
// forward to a place, above everything.
func (s *sketch) fromJunction(p r2.Vec) {
	j := s.junction()
	top := s.hiY + 90
	s.refer(j, r2.Vec{X: j.X, Y: top + 40})
	s.line(lookExtent(), p, r2.Vec{X: p.X, Y: top})
	s.span(r2.Vec{X: j.X, Y: top}, r2.Vec{X: p.X, Y: top})
}

// fromMidline draws the arrow from the chair's midline to a place, above
// everything.
func (s *sketch) fromMidline(p r2.Vec) {
	top := s.hiY + 90
	s.refer(r2.Vec{}, r2.Vec{Y: top + 40})
	s.line(lookExtent(), p, r2.Vec{X: p.X, Y: top})
	s.span(r2.Vec{Y: top}, r2.Vec{X: p.X, Y: top})
}

// slump draws the person slid down along the back support.
func slump() *sketch {
	const down = 150
	s := person(Side, gaze.Posture{SlumpMM: down})
	head := chairFromHead(s.fare)
	was := *s.fare
	was.Stance.Head.At = r3.Add(head.At, r3.Scale(down, r3.Vec{X: -0.1736, Z: 0.9848})) // along a back support at 100°
	s.face(&was, lookGhost())
	a, b := s.flat(was.Stance.Head.At), s.eyes()
	ahead := r2.Vec{X: 120}
	s.span(r2.Add(a, ahead), r2.Add(b, ahead))
	return s
}
