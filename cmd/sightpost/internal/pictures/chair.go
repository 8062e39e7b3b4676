package pictures

import "gonum.org/v1/gonum/spatial/r2"

// chairs are the pictures of the chair and of what is on it.
func chairs() pictures {
	sized := map[string]string{"size.forward": "length", "size.left": "width", "size.up": "thickness", "clearance": "clearance"}
	p := adder{
		"chair.seat_height": func() *drawing { return seated(side, upright()).beside(r2.Vec{}, junction, -60) },
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
		p[key+".up"] = func() *drawing { return seated(side, upright()).ring(c).beside(at(c.X, 0), c, -60) }
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

// zones are the pictures of keep-clear zones and of what chair and mount must pass.
func zones() pictures {
	loose := solid{c: at(420, 760), size: at(330, 140), left: 170, width: 200}
	p := adder{
		"keep_clear.box.rotation": func() *drawing {
			return (&drawing{shows: "A box to keep clear, from above, forward to the right"}).
				box(chairStyle, r2.Vec{}, at(330, 200), 25).
				angle(r2.Vec{}, 200, 0, 25)
		},
		"keep_clear.capsule.radius": func() *drawing {
			return (&drawing{shows: "A rod with round ends and its center line"}).
				bar(chairStyle, r2.Vec{}, at(330, 0), 90).
				line(referStyle, r2.Vec{}, at(330, 0)).
				span(at(165, 0), at(165, 90))
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
			return (&drawing{shows: "A clamp with its post, from above, forward to the right"}).
				box(solidStyle, r2.Vec{}, at(80, 52), 30).
				circle(darkStyle, r2.Vec{}, 14).
				angle(r2.Vec{}, 130, 0, 30)
		},
		"mount.clamp.tilt": func() *drawing {
			return rail("A clamp on its rail with a post, from the side, forward to the right", false, 20).
				angle(r2.Vec{}, 150, 90, 110)
		},
		"mount.clamp.roll": func() *drawing {
			return rail("A clamp on a rail that is seen end-on, with a post, from behind the person", true, 20).
				angle(r2.Vec{}, 150, 90, 110)
		},
		"mount.clamp.slides": func() *drawing {
			return rail("A clamp on its rail with a post, from the side", false, 0).level(at(-110, 30), at(110, 30), -85)
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
