package plots

import (
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
)

// headOnly returns a sketch of the head on its neck.
func headOnly(v View, h gaze.Head) *sketch {
	s := newSketch(v.plane(), gaze.Posture{Head: h})
	s.v, s.shows = v, "a head, "+map[View]string{Side: "from the side", Top: "from above", Front: "from ahead"}[v]
	if v != Top {
		neck := s.neck()
		s.outline(s.balls(ball{r3.Add(neck, r3.Vec{X: -10, Z: -90}), 52}, ball{neck, 46}), lookPerson())
	}
	s.face(s.fare, lookPerson())
	return s
}

// ahead returns the place at a distance straight ahead of the eyes, turned left
// and down (degrees) in the head.
func (s *sketch) ahead(distance, left, down float64) r2.Vec {
	turn := gaze.Head{Rotation: frame.Angle(left) * frame.Degree, Flexion: frame.Angle(down) * frame.Degree}.Turn()
	return s.flat(chairFromHead(s.fare).Apply(turn.Apply(r3.Vec{X: distance})))
}

// look draws the angle at the eyes from straight ahead of the head to a direction
// (degrees left and down).
func (s *sketch) look(left, down float64) {
	at := s.eyes()
	from, to := direction(r2.Sub(s.ahead(1, 0, 0), at)), direction(r2.Sub(s.ahead(1, left, down), at))
	s.angle(at, 210, from, to)
}

// lean draws the angle at the neck from one direction to that of the head's own
// axis.
func (s *sketch) lean(from float64, axis r3.Vec) {
	at := s.flat(s.neck())
	tip := s.flat(r3.Add(s.neck(), chairFromHead(s.fare).Rot.Apply(axis)))
	s.angle(at, 240, from, direction(r2.Sub(tip, at)))
}

// headMeasures are the angles of the head.
func headMeasures() []measure {
	return []measure{
		{"measured.head.flexion", "by how much the head is bent, chin toward the chest, from upright", func() *sketch {
			s := headOnly(Side, gaze.Head{Flexion: 25 * frame.Degree})
			s.lean(90, r3.Vec{Z: 1})
			return s
		}},
		{"measured.head.rotation", "by how much the face is turned to the person's left from straight ahead", func() *sketch {
			s := headOnly(Top, gaze.Head{Rotation: 30 * frame.Degree})
			s.lean(0, r3.Vec{X: 1})
			return s
		}},
		{"measured.head.lateral_flexion", "by how much the head is leaned toward the left shoulder from upright", func() *sketch {
			s := headOnly(Front, gaze.Head{LateralFlexion: 22 * frame.Degree})
			s.lean(90, r3.Vec{Z: 1})
			return s
		}},
	}
}

// personMeasures are those of eyes and head.
func personMeasures() []measure {
	look := func(v View, left, down float64) func() *sketch {
		return func() *sketch {
			s := headOnly(v, gaze.Head{})
			s.look(left, down)
			return s
		}
	}
	return []measure{
		{"person.pupil_spacing", "from the middle of one pupil to the middle of the other", func() *sketch {
			s := headOnly(Front, gaze.Head{})
			eyes := s.fare.Eyes()
			s.level(s.flat(eyes[1]), s.flat(eyes[0]), s.eyes().Y+60)
			return s
		}},
		{"person.neck_to_eyes.forward", "from the point about which the head nods forward to the eyes", func() *sketch {
			s := headOnly(Side, gaze.Head{})
			s.sign(s.flat(s.neck()), ring())
			s.level(s.flat(s.neck()), s.eyes(), s.hiY+30)
			return s
		}},
		{"person.neck_to_eyes.up", "from the point about which the head nods up to the eyes", func() *sketch {
			s := headOnly(Side, gaze.Head{})
			s.sign(s.flat(s.neck()), ring())
			s.upright(s.flat(s.neck()), s.eyes(), s.hiX+50)
			return s
		}},
		{"person.rest_gaze.down", "from straight ahead of the head down to where the eyes rest", look(Side, 0, 20)},
		{"person.rest_gaze.left", "from straight ahead of the head to the person's left, to where the eyes rest", look(Top, 20, 0)},
		{"person.gaze_range.left", "how far the eyes turn to the person's left, the head still", look(Top, 35, 0)},
		{"person.gaze_range.right", "how far the eyes turn to the person's right, the head still", look(Top, -35, 0)},
		{"person.gaze_range.up", "how far the eyes turn up, the head still", look(Side, 0, -25)},
		{"person.gaze_range.down", "how far the eyes turn down, the head still", look(Side, 0, 35)},
		{"person.movement.forward", "how far the head moves forward from its middle, and as far back", moves(Side, r3.Vec{X: 1})},
		{"person.movement.left", "how far the head moves to the left from its middle, and as far to the right", moves(Front, r3.Vec{Y: 1})},
		{"person.movement.up", "how far the head moves up from its middle, and as far down", moves(Side, r3.Vec{Z: 1})},
		{"person.glasses.lens_slant", "how far the lower edge of the lenses is nearer to the face, from upright of the head", lensSlant},
	}
}

// moves returns a sketch of the head with others where it moves to along an axis.
func moves(v View, axis r3.Vec) func() *sketch {
	return func() *sketch {
		s := headOnly(v, gaze.Head{})
		const far = 70
		way := r3.Scale(far, axis)
		for _, w := range []r3.Vec{way, r3.Scale(-1, way)} {
			f := *s.fare
			f.Stance = f.Stance.Moved(w)
			s.face(&f, lookGhost())
		}
		at := s.eyes()
		to := r2.Add(at, s.flat(way))
		if axis.Z != 0 {
			s.upright(at, to, s.hiX+40)
		} else {
			s.level(at, to, s.hiY+40)
		}
		return s
	}
}

// lensSlant draws a lens before the eye.
func lensSlant() *sketch {
	s := headOnly(Side, gaze.Head{})
	top := r2.Add(s.eyes(), r2.Vec{X: 26, Y: 24})
	const slant = 20
	s.line(stroke(ink(), 1.6), top, r2.Add(top, toward(62, -90-slant)))
	s.line(lookExtent(), top, r2.Add(top, r2.Vec{X: -110}))
	s.angle(top, 150, -90, -90-slant)
	return s
}
