package pictures

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// grid is a number of targets on the display area, with gaps between them.
type grid struct {
	rows, columns int
	gap           float64
}

// cell returns the size of a target.
func (g grid) cell() r2.Vec {
	return at((2*displayX+g.gap)/float64(g.columns)-g.gap, (2*displayY+g.gap)/float64(g.rows)-g.gap)
}

func (g grid) draw() mark {
	marks, size := []mark{face(0)}, g.cell()
	for r := range g.rows {
		for c := range g.columns {
			lowLeft := at(-displayX+float64(c)*(size.X+g.gap), -displayY+float64(r)*(size.Y+g.gap))
			marks = append(marks, box(chairStyle, r2.Add(lowLeft, r2.Scale(0.5, size)), size, 0))
		}
	}
	return group(marks...)
}

// screens are the pictures of the screen alone.
func screens() table {
	seen := face(0)
	used := group(seen, outline(usedStyle, at(-80, -23), at(105, -23), at(105, 60), at(-80, 60)))
	middle := at(0, -housingBelow)
	plate := r2.Add(middle, at(70, 50))
	fixed := group(seen, box(referStyle, plate, at(60, 60), 0), cross(middle), cross(plate))
	fine, coarse := grid{3, 4, 12}, grid{2, 3, 44}
	cell, column := fine.cell(), -displayX+coarse.cell().X
	tracker, aimed := profiled.tracker()
	return table{
		"screen.display.width":  {seen, span(at(-displayX, displayY/3), at(displayX, displayY/3))},
		"screen.display.height": {seen, span(at(0, -displayY), at(0, displayY))},
		"screen.housing.width":  {seen, over(at(-housingX, housingTop), at(housingX, housingTop), 35)},
		"screen.housing.height": {seen, beside(at(housingX, housingUnder), at(housingX, housingTop), 35)},
		"screen.housing.depth":  {profile(), over(profiled.on(housingTop, 0), profiled.on(housingTop, -housingDepth), 35)},
		"screen.housing.below":  {seen, line(referStyle, at(-housingX, 0), at(housingX, 0)), beside(origin, middle, 35)},
		"screen.mass": {
			shows("A screen with its tracker, standing on scales"),
			screen{v: front}.draw(),
			box(solidStyle, at(0, housingUnder-9), at(380, 18), 0),
			outline(chairStyle, at(-150, -255), at(150, -255), at(110, -163), at(-110, -163)),
			oval(ringStyle, at(0, -211), 34, 34, 0),
			line(glassStyle, at(0, -211), at(18, -191)),
		},
		"screen.used.left":        {used, span(at(-displayX, 18), at(-80, 18))},
		"screen.used.right":       {used, span(at(-displayX, 18), at(105, 18))},
		"screen.used.bottom":      {used, span(at(12, -displayY), at(12, -23))},
		"screen.used.top":         {used, span(at(12, -displayY), at(12, 60))},
		"screen.fixed_at.right":   {fixed, level(middle, plate, plate.Y+50)},
		"screen.fixed_at.up":      {fixed, upright(middle, plate, plate.X+60)},
		"screen.grid.rows":        {fine.draw(), span(at(-displayX+cell.X/2, -displayY), at(-displayX+cell.X/2, displayY))},
		"screen.grid.columns":     {fine.draw(), span(at(-displayX, displayY-cell.Y/2), at(displayX, displayY-cell.Y/2))},
		"screen.grid.gap":         {coarse.draw(), span(at(column, 50), at(column+coarse.gap, 50))},
		"tracker.below":           {profile(), beside(profiled.c, tracker, -30)},
		"tracker.in_front":        {profile(), over(profiled.on(housingUnder, 0), tracker, -35)},
		"tracker.aimed_up":        {profile(), angle(tracker, 210, 180, aimed)},
		"preferences.ranges.roll": {face(18), angle(origin, 200, 0, 18)},
	}
}

// sights are the pictures of a head before the screen.
func sights() table {
	s := before(side)
	c, dir := s.tracker()
	depth := func(far float64) []mark {
		end, aside := r2.Add(c, way(far, dir)), way(far*math.Tan(halfUp*math.Pi/180), dir+90)
		return []mark{s.tracking(), line(thinStyle, r2.Add(end, aside), r2.Sub(end, aside)), span(c, end)}
	}
	whole := func(v view) []mark {
		c, dir := before(v).tracker()
		low, high := dir-half(v), dir+half(v)
		return []mark{
			before(v).tracking(),
			line(thinStyle, r2.Add(c, way(trackerNear, low)), c, r2.Add(c, way(trackerNear, high))),
			arc(c, 300, low, high),
		}
	}
	// between draws the angle at the eye between the first of places and the last.
	between := func(radius float64, places ...r2.Vec) []mark {
		marks := []mark{s.tracking(), line(referStyle, origin, places[0])}
		for _, p := range places[1:] {
			marks = append(marks, line(thinStyle, origin, p))
		}
		return append(marks, arc(origin, radius, direction(places[0]), direction(places[len(places)-1])))
	}
	gaze := func(s screen) []mark {
		return []mark{
			s.viewed(),
			line(referStyle, origin, at(s.c.X+60, 0)),
			line(thinStyle, origin, s.c),
			arc(origin, 330, 0, direction(s.c)),
		}
	}
	facing := func(v view) []mark {
		s := screen{v: v, c: at(500, 0), turned: 28}
		square := s.square()
		if square < 0 {
			square += 360
		}
		return []mark{
			s.viewed(),
			line(referStyle, s.c, origin),
			line(thinStyle, s.c, r2.Add(s.c, way(330, square))),
			arc(s.c, 280, 180, square),
		}
	}
	return table{
		"tracker.near":                    depth(trackerNear),
		"tracker.best":                    depth(trackerBest),
		"tracker.far":                     depth(trackerFar),
		"tracker.across":                  whole(above),
		"tracker.up_down":                 whole(side),
		"tracker.gaze_limit":              between(350, c, s.on(displayY, 0)),
		"tracker.accuracy":                between(440, s.on(60, 0), s.on(-20, 0)),
		"tracker.precision":               between(440, s.on(75, 0), s.on(45, 0), s.on(15, 0), s.on(-10, 0)),
		"preferences.margin":              {s.tracking(), oval(ghostStyle, origin, 45, 35, 0), span(at(0, 35), at(0, 175))},
		"preferences.face_clearance":      {s.viewed(), span(origin, s.on(housingTop-20, 0))},
		"preferences.ranges.distance":     {s.viewed(), span(origin, s.c)},
		"preferences.ranges.gaze_down":    gaze(screen{v: side, c: at(500, -210), turned: 12}),
		"preferences.ranges.gaze_left":    gaze(screen{v: above, c: at(500, 210)}),
		"preferences.ranges.facing_up":    facing(side),
		"preferences.ranges.facing_right": facing(above),
	}
}
