package pictures

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// A tube is drawn by its middle line.
const (
	pipeEdge style = `fill="none" stroke="#404040" stroke-width="8.6"`
	pipeFill style = `fill="none" stroke="#d0d0d0" stroke-width="7"`
	lineMid  style = `fill="none" stroke="#000" stroke-width=".6" stroke-dasharray="6 2 1 2"`
	plateOf  style = `fill="none" stroke="#000" stroke-width="3"`
)

// pipe draws a tube along a line.
func pipe(points ...r2.Vec) mark { return group(line(pipeEdge, points...), line(pipeFill, points...)) }

// turns draws the round arrow about a place in the plus direction, from zero, which is
// dashed, on to an angle (degrees).
func turns(c r2.Vec, radius, from, to float64) mark {
	return group(line(referStyle, c, r2.Add(c, way(1.25*radius, from))), points(round(c, radius, from, to)...))
}

// points draws an arrow along a line with a head at its end alone.
func points(line ...r2.Vec) mark {
	return func(d *drawing) {
		d.grow(line...)
		n := len(line)
		d.stroke(line...)
		d.head(line[n-1], direction(r2.Sub(line[n-1], line[n-2])))
	}
}

// bent is a tube with two bends, which runs up and leads ahead, seen from the side.
type bent struct {
	line             []r2.Vec
	from, to, corner [2]r2.Vec // of each bend: where it begins and ends, and its corner
	far              r2.Vec
}

// Sizes of the bent tube, chosen to look right: length of its straights, radius and angle
// of its bends.
const (
	bentLow, bentMiddle, bentHigh = 220.0, 150.0, 110.0
	bentRadius, bentAngle         = 120.0, 55.0
)

// newBent returns it with its near end at the origin.
func newBent() bent {
	b := bent{line: []r2.Vec{origin}}
	at, dir := origin, 90.0
	on := func(mm float64) {
		at = r2.Add(at, way(mm, dir))
		b.line = append(b.line, at)
	}
	bend := func(i int, degrees float64) {
		const steps = 10
		b.from[i] = at
		b.corner[i] = r2.Add(at, way(bentRadius*math.Tan(bentAngle*math.Pi/360), dir))
		for range steps {
			dir += degrees / steps / 2
			on(2 * bentRadius * math.Sin(bentAngle/steps*math.Pi/360))
			dir += degrees / steps / 2
		}
		b.to[i] = at
	}
	on(bentLow)
	bend(0, -bentAngle)
	on(bentMiddle)
	bend(1, bentAngle)
	on(bentHigh)
	b.far = at
	return b
}

// draw draws the tube and its middle line.
func (b bent) draw() mark {
	return group(shows("A tube with two bends, from the side"), pipe(b.line...), line(lineMid, b.line...))
}

// along draws the arrow beside a part of a line, at a distance to its left.
func along(out float64, part ...r2.Vec) mark {
	beside := make([]r2.Vec, len(part))
	for i, v := range part {
		a, b := part[max(i-1, 0)], part[min(i+1, len(part)-1)]
		beside[i] = r2.Add(v, way(out, direction(r2.Sub(b, a))+90))
	}
	n := len(part) - 1
	return group(line(thinStyle, part[0], beside[0]), line(thinStyle, part[n], beside[n]), span(beside...))
}

// tubes are the pictures of a tube and its bends.
func tubes() table {
	b := newBent()
	center := r2.Add(b.from[0], at(bentRadius, 0))
	section := group(shows("The end of a tube"), oval(solidStyle, origin, 100, 100, 0), oval(ringStyle, origin, 76, 76, 0))
	inner := at(76, 0)
	rotated := group(shows("A bent tube, seen from its near end along the straight"),
		line(referStyle, origin, at(0, 190)), pipe(origin, way(170, 20)), oval(solidStyle, origin, 38, 38, 0))
	return table{
		"tube.outside":     {section, over(at(-100, 0), at(100, 0), 40)},
		"tube.wall":        {section, level(inner, at(100, 0), 130)},
		"tube.total":       {b.draw(), along(60, b.line...)},
		"tube.end":         {b.draw(), along(60, b.to[1], b.far)},
		"tube.bend_radius": {b.draw(), cross(center), span(center, r2.Add(center, way(bentRadius, 180-bentAngle/2)))},
		"bend.straight":    {b.draw(), along(60, b.to[0], b.from[1])},
		"bend.offset":      {b.draw(), line(referStyle, origin, at(0, b.far.Y)), over(at(0, b.far.Y), b.far, 70)},
		"bend.angle":       {b.draw(), angle(b.corner[0], 210, 90, 90-bentAngle)},
		"bend.rotation":    {rotated, turns(origin, 120, 90, 20)},
	}
}

// clampOn draws a clamp on a tube of the chair that is seen end-on, with the middle of it.
var clampOn = group(box(solidStyle, origin, at(90, 74), 0), oval(chairStyle, origin, 22, 22, 0), cross(origin))

// settings are the pictures of what can be set.
func settings() table {
	b := newBent()
	held := at(0, 110)
	post := group(shows("A bent post in its clamp, from the side"), pipe(b.line...),
		box(solidStyle, held, at(100, 74), 0), cross(held))
	holder := group(shows("An arm in what holds it, from the side, ahead to the right"), pipe(at(-90, 0), at(420, 0)),
		box(solidStyle, origin, at(74, 74), 0), cross(origin))
	fromAbove := func(what string, to float64) mark {
		return group(shows(what+", from above, ahead to the right"), pipe(origin, way(300, to)))
	}
	ofClamp := func(degrees float64) r2.Vec { return r2.Add(origin, way(110, degrees)) }
	index := group(shows("A clamp on a tube of the chair with its post in one of three positions, from above, ahead to the right"),
		pipe(at(-230, 0), at(230, 0)), box(solidStyle, origin, at(90, 90), 0),
		oval(ghostStyle, ofClamp(50), 26, 26, 0), oval(ghostStyle, ofClamp(130), 26, 26, 0), bar(solidStyle, origin, ofClamp(90), 12), oval(darkStyle, ofClamp(90), 26, 26, 0))
	elbow := func(up float64) mark {
		return group(shows("An elbow on its post with its arm, from the side, ahead to the right"),
			pipe(at(0, -260), at(0, -70)), pipe(way(60, up), way(330, up)),
			box(solidStyle, at(0, -40), at(56, 70), 0), bar(solidStyle, origin, way(80, up), 30), ring(origin))
	}
	hinges := group(shows("A plate joint at the end of an arm, from above, ahead to the right"),
		pipe(at(-330, 0), at(-90, 0)), bar(solidStyle, at(-90, 0), at(0, 0), 34), bar(usedStyle, at(0, 0), at(110, 0), 24), ring(origin), ring(at(110, 0)),
		line(plateOf, at(150, -110), at(150, 110)))
	holes := group(shows("A tube with holes"), box(usedStyle, at(150, 0), at(440, 80), 0),
		ring(at(0, 0)), ring(at(100, 0)), ring(at(200, 0)), ring(at(300, 0)))
	disc := []mark{shows("A disc with notches"), oval(usedStyle, origin, 150, 150, 0), ring(origin)}
	for i := range 12 {
		disc = append(disc, line(thinStyle, way(110, float64(30*i)), way(150, float64(30*i))))
	}
	rolled := group(face(0), line(referStyle, at(-230, 0), at(290, 0)))
	return table{
		"clamp.index": {index, arc(origin, 165, 90, 130)},
		"clamp.offset": {
			shows("A clamp on a tube of the chair with its post, from ahead, the person's left to the right"),
			bar(solidStyle, origin, at(110, 0), 30), pipe(at(110, -90), at(110, 230)), clampOn, level(origin, at(110, 120), -130),
		},
		"post.height":             {post, beside(held, b.far, 90)},
		"post.swing":              {fromAbove("A post with what it carries", 35), oval(darkStyle, origin, 30, 30, 0), turns(origin, 200, 0, 35)},
		"arm.extension":           {holder, level(origin, at(420, 0), 110)},
		"arm.twist":               {shows("An arm, from its outer end"), oval(usedStyle, origin, 90, 90, 0), oval(ringStyle, origin, 66, 66, 0), line(thinStyle, way(66, 130), way(90, 130)), turns(origin, 150, 90, 130)},
		"elbow.pan":               {fromAbove("An elbow with its arm", 35), box(solidStyle, origin, at(84, 84), 35), turns(origin, 200, 0, 35)},
		"elbow.elevation":         {elbow(30), turns(origin, 220, 0, 30)},
		"elbow.pan_to_elevation":  {elbow(0), upright(at(0, -70), origin, -110)},
		"elbow.elevation_to_end":  {elbow(0), level(origin, at(60, 0), 100)},
		"plate_joint.pan":         {hinges, turns(origin, 210, 0, 35)},
		"plate_joint.tilt":        {profile(), turns(origin, 200, 180, 150)},
		"plate_joint.roll":        {rolled, turns(origin, 230, 0, 25)},
		"plate_joint.pan_to_tilt": {hinges, level(origin, at(110, 0), 150)},
		"slide.stops_every":       {holes, level(at(100, 0), at(200, 0), 100)},
		"turn.stops_every":        append(disc, arc(origin, 190, 60, 90)),
	}
}

// ends are the pictures of brackets, of balls and of the plate.
func ends() table {
	next := func(leads float64, from string, toward float64) mark {
		return group(shows("A bracket between two parts, "+from), pipe(way(-240, leads), origin),
			box(solidStyle, way(20, toward), at(90, 74), leads-90), pipe(way(60, toward), way(260, toward)), ring(origin))
	}
	step := group(shows("A bracket between two parts, from the side, ahead to the right"), pipe(at(0, -230), at(0, -30)),
		outline(solidStyle, at(-40, -30), at(190, -30), at(190, 120), at(110, 120), at(110, 40), at(-40, 40)), pipe(at(150, 120), at(150, 300)))
	ball := func(to float64) mark {
		return group(line(plateOf, r2.Add(way(170, to), way(110, to+90)), r2.Add(way(170, to), way(110, to-90))), bar(usedStyle, origin, way(165, to), 16))
	}
	socket := group(shows("A ball in its socket with stem and plate, from the side"),
		pipe(at(0, -230), at(0, -40)), outline(solidStyle, at(-60, 10), at(-60, -70), at(60, -70), at(60, 10)))
	middle := group(oval(solidStyle, origin, 46, 46, 0), cross(origin))
	arm := group(pipe(origin, at(430, 0)), oval(darkStyle, origin, 34, 34, 0))
	return table{
		"bracket.offset":   {step, level(at(0, -30), at(150, 120), 330), upright(at(0, -30), at(150, 120), 260)},
		"bracket.rotation": {next(0, "from above, ahead to the right", 30), turns(origin, 190, 0, 30)},
		"bracket.tilt":     {next(90, "from the side, ahead to the right", 115), turns(origin, 190, 90, 115)},
		"bracket.roll":     {next(90, "from ahead, the person's left to the right", 65), turns(origin, 190, 90, 65)},
		"ball.cone": {
			socket, ball(55), middle, line(referStyle, origin, way(290, 125)), line(referStyle, origin, at(0, 290)), angle(origin, 230, 90, 55),
		},
		"ball.stem":   {socket, ball(90), middle, upright(origin, at(0, 170), 150)},
		"plate.faces": {shows("A plate that faces back, from above, ahead to the right"), arm, line(plateOf, at(350, -120), at(350, 120)), points(at(340, 70), at(240, 70))},
		"plate.offset": {
			shows("A plate beyond the last hinge, from the side"), pipe(at(300, 0), at(60, 0)), bar(solidStyle, at(70, 0), origin, 30), bar(usedStyle, origin, at(-85, 0), 16),
			ring(origin), line(plateOf, at(-90, -110), at(-90, 110)), level(at(-90, 110), origin, 170),
		},
	}
}
