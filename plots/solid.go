package plots

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot/vg/draw"

	"sightpost/gaze/frame"
	"sightpost/mount/space"
)

// plane is a plane of paper onto which the world is projected square to it: x and
// y are the unit vectors in chair axes that point right and up on paper.
type plane struct {
	x, y r3.Vec
	// from is the place in chair axes that is the origin of paper.
	from r3.Vec
}

// flat returns the place of p (mm, chair axes) on the plane.
func (v plane) flat(p r3.Vec) r2.Vec {
	p = r3.Sub(p, v.from)
	return r2.Vec{X: r3.Dot(v.x, p), Y: r3.Dot(v.y, p)}
}

// flatAll returns the places of points on the plane.
func (v plane) flatAll(points ...r3.Vec) []r2.Vec {
	flat := make([]r2.Vec, len(points))
	for i, p := range points {
		flat[i] = v.flat(p)
	}
	return flat
}

// roundPoints is into how many points circles are cut: at 32 the chords leave a
// circle by 0.5 % of its radius.
const roundPoints = 32

// shape returns the outline of a rounded box.
func (v plane) shape(s space.Shape) []r2.Vec {
	var corners, points []r2.Vec
	for i := range 8 {
		corners = append(corners, v.flat(s.Pose.Apply(s.Corner(i))))
	}
	corners = hull(corners)
	if s.RoundMM == 0 {
		return corners
	}
	for _, at := range corners {
		for i := range roundPoints {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / roundPoints)
			points = append(points, r2.Vec{X: at.X + s.RoundMM*cos, Y: at.Y + s.RoundMM*sin})
		}
	}
	return hull(points)
}

// slab returns the box from one place to another (mm), half as wide as half to either side
// along y and rounded all about: a capsule where half is 0.
func slab(from, to r3.Vec, half, round float64) space.Shape {
	along, side := r3.Sub(to, from), r3.Vec{Y: 1}
	if along.X == 0 && along.Z == 0 {
		side = r3.Vec{X: 1}
	}
	s := space.Shape{Pose: frame.Translate(r3.Scale(0.5, r3.Add(from, to))), HalfMM: r3.Vec{X: r3.Norm(along) / 2, Y: half}, RoundMM: round}
	if s.HalfMM.X > 0 {
		s.Pose.Rot = frame.FromAxes(along, side)
	}
	return s
}

// ellipsoid returns the outline of the ellipsoid about center with the given
// semi-axes, as vectors in chair axes (mm); nil where it is flat in the view.
//
// The point furthest along a unit direction n is Σ aᵢ (aᵢ·n) / |(aᵢ·n)|; for all
// directions n of the view these points make the outline.
func (v plane) ellipsoid(center r3.Vec, semi [3]r3.Vec) []r2.Vec {
	outline := make([]r2.Vec, 0, roundPoints)
	for i := range roundPoints {
		s, c := math.Sincos(2 * math.Pi * float64(i) / roundPoints)
		along := r3.Add(r3.Scale(c, v.x), r3.Scale(s, v.y))
		var sum r3.Vec
		length := 0.0
		for _, a := range semi {
			d := r3.Dot(a, along)
			sum = r3.Add(sum, r3.Scale(d, a))
			length = math.Hypot(length, d)
		}
		if length == 0 {
			return nil
		}
		outline = append(outline, v.flat(r3.Add(center, r3.Scale(1/length, sum))))
	}
	return outline
}

// hull returns the convex hull of points, counterclockwise.
//
// Reference: A. M. Andrew, "Another efficient algorithm for convex hulls in two
// dimensions", Information Processing Letters 9(5), 1979, 216-219, from memory.
func hull(points []r2.Vec) []r2.Vec {
	slices.SortFunc(points, func(a, b r2.Vec) int {
		return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y))
	})
	points = slices.Compact(points)
	if len(points) < 3 {
		return points
	}
	half := func(out []r2.Vec, p r2.Vec, from int) []r2.Vec {
		for len(out)-from >= 2 {
			a, b := out[len(out)-2], out[len(out)-1]
			if r2.Cross(r2.Sub(b, a), r2.Sub(p, a)) > 0 {
				break
			}
			out = out[:len(out)-1]
		}
		return append(out, p)
	}
	var out []r2.Vec
	for _, p := range points {
		out = half(out, p, 0)
	}
	from := len(out) - 1
	for _, p := range slices.Backward(points[:len(points)-1]) {
		out = half(out, p, from)
	}
	return out[:len(out)-1]
}

// piece is a convex part of a drawing that hides what is behind it.
type piece struct {
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
	rest := slices.Clone(pieces)
	depth := func(p piece) float64 { return r3.Dot(v.toward(), p.shape.Pose.At) }
	slices.SortStableFunc(rest, func(a, b piece) int { return cmp.Compare(depth(a), depth(b)) })
	waits := make([][]bool, len(rest)) // by a piece, for those that it hides
	for i, p := range rest {
		waits[i] = make([]bool, len(rest))
		for j, q := range rest[:i] {
			if len(p.outline) == 0 || len(q.outline) == 0 || parts(p.outline, q.outline) || parts(q.outline, p.outline) {
				continue // they do not overlap: an edge of either parts them
			}
			waits[i][j] = v.inFront(p.shape, q.shape)
			waits[j][i] = !waits[i][j]
		}
	}
	out := make([]piece, 0, len(rest))
	left := make([]int, len(rest))
	for i := range left {
		left[i] = i
	}
	for len(left) > 0 {
		next := max(0, slices.IndexFunc(left, func(i int) bool {
			return !slices.ContainsFunc(left, func(j int) bool { return waits[i][j] })
		}))
		out = append(out, rest[left[next]])
		left = slices.Delete(left, next, next+1)
	}
	return out
}

// inFront reports whether a is in front of b, for pieces that overlap on paper.
// Pieces that touch or go through each other, as limbs do at a joint, are drawn
// together about their middles until they part; where they then lie side by side, a is in
// front.
func (v plane) inFront(a, b space.Shape) bool {
	const apart, closer, least, beside = 1e-6, 0.75, 0.05, -0.1
	for k := 1.0; k > least; k *= closer {
		if g := space.Between(shrunk(a, k), shrunk(b, k)); g.MM > apart {
			way := r3.Dot(g.Toward, v.toward())
			return way > 0 || k < 1 && way > beside
		}
	}
	return r3.Dot(r3.Sub(a.Pose.At, b.Pose.At), v.toward()) > beside
}

// shrunk returns s drawn together about its middle.
func shrunk(s space.Shape, k float64) space.Shape {
	s.HalfMM, s.RoundMM = r3.Scale(k, s.HalfMM), s.RoundMM*k
	return s
}

// parts reports whether an edge of the outline a, counterclockwise, has all of b
// on its outer side.
func parts(a, b []r2.Vec) bool {
	for i, p := range a {
		edge := r2.Sub(a[(i+1)%len(a)], p)
		if !slices.ContainsFunc(b, func(q r2.Vec) bool { return r2.Cross(edge, r2.Sub(q, p)) > 0 }) {
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
