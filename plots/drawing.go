package plots

import (
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// pen draws a layout on a canvas.
type pen struct {
	*layout
	c        draw.Canvas
	trX, trY func(float64) vg.Length
}

// newPen returns a pen on c.
func newPen(c draw.Canvas) *pen { return &pen{layout: &layout{}, c: c} }

// within returns a pen that also places what is in the axes of p.
func (k *pen) within(p *plot.Plot) *pen {
	k.trX, k.trY = p.Transforms(&k.c)
	return k
}

// widest returns the width of the widest of texts.
func widest(texts ...string) vg.Length {
	most := vg.Length(0)
	for _, text := range texts {
		most = max(most, lettering.Width(text))
	}
	return most
}

// paint draws the board: grid, drawing, labels, key and scale bar.
func (l *layout) paint(c draw.Canvas, p *plot.Plot) {
	k := (&pen{layout: l, c: c}).within(p)
	if !k.bare {
		k.grid()
	}
	for _, i := range k.items {
		k.shape(k.all(i.points), i.closed, i.look)
	}
	for _, m := range k.marks {
		k.mark(m)
	}
	for _, t := range k.tags {
		k.tag(t)
	}
	k.labels(k.board.left, false, k.trX(k.loX), -1)
	k.labels(k.board.right, false, k.trX(k.hiX), 1)
	k.labels(k.board.top, true, k.trY(k.hiY), 1)
	var taken []vg.Rectangle
	for _, n := range k.notes { // over the lines to the labels
		aside := vg.Point{}
		if n.moves {
			aside, taken = k.aside(n, taken)
		}
		k.note(n, aside)
	}
	k.key()
	k.bar()
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

// hatchGap is the distance of the lines of a hatching on paper.
const hatchGap = 1.8 * vg.Millimeter

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

// aside returns how far a level note must move not to lie on those before it, and adds it to
// these: as little as does, in one of eight directions.
func (k *pen) aside(n note, taken []vg.Rectangle) (vg.Point, []vg.Rectangle) {
	const step, rings, ways = vg.Millimeter, 12, 8
	mid := k.at(n.a).Add(k.at(n.b)).Scale(0.5)
	half := vg.Point{X: lettering.Width(n.text)/2 + vg.Millimeter, Y: 0.64 * textSize}
	for ring := range rings {
		for way := range ways {
			sin, cos := math.Sincos(2 * math.Pi * float64(way) / ways)
			by := vg.Point{X: vg.Length(cos), Y: vg.Length(sin)}.Scale(step * vg.Length(ring))
			own := vg.Rectangle{Min: mid.Add(by).Sub(half), Max: mid.Add(by).Add(half)}
			if !slices.ContainsFunc(taken, func(t vg.Rectangle) bool { return meet(t, own) }) {
				return by, append(taken, own)
			}
		}
	}
	return vg.Point{}, taken
}

// meet reports whether two rectangles have a point in common.
func meet(a, b vg.Rectangle) bool {
	return a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y
}

// note writes a text along its line, moved aside, on a white ground, so that it reads from
// the foot of the figure or from its right.
func (k *pen) note(n note, aside vg.Point) {
	a, b := k.at(n.a), k.at(n.b)
	turn := math.Atan2(float64(b.Y-a.Y), float64(b.X-a.X))
	if turn > math.Pi/2 {
		turn -= math.Pi
	} else if turn <= -math.Pi/2 {
		turn += math.Pi
	}
	s, c := math.Sincos(turn)
	w, h := lettering.Width(n.text)/2+vg.Millimeter/2, textSize*0.55
	mid := a.Add(b).Scale(0.5).Add(aside)
	corner := func(x, y vg.Length) vg.Point {
		return vg.Point{X: mid.X + x*vg.Length(c) - y*vg.Length(s), Y: mid.Y + x*vg.Length(s) + y*vg.Length(c)}
	}
	k.c.FillPolygon(grey(1), []vg.Point{corner(-w, -h), corner(w, -h), corner(w, h), corner(-w, h)})
	k.text(corner(lettering.Width(n.text)/-2, -0.36*textSize), turn, n.text)
}

// tag writes a text on a level line just beyond its place.
func (k *pen) tag(t tag) {
	way := r2.Unit(t.way)
	wide, high := lettering.Width(t.text)/2+air/2, 0.36*textSize+air/2
	middle := k.at(t.at).Add(vg.Point{X: wide * vg.Length(way.X), Y: high * vg.Length(way.Y)})
	k.text(vg.Point{X: middle.X - lettering.Width(t.text)/2, Y: middle.Y - 0.36*textSize}, 0, t.text)
}

// put writes a level text with a part of its width, 0 to 1, before x.
func (k *pen) put(x, y, part vg.Length, text string) {
	k.text(vg.Point{X: x - part*lettering.Width(text), Y: y}, 0, text)
}

// text writes a text whose baseline starts at p and turns counterclockwise.
func (k *pen) text(p vg.Point, turn float64, text string) {
	k.c.Push()
	k.c.SetColor(ink)
	k.c.Translate(p)
	if turn != 0 {
		k.c.Rotate(turn)
	}
	k.c.FillString(lettering.Handler.Cache().Lookup(lettering.Font, textSize), vg.Point{}, text)
	k.c.Pop()
}

// leaderGap is the least distance between the lines to the labels of a side.
const leaderGap = 1.2 * vg.Millimeter

// labels writes the labels of a side, each with a line from the place that it tells of:
// level at the left or the right of the drawing, upward above it.
func (k *pen) labels(labels lane, upward bool, edge, out vg.Length) {
	on := func(across, along vg.Length) vg.Point { return vg.Point{X: across, Y: along} }
	along := func(l label) vg.Length { return k.trY(l.at.Y) }
	across := func(l label) vg.Length { return k.trX(l.at.X) }
	turn, base, low, high := 0.0, -0.36*textSize, k.trY(k.loY), k.trY(k.hiY)
	if upward {
		on = func(across, along vg.Length) vg.Point { return vg.Point{X: along, Y: across} }
		along, across = func(l label) vg.Length { return k.trX(l.at.X) }, along
		turn, base, low, high = math.Pi/2, -base, k.trX(k.loX), k.trX(k.hiX)
	}
	end := edge + out*(lead-air/2)
	labels, places := labels.placed(along, k.row(), low, high)
	_, ways := labels.placed(along, leaderGap, low, high)
	for i, place := range places {
		l, start := labels[i], end+out*air/2
		if out < 0 {
			start -= lettering.Width(l.text)
		}
		bend := across(l) + out*min(leaderGap*2, max(0, out*(edge-across(l))))
		k.leader(k.at(l.at), on(bend, ways[i]), on(edge+out*air, ways[i]), on(end, place))
		k.text(on(start, place+base), turn, l.text)
	}
}

// leader draws the line from a place to its label.
func (k *pen) leader(points ...vg.Point) {
	k.c.StrokeLines(stroke(grey(0.45), 0.35), points)
}

// bar draws the scale bar: five fields of a round length, above the key.
func (k *pen) bar() {
	field := k.tick()
	wide := vg.Length(field*k.units.MM()/float64(k.scale)) * vg.Millimeter
	fields := vg.Length(5)
	if fields*wide > 0.45*(k.c.Max.X-k.c.Min.X) {
		fields = 2
	}
	x, y := k.c.Min.X+air, k.c.Min.Y+1.2*air
	if !k.beside {
		y += k.keyHeight()
	}
	const thick = 1.2 * vg.Millimeter
	for i := vg.Length(0); i < fields; i++ {
		l := look{fill: grey(1), line: stroke(ink, 0.4)}
		if int(i)%2 == 0 {
			l.fill = ink
		}
		k.box(x+i*wide, y, x+(i+1)*wide, y+thick, l)
	}
	base := y + thick + 0.3*textSize
	k.text(vg.Point{X: x, Y: base}, 0, "0")
	end := decimals(field*float64(fields)) + " " + k.units.String()
	k.text(vg.Point{X: x + fields*wide - lettering.Width(end)/2, Y: base}, 0, end)
	k.text(vg.Point{X: x + fields*wide + lettering.Width(end)/2 + 2*air, Y: y}, 0, "1:"+strconv.Itoa(k.scale))
}

// hatching returns the lines, rising to the right at 45 degrees and gap apart, that
// fill an outline on paper: on each line the pieces between every first and
// second crossing of the outline. The lines go on from one outline to the next.
func hatching(outline []vg.Point, gap vg.Length) vg.Path {
	across := func(p vg.Point) float64 { return float64(p.X-p.Y) / math.Sqrt2 }
	along := func(p vg.Point) float64 { return float64(p.X+p.Y) / math.Sqrt2 }
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
			path.Move(diagonal(crossings[i], w))
			path.Line(diagonal(crossings[i+1], w))
		}
	}
	return path
}

// diagonal returns the point at u along and w across lines at 45 degrees.
func diagonal(u, w float64) vg.Point {
	return vg.Point{X: vg.Length((u + w) / math.Sqrt2), Y: vg.Length((u - w) / math.Sqrt2)}
}
