package pictures

import (
	"fmt"
	"html"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
)

// mark draws one thing, in mm with y up. A picture is marks, each over those before.
type mark func(d *drawing)

// drawing is a picture while it is made.
type drawing struct {
	shows    string // what is drawn, in words
	body     strings.Builder
	arrows   [][]r2.Vec // drawn last
	low, top r2.Vec     // corners of the box round all so far
	middle   r2.Vec     // what is in the middle of the picture
	scale    float64    // dots per mm
}

// Size of a picture and of the margin in it, in dots of a browser.
const (
	width, height = 160, 120
	margin        = 8
)

// svg returns the picture of all marks with its caption.
func svg(marks []mark, caption string) []byte {
	d := draw(marks, r2.Vec{}, 1) // to see how large it is
	size := r2.Sub(d.top, d.low)
	d = draw(marks, mid(d.low, d.top), min((width-2*margin)/max(size.X, 1), (height-2*margin)/max(size.Y, 1)))
	caption = html.EscapeString(caption)
	return fmt.Appendf(nil, `<svg xmlns="http://www.w3.org/2000/svg" width="%d" height="%d" viewBox="0 0 %d %d" role="img" aria-labelledby="t" aria-describedby="d">
<title id="t">%s</title>
<desc id="d">%s, not to scale. %s</desc>
%s</svg>
`, width, height, width, height, caption, html.EscapeString(d.shows), caption, d.body.String())
}

// draw draws all marks with a place in the middle of the picture.
func draw(marks []mark, middle r2.Vec, scale float64) *drawing {
	far := math.Inf(1)
	d := &drawing{middle: middle, scale: scale, low: at(far, far), top: at(-far, -far)}
	group(marks...)(d)
	for _, line := range d.arrows {
		d.arrow(line)
	}
	return d
}

// group draws several marks, and both one for each side of the person.
func group(marks ...mark) mark {
	return func(d *drawing) {
		for _, m := range marks {
			m(d)
		}
	}
}

func both(of func(sign float64) mark) mark { return group(of(-1), of(1)) }

// shows adds to the words that say what is drawn.
func shows(words string) mark { return func(d *drawing) { d.shows += words } }

func at(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }

// way returns the vector of a length in a direction (degrees from the right,
// counterclockwise).
func way(length, degrees float64) r2.Vec {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return at(length*cos, length*sin)
}

// turn returns v turned about a place (degrees, counterclockwise).
func turn(v, about r2.Vec, degrees float64) r2.Vec {
	return r2.Rotate(v, degrees*math.Pi/180, about)
}

// direction returns the direction of a vector (degrees from the right).
func direction(v r2.Vec) float64 { return math.Atan2(v.Y, v.X) * 180 / math.Pi }

func mid(a, b r2.Vec) r2.Vec { return r2.Scale(0.5, r2.Add(a, b)) }

// style is how a thing is drawn: SVG attributes.
type style string

const (
	chairStyle  style = `fill="#ededed" stroke="#737373" stroke-width=".8"`
	edgeStyle   style = `fill="none" stroke="#737373" stroke-width=".8"`
	personStyle style = `fill="#ccc" fill-opacity=".6" stroke="#595959" stroke-width=".9"`
	solidStyle  style = `fill="#bfbfbf" stroke="#404040" stroke-width=".9"`
	usedStyle   style = `fill="#d9d9d9" stroke="#404040" stroke-width=".9"`
	darkStyle   style = `fill="#4d4d4d"`
	ghostStyle  style = `fill="none" stroke="#595959" stroke-width=".7" stroke-dasharray="3.3 2.4"`
	zoneStyle   style = `fill="#f5f5f5" stroke="#404040" stroke-width=".8" stroke-dasharray="5 2.7"`
	areaStyle   style = `fill="none" stroke="#404040" stroke-width=".9" stroke-dasharray="4 2.7"`
	glassStyle  style = `fill="none" stroke="#000" stroke-width="2.1"`
	groundStyle style = `fill="none" stroke="#000" stroke-width="1.6"`
	thinStyle   style = `fill="none" stroke="#000" stroke-width=".7"`
	referStyle  style = `fill="none" stroke="#000" stroke-width=".8" stroke-dasharray="4 2.7"`
	ringStyle   style = `fill="#fff" stroke="#000" stroke-width=".9"`
	trackerFill style = `fill="#d55e00"`
)

// grow widens the picture so that it holds the places.
func (d *drawing) grow(points ...r2.Vec) {
	for _, p := range points {
		d.low = at(min(d.low.X, p.X), min(d.low.Y, p.Y))
		d.top = at(max(d.top.X, p.X), max(d.top.Y, p.Y))
	}
}

// put returns a place as SVG writes it.
func (d *drawing) put(v r2.Vec) string {
	v = r2.Scale(d.scale, r2.Sub(v, d.middle))
	return fmt.Sprintf("%.1f %.1f", width/2+v.X, height/2-v.Y)
}

func (d *drawing) path(s style, format string, args ...any) {
	fmt.Fprintf(&d.body, "<path %s d=\"%s\"/>\n", s, fmt.Sprintf(format, args...))
}

// through draws a line through places, or a closed one where end is "Z".
func (d *drawing) through(s style, end string, points []r2.Vec) {
	all := make([]string, len(points))
	for i, v := range points {
		all[i] = d.put(v)
	}
	d.path(s, "M%s%s", strings.Join(all, "L"), end)
}

// line draws a line, and outline a closed one.
func line(s style, points ...r2.Vec) mark {
	return func(d *drawing) {
		d.grow(points...)
		d.through(s, "", points)
	}
}

func outline(s style, points ...r2.Vec) mark {
	return func(d *drawing) {
		d.grow(points...)
		d.through(s, "Z", points)
	}
}

// oval draws an ellipse with two semi-axes, turned by an angle (degrees).
func oval(s style, c r2.Vec, a, b, degrees float64) mark {
	return func(d *drawing) {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		half := at(math.Hypot(a*cos, b*sin), math.Hypot(a*sin, b*cos))
		d.grow(r2.Sub(c, half), r2.Add(c, half))
		from, to := d.put(r2.Add(c, way(a, degrees))), d.put(r2.Sub(c, way(a, degrees)))
		arc := fmt.Sprintf("A%.1f %.1f %.0f 0 1 ", a*d.scale, b*d.scale, -degrees)
		d.path(s, "M%s%s%s%s%sZ", from, arc, to, arc, from)
	}
}

// limb draws the hull of two circles, neither within the other.
func limb(s style, a r2.Vec, ra float64, b r2.Vec, rb float64) mark {
	dir, open := direction(r2.Sub(b, a)), math.Acos((ra-rb)/r2.Norm(r2.Sub(b, a)))*180/math.Pi
	return func(d *drawing) {
		end := func(c r2.Vec, r, from float64, large bool) string {
			d.grow(r2.Sub(c, at(r, r)), r2.Add(c, at(r, r)))
			edge := func(sign float64) string { return d.put(r2.Add(c, way(r, dir+sign*from))) }
			flag := 0
			if large {
				flag = 1
			}
			return fmt.Sprintf("%sA%.1f %.1f 0 %d 0 %s", edge(1), r*d.scale, r*d.scale, flag, edge(-1))
		}
		d.path(s, "M%sL%sZ", end(a, ra, open, ra > rb), end(b, rb, -open, rb > ra))
	}
}

// bar draws the hull of two circles of one radius.
func bar(s style, a, b r2.Vec, radius float64) mark { return limb(s, a, radius, b, radius) }

// box draws a box, turned about its middle by an angle (degrees).
func box(s style, c, size r2.Vec, degrees float64) mark {
	h := r2.Scale(0.5, size)
	corners := []r2.Vec{at(-h.X, -h.Y), at(h.X, -h.Y), h, at(-h.X, h.Y)}
	for i, v := range corners {
		corners[i] = r2.Add(c, turn(v, r2.Vec{}, degrees))
	}
	return outline(s, corners...)
}

// cross marks a place, ring an axis that is seen end-on, dot a point of a tube.
func cross(c r2.Vec) mark { return sign(c, thinStyle, "m-3 0h6m-3-3v6") }

func ring(c r2.Vec) mark { return sign(c, ringStyle, "m-3.5 0a3.5 3.5 0 1 0 7 0a3.5 3.5 0 1 0-7 0Z") }

func dot(c r2.Vec) mark { return sign(c, darkStyle, "m-3 0a3 3 0 1 0 6 0a3 3 0 1 0-6 0Z") }

func sign(c r2.Vec, s style, path string) mark {
	return func(d *drawing) {
		d.grow(c)
		d.path(s, "M%s%s", d.put(c), path)
	}
}

// span draws the arrow along a line.
func span(line ...r2.Vec) mark {
	return func(d *drawing) {
		d.grow(line...)
		d.arrows = append(d.arrows, line)
	}
}

// upright draws the arrow between the heights of two places, at x, with lines from them.
func upright(a, b r2.Vec, x float64) mark { return offset(a, b, at(x, a.Y), at(x, b.Y)) }

// level draws the arrow between two places across, at the height y, with lines from them.
func level(a, b r2.Vec, y float64) mark { return offset(a, b, at(a.X, y), at(b.X, y)) }

// offset draws the arrow of two places from one place beside them to another.
func offset(a, b, from, to r2.Vec) mark {
	return group(line(thinStyle, a, from), line(thinStyle, b, to), span(from, to))
}

// beside draws an upright arrow beyond all that is drawn: to the right of it, or to the
// left where by is negative.
func beside(a, b r2.Vec, by float64) mark {
	return func(d *drawing) { upright(a, b, beyond(d.low.X, d.top.X, by))(d) }
}

// over draws a level arrow above all that is drawn, or below it where by is negative.
func over(a, b r2.Vec, by float64) mark {
	return func(d *drawing) { level(a, b, beyond(d.low.Y, d.top.Y, by))(d) }
}

func beyond(low, top, by float64) float64 {
	if by < 0 {
		return low + by
	}
	return top + by
}

// from draws the arrow from a dashed upright line, which begins at start, across to a
// place, above all.
func from(start, c r2.Vec) mark {
	return func(d *drawing) {
		y := d.top.Y + 90
		line(referStyle, start, at(start.X, y+40))(d)
		line(thinStyle, c, at(c.X, y))(d)
		span(at(start.X, y), at(c.X, y))(d)
	}
}

// angle draws the angle at a place from one direction, dashed, to another (degrees).
func angle(c r2.Vec, radius, from, to float64) mark {
	return group(line(referStyle, c, r2.Add(c, way(1.25*radius, from))), line(thinStyle, c, r2.Add(c, way(1.25*radius, to))),
		arc(c, radius, from, to))
}

// arc draws the round arrow about a place from one direction to another (degrees).
func arc(c r2.Vec, radius, from, to float64) mark { return span(round(c, radius, from, to)...) }

// round returns the line of such an arrow.
func round(c r2.Vec, radius, from, to float64) []r2.Vec {
	const steps = 12
	var line []r2.Vec
	for i := range steps + 1 {
		line = append(line, r2.Add(c, way(radius, from+(to-from)*float64(i)/steps)))
	}
	return line
}

// headLong is the length of an arrow's head, in dots.
const headLong = 8

// arrow draws a line with a head at each end. On a line too short for two, the heads are
// outside and point at its ends, as is usual on drawings.
func (d *drawing) arrow(line []r2.Vec) {
	n := len(line)
	first, last := r2.Sub(line[0], line[1]), r2.Sub(line[n-1], line[n-2])
	if n == 2 && r2.Norm(first)*d.scale < 2.3*headLong {
		for i, out := range []r2.Vec{first, last} {
			out = r2.Scale(2*headLong/(d.scale*max(r2.Norm(out), 1e-9)), out)
			d.stroke(r2.Add(line[i], r2.Scale(0.4, out)), r2.Add(line[i], out))
			d.head(line[i], direction(out)+180)
		}
		return
	}
	d.stroke(line...)
	d.head(line[0], direction(first))
	d.head(line[n-1], direction(last))
}

func (d *drawing) stroke(line ...r2.Vec) {
	d.through(`fill="none" stroke="#000" stroke-width="1.7"`, "", line)
}

// head draws the head of an arrow that ends at a place.
func (d *drawing) head(c r2.Vec, degrees float64) {
	back := func(side float64) r2.Vec {
		return r2.Add(c, r2.Scale(1/d.scale, r2.Add(way(-headLong, degrees), way(side*0.35*headLong, degrees+90))))
	}
	d.through(`fill="#000"`, "Z", []r2.Vec{c, back(1), back(-1)})
}
