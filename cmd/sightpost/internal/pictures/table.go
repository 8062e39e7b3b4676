package pictures

import (
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"sightpost/cmd/sightpost/internal/casefile"
)

// SVG returns the picture of how an entry of a case is measured, with its how-to as the
// caption; false if it has none.
func SVG(e casefile.Entry) (svg []byte, ok bool) {
	draw := table()[e.Picture]
	if draw == nil {
		return nil, false
	}
	return draw().svg(strings.TrimSuffix(e.HowTo, ".") + "."), true
}

// table returns what draws the picture of each entry.
func table() map[string]func() *drawing {
	all := map[string]func() *drawing{}
	for _, of := range []map[string]func() *drawing{sitting(), heads(), bodies(), chairs(), screens(), sights(), zones(), clamps()} {
		for key, draw := range of {
			all[key] = draw
		}
	}
	return all
}

// pictures are what draws the pictures of some entries.
type pictures = map[string]func() *drawing

// axis is a direction in which a place is measured.
type axis int

const (
	forward axis = iota
	left
	up
)

// point adds the pictures of the three coordinates of a point on or about the chair: of
// where it is in the view from the side and from ahead, and what else is drawn there.
func (p adder) point(key string, c point, draw func(d *drawing, v view)) {
	for name, a := range map[string]axis{"forward": forward, "left": left, "up": up} {
		p[key+"."+name] = func() *drawing {
			v, pose, place := side, upright(), c.side
			if a == left {
				v, place = front, c.front
			}
			if a == left && key == "measured.eyes" {
				pose.lateral = 28
				place = pose.eyes(front)
			}
			d := seated(v, pose)
			if draw != nil {
				draw(d, v)
			}
			switch a {
			case forward:
				d.from(junction.X, junction.Y, place)
			case left:
				d.from(0, 0, place)
			case up:
				d.upright(at(place.X, 0), place, d.top.X+70)
			}
			return d
		}
	}
}

// adder is pictures that are being added to.
type adder pictures

// point is a place in the views from the side and from ahead.
type point struct{ side, front r2.Vec }

// sitting are the pictures of the whole person.
func sitting() pictures {
	p := adder{
		"measured.seat_tilt": func() *drawing {
			pose := upright()
			pose.tilt = 25
			d := seated(side, pose)
			d.angle(turn(r2.Add(junction, at(0, -18)), tiltPivot, 25), 620, 0, 25)
			return d
		},
		"measured.back_angle": func() *drawing {
			d := seated(side, posture{back: 110})
			d.line(referStyle, r2.Add(junction, way(640, 0)), junction, r2.Add(junction, way(640, 110)))
			d.arc(junction, 330, 0, 110)
			return d
		},
		"postures.slump": func() *drawing {
			d := seated(side, posture{back: 100, slump: 150})
			was, is := eyesSide, posture{back: 100, slump: 150}.eyes(side)
			d.headSide(ghostStyle, was, 0)
			d.span(r2.Add(was, at(120, 0)), r2.Add(is, at(120, 0)))
			return d
		},
	}
	p.point("measured.eyes", point{side: eyesSide}, nil)
	return pictures(p)
}

// heads are the pictures of head and eyes.
func heads() pictures {
	bent := func(v view, degrees, from, to float64) func() *drawing {
		return func() *drawing {
			d := head(v, degrees)
			c := neckAt
			if v != side {
				c = map[view]r2.Vec{front: at(0, neckAt.Y), above: at(neckAt.X, 0)}[v]
			}
			d.angle(c, 240, from, to)
			return d
		}
	}
	gaze := func(v view, to float64) func() *drawing {
		return func() *drawing {
			d := head(v, 0)
			d.angle(r2.Vec{}, 210, 0, to)
			return d
		}
	}
	moved := func(v view, by r2.Vec) func() *drawing {
		return func() *drawing {
			d := head(v, 0)
			for _, sign := range []float64{1, -1} {
				if c := r2.Scale(sign, by); v == side {
					d.headSide(ghostStyle, c, 0)
				} else {
					d.oval(ghostStyle, r2.Add(c, at(0, 8)), 76, 112, 0)
				}
			}
			if by.X != 0 {
				d.level(r2.Vec{}, by, d.top.Y+40)
			} else {
				d.upright(r2.Vec{}, by, d.top.X+40)
			}
			return d
		}
	}
	return pictures{
		"measured.head.flexion":         bent(side, 25, 90, 65),
		"measured.head.rotation":        bent(above, 30, 0, 30),
		"measured.head.lateral_flexion": bent(front, 22, 90, 68),
		"person.pupil_spacing": func() *drawing {
			d := head(front, 0)
			d.level(at(-32, 0), at(32, 0), 60)
			return d
		},
		"person.neck_to_eyes.forward": func() *drawing {
			d := head(side, 0)
			d.ring(neckAt)
			d.level(neckAt, r2.Vec{}, d.top.Y+30)
			return d
		},
		"person.neck_to_eyes.up": func() *drawing {
			d := head(side, 0)
			d.ring(neckAt)
			d.upright(neckAt, r2.Vec{}, d.top.X+50)
			return d
		},
		"person.rest_gaze.down":   gaze(side, -20),
		"person.rest_gaze.left":   gaze(above, 20),
		"person.gaze_range.left":  gaze(above, 35),
		"person.gaze_range.right": gaze(above, -35),
		"person.gaze_range.up":    gaze(side, 25),
		"person.gaze_range.down":  gaze(side, -35),
		"person.movement.forward": moved(side, at(70, 0)),
		"person.movement.left":    moved(front, at(70, 0)),
		"person.movement.up":      moved(side, at(0, 70)),
		"person.glasses.lens_slant": func() *drawing {
			d := head(side, 0)
			const slant = 20
			top := at(26, 24)
			d.line(glassStyle, top, r2.Add(top, way(62, -90-slant)))
			d.line(thinStyle, top, r2.Add(top, at(-110, 0)))
			d.angle(top, 150, -90, -90-slant)
			return d
		},
		"body.face.breadth": func() *drawing {
			d := head(front, 0)
			d.level(at(-76, 8), at(76, 8), d.top.Y+30)
			return d
		},
		"body.face.length": func() *drawing {
			d := head(side, 0)
			d.level(at(-186, 8), r2.Vec{}, d.top.Y+30)
			return d
		},
		"body.face.above_eyes": func() *drawing {
			d := head(side, 0)
			d.upright(r2.Vec{}, at(-88, 120), d.top.X+50)
			return d
		},
		"body.face.below_eyes": func() *drawing {
			d := head(side, 0)
			d.upright(r2.Vec{}, at(-20, -104), d.top.X+50)
			return d
		},
		"body.face.clearance": func() *drawing {
			d := head(side, 0)
			s := screen{v: side, c: at(200, -10), turned: 12}
			d.device(s)
			d.span(r2.Vec{}, at(s.on(10, 0).X, 0))
			return d
		},
	}
}

// bodies are the pictures of trunk and thighs.
func bodies() pictures {
	lying := func(v view, draw func(d *drawing)) func() *drawing {
		return func() *drawing {
			d := seated(v, upright())
			draw(d)
			return d
		}
	}
	return pictures{
		"body.trunk.breadth": lying(front, func(d *drawing) { d.level(at(-202, 955), at(202, 955), d.top.Y+60) }),
		"body.trunk.depth":   lying(side, func(d *drawing) { d.level(at(-32, 680), at(200, 680), d.top.Y+60) }),
		"body.trunk.height": lying(side, func(d *drawing) {
			from := at(-40, 500)
			aside, along := way(190, 190), way(490, 100)
			d.line(thinStyle, from, r2.Add(from, aside))
			d.line(thinStyle, r2.Add(from, along), r2.Add(r2.Add(from, along), aside))
			d.span(r2.Add(from, aside), r2.Add(r2.Add(from, along), aside))
		}),
		"body.trunk.clearance": lying(side, func(d *drawing) {
			s := screen{v: side, c: at(430, 900), turned: 12}
			d.device(s)
			d.span(at(150, 900), s.c)
		}),
		"body.thighs.thickness": lying(side, func(d *drawing) { d.upright(at(440, 500), at(440, 638), d.top.X+60) }),
		"body.thighs.length":    lying(side, func(d *drawing) { d.level(junction, at(573, 565), 260) }),
		"body.thighs.spacing":   lying(above, func(d *drawing) { d.upright(at(460, -105), at(460, 105), d.top.X+60) }),
		"body.thighs.clearance": lying(side, func(d *drawing) {
			s := screen{v: side, c: at(420, 920), turned: 12}
			d.device(s)
			d.upright(at(440, 638), s.on(-housingBelow-housingY, -25), d.top.X+60)
		}),
	}
}

// solid is a box on the chair, by its middle and size from the side (forward and up) and
// how far left its middle is and how wide it is; it may have a mirror image.
type solid struct {
	c, size     r2.Vec
	left, width float64
	mirrored    bool
}

// in draws the person with the box in a view.
func (b solid) in(v view) *drawing {
	d := seated(v, upright())
	b.draw(d, v)
	return d
}

func (b solid) draw(d *drawing, v view) {
	if v == side {
		d.box(solidStyle, b.c, b.size, 0)
		return
	}
	d.box(solidStyle, at(b.left, b.c.Y), at(b.width, b.size.Y), 0)
	if b.mirrored {
		d.box(solidStyle, at(-b.left, b.c.Y), at(b.width, b.size.Y), 0)
	}
}

// add adds the pictures of those dimensions of the box that an entry is named for.
func (b solid) add(to adder, key string, named map[string]string) {
	low, high := r2.Sub(b.c, r2.Scale(0.5, b.size)), r2.Add(b.c, r2.Scale(0.5, b.size))
	draws := map[string]func(d *drawing){
		"back":      func(d *drawing) { d.from(0, junction.Y, at(low.X, high.Y)) },
		"front":     func(d *drawing) { d.from(0, junction.Y, high) },
		"top":       func(d *drawing) { d.upright(at(high.X, 0), high, d.top.X+70) },
		"thickness": func(d *drawing) { d.upright(at(high.X, low.Y), high, d.top.X+70) },
		"length":    func(d *drawing) { d.level(at(low.X, high.Y), high, high.Y+170) },
		"width":     func(d *drawing) { d.level(at(b.left-b.width/2, high.Y), at(b.left+b.width/2, high.Y), high.Y+130) },
		"spacing":   func(d *drawing) { d.level(at(-b.left, b.c.Y), at(b.left, b.c.Y), b.c.Y+130) },
		"clearance": func(d *drawing) {
			s := screen{v: side, c: r2.Add(high, at(40, 285)), turned: 12}
			d.device(s)
			d.upright(high, s.on(-housingBelow-housingY, -housingDepth), d.top.X+70)
		},
	}
	for entry, dimension := range named {
		v := side
		if dimension == "width" || dimension == "spacing" {
			v = front
		}
		to[key+"."+entry] = func() *drawing {
			d := b.in(v)
			draws[dimension](d)
			return d
		}
	}
}

// same names dimensions by themselves.
func same(keys ...string) map[string]string {
	named := map[string]string{}
	for _, k := range keys {
		named[k] = k
	}
	return named
}

// chairs are the pictures of the chair and of what is on it.
func chairs() pictures {
	sized := map[string]string{"size.forward": "length", "size.left": "width", "size.up": "thickness", "clearance": "clearance"}
	p := adder{
		"chair.seat_height": func() *drawing {
			d := seated(side, upright())
			d.upright(r2.Vec{}, junction, d.low.X-60)
			return d
		},
	}
	axes := map[string]r2.Vec{"chair.tilt_pivot": tiltPivot, "chair.back_hinge": at(-50, 530)}
	for key, c := range axes {
		p[key+".forward"] = func() *drawing {
			d := seated(side, upright())
			d.ring(c)
			d.line(referStyle, junction, at(0, 180))
			d.line(thinStyle, c, at(c.X, 240))
			d.span(at(0, 240), at(c.X, 240))
			return d
		}
		p[key+".up"] = func() *drawing {
			d := seated(side, upright())
			d.ring(c)
			d.upright(at(c.X, 0), c, d.low.X-60)
			return d
		}
	}
	floorArea := func(draw func(d *drawing)) func() *drawing {
		return func() *drawing {
			d := seated(above, upright())
			d.box(areaStyle, at(307.5, 0), at(1215, 660), 0)
			draw(d)
			return d
		}
	}
	lengthwise := func(x float64) func(d *drawing) {
		return func(d *drawing) {
			d.line(referStyle, at(0, -330), at(0, 420))
			d.line(thinStyle, at(x, 330), at(x, 400))
			d.span(at(0, 400), at(x, 400))
		}
	}
	p["chair.size.width"] = floorArea(func(d *drawing) { d.upright(at(915, -330), at(915, 330), 985) })
	p["chair.size.behind"], p["chair.size.ahead"] = floorArea(lengthwise(-300)), floorArea(lengthwise(915))
	arm := solid{c: at(230, 755), size: at(340, 50), left: 255, width: 70, mirrored: true}
	stick := solid{c: at(430, 820), size: at(130, 150), left: 255, width: 100}
	tray := solid{c: at(460, 800), size: at(400, 40), width: 600}
	arm.add(p, "chair.armrests", same("spacing", "top", "back", "front", "width", "thickness", "clearance"))
	tray.add(p, "chair.tray", same("width", "back", "front", "top", "thickness", "clearance"))
	stick.add(p, "chair.joystick", sized)
	p.point("chair.joystick.at", point{stick.c, at(stick.left, stick.c.Y)}, func(d *drawing, v view) {
		stick.draw(d, v)
		d.cross(map[view]r2.Vec{side: stick.c, front: at(stick.left, stick.c.Y)}[v])
	})
	return pictures(p)
}

// screens are the pictures of the screen alone.
func screens() pictures {
	seen := func(draw func(d *drawing, s screen)) func() *drawing {
		return func() *drawing {
			d, s := face(0)
			draw(d, s)
			return d
		}
	}
	used := func(draw func(d *drawing)) func() *drawing {
		return seen(func(d *drawing, _ screen) {
			d.outline(`fill="#d9d9d9" stroke="#404040" stroke-width=".9"`, at(-80, -23), at(105, -23), at(105, 60), at(-80, 60))
			draw(d)
		})
	}
	plate := func(draw func(d *drawing, middle, plate r2.Vec)) func() *drawing {
		return seen(func(d *drawing, _ screen) {
			middle := at(0, -housingBelow)
			c := r2.Add(middle, at(70, 50))
			d.box(referStyle, c, at(60, 60), 0)
			d.cross(middle)
			d.cross(c)
			draw(d, middle, c)
		})
	}
	targets := func(rows, columns int, gap float64, draw func(d *drawing, w, h float64)) func() *drawing {
		return seen(func(d *drawing, _ screen) {
			w, h := (2*displayX+gap)/float64(columns)-gap, (2*displayY+gap)/float64(rows)-gap
			for r := range rows {
				for c := range columns {
					d.box(chairStyle, at(-displayX+w/2+float64(c)*(w+gap), -displayY+h/2+float64(r)*(h+gap)), at(w, h), 0)
				}
			}
			draw(d, w, h)
		})
	}
	inProfile := func(draw func(d *drawing, s screen)) func() *drawing {
		return func() *drawing {
			d, s := profile()
			draw(d, s)
			return d
		}
	}
	low, high := -housingBelow-housingY, housingY-housingBelow
	return pictures{
		"screen.display.width":  seen(func(d *drawing, _ screen) { d.span(at(-displayX, displayY/3), at(displayX, displayY/3)) }),
		"screen.display.height": seen(func(d *drawing, _ screen) { d.span(at(0, -displayY), at(0, displayY)) }),
		"screen.housing.width":  seen(func(d *drawing, _ screen) { d.level(at(-housingX, high), at(housingX, high), d.top.Y+35) }),
		"screen.housing.height": seen(func(d *drawing, _ screen) { d.upright(at(housingX, low), at(housingX, high), d.top.X+35) }),
		"screen.housing.depth":  inProfile(func(d *drawing, s screen) { d.level(s.on(high, 0), s.on(high, -housingDepth), d.top.Y+35) }),
		"screen.housing.below": seen(func(d *drawing, _ screen) {
			d.line(referStyle, at(-housingX, 0), at(housingX, 0))
			d.upright(r2.Vec{}, at(0, -housingBelow), d.top.X+35)
		}),
		"screen.mass": seen(func(d *drawing, _ screen) {
			d.shows = "A screen with its tracker, standing on scales"
			d.outline(solidStyle, at(-190, low-18), at(190, low-18), at(190, low), at(-190, low))
			d.outline(chairStyle, at(-150, low-110), at(150, low-110), at(110, low-18), at(-110, low-18))
			d.circle(ringStyle, at(0, low-66), 34)
			d.line(glassStyle, at(0, low-66), at(18, low-46))
		}),
		"screen.used.left":      used(func(d *drawing) { d.span(at(-displayX, 18), at(-80, 18)) }),
		"screen.used.right":     used(func(d *drawing) { d.span(at(-displayX, 18), at(105, 18)) }),
		"screen.used.bottom":    used(func(d *drawing) { d.span(at(12, -displayY), at(12, -23)) }),
		"screen.used.top":       used(func(d *drawing) { d.span(at(12, -displayY), at(12, 60)) }),
		"screen.fixed_at.right": plate(func(d *drawing, a, b r2.Vec) { d.level(a, b, b.Y+50) }),
		"screen.fixed_at.up":    plate(func(d *drawing, a, b r2.Vec) { d.upright(a, b, b.X+60) }),
		"screen.grid.rows":      targets(3, 4, 12, func(d *drawing, w, _ float64) { d.span(at(-displayX+w/2, -displayY), at(-displayX+w/2, displayY)) }),
		"screen.grid.columns":   targets(3, 4, 12, func(d *drawing, _, h float64) { d.span(at(-displayX, displayY-h/2), at(displayX, displayY-h/2)) }),
		"screen.grid.gap":       targets(2, 3, 44, func(d *drawing, w, _ float64) { d.span(at(-displayX+w, 50), at(-displayX+w+44, 50)) }),
		"tracker.below": inProfile(func(d *drawing, s screen) {
			c, _ := s.tracker()
			d.upright(s.c, c, d.low.X-30)
		}),
		"tracker.in_front": inProfile(func(d *drawing, s screen) {
			c, _ := s.tracker()
			d.level(s.on(low, 0), c, d.low.Y-35)
		}),
		"tracker.aimed_up": inProfile(func(d *drawing, s screen) {
			c, dir := s.tracker()
			d.angle(c, 210, 180, dir)
		}),
		"preferences.ranges.roll": func() *drawing {
			d, s := face(18)
			d.angle(s.c, 200, 0, 18)
			return d
		},
	}
}

// sights are the pictures of a head before the screen.
func sights() pictures {
	depth := func(far float64) func() *drawing {
		return func() *drawing {
			d, s := before(side, true)
			c, dir := s.tracker()
			end, aside := r2.Add(c, way(far, dir)), way(far*math.Tan(halfUp*math.Pi/180), dir+90)
			d.line(thinStyle, r2.Add(end, aside), r2.Sub(end, aside))
			d.span(c, end)
			return d
		}
	}
	whole := func(v view) func() *drawing {
		return func() *drawing {
			d, s := before(v, true)
			c, dir := s.tracker()
			a := half(v)
			d.line(thinStyle, r2.Add(c, way(trackerNear, dir-a)), c, r2.Add(c, way(trackerNear, dir+a)))
			d.arc(c, 300, dir-a, dir+a)
			return d
		}
	}
	// at the eye, between the first of places and the last
	between := func(radius float64, places func(s screen) []r2.Vec) func() *drawing {
		return func() *drawing {
			d, s := before(side, true)
			all := places(s)
			for i, p := range all {
				look := thinStyle
				if i == 0 {
					look = referStyle
				}
				d.line(look, r2.Vec{}, p)
			}
			d.arc(r2.Vec{}, radius, direction(all[0]), direction(all[len(all)-1]))
			return d
		}
	}
	sight := func(v view, c r2.Vec, turned float64) (*drawing, screen) {
		d := &drawing{shows: "A head before the screen, " + string(v)}
		s := screen{v: v, c: c, turned: turned}
		if v == above {
			d.headAbove(r2.Vec{}, 0)
		} else {
			d.headSide(personStyle, r2.Vec{}, 0)
		}
		d.device(s)
		return d, s
	}
	line := func(v view, c r2.Vec, turned float64) func() *drawing {
		return func() *drawing {
			d, _ := sight(v, c, turned)
			d.line(referStyle, r2.Vec{}, at(c.X+60, 0))
			d.line(thinStyle, r2.Vec{}, c)
			d.arc(r2.Vec{}, 330, 0, direction(c))
			return d
		}
	}
	facing := func(v view) func() *drawing {
		return func() *drawing {
			d, s := sight(v, at(500, 0), 28)
			square := direction(r2.Sub(s.on(0, 1), s.c))
			if square < 0 {
				square += 360
			}
			d.line(referStyle, s.c, r2.Vec{})
			d.line(thinStyle, s.c, r2.Add(s.c, way(330, square)))
			d.arc(s.c, 280, 180, square)
			return d
		}
	}
	to := func(along ...float64) func(s screen) []r2.Vec {
		return func(s screen) (all []r2.Vec) {
			for _, y := range along {
				all = append(all, s.on(y, 0))
			}
			return all
		}
	}
	return pictures{
		"tracker.near": depth(trackerNear), "tracker.best": depth(trackerBest), "tracker.far": depth(trackerFar),
		"tracker.across": whole(above), "tracker.up_down": whole(side),
		"tracker.gaze_limit": between(350, func(s screen) []r2.Vec {
			c, _ := s.tracker()
			return []r2.Vec{c, s.on(displayY, 0)}
		}),
		"tracker.accuracy":  between(440, to(60, -20)),
		"tracker.precision": between(440, to(75, 45, 15, -10)),
		"preferences.margin": func() *drawing {
			d, _ := before(side, true)
			d.oval(ghostStyle, r2.Vec{}, 45, 35, 0)
			d.span(at(0, 35), at(0, 175))
			return d
		},
		"preferences.face_clearance": func() *drawing {
			d, s := before(side, false)
			d.span(r2.Vec{}, s.on(housingY-housingBelow-20, 0))
			return d
		},
		"preferences.ranges.distance": func() *drawing {
			d, s := before(side, false)
			d.span(r2.Vec{}, s.c)
			return d
		},
		"preferences.ranges.gaze_down":    line(side, at(500, -210), 12),
		"preferences.ranges.gaze_left":    line(above, at(500, 210), 0),
		"preferences.ranges.facing_up":    facing(side),
		"preferences.ranges.facing_right": facing(above),
	}
}

// zones are the pictures of keep-clear zones and of what chair and mount must pass.
func zones() pictures {
	loose := solid{c: at(420, 760), size: at(330, 140), left: 170, width: 200}
	p := adder{
		"keep_clear.box.rotation": func() *drawing {
			d := &drawing{shows: "A box to keep clear, from above, forward to the right"}
			d.box(chairStyle, r2.Vec{}, at(330, 200), 25)
			d.angle(r2.Vec{}, 200, 0, 25)
			return d
		},
		"keep_clear.capsule.radius": func() *drawing {
			d := &drawing{shows: "A rod with round ends and its center line"}
			d.bar(chairStyle, r2.Vec{}, at(330, 0), 90)
			d.line(referStyle, r2.Vec{}, at(330, 0))
			d.span(at(165, 0), at(165, 90))
			return d
		},
		"passage.doorway": func() *drawing {
			d := seated(above, upright())
			d.shows += ", before a doorway"
			d.box(solidStyle, at(1130, 550), at(100, 260), 0)
			d.box(solidStyle, at(1130, -550), at(100, 260), 0)
			d.span(at(1130, -420), at(1130, 420))
			return d
		},
	}
	loose.add(p, "keep_clear", same("clearance"))
	p.point("keep_clear.box.middle", point{loose.c, at(loose.left, loose.c.Y)}, func(d *drawing, v view) {
		loose.draw(d, v)
		d.cross(map[view]r2.Vec{side: loose.c, front: at(loose.left, loose.c.Y)}[v])
	})
	// The box in parallel projection: where its three edges lead on paper.
	edges := map[string]r2.Vec{"forward": at(270, -80), "left": at(115, 70), "up": at(0, 127)}
	for key, edge := range edges {
		p["keep_clear.box.size."+key] = func() *drawing {
			d := &drawing{shows: "A box to keep clear, in parallel projection, its front to the right"}
			x, y, z := edges["forward"], edges["left"], edges["up"]
			xz := r2.Add(x, z)
			d.outline(chairStyle, r2.Vec{}, x, r2.Add(x, y), r2.Add(r2.Add(x, y), z), r2.Add(y, z), z)
			d.line(`fill="none" stroke="#737373" stroke-width=".8"`, z, xz, r2.Add(xz, y))
			d.line(`fill="none" stroke="#737373" stroke-width=".8"`, x, xz)
			from, out := r2.Vec{}, at(0, -45)
			switch key {
			case "left":
				from = x
			case "up":
				out = at(-45, 13)
			}
			d.line(thinStyle, from, r2.Add(from, out))
			d.line(thinStyle, r2.Add(from, edge), r2.Add(r2.Add(from, edge), out))
			d.span(r2.Add(from, out), r2.Add(r2.Add(from, edge), out))
			return d
		}
	}
	ends := [2]point{{at(230, 700), at(130, 700)}, {at(560, 860), at(240, 860)}}
	for i, key := range []string{"from", "to"} {
		p.point("keep_clear.capsule."+key, ends[i], func(d *drawing, v view) {
			a, b := ends[0].side, ends[1].side
			if v == front {
				a, b = ends[0].front, ends[1].front
			}
			d.bar(solidStyle, a, b, 55)
			d.line(referStyle, a, b)
			d.cross(a)
			d.cross(b)
		})
	}
	floor := func(draw func(d *drawing)) func() *drawing {
		return func() *drawing {
			d := seated(above, upright())
			d.shows += ", on a clear floor space"
			d.box(areaStyle, at(290, 0), at(1420, 880), 0)
			draw(d)
			return d
		}
	}
	p["passage.clear_floor.width"] = floor(func(d *drawing) { d.upright(at(1000, -440), at(1000, 440), 1080) })
	p["passage.clear_floor.length"] = floor(func(d *drawing) { d.level(at(-420, -440), at(1000, -440), -520) })
	return pictures(p)
}

// clamps are the pictures of the clamp.
func clamps() pictures {
	p := adder{
		"mount.clamp.rotation": func() *drawing {
			d := &drawing{shows: "A clamp with its post, from above, forward to the right"}
			d.box(solidStyle, r2.Vec{}, at(80, 52), 30)
			d.circle(darkStyle, r2.Vec{}, 14)
			d.angle(r2.Vec{}, 130, 0, 30)
			return d
		},
		"mount.clamp.tilt": func() *drawing {
			d := rail("A clamp on its rail with a post, from the side, forward to the right", false, 20)
			d.angle(r2.Vec{}, 150, 90, 110)
			return d
		},
		"mount.clamp.roll": func() *drawing {
			d := rail("A clamp on a rail that is seen end-on, with a post, from behind the person", true, 20)
			d.angle(r2.Vec{}, 150, 90, 110)
			return d
		},
		"mount.clamp.slides": func() *drawing {
			d := rail("A clamp on its rail with a post, from the side", false, 0)
			d.level(at(-110, 30), at(110, 30), -85)
			return d
		},
	}
	c := point{at(330, 470), at(260, 470)}
	p.point("mount.clamp.at", c, func(d *drawing, v view) {
		d.shows += ", with a post in its clamp at the chair"
		foot := c.side
		if v == front {
			foot = c.front
		}
		d.box(darkStyle, r2.Add(foot, at(0, 165)), at(32, 510), 0)
		d.box(darkStyle, foot, at(84, 84), 0)
	})
	// The tube that the clamp slides on, from the side, and from above for "left".
	for key, end := range map[string]r2.Vec{"forward": at(300, 130), "left": at(300, 110), "up": at(300, 130)} {
		p["mount.clamp.along."+key] = func() *drawing {
			d := &drawing{shows: "The tube that the clamp slides on, from the side, forward to the right"}
			if key == "left" {
				d.shows = "The tube that the clamp slides on, from above, forward to the right"
			}
			d.bar(chairStyle, r2.Scale(-0.2, end), r2.Scale(1.2, end), 14)
			d.dot(r2.Vec{})
			d.dot(end)
			if key == "forward" {
				d.level(r2.Vec{}, end, -70)
			} else {
				d.upright(r2.Vec{}, end, end.X+90)
			}
			return d
		}
	}
	return pictures(p)
}
