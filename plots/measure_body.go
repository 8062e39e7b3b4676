package plots

import (
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
)

// skullAt returns the place on the head furthest along a way from its middle, in
// head axes: 1, 0 or -1 along each axis.
func (s *sketch) skullAt(x, y, z float64) r2.Vec {
	semi, middle := s.skull()
	return s.flat(chairFromHead(s.fare).Apply(r3.Add(middle, r3.Vec{X: x * semi.X, Y: y * semi.Y, Z: z * semi.Z})))
}

// bodyMeasures are those of the space that the body takes up.
func bodyMeasures() []measure {
	return append(faceMeasures(), trunkMeasures()...)
}

// faceMeasures are those of head and face.
func faceMeasures() []measure {
	return []measure{
		{"body.face.breadth", "the head with what it wears, from side to side", func() *sketch {
			s := headOnly(Front, gaze.Head{})
			s.level(s.skullAt(0, -1, 0), s.skullAt(0, 1, 0), s.hiY+30)
			return s
		}},
		{"body.face.length", "from the eyes to the back of the head", func() *sketch {
			s := headOnly(Side, gaze.Head{})
			s.level(s.skullAt(-1, 0, 0), s.eyes(), s.hiY+30)
			return s
		}},
		{"body.face.above_eyes", "from the eyes up to the top of the head", func() *sketch {
			s := headOnly(Side, gaze.Head{})
			s.upright(s.eyes(), s.skullAt(0, 0, 1), s.hiX+50)
			return s
		}},
		{"body.face.below_eyes", "from the eyes down to the chin", func() *sketch {
			s := headOnly(Side, gaze.Head{})
			s.upright(s.eyes(), r2.Vec{X: s.eyes().X - 20, Y: s.skullAt(0, 0, -1).Y}, s.hiX+50)
			return s
		}},
		{"body.face.clearance", "the least clearance between the face and screen or tubes", func() *sketch {
			s := headOnly(Side, gaze.Head{})
			s.fare.Screen.At = r3.Vec{X: 320, Z: 1190}
			s.device()
			s.span(s.eyes(), r2.Vec{X: s.on(0, 0, 0).X, Y: s.eyes().Y})
			return s
		}},
	}
}

// trunkMeasures are those of trunk and thighs.
func trunkMeasures() []measure {
	return []measure{
		{"body.trunk.breadth", "across the shoulders and upper arms", func() *sketch {
			s := person(Front, gaze.Posture{})
			const half = chestHalfMM + 82
			s.level(r2.Vec{X: -half, Y: 950}, r2.Vec{X: half, Y: 950}, s.hiY+60)
			return s
		}},
		{"body.trunk.depth", "from the back support to the front of the belly", func() *sketch {
			s := person(Side, gaze.Posture{})
			s.level(s.flat(s.onSeat(r3.Vec{X: -35, Z: 180})), s.flat(s.onSeat(r3.Vec{X: hipAheadMM + 86, Z: 180})), s.hiY+60)
			return s
		}},
		{"body.trunk.height", "from the seat up to the shoulders, along the back support", func() *sketch {
			s := person(Side, gaze.Posture{})
			from := s.flat(s.onSeat(r3.Vec{X: -40}))
			s.along(from, 100, 490, 190)
			return s
		}},
		{"body.trunk.clearance", "the least clearance between the trunk and screen or tubes", func() *sketch {
			s := person(Side, gaze.Posture{})
			s.fare.Screen.At = r3.Vec{X: 430, Z: 900}
			s.device()
			to := s.on(0, 0, 0)
			s.span(r2.Vec{X: 150, Y: to.Y}, to)
			return s
		}},
		{"body.thighs.thickness", "from the seat up to the top of the thigh", func() *sketch {
			s := person(Side, gaze.Posture{})
			s.upright(r2.Vec{X: 440, Y: 500}, r2.Vec{X: 440, Y: 638}, s.hiX+60)
			return s
		}},
		{"body.thighs.length", "from the back support to the front of the knee", func() *sketch {
			s := person(Side, gaze.Posture{})
			s.level(s.junction(), s.flat(s.onSeat(r3.Vec{X: hipAheadMM + thighMM + 58, Z: 65})), 260)
			return s
		}},
		{"body.thighs.spacing", "from the middle of one thigh to the middle of the other", func() *sketch {
			s := person(Top, gaze.Posture{})
			const half = hipHalfMM + 20
			s.upright(r2.Vec{X: 460, Y: -half}, r2.Vec{X: 460, Y: half}, s.hiX+60)
			return s
		}},
		{"body.thighs.clearance", "the least clearance between the thighs and screen or tubes", func() *sketch {
			s := person(Side, gaze.Posture{})
			s.fare.Screen.At = r3.Vec{X: 420, Z: 920}
			s.device()
			_, low, _ := s.box()
			s.upright(r2.Vec{X: 440, Y: 638}, s.on(0, low, -25), s.hiX+60)
			return s
		}},
	}
}

// along draws the arrow of a length in a direction (degrees) from a place, beside
// by a distance to the left of it, with lines from its ends.
func (s *sketch) along(from r2.Vec, degrees, length, beside float64) {
	way, aside := toward(length, degrees), toward(beside, degrees+90)
	a, b := r2.Add(from, aside), r2.Add(r2.Add(from, way), aside)
	s.line(lookExtent(), from, a)
	s.line(lookExtent(), r2.Add(from, way), b)
	s.span(a, b)
}
