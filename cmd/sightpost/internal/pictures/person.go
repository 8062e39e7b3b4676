package pictures

import "gonum.org/v1/gonum/spatial/r2"

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
			return seated(side, posture{back: 110}).
				line(referStyle, r2.Add(junction, way(640, 0)), junction, r2.Add(junction, way(640, 110))).
				arc(junction, 330, 0, 110)
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
		return func() *drawing { return head(v, 0).angle(r2.Vec{}, 210, 0, to) }
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
				d.over(r2.Vec{}, by, 40)
			} else {
				d.beside(r2.Vec{}, by, 40)
			}
			return d
		}
	}
	return pictures{
		"measured.head.flexion":         bent(side, 25, 90, 65),
		"measured.head.rotation":        bent(above, 30, 0, 30),
		"measured.head.lateral_flexion": bent(front, 22, 90, 68),
		"person.pupil_spacing":          func() *drawing { return head(front, 0).level(at(-32, 0), at(32, 0), 60) },
		"person.neck_to_eyes.forward":   func() *drawing { return head(side, 0).ring(neckAt).over(neckAt, r2.Vec{}, 30) },
		"person.neck_to_eyes.up":        func() *drawing { return head(side, 0).ring(neckAt).beside(neckAt, r2.Vec{}, 50) },
		"person.rest_gaze.down":         gaze(side, -20),
		"person.rest_gaze.left":         gaze(above, 20),
		"person.gaze_range.left":        gaze(above, 35),
		"person.gaze_range.right":       gaze(above, -35),
		"person.gaze_range.up":          gaze(side, 25),
		"person.gaze_range.down":        gaze(side, -35),
		"person.movement.forward":       moved(side, at(70, 0)),
		"person.movement.left":          moved(front, at(70, 0)),
		"person.movement.up":            moved(side, at(0, 70)),
		"person.glasses.lens_slant": func() *drawing {
			d := head(side, 0)
			const slant = 20
			top := at(26, 24)
			d.line(glassStyle, top, r2.Add(top, way(62, -90-slant)))
			d.line(thinStyle, top, r2.Add(top, at(-110, 0)))
			d.angle(top, 150, -90, -90-slant)
			return d
		},
		"body.face.breadth":    func() *drawing { return head(front, 0).over(at(-76, 8), at(76, 8), 30) },
		"body.face.length":     func() *drawing { return head(side, 0).over(at(-186, 8), r2.Vec{}, 30) },
		"body.face.above_eyes": func() *drawing { return head(side, 0).beside(r2.Vec{}, at(-88, 120), 50) },
		"body.face.below_eyes": func() *drawing { return head(side, 0).beside(r2.Vec{}, at(-20, -104), 50) },
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
		"body.trunk.breadth": lying(front, func(d *drawing) { d.over(at(-202, 955), at(202, 955), 60) }),
		"body.trunk.depth":   lying(side, func(d *drawing) { d.over(at(-32, 680), at(200, 680), 60) }),
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
		"body.thighs.thickness": lying(side, func(d *drawing) { d.beside(at(440, 500), at(440, 638), 60) }),
		"body.thighs.length":    lying(side, func(d *drawing) { d.level(junction, at(573, 565), 260) }),
		"body.thighs.spacing":   lying(above, func(d *drawing) { d.beside(at(460, -105), at(460, 105), 60) }),
		"body.thighs.clearance": lying(side, func(d *drawing) {
			s := screen{v: side, c: at(420, 920), turned: 12}
			d.device(s)
			d.beside(at(440, 638), s.on(-housingBelow-housingY, -25), 60)
		}),
	}
}
