package plots

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
)

// before returns a sketch of a head before the screen, with the tracker's view.
func before(v View) *sketch {
	s := newSketch(v.plane(), gaze.Posture{})
	s.v = v
	s.shows = "a head before the screen with the tracker's view, " + map[View]string{Side: "from the side", Top: "from above", Front: "from ahead"}[v]
	t := s.job.Device.Tracker
	near, far := s.viewCorners(t.NearMM), s.viewCorners(t.FarMM)
	s.outline(hull(s.flatAll(append(near, far...)...)), look{fill: grey(0.96), line: stroke(grey(0.25), 0.6, 4, 2)})
	s.face(s.fare, lookPerson())
	s.device()
	return s
}

// tracker returns the place of the tracker, and the place at a depth before it.
func (s *sketch) tracker(depth float64) (at, end r2.Vec) {
	t := s.job.Device.Tracker
	place := s.fare.Screen.Apply(t.Place())
	return s.flat(place), s.flat(r3.Add(place, r3.Scale(depth, s.fare.Screen.Rot.Apply(t.Axis()))))
}

// depth returns a sketch of a depth along the tracker's axis: how far the nearest or
// farthest side of its view is, or a place between them.
func depth(of func(gaze.Tracker) float64) func() *sketch {
	return func() *sketch {
		s := before(Side)
		t := s.job.Device.Tracker
		a, b := s.tracker(of(t))
		way := r2.Unit(r2.Sub(b, a))
		across := r2.Vec{X: -way.Y, Y: way.X}
		half := of(t) * math.Tan(t.UpDown.Radians()/2)
		s.line(lookExtent(), r2.Add(b, r2.Scale(half, across)), r2.Sub(b, r2.Scale(half, across)))
		s.span(a, b)
		return s
	}
}

// whole returns a sketch of the whole angle of the tracker's view in a view.
func whole(v View) func() *sketch {
	return func() *sketch {
		s := before(v)
		t := s.job.Device.Tracker
		at, end := s.tracker(t.NearMM)
		half := t.UpDown.Degrees() / 2
		if v == Top {
			half = t.Across.Degrees() / 2
		}
		middle := direction(r2.Sub(end, at))
		if middle < 0 {
			middle += 360
		}
		s.line(lookExtent(), at, r2.Add(at, toward(t.NearMM, middle-half)))
		s.line(lookExtent(), at, r2.Add(at, toward(t.NearMM, middle+half)))
		s.arc(at, 300, middle-half, middle+half)
		return s
	}
}

// trackerMeasures are those of the tracker.
func trackerMeasures() []measure {
	return []measure{
		{"tracker.near", "from the tracker along its axis to where it begins to work", depth(func(t gaze.Tracker) float64 { return t.NearMM })},
		{"tracker.best", "from the tracker along its axis to where it works best", depth(func(t gaze.Tracker) float64 { return t.BestMM })},
		{"tracker.far", "from the tracker along its axis to where it ceases to work", depth(func(t gaze.Tracker) float64 { return t.FarMM })},
		{"tracker.across", "the whole angle of the tracker's view from side to side", whole(Top)},
		{"tracker.up_down", "the whole angle of the tracker's view from bottom to top", whole(Side)},
		{"tracker.below", "from the middle of the display area down to the tracker", func() *sketch {
			s := screenSide()
			at, _ := s.tracker(0)
			s.upright(s.on(0, 0, 0), at, s.loX-30)
			return s
		}},
		{"tracker.in_front", "from the glass to the tracker, toward the viewer", func() *sketch {
			s := screenSide()
			at, _ := s.tracker(0)
			_, low, _ := s.box()
			s.level(s.on(0, low, 0), at, s.loY-35)
			return s
		}},
		{"tracker.aimed_up", "by how much the tracker's axis is turned up from square to the glass", func() *sketch {
			s := screenSide()
			at, end := s.tracker(100)
			s.angle(at, 210, 180, direction(r2.Sub(end, at)))
			return s
		}},
		{"tracker.gaze_limit", "at the eye, between the direction to the tracker and the direction of gaze", func() *sketch {
			s := before(Side)
			_, y := s.display()
			s.atEye(350, s.on(0, y, 0))
			return s
		}},
		{"tracker.accuracy", "at the eye, between where the person looks and where the tracker says, in the mean", func() *sketch {
			s := before(Side)
			s.spot(s.on(0, 60, 0), s.on(0, -20, 0))
			return s
		}},
		{"tracker.precision", "at the eye, how far what the tracker says is spread while the eye rests", func() *sketch {
			s := before(Side)
			s.spot(s.on(0, 75, 0), s.on(0, 45, 0), s.on(0, 15, 0), s.on(0, -10, 0))
			return s
		}},
	}
}

// atEye draws the angle at the eye between the directions to the tracker and to a
// place.
func (s *sketch) atEye(radius float64, to r2.Vec) {
	at := s.eyes()
	tracker, _ := s.tracker(0)
	s.refer(at, tracker)
	s.line(lookExtent(), at, to)
	s.arc(at, radius, direction(r2.Sub(tracker, at)), direction(r2.Sub(to, at)))
}

// spot draws the angle at the eye between the first and the last of places on the
// screen.
func (s *sketch) spot(places ...r2.Vec) {
	at := s.eyes()
	for i, p := range places {
		if i == 0 {
			s.refer(at, p)
		} else {
			s.line(lookExtent(), at, p)
		}
	}
	s.arc(at, 440, direction(r2.Sub(places[len(places)-1], at)), direction(r2.Sub(places[0], at)))
}
