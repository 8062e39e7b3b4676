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

// Places in the side view, of the person as measured.
var (
	junction  = at(0, 500)
	tiltPivot = at(130, 400)
	eyesSide  = at(120, 1200)
	neckSide  = r2.Sub(eyesSide, eyesOfNeck)
	// eyesOfNeck is from the point about which the head nods to the eyes.
	eyesOfNeck = at(80, 75)
)

// posture is how the person sits: angles in degrees, slump in mm.
type posture struct{ tilt, back, slump, lateral float64 }

// upright is the posture as measured.
func upright() posture { return posture{back: 100} }

// neck returns the neck point in the side view.
func (p posture) neck() r2.Vec {
	n := turn(neckSide, junction, p.back-100)
	return turn(r2.Sub(n, way(p.slump, p.back)), tiltPivot, p.tilt)
}

// eyes returns the eyes in a view.
func (p posture) eyes(v view) r2.Vec {
	switch v {
	case front:
		return turn(at(0, eyesSide.Y), at(0, neckSide.Y), -p.lateral)
	case above:
		return at(eyesSide.X, 0)
	case side:
	}
	return r2.Add(p.neck(), turn(eyesOfNeck, r2.Vec{}, p.back-100+p.tilt))
}

// seated returns a drawing of the person in the chair.
func seated(v view, p posture) *drawing {
	d := &drawing{shows: "A person seated, " + string(v)}
	switch v {
	case side:
		d.seatedSide(p)
	case front:
		d.seatedFront(p)
	case above:
		d.seatedAbove()
	}
	if v != above {
		d.grow(r2.Vec{})
		d.line(`fill="none" stroke="#000" stroke-width="1.6"`, at(d.low.X, 0), at(d.top.X, 0))
	}
	return d
}

func (d *drawing) seatedSide(p posture) {
	on := func(x, y float64) r2.Vec { return turn(r2.Add(junction, at(x, y)), tiltPivot, p.tilt) }
	d.bar(chairStyle, tiltPivot, at(tiltPivot.X, 18), 18)
	d.bar(chairStyle, on(0, -18), on(440, -18), 18)
	back := r2.Add(r2.Vec{}, way(18, p.back+90))
	top := r2.Add(back, way(520, p.back))
	d.bar(chairStyle, on(back.X, back.Y), on(top.X, top.Y), 18)
	knee := on(515, 65)
	shin := way(1, -80+p.tilt)
	length := 400.0
	if shin.Y < 0 {
		length = min(length, (knee.Y-75)/-shin.Y)
	}
	ankle := r2.Add(knee, r2.Scale(length, shin))
	toe := r2.Add(ankle, turn(at(170, -25), r2.Vec{}, p.tilt))
	d.limb(personStyle, ankle, 42, at(toe.X, max(toe.Y, 25)), 25)
	d.limb(personStyle, knee, 55, ankle, 42)
	d.limb(personStyle, on(115, 75), 78, knee, 58)
	hip, neck := on(115, 95), p.neck()
	chest := r2.Add(hip, r2.Scale(0.68, r2.Sub(neck, hip)))
	d.limb(personStyle, chest, 60, neck, 42)
	d.limb(personStyle, hip, 92, chest, 82)
	d.headSide(personStyle, p.eyes(side), p.back-100+p.tilt)
}

func (d *drawing) seatedFront(p posture) {
	d.bar(chairStyle, at(0, tiltPivot.Y), at(0, 18), 18)
	d.box(chairStyle, at(0, 745), at(420, 560), 0)
	d.box(chairStyle, at(0, 482), at(456, 36), 0)
	for _, x := range []float64{-1, 1} {
		d.bar(personStyle, at(110*x, 171), at(110*x, 60), 38)
		d.limb(personStyle, at(110*x, 565), 56, at(110*x, 171), 42)
		d.limb(personStyle, at(85*x, 575), 78, at(110*x, 565), 58)
	}
	d.outline(personStyle, at(-177, 595), at(-165, 545), at(-85, 503), at(85, 503), at(165, 545), at(177, 595), at(202, 955), at(180, 1010), at(120, 1037), at(-120, 1037), at(-180, 1010), at(-202, 955))
	d.limb(personStyle, at(0, 955), 60, at(0, neckSide.Y), 42)
	d.headFront(p.eyes(front), -p.lateral)
}

func (d *drawing) seatedAbove() {
	d.box(chairStyle, at(210, 0), at(456, 456), 0)
	d.box(chairStyle, at(-55, 0), at(100, 456), 0)
	for _, y := range []float64{-1, 1} {
		d.limb(personStyle, at(585, 110*y), 42, at(755, 110*y), 25)
		d.limb(personStyle, at(115, 85*y), 78, at(515, 110*y), 58)
	}
	d.bar(personStyle, at(55, -120), at(55, 120), 82)
	d.headAbove(at(eyesSide.X, 0), 0)
}

// headSide draws a head by its eyes, turned backward by an angle (degrees).
func (d *drawing) headSide(s style, eyes r2.Vec, back float64) {
	on := func(x, y float64) r2.Vec { return r2.Add(eyes, turn(at(x, y), r2.Vec{}, back)) }
	d.oval(s, on(-88, 8), 98, 112, back)
	d.line(thinStyle, on(8, -14), on(30, -44), on(4, -50))
	d.cross(eyes)
}

func (d *drawing) headFront(eyes r2.Vec, left float64) {
	d.oval(personStyle, r2.Add(eyes, turn(at(0, 8), r2.Vec{}, left)), 76, 112, left)
	for _, x := range []float64{-32, 32} {
		d.cross(r2.Add(eyes, turn(at(x, 0), r2.Vec{}, left)))
	}
}

func (d *drawing) headAbove(eyes r2.Vec, left float64) {
	on := func(x, y float64) r2.Vec { return r2.Add(eyes, turn(at(x, y), r2.Vec{}, left)) }
	d.oval(personStyle, on(-88, 0), 98, 76, left)
	d.line(thinStyle, on(8, 12), on(30, 0), on(8, -12))
	d.cross(on(0, 32))
	d.cross(on(0, -32))
}

// neckAt is the neck point of a drawing of the head alone, whose eyes are at the origin
// while it is upright.
var neckAt = r2.Scale(-1, eyesOfNeck)

// head returns a drawing of the head on its neck, bent by an angle (degrees): forward
// seen from the side, to the left seen from ahead or above.
func head(v view, bent float64) *drawing {
	d := &drawing{shows: "A head, " + string(v)}
	switch v {
	case side:
		d.limb(personStyle, r2.Add(neckAt, at(-10, -90)), 52, neckAt, 46)
		d.headSide(personStyle, turn(r2.Vec{}, neckAt, -bent), -bent)
	case front:
		neck := at(0, neckAt.Y)
		d.limb(personStyle, r2.Add(neck, at(0, -90)), 52, neck, 46)
		d.headFront(turn(r2.Vec{}, neck, -bent), -bent)
	case above:
		d.headAbove(turn(r2.Vec{}, at(neckAt.X, 0), bent), bent)
	}
	return d
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
// housing below that of the display area, the housing's depth, the tracker's place below
// and how far it is aimed up.
const (
	displayX, displayY = 140.0, 85.0
	housingX, housingY = 165.0, 125.0
	housingBelow       = 20.0
	housingDepth       = 55.0
	trackerBelow       = 115.0
	aimedUp            = 15.0
)

// on returns the place along the screen, up or across, and out of it toward the viewer.
func (s screen) on(along, out float64) r2.Vec {
	sign := 1.0
	if s.v == above {
		sign = -1
	}
	return r2.Add(s.c, turn(at(-out, along), r2.Vec{}, -sign*s.turned))
}

// place returns the place on the face of a screen that is seen by the viewer.
func (s screen) place(x, y float64) r2.Vec { return r2.Add(s.c, turn(at(x, y), r2.Vec{}, s.turned)) }

// tracker returns the tracker's place, and the direction of its axis.
func (s screen) tracker() (c r2.Vec, degrees float64) {
	if s.v == above {
		return s.on(0, s.inFront), direction(r2.Sub(s.on(0, 1), s.on(0, 0)))
	}
	return s.on(-trackerBelow, s.inFront), direction(r2.Sub(s.on(0, 1), s.on(0, 0))) - aimedUp
}

// device draws a screen.
func (d *drawing) device(s screen) {
	triangle := func(c r2.Vec) {
		d.grow(c)
		d.sign(c, trackerFill, "m0-3.5l4 7h-8Z")
	}
	if s.v == front {
		d.outline(solidStyle, s.place(-housingX, -housingBelow-housingY), s.place(housingX, -housingBelow-housingY), s.place(housingX, housingY-housingBelow), s.place(-housingX, housingY-housingBelow))
		d.outline(glassStyle, s.place(-displayX, -displayY), s.place(displayX, -displayY), s.place(displayX, displayY), s.place(-displayX, displayY))
		triangle(s.place(0, -trackerBelow))
		return
	}
	low, high, display := -housingBelow-housingY, housingY-housingBelow, displayY
	if s.v == above {
		low, high, display = -housingX, housingX, displayX
	}
	d.outline(solidStyle, s.on(low, 0), s.on(high, 0), s.on(high, -housingDepth), s.on(low, -housingDepth))
	d.line(glassStyle, s.on(-display, 0), s.on(display, 0))
	c, _ := s.tracker()
	triangle(c)
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

// before returns a drawing of a head before the screen, its eyes at the origin, with the
// tracking volume if that is asked for.
func before(v view, volume bool) (*drawing, screen) {
	s := screen{v: v, c: at(560, -70), turned: 12}
	if v == above {
		s = screen{v: v, c: at(560, 0)}
	}
	return s.viewed(volume), s
}

// viewed returns a drawing of the screen with a head before it, as [before] does.
func (s screen) viewed(volume bool) *drawing {
	d := &drawing{shows: "A head before the screen, " + string(s.v)}
	if volume {
		d.shows = "A head before the screen with the tracking volume, " + string(s.v)
		c, dir := s.tracker()
		corner := func(depth, side float64) r2.Vec {
			return r2.Add(r2.Add(c, way(depth, dir)), way(depth*math.Tan(half(s.v)*math.Pi/180)*side, dir+90))
		}
		d.outline(zoneStyle, corner(trackerNear, -1), corner(trackerFar, -1), corner(trackerFar, 1), corner(trackerNear, 1))
	}
	if s.v == above {
		d.headAbove(r2.Vec{}, 0)
	} else {
		d.headSide(personStyle, r2.Vec{}, 0)
	}
	d.device(s)
	return d
}

// face returns a drawing of the screen as the viewer sees it.
func face(turned float64) (*drawing, screen) {
	d := &drawing{shows: "A screen as the viewer sees it, the display area within its housing"}
	s := screen{v: front, turned: turned}
	d.device(s)
	return d, s
}

// profile returns a drawing of the screen from the side.
func profile() (*drawing, screen) {
	d := &drawing{shows: "A screen from the side, its face to the left, the tracker below it"}
	s := screen{v: side, inFront: 45}
	d.device(s)
	return d, s
}

// rail returns a drawing of a clamp on its rail, with a post turned from upright
// (degrees); the rail is seen along or end-on.
func rail(shows string, endOn bool, turned float64) *drawing {
	d := &drawing{shows: shows}
	length := 340.0
	if endOn {
		length = 30
	}
	clamp := func() { d.box(solidStyle, r2.Vec{}, at(60, 68), turned) }
	if !endOn {
		d.box(chairStyle, r2.Vec{}, at(length, 30), 0)
	}
	d.box(darkStyle, turn(at(0, 75), r2.Vec{}, turned), at(22, 270), turned)
	clamp()
	if endOn {
		d.box(chairStyle, r2.Vec{}, at(length, 30), 0)
	}
	return d
}
