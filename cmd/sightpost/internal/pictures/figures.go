package pictures

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// The invented person, chair and screen of all pictures: sizes chosen to look right, no
// source. Seen from the side forward is to the right, from ahead the person's left is,
// and from above forward is to the right and left is up.

// view is where a thing is seen from.
type view string

const (
	side  view = "from the side"
	front view = "from ahead"
	above view = "from above"
)

// point is a place about the chair, or a size, in mm.
type point struct{ forward, left, up float64 }

// in returns where a point is in a view.
func (p point) in(v view) r2.Vec {
	switch v {
	case front:
		return at(p.left, p.up)
	case above:
		return at(p.forward, p.left)
	default:
		return at(p.forward, p.up)
	}
}

// Places in the side view, of the person as measured.
var (
	origin    r2.Vec
	junction  = at(0, 500)
	tiltPivot = at(130, 400)
	eyesSide  = at(120, 1200)
	neckSide  = r2.Sub(eyesSide, eyesOfNeck)
	// eyesOfNeck is from the point about which the head nods to the eyes.
	eyesOfNeck = at(80, 75)
)

// posture is how the person sits: angles in degrees, slump in mm.
type posture struct{ tilt, back, slump, lateral float64 }

// asMeasured is the posture of most pictures.
var asMeasured = posture{back: 100}

// neck returns the neck point in the side view.
func (p posture) neck() r2.Vec {
	n := turn(neckSide, junction, p.back-100)
	return turn(r2.Sub(n, way(p.slump, p.back)), tiltPivot, p.tilt)
}

// eyes returns the eyes in the views from the side and from ahead.
func (p posture) eyes(v view) r2.Vec {
	if v == front {
		return turn(at(0, eyesSide.Y), at(0, neckSide.Y), -p.lateral)
	}
	return r2.Add(p.neck(), turn(eyesOfNeck, r2.Vec{}, p.back-100+p.tilt))
}

// seated draws the person in the chair.
func seated(v view, p posture) mark {
	words := shows("A person seated, " + string(v))
	switch v {
	case front:
		return group(words, seatedFront(p), ground)
	case above:
		return group(words, seatedAbove())
	default:
		return group(words, seatedSide(p), ground)
	}
}

func ground(d *drawing) {
	d.grow(origin)
	line(groundStyle, at(d.low.X, 0), at(d.top.X, 0))(d)
}

func seatedSide(p posture) mark {
	on := func(x, y float64) r2.Vec { return turn(r2.Add(junction, at(x, y)), tiltPivot, p.tilt) }
	back := way(18, p.back+90)
	top := r2.Add(back, way(520, p.back))
	knee, shin, length := on(515, 65), way(1, -80+p.tilt), 400.0
	if shin.Y < 0 {
		length = min(length, (knee.Y-75)/-shin.Y)
	}
	ankle := r2.Add(knee, r2.Scale(length, shin))
	toe := r2.Add(ankle, turn(at(170, -25), r2.Vec{}, p.tilt))
	hip, neck := on(115, 95), p.neck()
	chest := r2.Add(hip, r2.Scale(0.68, r2.Sub(neck, hip)))
	return group(
		bar(chairStyle, tiltPivot, at(tiltPivot.X, 18), 18),
		bar(chairStyle, on(0, -18), on(440, -18), 18),
		bar(chairStyle, on(back.X, back.Y), on(top.X, top.Y), 18),
		limb(personStyle, ankle, 42, at(toe.X, max(toe.Y, 25)), 25),
		limb(personStyle, knee, 55, ankle, 42),
		limb(personStyle, on(115, 75), 78, knee, 58),
		limb(personStyle, chest, 60, neck, 42),
		limb(personStyle, hip, 92, chest, 82),
		headSide(personStyle, p.eyes(side), p.back-100+p.tilt),
	)
}

func seatedFront(p posture) mark {
	return group(
		bar(chairStyle, at(0, tiltPivot.Y), at(0, 18), 18),
		box(chairStyle, at(0, 745), at(420, 560), 0),
		box(chairStyle, at(0, 482), at(456, 36), 0),
		both(func(x float64) mark {
			return group(
				bar(personStyle, at(110*x, 171), at(110*x, 60), 38),
				limb(personStyle, at(110*x, 565), 56, at(110*x, 171), 42),
				limb(personStyle, at(85*x, 575), 78, at(110*x, 565), 58),
			)
		}),
		outline(personStyle, at(-177, 595), at(-165, 545), at(-85, 503), at(85, 503), at(165, 545), at(177, 595),
			at(202, 955), at(180, 1010), at(120, 1037), at(-120, 1037), at(-180, 1010), at(-202, 955)),
		limb(personStyle, at(0, 955), 60, at(0, neckSide.Y), 42),
		headFront(p.eyes(front), -p.lateral),
	)
}

func seatedAbove() mark {
	return group(
		box(chairStyle, at(210, 0), at(456, 456), 0),
		box(chairStyle, at(-55, 0), at(100, 456), 0),
		both(func(y float64) mark {
			return group(
				limb(personStyle, at(585, 110*y), 42, at(755, 110*y), 25),
				limb(personStyle, at(115, 85*y), 78, at(515, 110*y), 58),
			)
		}),
		bar(personStyle, at(55, -120), at(55, 120), 82),
		headAbove(at(eyesSide.X, 0), 0),
	)
}

// headSide draws a head by its eyes, turned backward by an angle (degrees).
func headSide(s style, eyes r2.Vec, back float64) mark {
	on := func(x, y float64) r2.Vec { return r2.Add(eyes, turn(at(x, y), r2.Vec{}, back)) }
	return group(oval(s, on(-88, 8), 98, 112, back), line(thinStyle, on(8, -14), on(30, -44), on(4, -50)), cross(eyes))
}

func headFront(eyes r2.Vec, left float64) mark {
	on := func(x, y float64) r2.Vec { return r2.Add(eyes, turn(at(x, y), r2.Vec{}, left)) }
	return group(oval(personStyle, on(0, 8), 76, 112, left), cross(on(-32, 0)), cross(on(32, 0)))
}

func headAbove(eyes r2.Vec, left float64) mark {
	on := func(x, y float64) r2.Vec { return r2.Add(eyes, turn(at(x, y), r2.Vec{}, left)) }
	return group(oval(personStyle, on(-88, 0), 98, 76, left), line(thinStyle, on(8, 12), on(30, 0), on(8, -12)),
		cross(on(0, 32)), cross(on(0, -32)))
}

// neck is the neck point of a drawing of the head alone, whose eyes are at the origin
// while it is upright.
var neck = point{forward: -eyesOfNeck.X, up: -eyesOfNeck.Y}

// head draws the head on its neck, bent by an angle (degrees): forward seen from the
// side, to the left seen from ahead or above.
func head(v view, bent float64) mark {
	words, c := shows("A head, "+string(v)), neck.in(v)
	switch v {
	case front:
		return group(words, limb(personStyle, r2.Add(c, at(0, -90)), 52, c, 46), headFront(turn(origin, c, -bent), -bent))
	case above:
		return group(words, headAbove(turn(origin, c, bent), bent))
	default:
		return group(words, limb(personStyle, r2.Add(c, at(-10, -90)), 52, c, 46), headSide(personStyle, turn(origin, c, -bent), -bent))
	}
}

// screen is where a screen is in a view: the middle of the display area, and how far it
// is turned (degrees): tilted up seen from the side, rotated to the viewer's right seen
// from above, rolled as the viewer sees it.
type screen struct {
	v       view
	c       r2.Vec
	turned  float64
	inFront float64 // tracker in front of the glass
}

// The screen's sizes: half of the display area and of the housing, the middle of the
// housing below that of the display area and how far the housing is above and below it,
// the housing's depth, the tracker's place below and how far it is aimed up.
const (
	displayX, displayY       = 140.0, 85.0
	housingX, housingY       = 165.0, 125.0
	housingBelow             = 20.0
	housingTop, housingUnder = housingY - housingBelow, -housingY - housingBelow
	housingDepth             = 55.0
	trackerBelow             = 115.0
	aimedUp                  = 15.0
)

// on returns the place along the screen, up or across, and out of it toward the viewer.
func (s screen) on(along, out float64) r2.Vec {
	sign := 1.0
	if s.v == above {
		sign = -1
	}
	return r2.Add(s.c, turn(at(-out, along), r2.Vec{}, -sign*s.turned))
}

// square returns the direction in which the screen faces.
func (s screen) square() float64 { return direction(r2.Sub(s.on(0, 1), s.on(0, 0))) }

// tracker returns the tracker's place, and the direction of its axis.
func (s screen) tracker() (c r2.Vec, degrees float64) {
	if s.v == above {
		return s.on(0, s.inFront), s.square()
	}
	return s.on(-trackerBelow, s.inFront), s.square() - aimedUp
}

// draw draws the screen.
func (s screen) draw() mark {
	triangle := func(c r2.Vec) mark { return sign(c, trackerFill, "m0-3.5l4 7h-8Z") }
	if s.v == front {
		c := func(y float64) r2.Vec { return r2.Add(s.c, turn(at(0, y), r2.Vec{}, s.turned)) }
		return group(box(solidStyle, c(-housingBelow), at(2*housingX, 2*housingY), s.turned),
			box(glassStyle, c(0), at(2*displayX, 2*displayY), s.turned), triangle(c(-trackerBelow)))
	}
	low, high, display := housingUnder, housingTop, displayY
	if s.v == above {
		low, high, display = -housingX, housingX, displayX
	}
	c, _ := s.tracker()
	return group(outline(solidStyle, s.on(low, 0), s.on(high, 0), s.on(high, -housingDepth), s.on(low, -housingDepth)),
		line(glassStyle, s.on(-display, 0), s.on(display, 0)), triangle(c))
}

// Distances at which the tracker of the pictures works, and half of its angles of view.
const (
	trackerNear, trackerBest, trackerFar = 400.0, 560.0, 720.0
	halfAcross, halfUp                   = 20.0, 16.0
)

// half returns half of the tracker's angle in a view.
func half(v view) float64 {
	if v == above {
		return halfAcross
	}
	return halfUp
}

// before returns the screen that most pictures of a head before one show in a view.
func before(v view) screen {
	if v == above {
		return screen{v: v, c: at(560, 0)}
	}
	return screen{v: v, c: at(560, -70), turned: 12}
}

// viewed draws the screen with a head before it, its eyes at the origin.
func (s screen) viewed() mark {
	return group(shows("A head before the screen, "+string(s.v)), s.withHead())
}

// tracking draws the same with the tracking volume.
func (s screen) tracking() mark {
	c, dir := s.tracker()
	corner := func(depth, side float64) r2.Vec {
		return r2.Add(r2.Add(c, way(depth, dir)), way(depth*math.Tan(half(s.v)*math.Pi/180)*side, dir+90))
	}
	return group(shows("A head before the screen with the tracking volume, "+string(s.v)),
		outline(zoneStyle, corner(trackerNear, -1), corner(trackerFar, -1), corner(trackerFar, 1), corner(trackerNear, 1)),
		s.withHead())
}

func (s screen) withHead() mark {
	if s.v == above {
		return group(headAbove(origin, 0), s.draw())
	}
	return group(headSide(personStyle, origin, 0), s.draw())
}

// face draws a screen as the viewer sees it.
func face(turned float64) mark {
	return group(shows("A screen, as the viewer sees it, the display area within its housing"), screen{v: front, turned: turned}.draw())
}

// profiled is a screen from the side, and profile draws it.
var profiled = screen{v: side, inFront: 45}

func profile() mark {
	return group(shows("A screen, from the side, its face to the left, the tracker below it"), profiled.draw())
}
