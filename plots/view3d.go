package plots

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot/vg/draw"

	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// View3D returns the figure of person, chair, mount, screen and the tracker's
// view in one posture, in parallel projection from any direction: lines that are
// parallel stay so, and what lies square to the line of view is to scale, at the
// largest of 1:5, 1:10, 1:15, 1:20, 1:25, 1:30, 1:40 and 1:50 that fits the paper.
// Arms of 200 mm, 20 cm or 8 in along the three axes say how much the others are shortened.
//
// What is drawn, and how far it is schematic, is as in [Scene], but for the other
// postures and the region of the eyes, which are left out. Solid parts hide what is
// behind them; the tracking volume and the line of sight go on behind them, pale
// and dotted. The error wraps [ErrFigure], or is that of the mount's chain.
func View3D(r *fit.Result, view Turned, opt Options) (Figure, error) {
	if err := view.check(); err != nil {
		return Figure{}, err
	}
	title := "3-D view"
	if !opt.Compact { // otherwise the description has it: no line more or less as it turns
		title += " " + view.String()
	}
	s, err := newScene(r, fromAnywhere, title, opt)
	if err != nil {
		return Figure{}, err
	}
	s.plane, s.bare = view.plane(), true
	s.everything()
	if s.compact {
		s.keys, s.unlabeled = nil, true
	} else {
		s.arms()
	}
	s.say("Parallel projection seen %s; to scale square to the line of view, lengths in %s.", view, inWords(s.units))
	return s.figure()
}

// piece adds a piece, if it is one.
func (s *scene) piece(p piece) {
	if err := p.shape.Check(); err != nil {
		s.fail(fmt.Errorf("%w: a part is not finite: %w", ErrFigure, err))
	}
	s.pieces = append(s.pieces, p)
}

// onLast puts what draw draws onto the last piece: over it and what is behind it.
func (s *scene) onLast(draw func()) {
	last, from := &s.pieces[len(s.pieces)-1], len(s.items)
	draw()
	last.on, s.items = append(last.on, s.items[from:]...), s.items[:from:from]
}

// paint draws the pieces from the farthest to the nearest.
func (s *scene) paint() {
	for _, p := range s.ordered(s.pieces) {
		s.outline(p.outline, p.look)
		for _, i := range p.on {
			s.add(i)
		}
	}
}

// floor draws the level floor under all pieces as a grid.
func (s *scene) floor() {
	step := s.units.MM() * [...]float64{units.MM: 250, units.CM: 25, units.Inch: 10}[s.units]
	low, high := math.Inf(1), math.Inf(-1)
	left, right := low, high
	for _, p := range s.pieces {
		at := p.shape.Pose.At
		low, high = min(low, at.X), max(high, at.X)
		left, right = min(left, at.Y), max(right, at.Y)
	}
	down := func(v float64) float64 { return math.Floor(v/step-0.4) * step }
	low, high, left, right = down(low), -down(-high), down(left), -down(-right)
	if !(max(-low, high, -left, right) <= farthest) {
		return // what is so far away is an error later
	}
	pale := stroke(grey(0.6), 0.45)
	for x := low; x <= high; x += step {
		s.line(pale, s.flatAll(r3.Vec{X: x, Y: left}, r3.Vec{X: x, Y: right})...)
	}
	for y := left; y <= right; y += step {
		s.line(pale, s.flatAll(r3.Vec{X: low, Y: y}, r3.Vec{X: high, Y: y})...)
	}
	s.explain(look{line: pale}, "floor, lines every "+s.units.Length(step))
}

// linePieces is into how many pieces a line is cut that may be hidden in part.
const linePieces = 40

// seen draws the line from p to q: as it is where it is seen, pale and dotted where
// pieces other than those of a group hide it.
func (s *scene) seen(l draw.LineStyle, p, q r3.Vec, but group) {
	at := func(i int) r3.Vec { return r3.Add(p, r3.Scale(float64(i)/linePieces, r3.Sub(q, p))) }
	middle := func(i int) bool { return s.hidden(r3.Scale(0.5, r3.Add(at(i), at(i+1))), s.pieces, but) }
	from, hidden := 0, middle(0)
	for i := 1; i <= linePieces; i++ {
		if i < linePieces && middle(i) == hidden {
			continue
		}
		style := l
		if hidden {
			style = faintly
		}
		s.line(style, s.flat(at(from)), s.flat(at(i)))
		from, hidden = i, !hidden
	}
}

// arms draws the three axes at the lower left, all of one length, and names them; an
// axis along the line of view is left out.
func (s *scene) arms() {
	arm := s.units.MM() * [...]float64{units.MM: 200, units.CM: 20, units.Inch: 8}[s.units]
	tips := s.flatAll(r3.Vec{X: arm}, r3.Vec{Y: arm}, r3.Vec{Z: arm})
	var low, high r2.Vec
	for _, tip := range tips {
		low = r2.Vec{X: min(low.X, tip.X), Y: min(low.Y, tip.Y)}
		high.X = max(high.X, tip.X)
	}
	const aside, head, slim, least = 120, 24, 0.3, 0.15
	origin := r2.Vec{X: s.loX - aside - high.X, Y: s.loY - low.Y}
	for i, tip := range tips {
		long := r2.Norm(tip)
		if long < least*arm {
			continue
		}
		end := r2.Add(origin, tip)
		s.line(stroke(ink, 0.8), origin, end)
		s.arrowHead(end, r2.Scale(head/long, tip), slim, look{fill: ink})
		s.tags = append(s.tags, tag{end, tip, [3]string{"forward", "left", "up"}[i]})
	}
	s.grow(r2.Vec{X: origin.X + low.X - aside, Y: origin.Y}, r2.Vec{X: origin.X, Y: origin.Y + low.Y - aside/2})
	s.explain(look{line: stroke(ink, 0.8)}, "axes, "+s.units.Length(arm)+" each")
}

// placeWords says where a place is in chair axes.
func placeWords(u units.Units, p r3.Vec) string {
	forward, side := "forward", "left"
	if p.X < -0.5 {
		forward, p.X = "behind", -p.X
	}
	if p.Y < -0.5 {
		side, p.Y = "right", -p.Y
	}
	return fmt.Sprintf("%s %s, %s %s, %s above the floor", u.Number(p.X), forward, u.Number(p.Y), side, u.Number(p.Z))
}
