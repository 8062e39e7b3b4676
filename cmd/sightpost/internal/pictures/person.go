package pictures

import "gonum.org/v1/gonum/spatial/r2"

// sitting are the pictures of the whole person.
func sitting() table {
	slumped, aside := posture{back: 100, slump: 150}, posture{back: 100, lateral: 28}
	t := table{}
	t.point("measured.eyes", point{forward: eyesSide.X, up: eyesSide.Y}, func(view) mark { return group() })
	t["measured.eyes.left"] = []mark{seated(front, aside), from(origin, aside.eyes(front))}
	t["measured.seat_tilt"] = []mark{
		seated(side, posture{tilt: 25, back: 100}),
		angle(turn(r2.Add(junction, at(0, -18)), tiltPivot, 25), 620, 0, 25),
	}
	t["measured.back_angle"] = []mark{
		seated(side, posture{back: 110}),
		line(referStyle, r2.Add(junction, way(640, 0)), junction, r2.Add(junction, way(640, 110))),
		arc(junction, 330, 0, 110),
	}
	t["postures.slump"] = []mark{
		seated(side, slumped),
		headSide(ghostStyle, eyesSide, 0),
		span(r2.Add(eyesSide, at(120, 0)), r2.Add(slumped.eyes(side), at(120, 0))),
	}
	return t
}

// heads are the pictures of head and eyes.
func heads() table {
	c := neck.in(side)
	lens := at(26, 24) // top of a lens of glasses
	near := screen{v: side, c: at(200, -10), turned: 12}
	return table{
		"measured.head.flexion":         {head(side, 25), angle(c, 240, 90, 65)},
		"measured.head.rotation":        {head(above, 30), angle(neck.in(above), 240, 0, 30)},
		"measured.head.lateral_flexion": {head(front, 22), angle(neck.in(front), 240, 90, 68)},
		"person.pupil_spacing":          {head(front, 0), level(at(-32, 0), at(32, 0), 60)},
		"person.neck_to_eyes.forward":   {head(side, 0), ring(c), over(c, origin, 30)},
		"person.neck_to_eyes.up":        {head(side, 0), ring(c), beside(c, origin, 50)},
		"person.rest_gaze.down":         {head(side, 0), angle(origin, 210, 0, -20)},
		"person.rest_gaze.left":         {head(above, 0), angle(origin, 210, 0, 20)},
		"person.gaze_range.left":        {head(above, 0), angle(origin, 210, 0, 35)},
		"person.gaze_range.right":       {head(above, 0), angle(origin, 210, 0, -35)},
		"person.gaze_range.up":          {head(side, 0), angle(origin, 210, 0, 25)},
		"person.gaze_range.down":        {head(side, 0), angle(origin, 210, 0, -35)},
		"person.movement.forward":       {head(side, 0), moved(side, at(70, 0)), over(origin, at(70, 0), 40)},
		"person.movement.left":          {head(front, 0), moved(front, at(70, 0)), over(origin, at(70, 0), 40)},
		"person.movement.up":            {head(side, 0), moved(side, at(0, 70)), beside(origin, at(0, 70), 40)},
		"person.glasses.lens_slant": {
			head(side, 0),
			line(glassStyle, lens, r2.Add(lens, way(62, -110))),
			line(thinStyle, lens, r2.Add(lens, at(-110, 0))),
			angle(lens, 150, -90, -110),
		},
		"body.face.breadth":    {head(front, 0), over(at(-76, 8), at(76, 8), 30)},
		"body.face.length":     {head(side, 0), over(at(-186, 8), origin, 30)},
		"body.face.above_eyes": {head(side, 0), beside(origin, at(-88, 120), 50)},
		"body.face.below_eyes": {head(side, 0), beside(origin, at(-20, -104), 50)},
		"body.face.clearance":  {head(side, 0), near.draw(), span(origin, at(near.on(10, 0).X, 0))},
	}
}

// moved draws the outlines of a head that is moved there, and back by as much.
func moved(v view, by r2.Vec) mark {
	return both(func(sign float64) mark {
		c := r2.Scale(-sign, by)
		if v == side {
			return headSide(ghostStyle, c, 0)
		}
		return oval(ghostStyle, r2.Add(c, at(0, 8)), 76, 112, 0)
	})
}

// bodies are the pictures of trunk and thighs.
func bodies() table {
	fromSide := seated(side, asMeasured)
	hip, aside := at(-40, 500), way(190, 190)
	shoulder := r2.Add(hip, way(490, 100))
	trunk, thighs := screen{v: side, c: at(430, 900), turned: 12}, screen{v: side, c: at(420, 920), turned: 12}
	return table{
		"body.trunk.breadth":    {seated(front, asMeasured), over(at(-202, 955), at(202, 955), 60)},
		"body.trunk.depth":      {fromSide, over(at(-32, 680), at(200, 680), 60)},
		"body.trunk.height":     {fromSide, offset(hip, shoulder, r2.Add(hip, aside), r2.Add(shoulder, aside))},
		"body.trunk.clearance":  {fromSide, trunk.draw(), span(at(150, 900), trunk.c)},
		"body.thighs.thickness": {fromSide, beside(at(440, 500), at(440, 638), 60)},
		"body.thighs.length":    {fromSide, level(junction, at(573, 565), 260)},
		"body.thighs.spacing":   {seated(above, asMeasured), beside(at(460, -105), at(460, 105), 60)},
		"body.thighs.clearance": {fromSide, thighs.draw(), beside(at(440, 638), thighs.on(housingUnder, -25), 60)},
	}
}
