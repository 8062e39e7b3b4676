package plots

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

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

// roundPoints is into how many points circles are cut: at 48 the chords leave a
// circle by 0.2 % of its radius.
const roundPoints = 48

// tubePoints is the same for tubes, which are thin: 2 % of their radius.
const tubePoints = 16

// balls returns the outline of the convex hull of balls: exact for a capsule,
// and for a rounded box with its corners given.
func (v plane) balls(round ...ball) []r2.Vec {
	return v.cut(roundPoints, round...)
}

// cut is balls with circles cut into n points.
func (v plane) cut(n int, round ...ball) []r2.Vec {
	var points []r2.Vec
	for _, b := range round {
		at := v.flat(b.at)
		if b.radius == 0 {
			points = append(points, at)
			continue
		}
		for i := range n {
			s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			points = append(points, r2.Vec{X: at.X + b.radius*c, Y: at.Y + b.radius*s})
		}
	}
	return hull(points)
}

// ball is a ball in chair axes (mm).
type ball struct {
	at     r3.Vec
	radius float64
}

// shape returns the outline of a rounded box.
func (v plane) shape(s space.Shape) []r2.Vec {
	round := make([]ball, 0, 8)
	for i := range 8 {
		round = append(round, ball{s.Pose.Apply(s.Corner(i)), s.RoundMM})
	}
	return v.balls(round...)
}

// ellipsoid returns the outline of the ellipsoid about centre with the given
// semi-axes, as vectors in chair axes (mm); nil where it is flat in the view.
//
// The point furthest along a unit direction n is Σ aᵢ (aᵢ·n) / |(aᵢ·n)|; for all
// directions n of the view these points make the outline.
func (v plane) ellipsoid(centre r3.Vec, semi [3]r3.Vec) []r2.Vec {
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
		outline = append(outline, v.flat(r3.Add(centre, r3.Scale(1/length, sum))))
	}
	return outline
}

// tube returns outlines that together cover a round tube along a line, with flat
// ends: a cylinder for each straight and a ball at each bend between two.
func (v plane) tube(line []r3.Vec, radius float64) [][]r2.Vec {
	var outlines [][]r2.Vec
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		if i > 1 {
			outlines = append(outlines, v.cut(tubePoints, ball{a, radius}))
		}
		if cylinder := v.cylinder(a, b, radius); cylinder != nil {
			outlines = append(outlines, cylinder)
		}
	}
	return outlines
}

// cylinder returns the outline of a cylinder: the hull of its two end circles,
// whose semi-axes are two vectors square to it. It returns nil where a and b
// coincide.
func (v plane) cylinder(a, b r3.Vec, radius float64) []r2.Vec {
	if a == b {
		return nil
	}
	return hull(v.flatAll(append(ringAt(a, b, radius), ringAt(b, a, radius)...)...))
}

// ringAt returns the end at a of a round tube from a to b.
func ringAt(a, b r3.Vec, radius float64) []r3.Vec {
	along := r3.Sub(b, a)
	if r3.Norm(along) == 0 {
		return []r3.Vec{a}
	}
	p := r3.Scale(radius, r3.Unit(r3.Cross(along, squareTo(along))))
	q := r3.Scale(radius, r3.Unit(r3.Cross(along, p)))
	ring := make([]r3.Vec, tubePoints)
	for i := range ring {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / tubePoints)
		ring[i] = r3.Add(a, r3.Add(r3.Scale(cos, p), r3.Scale(sin, q)))
	}
	return ring
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
