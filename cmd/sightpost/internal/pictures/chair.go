package pictures

import "gonum.org/v1/gonum/spatial/r2"

// chairs are the pictures of the chair and of what is on it.
func chairs() table {
	floorArea := group(seated(above, asMeasured), box(areaStyle, at(307.5, 0), at(1215, 660), 0))
	lengthwise := func(x float64) []mark {
		return []mark{
			floorArea,
			line(referStyle, at(0, -330), at(0, 420)),
			line(thinStyle, at(x, 330), at(x, 400)),
			span(at(0, 400), at(x, 400)),
		}
	}
	caster, wheel := at(420, 70), at(-90, 150) // their axles; they are as high
	wheels := group(oval(solidStyle, caster, caster.Y, caster.Y, 0), oval(solidStyle, wheel, wheel.Y, wheel.Y, 0))
	t := table{
		"chair.stability.front_wheels": {wheels, seated(side, asMeasured), shows(", on wheels"), from(junction, at(caster.X, 0))},
		"chair.stability.rear_wheels":  {wheels, seated(side, asMeasured), shows(", on wheels"), from(junction, at(wheel.X, 0))},
		"chair.stability.track": {
			both(func(x float64) mark { return box(solidStyle, at(240*x, 150), at(40, 300), 0) }),
			seated(front, asMeasured), shows(", on wheels"),
			level(at(-240, 0), at(240, 0), -60),
		},
		"chair.seat_height": {seated(side, asMeasured), beside(origin, junction, -60)},
		"chair.size.width":  {floorArea, upright(at(915, -330), at(915, 330), 985)},
		"chair.size.behind": lengthwise(-300),
		"chair.size.ahead":  lengthwise(915),
	}
	for key, c := range map[string]r2.Vec{"chair.tilt_pivot": tiltPivot, "chair.back_hinge": at(-50, 530)} {
		t[key+".forward"] = []mark{
			seated(side, asMeasured),
			ring(c),
			line(referStyle, junction, at(0, 180)),
			line(thinStyle, c, at(c.X, 240)),
			span(at(0, 240), at(c.X, 240)),
		}
		t[key+".up"] = []mark{seated(side, asMeasured), ring(c), beside(at(c.X, 0), c, -60)}
	}
	arm := solid{c: point{230, 255, 755}, size: point{340, 70, 50}, mirrored: true}
	tray := solid{c: point{460, 0, 800}, size: point{400, 600, 40}}
	stick := solid{c: point{430, 255, 820}, size: point{130, 100, 150}}
	arm.add(t, "chair.armrests", same("spacing", "top", "back", "front", "width", "thickness", "clearance"))
	tray.add(t, "chair.tray", same("width", "back", "front", "top", "thickness", "clearance"))
	stick.add(t, "chair.joystick", map[string]string{
		"size.forward": "length", "size.left": "width", "size.up": "thickness", "clearance": "clearance",
	})
	t.point("chair.joystick.at", stick.c, stick.marked)
	return t
}

// zones are the pictures of keep-clear zones and of what chair and mount must pass.
func zones() table {
	floor := group(seated(above, asMeasured), shows(", on a clear floor space"), box(areaStyle, at(290, 0), at(1420, 880), 0))
	t := table{
		"keep_clear.box.rotation": {
			shows("A box to keep clear, from above, forward to the right"),
			box(chairStyle, origin, at(330, 200), 25),
			angle(origin, 200, 0, 25),
		},
		"keep_clear.capsule.radius": {
			shows("A rod with round ends and its center line"),
			bar(chairStyle, origin, at(330, 0), 90),
			line(referStyle, origin, at(330, 0)),
			span(at(165, 0), at(165, 90)),
		},
		"passage.doorway": {
			seated(above, asMeasured),
			shows(", before a doorway"),
			box(solidStyle, at(1130, 550), at(100, 260), 0),
			box(solidStyle, at(1130, -550), at(100, 260), 0),
			span(at(1130, -420), at(1130, 420)),
		},
		"passage.ground_clearance": {
			seated(side, asMeasured),
			shows(", the post of a mount above the floor"),
			bar(solidStyle, at(330, 60), at(330, 640), 19),
			upright(at(330, 0), at(330, 60), 420),
		},
		"passage.clear_floor.width":  {floor, upright(at(1000, -440), at(1000, 440), 1080)},
		"passage.clear_floor.length": {floor, level(at(-420, -440), at(1000, -440), -520)},
	}
	loose := solid{c: point{420, 170, 760}, size: point{330, 200, 140}}
	loose.add(t, "keep_clear", same("clearance"))
	t.point("keep_clear.box.middle", loose.c, loose.marked)
	// The box in parallel projection: where its three edges lead on paper.
	x, y, z := at(270, -80), at(115, 70), at(0, 127)
	xz := r2.Add(x, z)
	drawn := group(
		shows("A box to keep clear, in parallel projection, its front to the right"),
		outline(chairStyle, origin, x, r2.Add(x, y), r2.Add(r2.Add(x, y), z), r2.Add(y, z), z),
		line(edgeStyle, z, xz, r2.Add(xz, y)),
		line(edgeStyle, x, xz),
	)
	size := func(key string, from, edge, out r2.Vec) {
		to := r2.Add(from, edge)
		t["keep_clear.box.size."+key] = []mark{drawn, offset(from, to, r2.Add(from, out), r2.Add(to, out))}
	}
	size("forward", origin, x, at(0, -45))
	size("left", x, y, at(0, -45))
	size("up", origin, z, at(-45, 13))
	a, b := point{230, 130, 700}, point{560, 240, 860}
	rod := func(v view) mark {
		return group(bar(solidStyle, a.in(v), b.in(v), 55), line(referStyle, a.in(v), b.in(v)), cross(a.in(v)), cross(b.in(v)))
	}
	t.point("keep_clear.capsule.from", a, rod)
	t.point("keep_clear.capsule.to", b, rod)
	return t
}

// clamps are the pictures of the clamp.
func clamps() table {
	turned := angle(origin, 150, 90, 110)
	rail := box(chairStyle, origin, at(340, 30), 0)
	post := func(tilted float64) mark {
		return box(darkStyle, turn(at(0, 75), origin, tilted), at(22, 270), tilted)
	}
	clamp := func(tilted float64) mark { return box(solidStyle, origin, at(60, 68), tilted) }
	t := table{
		"mount.clamp.rotation": {
			shows("A clamp with its post, from above, forward to the right"),
			box(solidStyle, origin, at(80, 52), 30),
			oval(darkStyle, origin, 14, 14, 0),
			angle(origin, 130, 0, 30),
		},
		"mount.clamp.tilt": {
			shows("A clamp on its rail with a post, from the side, forward to the right"),
			rail, post(20), clamp(20), turned,
		},
		"mount.clamp.roll": {
			shows("A clamp on a rail that is seen end-on, with a post, from behind the person"),
			post(20), clamp(20), box(chairStyle, origin, at(30, 30), 0), turned,
		},
		"mount.clamp.slides": {
			shows("A clamp on its rail with a post, from the side"),
			rail, post(0), clamp(0), level(at(-110, 30), at(110, 30), -85),
		},
	}
	c := point{330, 260, 470}
	t.point("mount.clamp.at", c, func(v view) mark {
		return group(shows(", with a post in its clamp at the chair"),
			box(darkStyle, r2.Add(c.in(v), at(0, 165)), at(32, 510), 0), box(darkStyle, c.in(v), at(84, 84), 0))
	})
	// The tube that the clamp slides on, whose end is there.
	tube := func(from string, end r2.Vec) mark {
		return group(shows("The tube that the clamp slides on, "+from+", forward to the right"),
			bar(chairStyle, r2.Scale(-0.2, end), r2.Scale(1.2, end), 14), dot(origin), dot(end))
	}
	ahead, aside := at(300, 130), at(300, 110)
	t["mount.clamp.along.forward"] = []mark{tube("from the side", ahead), level(origin, ahead, -70)}
	t["mount.clamp.along.left"] = []mark{tube("from above", aside), upright(origin, aside, 390)}
	t["mount.clamp.along.up"] = []mark{tube("from the side", ahead), upright(origin, ahead, 390)}
	return t
}
