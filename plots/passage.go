package plots

import (
	"fmt"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount/fit"
)

// Passage returns the figure of the space that chair and mount need, from above in the
// leading posture: with the mount in use and parked, and the clear floor space and the
// doorway that the job asks for. The doorway is drawn ahead of the chair, and both lie
// about the middle of the space that chair and mount take up with the mount in use, as the
// person rides.
//
// The figure is to scale, as [SwingClear] is. The error wraps [ErrFigure], also where the
// size of the chair is not known or the mount has no joint to swing about, or is that of
// the mount's chain.
func Passage(r *fit.Result, opt Options) (Figure, error) {
	p, err := newSwing(r, "passage, from above", opt)
	if err != nil {
		return Figure{}, err
	}
	c := p.job.Passage
	if !(c.WidthMM > 0) {
		return Figure{}, fmt.Errorf("%w: the width of the chair is not known", ErrFigure)
	}
	type taken struct {
		how  string
		is   fit.Extent
		look look
	}
	spaces := []taken{{"in use", p.a.Used, lookUsedSpace}}
	if !p.stuck() {
		spaces = append(spaces, taken{"parked", p.a.ParkedExtent, lookParkedSpace})
	}
	floor := c.FloorWidthMM > 0 && c.FloorLengthMM > 0
	if floor {
		p.clearFloor(c.FloorWidthMM, c.FloorLengthMM)
	}
	chair := look{line: lookChair.line}
	p.outline(p.rectangle(-c.BehindMM, c.AheadMM, c.WidthMM/2, -c.WidthMM/2), chair)
	p.explain(chair, "chair with the person's feet")
	p.mounts()
	for _, t := range spaces {
		p.outline(p.rectangle(-t.is.BehindMM, t.is.AheadMM, t.is.LeftMM, -t.is.RightMM), t.look)
		p.explain(t.look, fmt.Sprintf("space of chair and mount %s, %s by %s", t.how, p.units.Number(t.is.WidthMM()), p.units.Length(t.is.LengthMM())))
	}
	apart := float64(dimensionMM)
	if p.size.Width < narrow { // at a smaller scale
		apart *= 1.8
	}
	x, y := p.loX, p.loY-apart
	for _, t := range slices.Backward(spaces) {
		x -= apart
		p.dimension(r2.Vec{X: x, Y: -t.is.RightMM}, r2.Vec{X: x, Y: t.is.LeftMM}, t.how+" "+p.units.Number(t.is.WidthMM()))
	}
	if floor {
		x -= apart
		m := p.middle()
		p.dimension(r2.Vec{X: m.X - c.FloorLengthMM/2, Y: y}, r2.Vec{X: m.X + c.FloorLengthMM/2, Y: y}, "clear floor "+p.units.Number(c.FloorLengthMM))
		p.dimension(r2.Vec{X: x, Y: m.Y - c.FloorWidthMM/2}, r2.Vec{X: x, Y: m.Y + c.FloorWidthMM/2}, "clear floor "+p.units.Number(c.FloorWidthMM))
	}
	if c.DoorMM > 0 {
		p.doorway(c.DoorMM)
	}
	return p.figure()
}

// Distances of the drawing of spaces, mm of the world: chosen to look right.
const (
	dimensionMM = 75  // from what is measured to its dimension, and between two
	tickMM      = 20  // half of the stroke at the end of a dimension
	wallMM      = 100 // thickness of the wall with the doorway
	jambMM      = 180 // what is shown of the wall on either side
	beforeMM    = 160 // from all else to the wall
)

// rectangle returns a level rectangle along the chair's axes, on the plane.
func (p *swing) rectangle(behind, ahead, left, right float64) []r2.Vec {
	return p.flatAll(r3.Vec{X: behind, Y: right}, r3.Vec{X: ahead, Y: right}, r3.Vec{X: ahead, Y: left}, r3.Vec{X: behind, Y: left})
}

// middle returns the middle of the space that chair and mount take up in use, as the
// person rides.
func (p *swing) middle() r2.Vec {
	e := p.a.Used
	return p.flat(r3.Vec{X: (e.AheadMM - e.BehindMM) / 2, Y: (e.LeftMM - e.RightMM) / 2})
}

// clearFloor draws the clear floor space.
func (p *swing) clearFloor(wide, long float64) {
	m := p.middle()
	low, high := r2.Vec{X: m.X - long/2, Y: m.Y - wide/2}, r2.Vec{X: m.X + long/2, Y: m.Y + wide/2}
	p.outline(r2.Box{Min: low, Max: high}.Vertices(), lookFloor)
	p.explain(lookFloor, "clear floor space, "+p.units.Number(wide)+" by "+p.units.Length(long))
}

// doorway draws the clear width of the doorway as an opening in a wall ahead.
func (p *swing) doorway(door float64) {
	y := p.middle().Y
	from := p.hiX + beforeMM
	for _, side := range []float64{-1, 1} {
		near, far := y+side*door/2, y+side*(door/2+jambMM)
		p.outline([]r2.Vec{{X: from, Y: near}, {X: from + wallMM, Y: near}, {X: from + wallMM, Y: far}, {X: from, Y: far}}, lookJamb)
	}
	p.explain(lookJamb, "doorway, clear width "+p.units.Length(door))
	mid := from + wallMM/2
	p.dimension(r2.Vec{X: mid, Y: y - door/2}, r2.Vec{X: mid, Y: y + door/2}, "doorway "+p.units.Number(door))
}

// dimension draws a line from a to b with a stroke across either end, and a text on
// it.
func (p *swing) dimension(a, b r2.Vec, text string) {
	thin, along := stroke(ink, 0.5), r2.Sub(b, a)
	p.line(thin, a, b)
	across := r2.Scale(tickMM, r2.Unit(r2.Vec{X: -along.Y, Y: along.X}))
	for _, end := range []r2.Vec{a, b} {
		p.line(thin, r2.Sub(end, across), r2.Add(end, across))
	}
	p.notes = append(p.notes, note{at: r2.Scale(0.5, r2.Add(a, b)), along: along, text: text})
}
