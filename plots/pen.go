package plots

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"sightpost/plots/units"
)

// pen draws on a canvas.
type pen struct {
	*layout
	c        draw.Canvas
	trX, trY func(float64) vg.Length
}

// within returns a pen on c that also places what is in the axes of p.
func within(c draw.Canvas, p *plot.Plot) *pen {
	k := &pen{c: c}
	k.trX, k.trY = p.Transforms(&k.c)
	return k
}

// paint draws the board: grid, drawing, labels and scale bar.
func (l *layout) paint(c draw.Canvas, p *plot.Plot) {
	k := within(c, p)
	k.layout = l
	if !k.bare {
		k.grid()
	}
	for _, i := range k.items {
		k.shape(k.all(i.points), i.closed, i.look)
	}
	for _, m := range k.marks {
		k.mark(m)
	}
	taken := slices.Concat(k.labels(l.left, k.trX(k.loX), -1), k.labels(l.right, k.trX(k.hiX), 1))
	for _, at := range k.all(l.avoid) {
		taken = append(taken, around(at, vg.Point{X: vg.Millimeter / 2, Y: vg.Millimeter / 2}))
	}
	for _, n := range k.notes { // over the lines to the labels
		taken = k.note(n, taken)
	}
	if l.bare {
		k.bar(c.Min.X+air, c.Min.Y)
	}
}

// at returns the place of p on paper.
func (k *pen) at(p r2.Vec) vg.Point { return vg.Point{X: k.trX(p.X), Y: k.trY(p.Y)} }

// all returns the places of points on paper.
func (k *pen) all(points []r2.Vec) []vg.Point {
	out := make([]vg.Point, len(points))
	for i, p := range points {
		out[i] = k.at(p)
	}
	return out
}

// grid draws pale lines at the numbers of the axes, within the drawing.
func (k *pen) grid() {
	pale := stroke(grey(0.88), 0.3)
	for _, t := range k.ticks(k.loX, k.hiX) {
		k.c.StrokeLine2(pale, k.trX(t.Value), k.trY(k.loY), k.trX(t.Value), k.trY(k.hiY))
	}
	for _, t := range k.ticks(k.loY, k.hiY) {
		k.c.StrokeLine2(pale, k.trX(k.loX), k.trY(t.Value), k.trX(k.hiX), k.trY(t.Value))
	}
}

// shape draws a line or an outline that is on paper already.
func (k *pen) shape(points []vg.Point, closed bool, l look) {
	if closed && l.fill != nil && len(points) > 2 {
		k.c.FillPolygon(l.fill, points)
	}
	if closed && l.hatch.Width > 0 {
		k.c.SetLineStyle(l.hatch)
		k.c.Stroke(hatching(points, hatchGap))
	}
	if l.line.Width <= 0 {
		return
	}
	if closed && len(points) > 1 {
		points = append(points, points[0])
	}
	k.c.StrokeLines(l.line, points)
}

// box draws a level rectangle that is on paper already.
func (k *pen) box(left, low, right, high vg.Length, l look) {
	k.shape([]vg.Point{{X: left, Y: low}, {X: right, Y: low}, {X: right, Y: high}, {X: left, Y: high}}, true, l)
}

// mark draws a sign.
func (k *pen) mark(m mark) {
	at := k.at(m.at)
	if m.inner {
		white := m.glyph
		white.Color, white.Shape = grey(1), draw.CircleGlyph{}
		k.c.DrawGlyphNoClip(white, at)
	}
	k.c.DrawGlyphNoClip(m.glyph, at)
}

// note writes a text on a white ground, so that it reads from the foot of the figure or from
// its right; one that moves as little aside as it must not to lie on taken, to which it is
// added.
func (k *pen) note(n note, taken []vg.Rectangle) []vg.Rectangle {
	turn := math.Atan2(n.along.Y, n.along.X)
	if turn > math.Pi/2 {
		turn -= math.Pi
	} else if turn <= -math.Pi/2 {
		turn += math.Pi
	}
	half := vg.Point{X: lettering.Width(n.text)/2 + vg.Millimeter/2, Y: textSize * 0.55}
	mid := k.at(n.at)
	if r2.Norm(n.way) > 0 {
		way := r2.Unit(n.way)
		mid = mid.Add(vg.Point{X: (half.X + air/2) * vg.Length(way.X), Y: (half.Y + air/2) * vg.Length(way.Y)})
	}
	if n.moves {
		mid = clearOf(taken, mid, half)
		taken = append(taken, around(mid, half))
	}
	k.c.Push()
	k.c.Translate(mid)
	k.c.Rotate(turn)
	k.box(-half.X, -half.Y, half.X, half.Y, look{fill: grey(1)})
	k.put(0, -0.36*textSize, 0.5, n.text)
	k.c.Pop()
	return taken
}

// around returns the rectangle about mid.
func around(mid, half vg.Point) vg.Rectangle {
	return vg.Rectangle{Min: mid.Sub(half), Max: mid.Add(half)}
}

// clearOf returns the place nearest to mid, in one of eight directions, at which the
// rectangle about it lies on none of taken.
func clearOf(taken []vg.Rectangle, mid, half vg.Point) vg.Point {
	const step, rings, ways = vg.Millimeter, 30, 8
	for i := range rings * ways {
		sin, cos := math.Sincos(2 * math.Pi * float64(i%ways) / ways)
		at := mid.Add(vg.Point{X: vg.Length(cos), Y: vg.Length(sin)}.Scale(step * vg.Length(i/ways)))
		own := around(at, half)
		if !slices.ContainsFunc(taken, func(t vg.Rectangle) bool {
			return t.Min.X < own.Max.X && own.Min.X < t.Max.X && t.Min.Y < own.Max.Y && own.Min.Y < t.Max.Y
		}) {
			return at
		}
	}
	return mid
}

// put writes a level text with a part of its width, 0 to 1, before x.
func (k *pen) put(x, y, part vg.Length, text string) {
	k.c.SetColor(ink)
	k.c.FillString(lettering.Handler.Cache().Lookup(lettering.Font, textSize), vg.Point{X: x - part*lettering.Width(text), Y: y}, text)
}

// bar draws the scale bar, of five or two fields of a round length, above a place.
func (k *pen) bar(x, y vg.Length) {
	field, fields := k.tick(), 5
	wide := vg.Length(field*k.units.MM()) * k.perMM
	if 5*wide > 0.45*(k.c.Max.X-k.c.Min.X) {
		fields = 2
	}
	const thick = 1.2 * vg.Millimeter
	y += 0.5 * air
	for i := range fields {
		l := look{fill: grey(float64(i % 2)), line: stroke(ink, 0.4)}
		k.box(x+vg.Length(i)*wide, y, x+vg.Length(i+1)*wide, y+thick, l)
	}
	y += thick + 0.3*textSize
	k.put(x, y, 0, "0")
	k.put(x+vg.Length(fields)*wide, y, 0.5, units.UpTo(field*float64(fields), 3)+" "+k.units.String())
}

// hatchGap is the distance of the lines of a hatching on paper.
const hatchGap = 1.8 * vg.Millimeter

// hatching returns the lines, rising to the right at 45 degrees and gap apart, that
// fill an outline on paper: on each line the pieces between every first and
// second crossing of the outline. The lines go on from one outline to the next.
func hatching(outline []vg.Point, gap vg.Length) vg.Path {
	across := func(p vg.Point) float64 { return float64(p.X-p.Y) / math.Sqrt2 }
	along := func(p vg.Point) float64 { return float64(p.X+p.Y) / math.Sqrt2 }
	at := func(u, w float64) vg.Point {
		return vg.Point{X: vg.Length((u + w) / math.Sqrt2), Y: vg.Length((u - w) / math.Sqrt2)}
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range outline {
		low, high = min(low, across(p)), max(high, across(p))
	}
	var path vg.Path
	for k := math.Ceil(low / float64(gap)); k*float64(gap) < high; k++ {
		w := k * float64(gap)
		var crossings []float64
		for i, p := range outline {
			q := outline[(i+1)%len(outline)]
			if a, b := across(p), across(q); (a <= w) != (b <= w) {
				crossings = append(crossings, along(p)+(w-a)/(b-a)*(along(q)-along(p)))
			}
		}
		slices.Sort(crossings)
		for i := 0; i+1 < len(crossings); i += 2 {
			path.Move(at(crossings[i], w))
			path.Line(at(crossings[i+1], w))
		}
	}
	return path
}
