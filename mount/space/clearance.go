package space

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Clearance is the signed distance between two shapes, and where it is.
type Clearance struct {
	// MM is positive for shapes apart: their distance. It is negative for shapes
	// that overlap: minus the least translation that parts them.
	MM float64
	// On and Against are the points of the first and second shape's surface
	// between which the gap is measured: On - Against = MM * Toward. Where faces
	// or edges are parallel there are many such pairs, and one is chosen.
	On, Against r3.Vec
	// Toward is the unit direction in which the first shape widens the gap by
	// 1 mm for each mm moved. Where several do equally well, as for shapes
	// with a common middle, one is chosen.
	Toward r3.Vec
}

// Between returns the gap between a and b (mm, in their common frame). It agrees
// with Between(b, a) but for the sense of Toward and for rounding, does not
// allocate, and always gives the same answer for the same input.
//
// For shapes within some meters the gap is good to 1e-9 mm, and to 1e-6 mm where
// boxes without their rounding all but touch with faces or edges almost parallel.
//
// For a Shape that fails [Shape.Check] the gap is -[LimitMM], so that a thing in
// an unknown place never passes for clear.
//
// Reference: S. Gottschalk, M. C. Lin, D. Manocha, "OBBTree: a hierarchical
// structure for rapid interference detection", 1996, for the fifteen directions
// (from memory); the rest is derived in the package documentation.
func Between(a, b Shape) Clearance {
	if !a.isShape() || !b.isShape() {
		return Clearance{MM: -LimitMM, Toward: r3.Vec{Z: 1}}
	}
	d := differenceOf(a, b)
	core := d.gap()
	toward := a.Pose.Rot.Apply(core.toward)
	on := a.Pose.Apply(r3.Vec{X: core.x[0], Y: core.x[1], Z: core.x[2]})
	against := b.Pose.Apply(r3.Vec{X: core.x[3], Y: core.x[4], Z: core.x[5]})
	return Clearance{
		MM:      core.mm - a.RoundMM - b.RoundMM,
		On:      r3.Sub(on, r3.Scale(a.RoundMM, toward)),
		Against: r3.Add(against, r3.Scale(b.RoundMM, toward)),
		Toward:  toward,
	}
}

// FromPoint returns the gap between the point p (mm) and s: the distance of p
// from the surface of s, negative inside. Toward leads out of s.
func FromPoint(p r3.Vec, s Shape) Clearance {
	return Between(Shape{Pose: frame.Translate(p)}, s)
}

// Clear reports whether a and b are at least mm apart. It says the same as
// [Between], and much sooner where they are far apart.
func Clear(a, b Shape, mm float64) bool {
	return FarApart(&a, &b, mm) && a.isShape() && b.isShape() || Between(a, b).MM >= mm
}

// FarApart reports whether a and b are at a glance more than mm apart: the middle of a
// from the box of b by more than that and what reaches beyond either. It is never true of
// shapes that are nearer; of shapes that are not, it may be false. Both must be shapes,
// see [Shape.Check].
func FarApart(a, b *Shape, mm float64) bool {
	out := b.beyondBox(a.Pose.At)
	d, reach := r3.Dot(out, out), mm+a.ballMM()+b.RoundMM
	return d > 0 && (reach <= 0 || d > reach*reach)
}

// difference is the set of differences D of two boxes, as in the package
// documentation, in the axes of the first. Entries 0 to 2 belong to the first
// box, 3 to 5 to the second; the latter's directions are reversed so that its
// coordinates enter D with a plus sign.
type difference struct {
	c     r3.Vec     // middle of the first box less that of the second
	u     [6]r3.Vec  // unit edge directions
	h     [6]float64 // half edge lengths
	scale float64    // size of the numbers involved, for rounding error
}

func differenceOf(a, b Shape) difference {
	ra, rb := a.Pose.Rot, b.Pose.Rot
	d := difference{
		c: ra.ApplyInverse(r3.Sub(a.Pose.At, b.Pose.At)),
		u: [6]r3.Vec{
			{X: 1},
			{Y: 1},
			{Z: 1},
			r3.Scale(-1, ra.ApplyInverse(rb.X)),
			r3.Scale(-1, ra.ApplyInverse(rb.Y)),
			r3.Scale(-1, ra.ApplyInverse(rb.Z)),
		},
		h: [6]float64{a.HalfMM.X, a.HalfMM.Y, a.HalfMM.Z, b.HalfMM.X, b.HalfMM.Y, b.HalfMM.Z},
	}
	d.scale = math.Abs(d.c.X) + math.Abs(d.c.Y) + math.Abs(d.c.Z)
	for _, h := range d.h {
		d.scale += h
	}
	return d
}

// coreGap is the gap between two boxes without rounding, in the axes of the first.
type coreGap struct {
	mm     float64
	toward r3.Vec
	x      [6]float64 // where on each box, in that box's own axes
}

const (
	// touching is the gap, as a share of scale, up to which boxes count as nearly
	// in contact. The difference of two nearest points carries an error of about
	// 1e-16 scale, so at this gap a direction found from it is good to 1e-9.
	touching = 1e-7
	// touchingMM is the same for shapes so small that the share would underflow.
	touchingMM = 1e-9
	// partedMM is how far boxes in contact are parted to find their nearest
	// points: any definite distance would do.
	partedMM = 1
)

// gap returns the signed distance of the origin from d.
//
// The boxes are never farther apart along any one direction than they are, so
// the largest of such values is the answer that rounding can't overstate. Where
// the boxes are apart, the direction between the nearest points joins the face
// normals as a candidate, and is preferred where it is as good.
//
// Near contact and in overlap the nearest points are lost in rounding, or mean
// nothing. There the first box is moved along the best direction until it is clear
// by a definite distance, and the nearest points are those found there.
func (d *difference) gap() coreGap {
	least := max(d.scale*touching, touchingMM)
	toward, mm := d.widest(least)
	if mm > 0 {
		x, r := d.nearest(toward)
		n := r3.Scale(1/length(r), r)
		if s := d.apart(n); s > mm-d.scale*rounding { // false if r is zero
			toward, mm = n, max(mm, s)
		}
		if mm > least {
			return coreGap{mm: mm, toward: toward, x: x}
		}
	}
	parted := *d
	parted.c = r3.Add(d.c, r3.Scale(partedMM-mm, toward))
	x, _ := parted.nearest(toward)
	return coreGap{mm: mm, toward: toward, x: x}
}
