package pictures

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

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
		"screen.housing.width":  seen(func(d *drawing, _ screen) { d.over(at(-housingX, high), at(housingX, high), 35) }),
		"screen.housing.height": seen(func(d *drawing, _ screen) { d.beside(at(housingX, low), at(housingX, high), 35) }),
		"screen.housing.depth":  inProfile(func(d *drawing, s screen) { d.over(s.on(high, 0), s.on(high, -housingDepth), 35) }),
		"screen.housing.below": seen(func(d *drawing, _ screen) {
			d.line(referStyle, at(-housingX, 0), at(housingX, 0))
			d.beside(r2.Vec{}, at(0, -housingBelow), 35)
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
			d.beside(s.c, c, -30)
		}),
		"tracker.in_front": inProfile(func(d *drawing, s screen) {
			c, _ := s.tracker()
			d.over(s.on(low, 0), c, -35)
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
	line := func(v view, c r2.Vec, turned float64) func() *drawing {
		return func() *drawing {
			d := screen{v: v, c: c, turned: turned}.viewed(false)
			d.line(referStyle, r2.Vec{}, at(c.X+60, 0))
			d.line(thinStyle, r2.Vec{}, c)
			d.arc(r2.Vec{}, 330, 0, direction(c))
			return d
		}
	}
	facing := func(v view) func() *drawing {
		return func() *drawing {
			s := screen{v: v, c: at(500, 0), turned: 28}
			d := s.viewed(false)
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
