package plots

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
)

// screenFace returns a sketch of the screen as the viewer sees it.
func screenFace() *sketch {
	rot := facing(0)
	s := newSketch(plane{x: rot.X, y: rot.Y}, gaze.Posture{})
	s.fare.Screen.Rot = rot
	s.v, s.shows = Front, "a screen as the viewer sees it, the display area within its housing"
	s.device()
	return s
}

// screenSide returns a sketch of the screen from the side, its face to the left.
func screenSide() *sketch {
	s := newSketch(Side.plane(), gaze.Posture{})
	s.fare.Screen.Rot = facing(0)
	s.job.Device.Tracker.InFrontMM = 45
	s.shows = "a screen from the side, its face to the left, the tracker below it"
	s.device()
	return s
}

// device draws housing, display area and tracker.
func (s *sketch) device() {
	s.scene.screen()
}

// on returns the place on the screen of x to the viewer's right of, y above and z
// in front of the middle of the display area.
func (s *sketch) on(x, y, z float64) r2.Vec {
	return s.flat(s.fare.Screen.Apply(r3.Vec{X: x, Y: y, Z: z}))
}

// display and box return half the size of the display area, and the housing's edges.
func (s *sketch) display() (x, y float64) {
	d := s.job.Device.Screen
	return d.WidthMM / 2, d.HeightMM / 2
}

func (s *sketch) box() (x, low, high float64) {
	d := s.job.Device.Screen
	return d.HousingMM.X / 2, -d.HousingBelowMM - d.HousingMM.Y/2, -d.HousingBelowMM + d.HousingMM.Y/2
}

// used draws the used part of the display area and returns its edges.
func (s *sketch) used() (left, right, bottom, top float64) {
	x, y := s.display()
	left, right, bottom, top = -x+60, x-35, -y+62, y-25
	s.outline([]r2.Vec{s.on(left, bottom, 0), s.on(right, bottom, 0), s.on(right, top, 0), s.on(left, top, 0)},
		look{fill: grey(0.85), line: stroke(grey(0.25), 0.7)})
	return left, right, bottom, top
}

// screenMeasures are those of screen and housing.
func screenMeasures() []measure {
	return append(usedMeasures(), []measure{
		{"screen.display.width", "the display area from side to side", func() *sketch {
			s := screenFace()
			x, y := s.display()
			s.span(s.on(-x, y/3, 0), s.on(x, y/3, 0))
			return s
		}},
		{"screen.display.height", "the display area from bottom to top", func() *sketch {
			s := screenFace()
			_, y := s.display()
			s.span(s.on(0, -y, 0), s.on(0, y, 0))
			return s
		}},
		{"screen.housing.width", "the housing from side to side", func() *sketch {
			s := screenFace()
			x, _, high := s.box()
			s.level(s.on(-x, high, 0), s.on(x, high, 0), s.hiY+35)
			return s
		}},
		{"screen.housing.height", "the housing from bottom to top", func() *sketch {
			s := screenFace()
			x, low, high := s.box()
			s.upright(s.on(x, low, 0), s.on(x, high, 0), s.hiX+35)
			return s
		}},
		{"screen.housing.depth", "the housing from the glass to the back", func() *sketch {
			s := screenSide()
			_, _, high := s.box()
			s.level(s.on(0, high, 0), s.on(0, high, -s.job.Device.Screen.HousingMM.Z), s.hiY+35)
			return s
		}},
		{"screen.housing.below", "from the middle of the display area down to the middle of the housing", func() *sketch {
			s := screenFace()
			x, low, high := s.box()
			s.refer(s.on(-x, 0, 0), s.on(x, 0, 0))
			s.upright(s.on(0, 0, 0), s.on(0, (low+high)/2, 0), s.hiX+35)
			return s
		}},
		{"screen.mass", "screen, tracker and housing together, on the scales", scales},
		{"screen.fixed_at.right", "from the middle of the housing to the viewer's right, to the plate's place on the back", plateAt(false)},
		{"screen.fixed_at.up", "from the middle of the housing up to the plate's place on the back", plateAt(true)},
		{"screen.grid.rows", "how many rows of targets", grid(true)},
		{"screen.grid.columns", "how many columns of targets", grid(false)},
		{"screen.grid.gap", "between neighbouring targets, where nothing is selected", gridGap},
	}...)
}

// usedMeasures are those of the used part of the display area.
func usedMeasures() []measure {
	across := func(right bool) func() *sketch {
		return func() *sketch {
			s := screenFace()
			left, far, bottom, top := s.used()
			x, _ := s.display()
			to := left
			if right {
				to = far
			}
			s.span(s.on(-x, (bottom+top)/2, 0), s.on(to, (bottom+top)/2, 0))
			return s
		}
	}
	up := func(high bool) func() *sketch {
		return func() *sketch {
			s := screenFace()
			left, right, bottom, top := s.used()
			_, y := s.display()
			to := bottom
			if high {
				to = top
			}
			s.span(s.on((left+right)/2, -y, 0), s.on((left+right)/2, to, 0))
			return s
		}
	}
	return []measure{
		{"screen.used.left", "from the left edge of the display area to the left edge of the used part", across(false)},
		{"screen.used.right", "from the left edge of the display area to the right edge of the used part", across(true)},
		{"screen.used.bottom", "from the lower edge of the display area to the lower edge of the used part", up(false)},
		{"screen.used.top", "from the lower edge of the display area to the upper edge of the used part", up(true)},
	}
}

// scales draws the screen on a pair of scales.
func scales() *sketch {
	s := screenFace()
	s.shows = "a screen with its tracker, standing on scales"
	_, low, _ := s.box()
	pan := func(x, y float64) r2.Vec { return s.on(x, low+y, 0) }
	s.outline([]r2.Vec{pan(-190, -18), pan(190, -18), pan(190, 0), pan(-190, 0)}, lookSolid())
	s.outline([]r2.Vec{pan(-150, -110), pan(150, -110), pan(110, -18), pan(-110, -18)}, lookPart())
	s.outline(s.circle(pan(0, -66), 34), look{fill: grey(1), line: lookExtent()})
	s.line(lookDim(), pan(0, -66), pan(18, -46))
	return s
}

// circle returns the outline of a circle on paper.
func (s *sketch) circle(at r2.Vec, radius float64) []r2.Vec {
	var out []r2.Vec
	for i := range sketchPoints {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / sketchPoints)
		out = append(out, r2.Vec{X: at.X + radius*cos, Y: at.Y + radius*sin})
	}
	return out
}

// plateAt returns a sketch of where the plate is screwed on.
func plateAt(up bool) func() *sketch {
	return func() *sketch {
		s := screenFace()
		_, low, high := s.box()
		middle, x, y := (low+high)/2, 70.0, 50.0
		s.outline([]r2.Vec{s.on(x-30, middle+y-30, 0), s.on(x+30, middle+y-30, 0), s.on(x+30, middle+y+30, 0), s.on(x-30, middle+y+30, 0)},
			look{line: lookRefer()})
		s.sign(s.on(0, middle, 0), cross())
		s.sign(s.on(x, middle+y, 0), cross())
		if up {
			s.upright(s.on(0, middle, 0), s.on(x, middle+y, 0), s.on(x+60, 0, 0).X)
		} else {
			s.level(s.on(0, middle, 0), s.on(x, middle+y, 0), s.on(0, middle+y+50, 0).Y)
		}
		return s
	}
}

// targets draws rows and columns of targets with gaps between them, and returns
// the height and width of one.
func (s *sketch) targets(rows, columns int, gap float64) (w, h float64) {
	x, y := s.display()
	w, h = (2*x+gap)/float64(columns)-gap, (2*y+gap)/float64(rows)-gap
	for r := range rows {
		for c := range columns {
			l, b := -x+float64(c)*(w+gap), -y+float64(r)*(h+gap)
			s.outline([]r2.Vec{s.on(l, b, 0), s.on(l+w, b, 0), s.on(l+w, b+h, 0), s.on(l, b+h, 0)}, lookPart())
		}
	}
	return w, h
}

// grid returns a sketch of targets, the arrow along a column or along a row.
func grid(rows bool) func() *sketch {
	return func() *sketch {
		s := screenFace()
		w, h := s.targets(3, 4, 12)
		x, y := s.display()
		if rows {
			s.span(s.on(-x+w/2, -y, 0), s.on(-x+w/2, y, 0))
		} else {
			s.span(s.on(-x, y-h/2, 0), s.on(x, y-h/2, 0))
		}
		return s
	}
}

// gridGap draws the gap between two columns.
func gridGap() *sketch {
	const gap = 44
	s := screenFace()
	w, _ := s.targets(2, 3, gap)
	x, _ := s.display()
	s.span(s.on(-x+w, 50, 0), s.on(-x+w+gap, 50, 0))
	return s
}
