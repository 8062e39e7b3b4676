package plots

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"sightpost/plots/units"
)

// panels are curves of a posture side by side on one scale of margin, as a
// plotter.
type panels struct {
	units       units.Units
	all         []panel
	bottom, top float64
	text        draw.TextStyle
}

const (
	panelsAcross = 3
	leastPanelX  = 50 * vg.Millimeter
	leastPanelY  = 45 * vg.Millimeter
)

// grid returns how many panels stand side by side and in how many rows.
func (d *panels) grid() (across, rows int) {
	across = min(panelsAcross, len(d.all))
	return across, (len(d.all) + across - 1) / across
}

// fits returns an error if the panels would be too small on paper.
func (d *panels) fits(size Size) error {
	across, rows := d.grid()
	if size.Width < leastPanelX*vg.Length(across) || size.Height < leastPanelY*vg.Length(rows) {
		return fmt.Errorf("%w: %d panels need %.0f by %.0f mm or more", ErrFigure, len(d.all),
			leastPanelX/vg.Millimeter*vg.Length(across), leastPanelY/vg.Millimeter*vg.Length(rows))
	}
	return nil
}

func (d *panels) line() vg.Length { return 1.3 * d.text.Font.Size }

// lookAs and lookOther are the lines of the two carriers.
func lookAs() draw.LineStyle    { return stroke(okabe(okabeBlue), 1.5) }
func lookOther() draw.LineStyle { return stroke(okabe(okabeVermilion), 1.3, 5, 2.5) }

// lookPresent is the line at a present value or place.
func lookPresent() draw.LineStyle { return stroke(grey(0.35), 0.7, 1.5, 1.5) }

// lookWorks is the ground of the range that works.
func lookWorks() look { return look{fill: faint(okabe(okabeSky), 0.22)} }

// Plot draws the panels and, under them, the key.
func (d *panels) Plot(c draw.Canvas, _ *plot.Plot) {
	key := &pen{layout: d.key(c.Max.X - c.Min.X), c: c}
	across, rows := d.grid()
	wide := (c.Max.X - c.Min.X) / vg.Length(across)
	high := (c.Max.Y - c.Min.Y - key.keyHeight() - 1.5*air) / vg.Length(rows)
	for i := range d.all {
		cell := draw.Canvas{Canvas: c.Canvas}
		cell.Min.X = c.Min.X + wide*vg.Length(i%across)
		cell.Max.X = cell.Min.X + wide - 1.5*air
		cell.Max.Y = c.Max.Y - high*vg.Length(i/across)
		cell.Min.Y = cell.Max.Y - high + air
		d.panel(&d.all[i], cell)
	}
	key.key()
}

// panel draws a panel with its head.
func (d *panels) panel(p *panel, c draw.Canvas) {
	k := newPen(d.text, c)
	y := c.Max.Y
	for _, text := range p.head() {
		y -= d.line()
		k.text(vg.Point{X: c.Min.X + 2*air, Y: y}, 0, fitted(d.text, text, c.Max.X-c.Min.X-2*air))
	}
	c.Max.Y = y - air/2
	inner := newPlot(smallSize)
	inner.X.Label.Text, inner.Y.Label.Text = p.name+" (°)", axisName("margin", d.units)
	if !p.turns {
		inner.X.Label.Text = axisName(p.name, d.units)
	}
	inner.X.Min, inner.X.Max = p.low, p.high
	inner.Y.Min = d.bottom
	names := 3 * d.line()
	inner.Y.Max = d.top + (d.top-d.bottom)*beside(names, c.Max.Y-c.Min.Y)
	inner.X.Tick.Marker = roundTicks(p.low, p.high, roundStep((p.high-p.low)/7))
	inner.Y.Tick.Marker = roundTicks(d.bottom, d.top, roundStep((d.top-d.bottom)/6))
	inner.Add(panelDrawing{d, p})
	inner.Draw(c)
}

// heads is how many lines are written above each panel.
const heads = 3

// head returns what is written above a panel.
func (p *panel) head() [heads]string {
	now := p.name + ", now " + p.number(p.present)
	if p.alike() {
		return [heads]string{"", now, p.as.words}
	}
	return [heads]string{now, p.as.carrier + ": " + p.as.words, p.other.carrier + ": " + p.other.words}
}

// panelDrawing is the inside of a panel.
type panelDrawing struct {
	*panels
	*panel
}

// Plot draws the range that works, zero, the curves and the present value.
func (d panelDrawing) Plot(c draw.Canvas, inner *plot.Plot) {
	k := newPen(d.text, c).within(inner)
	p := d.panel
	left, right := k.trX(p.low), k.trX(p.high)
	if p.as.works {
		a, b := k.trX(max(p.as.from, p.low)), k.trX(min(p.as.to, p.high))
		k.box(a, k.trY(d.bottom), b, k.trY(d.top), lookWorks())
		d.ends(k, a, b)
	}
	c.StrokeLine2(stroke(ink(), 0.8), left, k.trY(0), right, k.trY(0))
	x := k.trX(p.present)
	c.StrokeLine2(lookPresent(), x, k.trY(d.bottom), x, k.trY(d.top))
	for _, piece := range p.as.within(p.low, p.high).above(d.bottom) {
		c.StrokeLines(lookAs(), k.all(piece))
	}
	for _, piece := range p.other.within(p.low, p.high).above(d.bottom) {
		c.StrokeLines(lookOther(), k.all(piece))
	}
	if y := p.as.near(p.present); y >= d.bottom {
		k.mark(mark{at: r2.Vec{X: p.present, Y: y}, glyph: ring().glyph, inner: true})
	}
	d.name(k)
}

// ends draws short bars at the ends of the range that works, on the line at
// zero.
func (d panelDrawing) ends(k *pen, a, b vg.Length) {
	zero, half := k.trY(0), 1.2*vg.Millimeter
	for _, x := range []vg.Length{a, b} {
		k.c.StrokeLine2(stroke(ink(), 1.3), x, zero-half, x, zero+half)
	}
	k.c.StrokeLine2(stroke(ink(), 1.8), a, zero, b, zero)
}

// name writes which curve is which above the curves, with a line to each that
// is seen.
func (d panelDrawing) name(k *pen) {
	p := d.panel
	if p.alike() {
		d.label(k, lane{{at: p.peak(&p.as), text: "on seat and base alike"}})
		return
	}
	labels := lane{{at: p.peak(&p.as), text: p.as.carrier}, {at: p.peak(&p.other), text: p.other.carrier}}
	at, ok := p.apart(0.4 * d.top)
	if !ok {
		at, ok = p.apart(d.bottom)
	}
	if ok {
		labels[0].at, labels[1].at = r2.Vec{X: at, Y: p.as.near(at)}, r2.Vec{X: at, Y: p.other.near(at)}
	}
	d.label(k, labels)
}

// label writes labels above the curves.
func (d panelDrawing) label(k *pen, labels lane) {
	widest := vg.Length(0)
	for i, l := range labels {
		if labels[i].bare = l.at.Y < d.bottom; labels[i].bare {
			labels[i].text = l.text + ": below " + d.panel.units.Length(d.bottom*d.panel.units.MM())
		}
		widest = max(widest, d.text.Width(labels[i].text))
	}
	k.captions(labels, widest+2*air, k.trX(d.low)+widest/2+air, k.trX(d.high)-widest/2,
		func(int) vg.Length { return k.trY(d.top) + d.line() })
}

// within returns the part of a curve between two values.
func (c chartCurve) within(low, high float64) chartCurve {
	out := chartCurve{name: c.name}
	add := func(x, y float64) { out.x, out.y = append(out.x, x), append(out.y, y) }
	add(low, c.near(low))
	for i, x := range c.x {
		if x > low && x < high {
			add(x, c.y[i])
		}
	}
	add(high, c.near(high))
	return out
}

// peak returns the place of the greatest margin that a panel shows of a curve.
func (p *panel) peak(c *carried) r2.Vec { return c.within(p.low, p.high).peak() }

// near returns the margin at a value, by the straight line between samples.
func (c chartCurve) near(x float64) float64 {
	for i := 1; i < len(c.x); i++ {
		if x <= c.x[i] {
			if width := c.x[i] - c.x[i-1]; width > 0 {
				t := max(0, (x-c.x[i-1])/width)
				return c.y[i-1] + t*(c.y[i]-c.y[i-1])
			}
			return c.y[i]
		}
	}
	return c.y[len(c.y)-1]
}

// apart returns where the two curves are farthest apart with neither below a
// margin; ok is false where one always is.
func (p *panel) apart(bottom float64) (at float64, ok bool) {
	best := -1.0
	at = p.present
	for i, x := range p.as.x {
		y := p.other.near(x)
		if p.as.y[i] < bottom || y < bottom || x < p.low || x > p.high {
			continue
		}
		if off := math.Abs(p.as.y[i] - y); off > best {
			best, at, ok = off, x, true
		}
	}
	return at, ok
}

// key returns what lines and ground mean.
func (d *panels) key(width vg.Length) *layout {
	as, other := d.all[0].as.carrier, d.all[0].other.carrier
	return keyed(d.text, width,
		key{look{line: lookAs()}, "screen " + as + ", as it is"},
		key{look{line: lookOther()}, "screen " + other + " instead"},
		key{lookWorks(), "works with the screen as it is (margin not negative)"},
		key{look{line: lookPresent()}, "present value"})
}
