package plots

import (
	"fmt"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount/fit"
)

// Distances of the drawing of spaces, mm of the world: chosen to look right.
const (
	dimensionMM = 75  // from what is measured to its dimension, and between two
	tickMM      = 20  // half of the stroke at the end of a dimension
	wallMM      = 100 // thickness of the wall with the doorway
	jambMM      = 180 // what is shown of the wall on either side
	beforeMM    = 160 // from all else to the wall
)

// taken is a space that chair and mount take up.
type taken struct {
	how  string
	is   fit.Extent
	look look
}

// taken returns the spaces that chair and mount take up: none where the size of the
// chair is not known, and none parked of a mount that cannot be moved.
func (p *passage) taken() []taken {
	if p.job.Passage.WidthMM <= 0 {
		return nil
	}
	all := []taken{{"in use", p.a.Used, lookUsedSpace}}
	if !p.stuck() {
		all = append(all, taken{"parked", p.a.ParkedExtent, lookParkedSpace})
	}
	return all
}

// space draws the space that chair and mount take up, and what they must pass: floor
// first, which lies under all that is drawn so far.
func (p *passage) space() {
	spaces := p.taken()
	if len(spaces) == 0 {
		return
	}
	for _, t := range spaces {
		p.outline(p.rectangle(-t.is.BehindMM, t.is.AheadMM, t.is.LeftMM, -t.is.RightMM), t.look)
		p.explain(t.look, "space of chair and mount "+t.how)
	}
	p.clearFloor()
	x := p.loX
	for _, t := range slices.Backward(spaces) {
		x -= dimensionMM
		p.dimension(r2.Vec{X: x, Y: -t.is.RightMM}, r2.Vec{X: x, Y: t.is.LeftMM}, t.how+" "+p.units.Number(t.is.WidthMM()))
	}
	p.doorway()
}

// middle returns the middle of the space that chair and mount take up in use, as the
// person rides.
func (p *passage) middle() r2.Vec {
	e := p.a.Used
	return p.flat(r3.Vec{X: (e.AheadMM - e.BehindMM) / 2, Y: (e.LeftMM - e.RightMM) / 2})
}

// clearFloor draws the clear floor space under everything else.
func (p *passage) clearFloor() {
	wide, long := p.job.Passage.FloorWidthMM, p.job.Passage.FloorLengthMM
	if !(wide > 0 && long > 0) {
		return
	}
	m := p.middle()
	before := p.items
	p.items = nil
	low, high := r2.Vec{X: m.X - long/2, Y: m.Y - wide/2}, r2.Vec{X: m.X + long/2, Y: m.Y + wide/2}
	p.outline([]r2.Vec{low, {X: high.X, Y: low.Y}, high, {X: low.X, Y: high.Y}}, lookFloor)
	p.items = append(p.items, before...)
	p.explain(lookFloor, "clear floor space, "+p.units.Number(wide)+" by "+p.units.Length(long))
	y := p.loY - dimensionMM
	p.dimension(r2.Vec{X: low.X, Y: y}, r2.Vec{X: high.X, Y: y}, "clear floor "+p.units.Number(long))
	x := p.loX - dimensionMM
	p.dimension(r2.Vec{X: x, Y: low.Y}, r2.Vec{X: x, Y: high.Y}, "clear floor "+p.units.Number(wide))
}

// doorway draws the clear width of the doorway as an opening in a wall ahead.
func (p *passage) doorway() {
	door := p.job.Passage.DoorMM
	if !(door > 0) {
		return
	}
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
func (p *passage) dimension(a, b r2.Vec, text string) {
	thin := stroke(ink, 0.5)
	p.line(thin, a, b)
	across := r2.Scale(tickMM, r2.Unit(r2.Vec{X: a.Y - b.Y, Y: b.X - a.X}))
	for _, end := range []r2.Vec{a, b} {
		p.line(thin, r2.Sub(end, across), r2.Add(end, across))
	}
	p.notes = append(p.notes, note{a, b, text})
}

// describe says in words what the figure shows.
func (p *passage) describe() string {
	said := append([]string{p.toScale()}, p.moves()...)
	for _, t := range p.taken() {
		said = append(said, fmt.Sprintf("Chair and mount %s are %s wide and %s long.", t.how, p.units.Number(t.is.WidthMM()), p.units.Number(t.is.LengthMM())))
	}
	if c := p.job.Passage; c.DoorMM > 0 {
		said = append(said, "The doorway is "+p.units.Number(c.DoorMM)+" wide.")
	}
	if c := p.job.Passage; c.FloorWidthMM > 0 && c.FloorLengthMM > 0 {
		said = append(said, "The clear floor space is "+p.units.Number(c.FloorWidthMM)+" by "+p.units.Number(c.FloorLengthMM)+".")
	}
	return strings.Join(said, " ")
}

// moves says how the mount swings and what that leaves free.
func (p *passage) moves() []string {
	a := p.a
	if p.stuck() {
		return []string{fmt.Sprintf("The mount is in use with %s at %s, and %s.", jointWords(p.joint), p.setting(a.InUse), p.nearestWords())}
	}
	said := []string{
		fmt.Sprintf("The mount swings about %s, %s in use and %s parked.", jointWords(p.joint), p.setting(a.InUse), p.setting(a.Parked)),
		fmt.Sprintf("It is free one way to %s; the other way to %s.", p.endWords(a.Low), p.endWords(a.High)),
	}
	if a.Way.Space != "" {
		said = append(said, capital(p.nearestWords())+".")
	}
	if a.TransferHalfWidthRequiredMM <= 0 {
		return said
	}
	if a.TransferHalfWidthMM > 0 {
		return append(said, "Transfer clearance then: "+p.units.Number(a.TransferHalfWidthMM)+" to either side of the midline.")
	}
	return append(said, "There is no transfer clearance then.")
}
