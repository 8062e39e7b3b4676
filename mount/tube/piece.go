package tube

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// piece is a stretch of a tube that is straight or an arc, in the tube's own axes.
type piece struct {
	// from is where the piece starts, with z along the tube and, in an arc, x
	// toward its center.
	from     frame.Pose
	lengthMM float64
	radiusMM float64 // of an arc; 0 where straight
	bend     BendFactors
	after    weight // of the tube beyond the piece
	// points are the sections of a whole arc at which it is integrated.
	points [gaussPoints]section
	looks  [arcLooks]section // at which its stress is looked at
}

// section is a place along a piece.
type section struct {
	at, along r3.Vec // place, and direction of the tube
	beyond    weight // of the tube beyond it
}

// straight reports whether p is no arc.
func (p *piece) straight() bool { return p.radiusMM == 0 }

// section returns the section at a length from the start of p, in a tube of the
// given mass for each mm.
//
// In the axes of an arc of radius R its places are R (1 - cos f, 0, sin f), f from 0
// to the angle b, so that the first moment of what is beyond f is, for each kg of a
// mm,
//
//	∫ R (1 - cos q, 0, sin q) R dq = R² (b - f - sin b + sin f, 0, cos f - cos b)
func (p *piece) section(mm, kgPerMM float64) section {
	z := p.from.Rot.Z
	left := p.lengthMM - mm
	if p.straight() {
		at := r3.Add(p.from.At, r3.Scale(mm, z))
		own := massAt(kgPerMM*left, r3.Add(at, r3.Scale(left/2, z)))
		return section{at: at, along: z, beyond: p.after.plus(own)}
	}
	x, r := p.from.Rot.X, p.radiusMM
	sin, cos := math.Sincos(mm / r)
	sinEnd, cosEnd := math.Sincos(p.lengthMM / r)
	own := weight{kg: kgPerMM * left, sum: r3.Scale(kgPerMM*left, p.from.At)}
	own.sum = r3.Add(own.sum, frame.Blend(x, z, kgPerMM*r*(left-r*(sinEnd-sin)), kgPerMM*r*r*(cos-cosEnd)))
	return section{
		at:     r3.Add(p.from.At, frame.Blend(x, z, r*(1-cos), r*sin)),
		along:  frame.Blend(x, z, sin, cos),
		beyond: p.after.plus(own),
	}
}

// hung is what acts on a tube: what hangs on its far end, and gravity, in the tube's
// own axes.
type hung struct {
	end     weight
	gravity r3.Vec // m/s²
}

// bent returns by how much the far end of a stretch of a straight moves against its
// near end; the stretch ends restMM before the piece does.
//
// At a distance q from the far end b of the piece, with mass m and moment M0 about b
// beyond it and w for each mm of tube,
//
//	mass = m + w q,  M = M0 + (m q + w q²/2) t × g
//
// because place = b - q t. The moment along the tube is the same all along. With the
// curvature c(q) = M across / (E I) + M along / (G J), every bit of length turns
// what is beyond it by c dq about its own place, so that the turn is ∫ c dq and the
// move of the origin's point - ∫ c × (b - q t) dq. Shear and stretch add
// ∫ mass dq times g across / (share A G) and g along / (E A).
func (p *piece) bent(mm, restMM float64, k *Properties, h hung) drift {
	t, b := p.from.Rot.Z, r3.Add(p.from.At, r3.Scale(p.lengthMM, p.from.Rot.Z))
	beyond := h.end.plus(p.after)
	m0, m, w := beyond.about(b, h.gravity), beyond.kg, k.KGPerMM
	lever := r3.Cross(t, h.gravity)
	along := r3.Dot(m0, t)
	across := r3.Sub(m0, r3.Scale(along, t))

	// ∫ qⁿ dq from the rest to the end of the stretch
	far := restMM + mm
	i0 := mm
	i1 := mm * (far + restMM) / 2
	i2 := mm * (far*far + far*restMM + restMM*restMM) / 3
	i3 := mm * (far + restMM) * (far*far + restMM*restMM) / 4

	bending := frame.Blend(across, lever, i0/k.bend, (m*i1+w*i2/2)/k.bend)
	lifting := frame.Blend(across, lever, i1/k.bend, (m*i2+w*i3/2)/k.bend) // ∫ q c dq, without the twist
	var d drift
	d.bentAt(b, r3.Add(bending, r3.Scale(along*i0/k.twist, t)))
	d.move = r3.Add(d.move, r3.Cross(lifting, t))
	d.move = r3.Add(d.move, yields(t, r3.Scale(m*i0+w*i1, h.gravity), k))
	return d
}

// yields returns how far a force times a length (N mm) shears and stretches a tube
// that runs along t, mm.
func yields(t, force r3.Vec, k *Properties) r3.Vec {
	along := r3.Dot(force, t)
	return frame.Blend(force, t, 1/k.shear, along/k.stretch-along/k.shear)
}

// gaussPoints is how many points integrate an arc: a smooth function of the angle, of a degree that 8
// points follow to rounding up to half a turn.
const gaussPoints = 8

// rule is a Gauss-Legendre rule on 0 to 1.
type rule struct{ at, weight [gaussPoints]float64 }

var gauss = func() (r rule) {
	quad.Legendre{}.FixedLocations(r.at[:], r.weight[:], 0, 1)
	return r
}()

// integrable returns the sections of the first mm of an arc at which it is integrated.
func (p *piece) integrable(mm, kgPerMM float64) (points [gaussPoints]section) {
	for i := range points {
		points[i] = p.section(gauss.at[i]*mm, kgPerMM)
	}
	return points
}

// arched returns the same as bent for the first mm of an arc.
func (p *piece) arched(mm float64, k *Properties, h hung) drift {
	points := &p.points
	if mm < p.lengthMM {
		some := p.integrable(mm, k.KGPerMM)
		points = &some
	}
	var d drift
	for i := range points {
		s := &points[i]
		ds := gauss.weight[i] * mm
		beyond := h.end.plus(s.beyond)
		m := beyond.about(s.at, h.gravity)
		along := r3.Dot(m, s.along)
		turn := frame.Blend(m, s.along, ds*p.bend.Soft/k.bend, ds*along*(1/k.twist-p.bend.Soft/k.bend))
		d.bentAt(s.at, turn)
		d.move = r3.Add(d.move, yields(s.along, r3.Scale(beyond.kg*ds, h.gravity), k))
	}
	return d
}
