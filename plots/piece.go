package plots

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot/vg/draw"

	"sightpost/gaze/frame"
	"sightpost/mount/space"
)

// piece is a convex part of a drawing that hides what is behind it.
type piece struct {
	// shape stands for the piece where it is asked which of two is in front: the
	// piece itself, or a rounded box of much the same place and size.
	shape   space.Shape
	outline []r2.Vec
	look    look
	on      []item // what is drawn on it
	group   group
}

// group tells pieces of one kind from others.
type group int

const (
	ofBody group = iota
	ofMount
	ofScreen
	ofKeep // seen through
)

// toward returns the unit vector from the paper to the viewer.
func (v plane) toward() r3.Vec { return r3.Cross(v.x, v.y) }

// ordered returns pieces from the one farthest from the viewer to the nearest.
//
// Of two that overlap on paper, the one behind comes first: convex pieces that are
// apart can be parted by a plane, and the side of it on which the viewer is says
// which one is in front. Where pieces hide each other in a ring, which convex
// pieces can, the one whose middle is farthest begins.
func (v plane) ordered(pieces []piece) []piece {
	n := len(pieces)
	hides := make([][]int, n) // by a piece, those in front of it
	waits := make([]int, n)   // on how many that are behind
	for i := range pieces {
		for j := range i {
			if !overlap(pieces[i].outline, pieces[j].outline) {
				continue
			}
			back, front := i, j
			if v.inFront(pieces[i].shape, pieces[j].shape) {
				back, front = j, i
			}
			hides[back] = append(hides[back], front)
			waits[front]++
		}
	}
	out := make([]piece, 0, n)
	drawn := make([]bool, n)
	for range n {
		next := v.next(pieces, drawn, waits)
		drawn[next] = true
		out = append(out, pieces[next])
		for _, front := range hides[next] {
			waits[front]--
		}
	}
	return out
}

// next returns the farthest piece of those not drawn that wait for the fewest: for
// none, unless pieces hide each other in a ring.
func (v plane) next(pieces []piece, drawn []bool, waits []int) int {
	best, depth := -1, math.Inf(1)
	toward := v.toward()
	for i := range pieces {
		if drawn[i] || (best >= 0 && min(waits[i], 1) > min(waits[best], 1)) {
			continue
		}
		d := r3.Dot(toward, pieces[i].shape.Pose.At)
		if best < 0 || min(waits[i], 1) < min(waits[best], 1) || d < depth {
			best, depth = i, d
		}
	}
	return best
}

// inFront reports whether a is in front of b, for pieces that overlap on paper.
// Pieces that touch or go through each other, as limbs do at a joint, are drawn
// together about their middles until they part.
func (v plane) inFront(a, b space.Shape) bool {
	const apart, closer, least = 1e-6, 0.75, 0.05
	for k := 1.0; k > least; k *= closer {
		if g := space.Between(shrunk(a, k), shrunk(b, k)); g.MM > apart {
			return r3.Dot(g.Toward, v.toward()) > 0
		}
	}
	return r3.Dot(r3.Sub(a.Pose.At, b.Pose.At), v.toward()) > 0
}

// shrunk returns s drawn together about its middle.
func shrunk(s space.Shape, k float64) space.Shape {
	s.HalfMM, s.RoundMM = r3.Scale(k, s.HalfMM), s.RoundMM*k
	return s
}

// overlap reports whether two convex outlines overlap: whether no edge of either
// parts them.
func overlap(a, b []r2.Vec) bool {
	return len(a) > 0 && len(b) > 0 && !parts(a, b) && !parts(b, a)
}

// parts reports whether an edge of the outline a, counterclockwise, has all of b
// on its outer side.
func parts(a, b []r2.Vec) bool {
	for i, p := range a {
		edge := r2.Sub(a[(i+1)%len(a)], p)
		outside := true
		for _, q := range b {
			if r2.Cross(edge, r2.Sub(q, p)) > 0 {
				outside = false
				break
			}
		}
		if outside {
			return true
		}
	}
	return false
}

// covers reports whether a convex outline, counterclockwise, holds a point.
func covers(outline []r2.Vec, p r2.Vec) bool {
	for i, a := range outline {
		if r2.Cross(r2.Sub(outline[(i+1)%len(outline)], a), r2.Sub(p, a)) < 0 {
			return false
		}
	}
	return len(outline) > 2
}

// hidden reports whether a piece other than those of a group hides the point p
// (mm, chair axes). Keep-clear zones are seen through.
//
// Where the outline covers p the line of view through p meets the piece, on the
// viewer's side exactly if the way from the piece to p leads away from the viewer.
func (v plane) hidden(p r3.Vec, pieces []piece, but group) bool {
	at := v.flat(p)
	for i := range pieces {
		k := &pieces[i]
		if k.group == but || k.group == ofKeep || !covers(k.outline, at) {
			continue
		}
		if g := space.FromPoint(p, k.shape); g.MM <= 0 || r3.Dot(g.Toward, v.toward()) < 0 {
			return true
		}
	}
	return false
}

// standIn returns a rounded box of much the place and size of the hull of balls:
// two ends of a limb, or the four corners of a slab, two at each end.
func standIn(b []ball) space.Shape {
	first, last := b[0].at, b[len(b)-1].at
	s := space.Shape{Pose: frame.Translate(r3.Scale(0.5, r3.Add(first, last)))}
	along := r3.Sub(b[1].at, first)
	across := r3.Vec{}
	for _, k := range b {
		s.RoundMM += k.radius / float64(len(b))
	}
	if len(b) == 4 {
		across = r3.Sub(b[2].at, first)
	}
	if n := r3.Norm(along); n > 0 {
		side := across
		if r3.Norm(r3.Cross(along, side)) == 0 {
			side = squareTo(along)
		}
		s.Pose.Rot = frame.FromAxes(along, side)
		s.HalfMM = r3.Vec{X: n / 2, Y: math.Abs(r3.Dot(across, s.Pose.Rot.Y)) / 2}
	}
	return s
}

// squareTo returns the axis that lies least along v.
func squareTo(v r3.Vec) r3.Vec {
	if math.Abs(v.X) > math.Abs(v.Y) {
		return r3.Vec{Y: 1}
	}
	return r3.Vec{X: 1}
}

// faced returns lines along the edges of a box between the faces that are seen: the three
// that meet in the corner nearest the viewer.
func (v plane) faced(s space.Shape, l draw.LineStyle) []item {
	toward := s.Pose.Rot.ApplyInverse(v.toward())
	near := r3.Vec{
		X: math.Copysign(s.HalfMM.X, toward.X),
		Y: math.Copysign(s.HalfMM.Y, toward.Y),
		Z: math.Copysign(s.HalfMM.Z, toward.Z),
	}
	at := v.flat(s.Pose.Apply(near))
	var edges []item
	for _, far := range []r3.Vec{{X: -near.X, Y: near.Y, Z: near.Z}, {X: near.X, Y: -near.Y, Z: near.Z}, {X: near.X, Y: near.Y, Z: -near.Z}} {
		edges = append(edges, item{points: []r2.Vec{at, v.flat(s.Pose.Apply(far))}, look: look{line: l}})
	}
	return edges
}
