package plots

import (
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
)

// sighted returns a sketch of a head before the screen from the side, without the
// tracker's view.
func sighted() *sketch {
	s := newSketch(Side.plane(), gaze.Posture{})
	s.shows = "a head before the screen, from the side"
	s.face(s.fare, lookPerson())
	s.device()
	return s
}

// preferencesMeasures are those by which the place of the screen is chosen.
func preferencesMeasures() []measure {
	return []measure{
		{"preferences.margin", "how far the head may still move beyond its usual movement", func() *sketch {
			s := before(Side)
			at := chairFromHead(s.fare).At
			semi := s.job.Scene.Person.MovementMM
			s.outline(s.ellipsoid(at, scaled(semi, frame.NoTurn())), look{line: stroke(ink(), 0.8, 1, 1.5)})
			from := r2.Add(s.eyes(), r2.Vec{Y: semi.Z})
			s.span(from, r2.Add(from, r2.Vec{Y: 140}))
			return s
		}},
		{"preferences.face_clearance", "the least distance from the eyes to the housing", func() *sketch {
			s := sighted()
			_, _, high := s.box()
			s.span(s.eyes(), s.on(0, high-20, 0))
			return s
		}},
		{"preferences.ranges.distance", "from the eyes to the middle of the display area", func() *sketch {
			s := sighted()
			s.span(s.eyes(), s.on(0, 0, 0))
			return s
		}},
		{"preferences.ranges.gaze_down", "from straight ahead down to the line of sight", lineOfSight(Side, r3.Vec{X: 500, Z: -210})},
		{"preferences.ranges.gaze_left", "from straight ahead to the person's left, to the line of sight", lineOfSight(Top, r3.Vec{X: 500, Y: 210})},
		{"preferences.ranges.facing_up", "by how much the screen is turned up from square to the line of sight", facingOff(Side)},
		{"preferences.ranges.facing_right", "by how much the screen is turned to the viewer's right from square to the line of sight", facingOff(Top)},
		{"preferences.ranges.roll", "by how much the screen is rolled, counter-clockwise as the viewer sees it", rolled},
	}
}

// lineOfSight returns a sketch of the angle from straight ahead to the line of sight
// to a screen in the given way from the eyes.
func lineOfSight(v View, way r3.Vec) func() *sketch {
	return func() *sketch {
		s := newSketch(v.plane(), gaze.Posture{})
		s.v, s.shows = v, "a head before the screen"
		s.face(s.fare, lookPerson())
		s.fare.Screen.At = r3.Add(chairFromHead(s.fare).At, way)
		s.device()
		at, to := s.eyes(), s.on(0, 0, 0)
		s.refer(at, r2.Vec{X: to.X + 60, Y: at.Y})
		s.line(lookExtent(), at, to)
		s.arc(at, 330, 0, direction(r2.Sub(to, at)))
		return s
	}
}

// facingOff returns a sketch of a screen turned off the line of sight.
func facingOff(v View) func() *sketch {
	return func() *sketch {
		s := newSketch(v.plane(), gaze.Posture{})
		s.v, s.shows = v, "a head before the screen"
		s.face(s.fare, lookPerson())
		pose := &s.fare.Screen
		pose.At = r3.Add(chairFromHead(s.fare).At, r3.Vec{X: 500})
		pose.Rot = facing(28 * frame.Degree)
		if v == Top {
			pose.Rot = facing(0).Mul(frame.About(r3.Vec{Y: 1}, 28*frame.Degree))
		}
		s.device()
		at := s.on(0, 0, 0)
		normal := direction(r2.Sub(s.on(0, 0, 1), at))
		s.refer(at, s.eyes())
		s.line(lookExtent(), at, r2.Add(at, toward(330, normal)))
		if normal < 0 {
			normal += 360
		}
		s.arc(at, 280, 180, normal)
		return s
	}
}

// rolled draws a screen rolled as the viewer sees it.
func rolled() *sketch {
	s := newSketch(plane{x: facing(0).X, y: facing(0).Y}, gaze.Posture{})
	s.v, s.shows = Front, "a screen as the viewer sees it"
	s.fare.Screen.Rot = facing(0).Mul(frame.About(r3.Vec{Z: 1}, 18*frame.Degree))
	s.device()
	s.angle(s.on(0, 0, 0), 200, 0, 18)
	return s
}
