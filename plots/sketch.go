package plots

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
)

// sketch is a small drawing of one measure: the same person, chair and screen as
// in a scene, of invented size and not to scale, with one dimension as an arrow.
type sketch struct {
	*scene
	shows string // what is drawn
	dims  [][]r2.Vec
}

// sketchSize is that of every sketch: 160 by 120 dots of a browser.
func sketchSize() Size { return Size{120, 90} }

// sketchPoints is into how many points circles of sketches are cut: at their size
// the corners of more could not be told.
const sketchPoints = 18

// The looks of sketches.
func lookDim() draw.LineStyle    { return stroke(ink(), 1.3) }
func lookExtent() draw.LineStyle { return stroke(ink(), 0.5) }
func lookRefer() draw.LineStyle  { return stroke(ink(), 0.6, 3, 2) }
func lookPart() look             { return look{fill: grey(0.93), line: stroke(grey(0.45), 0.6)} }
func lookSolid() look            { return look{fill: grey(0.75), line: stroke(grey(0.25), 0.7)} }

// newSketch returns an empty sketch in a view, of an invented person before an
// invented screen in a posture.
func newSketch(v plane, p gaze.Posture) *sketch {
	job := &fit.Job{
		Scene: gaze.Scene{
			Person:   gaze.Person{PupilSpacingMM: 63, NeckToEyesMM: r3.Vec{X: 80, Z: 75}, MovementMM: r3.Vec{X: 45, Y: 60, Z: 35}},
			Chair:    gaze.Chair{TiltPivotMM: r3.Vec{X: 130, Z: 400}, BackHingeMM: r3.Vec{Z: 500}},
			Measured: gaze.Sitting{BackAngle: 100 * frame.Degree, EyesMM: r3.Vec{X: 120, Z: 1200}},
			Carrier:  gaze.Base, RestDistanceMM: 600,
		},
		Device: gaze.Device{
			Screen: gaze.Screen{WidthMM: 280, HeightMM: 170, HousingMM: r3.Vec{X: 330, Y: 250, Z: 55}, HousingBelowMM: 20},
			Tracker: gaze.Tracker{
				NearMM: 400, BestMM: 560, FarMM: 720, Across: 40 * frame.Degree, UpDown: 32 * frame.Degree,
				BelowMM: 115, InFrontMM: 0, AimedUp: 15 * frame.Degree,
			},
		},
	}
	if p.BackAngle == 0 {
		p.BackAngle = job.Scene.Measured.BackAngle
	}
	eyes := r3.Vec{X: 120, Z: 1200}
	screen := frame.Pose{Rot: facing(12 * frame.Degree), At: r3.Add(eyes, r3.Vec{X: 560, Z: -70})}
	f := &fit.PostureResult{Posture: p, Stance: job.Scene.InCarrier(p), Screen: screen}
	v.points = sketchPoints
	s := &scene{board: &board{}, plane: v, job: job, r: &fit.Result{Screen: screen}, fare: f, compact: true}
	s.seat = job.Scene.Chair.SeatPose(p.SeatTilt)
	return &sketch{scene: s}
}

// facing returns how a screen stands that faces a person who looks forward, its face
// turned up by an angle.
func facing(up frame.Angle) frame.Rotation {
	return frame.FromAxes(r3.Vec{Y: -1}, r3.Vec{Z: 1}).Mul(frame.About(r3.Vec{X: 1}, -up))
}

// figure returns the sketch as a figure.
func (s *sketch) figure(where string) (Figure, error) {
	if s.problem != nil {
		return Figure{}, s.problem
	}
	for _, d := range s.dims {
		s.grow(d...)
	}
	p := newPlot(textSize)
	p.HideAxes()
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, 1, 0, 1
	p.Add(s)
	return Figure{
		Plot: p, Size: sketchSize(), Title: where,
		Desc: capital(s.shows) + ", not to scale. The measure that is shown: " + where + ".",
	}, nil
}

// Plot draws the sketch as large as the canvas allows, with its arrows on top.
func (s *sketch) Plot(c draw.Canvas, _ *plot.Plot) {
	room := c.Size().Sub(vg.Point{X: 2 * air, Y: 2 * air})
	perMM := min(float64(room.X)/(s.hiX-s.loX), float64(room.Y)/(s.hiY-s.loY))
	middle := r2.Vec{X: (s.loX + s.hiX) / 2, Y: (s.loY + s.hiY) / 2}
	centre := c.Center()
	k := &pen{
		layout: &layout{board: s.board, words: words(textSize)}, c: c,
		trX: func(x float64) vg.Length { return centre.X + vg.Length((x-middle.X)*perMM) },
		trY: func(y float64) vg.Length { return centre.Y + vg.Length((y-middle.Y)*perMM) },
	}
	for _, i := range s.items {
		k.item(i)
	}
	for _, m := range s.marks {
		k.mark(m)
	}
	for _, d := range s.dims {
		k.arrow(k.all(d))
	}
}

// headLong is the length of an arrow's head.
const headLong = 2.1 * vg.Millimeter

// arrow draws a line with a head at each end: on a line too short for two, the heads
// stand outside and point at its ends, as is usual on drawings.
func (k *pen) arrow(line []vg.Point) {
	n := len(line)
	first, last := line[0].Sub(line[1]), line[n-1].Sub(line[n-2])
	if n == 2 && math.Hypot(float64(last.X), float64(last.Y)) < 2.3*float64(headLong) {
		for i, out := range []vg.Point{first, last} {
			out = out.Scale(2 * headLong / vg.Length(math.Hypot(float64(out.X), float64(out.Y))+1e-9))
			k.c.StrokeLines(lookDim(), []vg.Point{line[i].Add(out.Scale(0.4)), line[i].Add(out)})
			k.arrowHead(line[i], out.Scale(-1))
		}
		return
	}
	k.c.StrokeLines(lookDim(), line)
	k.arrowHead(line[0], first)
	k.arrowHead(line[n-1], last)
}

// arrowHead fills the head of an arrow that ends at a place and points along way.
func (k *pen) arrowHead(at, way vg.Point) {
	const wide = 0.75 * vg.Millimeter
	n := vg.Length(math.Hypot(float64(way.X), float64(way.Y)))
	if n == 0 {
		return
	}
	along, side := way.Scale(headLong/n), vg.Point{X: -way.Y, Y: way.X}.Scale(wide/n)
	back := at.Sub(along)
	k.c.FillPolygon(ink(), []vg.Point{at, back.Add(side), back.Sub(side)})
}

// span draws the arrow from a to b.
func (s *sketch) span(a, b r2.Vec) { s.dims = append(s.dims, []r2.Vec{a, b}) }

// upright draws the upright arrow between the heights of two places, at x, with
// lines from them.
func (s *sketch) upright(a, b r2.Vec, x float64) {
	for _, p := range []r2.Vec{a, b} {
		s.line(lookExtent(), p, r2.Vec{X: x, Y: p.Y})
	}
	s.span(r2.Vec{X: x, Y: a.Y}, r2.Vec{X: x, Y: b.Y})
}

// level draws the level arrow between two places, at the height y, with lines from
// them.
func (s *sketch) level(a, b r2.Vec, y float64) {
	for _, p := range []r2.Vec{a, b} {
		s.line(lookExtent(), p, r2.Vec{X: p.X, Y: y})
	}
	s.span(r2.Vec{X: a.X, Y: y}, r2.Vec{X: b.X, Y: y})
}

// refer draws a dashed line from which is measured.
func (s *sketch) refer(points ...r2.Vec) { s.line(lookRefer(), points...) }

// angle draws the angle about a place from one direction to another (degrees,
// counter-clockwise from the right), with its two legs: the first, from which is
// measured, dashed.
func (s *sketch) angle(at r2.Vec, radius, from, to float64) {
	s.refer(at, r2.Add(at, toward(1.25*radius, from)))
	s.line(lookExtent(), at, r2.Add(at, toward(1.25*radius, to)))
	s.arc(at, radius, from, to)
}

// arc draws the arrow round a place from one direction to another (degrees).
func (s *sketch) arc(at r2.Vec, radius, from, to float64) {
	const steps = 14
	var line []r2.Vec
	for i := range steps + 1 {
		line = append(line, r2.Add(at, toward(radius, from+(to-from)*float64(i)/steps)))
	}
	s.dims = append(s.dims, line)
}

// toward returns the way of a length in a direction (degrees from the right).
func toward(length, degrees float64) r2.Vec {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return r2.Vec{X: length * cos, Y: length * sin}
}

// direction returns the direction of a way (degrees from the right).
func direction(way r2.Vec) float64 { return math.Atan2(way.Y, way.X) * 180 / math.Pi }
