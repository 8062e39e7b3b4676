package pictures

import (
	"fmt"
	"html"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
)

// drawing is a picture while it is made: things in mm, y up, each over those before.
type drawing struct {
	shows    string // what is drawn, in words
	body     strings.Builder
	dims     [][]r2.Vec // arrows, drawn last
	low, top r2.Vec     // corners of the box round all
	started  bool
	parts    []func(p paper)
}

// paper takes places in mm to places in a picture.
type paper struct {
	b      *strings.Builder
	middle r2.Vec
	scale  float64 // dots per mm
}

// Size of a picture and of the margin in it, in dots of a browser.
const (
	width, height = 160, 120
	margin        = 8
)

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
	personStyle style = `fill="#ccc" fill-opacity=".6" stroke="#595959" stroke-width=".9"`
	solidStyle  style = `fill="#bfbfbf" stroke="#404040" stroke-width=".9"`
	darkStyle   style = `fill="#4d4d4d"`
	ghostStyle  style = `fill="none" stroke="#595959" stroke-width=".7" stroke-dasharray="3.3 2.4"`
	zoneStyle   style = `fill="#f5f5f5" stroke="#404040" stroke-width=".8" stroke-dasharray="5 2.7"`
	areaStyle   style = `fill="none" stroke="#404040" stroke-width=".9" stroke-dasharray="4 2.7"`
	glassStyle  style = `fill="none" stroke="#000" stroke-width="2.1"`
	thinStyle   style = `fill="none" stroke="#000" stroke-width=".7"`
	referStyle  style = `fill="none" stroke="#000" stroke-width=".8" stroke-dasharray="4 2.7"`
	ringStyle   style = `fill="#fff" stroke="#000" stroke-width=".9"`
	trackerFill style = `fill="#d55e00"`
)

// grow widens the picture so that it holds the places.
func (d *drawing) grow(points ...r2.Vec) {
	for _, p := range points {
		if !d.started {
			d.low, d.top, d.started = p, p, true
		}
		d.low = at(min(d.low.X, p.X), min(d.low.Y, p.Y))
		d.top = at(max(d.top.X, p.X), max(d.top.Y, p.Y))
	}
}

// put returns a place in a picture as SVG writes it.
func (p paper) put(v r2.Vec) string {
	v = r2.Scale(p.scale, r2.Sub(v, p.middle))
	return fmt.Sprintf("%.1f %.1f", width/2+v.X, height/2-v.Y)
}

func (p paper) draw(s style, format string, args ...any) {
	fmt.Fprintf(p.b, "<path %s d=\"%s\"/>\n", s, fmt.Sprintf(format, args...))
}

// line draws a line, and outline a closed one. As all that draws, both return the drawing.
func (d *drawing) line(s style, points ...r2.Vec) *drawing { return d.path(s, "", points) }

func (d *drawing) outline(s style, points ...r2.Vec) *drawing { return d.path(s, "Z", points) }

func (d *drawing) path(s style, end string, points []r2.Vec) *drawing {
	d.grow(points...)
	d.parts = append(d.parts, func(p paper) { p.path(s, end, points) })
	return d
}

// path draws a line through places, or a closed one where end is "Z".
func (p paper) path(s style, end string, points []r2.Vec) {
	all := make([]string, len(points))
	for i, v := range points {
		all[i] = p.put(v)
	}
	p.draw(s, "M%s%s", strings.Join(all, "L"), end)
}

// oval draws an ellipse with two semi-axes, turned by an angle (degrees).
func (d *drawing) oval(s style, c r2.Vec, a, b, degrees float64) *drawing {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	half := at(math.Hypot(a*cos, b*sin), math.Hypot(a*sin, b*cos))
	d.grow(r2.Sub(c, half), r2.Add(c, half))
	d.parts = append(d.parts, func(p paper) {
		from, to := r2.Add(c, way(a, degrees)), r2.Sub(c, way(a, degrees))
		arc := fmt.Sprintf("A%.1f %.1f %.0f 0 1 ", a*p.scale, b*p.scale, -degrees)
		p.draw(s, "M%s%s%s%s%sZ", p.put(from), arc, p.put(to), arc, p.put(from))
	})
	return d
}

func (d *drawing) circle(s style, c r2.Vec, radius float64) *drawing {
	return d.oval(s, c, radius, radius, 0)
}

// limb draws the hull of two circles.
func (d *drawing) limb(s style, a r2.Vec, ra float64, b r2.Vec, rb float64) *drawing {
	far := r2.Norm(r2.Sub(b, a))
	if far <= math.Abs(ra-rb) {
		return d.circle(s, a, max(ra, rb))
	}
	dir, open := direction(r2.Sub(b, a)), math.Acos((ra-rb)/far)*180/math.Pi
	d.grow(r2.Sub(a, at(ra, ra)), r2.Add(a, at(ra, ra)), r2.Sub(b, at(rb, rb)), r2.Add(b, at(rb, rb)))
	d.parts = append(d.parts, func(p paper) {
		edge := func(c r2.Vec, r, side float64) string { return p.put(r2.Add(c, way(r, dir+side*open))) }
		large := func(is bool) int {
			if is {
				return 1
			}
			return 0
		}
		p.draw(s, "M%sA%.1f %.1f 0 %d 0 %sL%sA%.1f %.1f 0 %d 0 %sZ",
			edge(a, ra, 1), ra*p.scale, ra*p.scale, large(ra > rb), edge(a, ra, -1),
			edge(b, rb, -1), rb*p.scale, rb*p.scale, large(rb > ra), edge(b, rb, 1))
	})
	return d
}

// bar draws the hull of two circles of one radius.
func (d *drawing) bar(s style, a, b r2.Vec, radius float64) *drawing {
	return d.limb(s, a, radius, b, radius)
}

// box draws a box, turned about its middle by an angle (degrees).
func (d *drawing) box(s style, c, size r2.Vec, degrees float64) *drawing {
	h := r2.Scale(0.5, size)
	corners := []r2.Vec{at(-h.X, -h.Y), at(h.X, -h.Y), h, at(-h.X, h.Y)}
	for i, v := range corners {
		corners[i] = r2.Add(c, turn(v, r2.Vec{}, degrees))
	}
	return d.outline(s, corners...)
}

// cross marks a place, ring an axis that is seen end-on, dot a point of a tube.
func (d *drawing) cross(c r2.Vec) { d.sign(c, thinStyle, "m-3 0h6m-3-3v6") }

func (d *drawing) ring(c r2.Vec) *drawing {
	return d.sign(c, ringStyle, "m-3.5 0a3.5 3.5 0 1 0 7 0a3.5 3.5 0 1 0-7 0Z")
}

func (d *drawing) dot(c r2.Vec) {
	d.sign(c, darkStyle, "m-3 0a3 3 0 1 0 6 0a3 3 0 1 0-6 0Z")
}

func (d *drawing) sign(c r2.Vec, s style, path string) *drawing {
	d.grow(c)
	d.parts = append(d.parts, func(p paper) { p.draw(s, "M%s%s", p.put(c), path) })
	return d
}

// span draws the arrow along a line.
func (d *drawing) span(line ...r2.Vec) *drawing {
	d.grow(line...)
	d.dims = append(d.dims, line)
	return d
}

// upright draws the arrow between the heights of two places, at x, with lines from them.
func (d *drawing) upright(a, b r2.Vec, x float64) *drawing {
	return d.line(thinStyle, a, at(x, a.Y)).line(thinStyle, b, at(x, b.Y)).span(at(x, a.Y), at(x, b.Y))
}

// level draws the arrow between two places across, at the height y, with lines from them.
func (d *drawing) level(a, b r2.Vec, y float64) *drawing {
	return d.line(thinStyle, a, at(a.X, y)).line(thinStyle, b, at(b.X, y)).span(at(a.X, y), at(b.X, y))
}

// beside draws an upright arrow beyond all that is drawn: to the right of it, or to the
// left where by is negative.
func (d *drawing) beside(a, b r2.Vec, by float64) *drawing {
	if by < 0 {
		return d.upright(a, b, d.low.X+by)
	}
	return d.upright(a, b, d.top.X+by)
}

// over draws a level arrow above all that is drawn, or below it where by is negative.
func (d *drawing) over(a, b r2.Vec, by float64) *drawing {
	if by < 0 {
		return d.level(a, b, d.low.Y+by)
	}
	return d.level(a, b, d.top.Y+by)
}

// from draws the arrow from a dashed upright line at x across to a place, above all.
func (d *drawing) from(x, bottom float64, c r2.Vec) {
	y := d.top.Y + 90
	d.line(referStyle, at(x, bottom), at(x, y+40)).line(thinStyle, c, at(c.X, y)).span(at(x, y), at(c.X, y))
}

// angle draws the angle at a place from one direction, dashed, to another (degrees).
func (d *drawing) angle(c r2.Vec, radius, from, to float64) *drawing {
	d.line(referStyle, c, r2.Add(c, way(1.25*radius, from)))
	return d.line(thinStyle, c, r2.Add(c, way(1.25*radius, to))).arc(c, radius, from, to)
}

// arc draws the round arrow about a place from one direction to another (degrees).
func (d *drawing) arc(c r2.Vec, radius, from, to float64) *drawing {
	const steps = 12
	var line []r2.Vec
	for i := range steps + 1 {
		line = append(line, r2.Add(c, way(radius, from+(to-from)*float64(i)/steps)))
	}
	return d.span(line...)
}

// svg writes the picture with its caption.
func (d *drawing) svg(caption string) []byte {
	size := r2.Sub(d.top, d.low)
	p := paper{b: &d.body, middle: mid(d.low, d.top), scale: min((width-2*margin)/max(size.X, 1), (height-2*margin)/max(size.Y, 1))}
	fmt.Fprintf(p.b, `<svg xmlns="http://www.w3.org/2000/svg" width="%d" height="%d" viewBox="0 0 %d %d" role="img" aria-labelledby="t" aria-describedby="d">
<title id="t">%s</title>
<desc id="d">%s, not to scale. %s</desc>
`, width, height, width, height, html.EscapeString(caption), html.EscapeString(d.shows), html.EscapeString(caption))
	for _, part := range d.parts {
		part(p)
	}
	for _, line := range d.dims {
		p.arrow(line)
	}
	p.b.WriteString("</svg>\n")
	return []byte(p.b.String())
}

// headLong is the length of an arrow's head, in dots.
const headLong = 8

// arrow draws a line with a head at each end. On a line too short for two, the heads are
// outside and point at its ends, as is usual on drawings.
func (p paper) arrow(line []r2.Vec) {
	n := len(line)
	first, last := r2.Sub(line[0], line[1]), r2.Sub(line[n-1], line[n-2])
	if n == 2 && r2.Norm(first)*p.scale < 2.3*headLong {
		for i, out := range []r2.Vec{first, last} {
			out = r2.Scale(2*headLong/(p.scale*max(r2.Norm(out), 1e-9)), out)
			p.stroke([]r2.Vec{r2.Add(line[i], r2.Scale(0.4, out)), r2.Add(line[i], out)})
			p.head(line[i], direction(out)+180)
		}
		return
	}
	p.stroke(line)
	p.head(line[0], direction(first))
	p.head(line[n-1], direction(last))
}

func (p paper) stroke(line []r2.Vec) {
	p.path(`fill="none" stroke="#000" stroke-width="1.7"`, "", line)
}

// head draws the head of an arrow that ends at a place.
func (p paper) head(c r2.Vec, degrees float64) {
	back := func(side float64) r2.Vec {
		return r2.Add(c, r2.Scale(1/p.scale, r2.Add(way(-headLong, degrees), way(side*0.35*headLong, degrees+90))))
	}
	p.path(`fill="#000"`, "Z", []r2.Vec{c, back(1), back(-1)})
}
