package tube

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// forces are what acts on a section of a tube.
type forces struct {
	along, across r3.Vec  // direction of the tube; moment that bends it, N mm
	twists        float64 // moment that twists it, N mm
	pull          float64 // force along it, N
	shear         r3.Vec  // force across it, N
}

// forcesOn returns what h and a tube's own weight beyond s do to s.
func forcesOn(s section, h hung) forces {
	beyond := h.end.plus(s.beyond)
	m := beyond.about(s.at, h.gravity)
	f := r3.Scale(beyond.kg, h.gravity)
	twists, pull := r3.Dot(m, s.along), r3.Dot(f, s.along)
	return forces{
		along:  s.along,
		across: r3.Sub(m, r3.Scale(twists, s.along)),
		twists: twists,
		pull:   pull,
		shear:  r3.Sub(f, r3.Scale(pull, s.along)),
	}
}

// momentNM returns the size of bending and twisting moment together, N m.
func (f forces) momentNM() float64 { return math.Hypot(r3.Norm(f.across), f.twists) / nmm }

// mises returns the greatest equivalent stress after von Mises on the section, N/mm²,
// where bending stresses it stressFactor times as much as a straight tube.
//
// On the outside, at the angle p from where bending pulls most,
//
//	pull stress  s(p) = N/A + B/W cos p
//	shear stress q(p) = T r/J + 2/A (V2 cos p - V1 sin p)
//	mises² = s² + 3 q²
//
// with the shear of a thin ring, V1 and V2 being the shear force toward p = 0 and
// p = 90°. The square is a trigonometric polynomial of the second degree and has two
// tops at most; Newton's steps climb the one by the greatest of eight equal steps.
func (f forces) mises(k *Properties, stressFactor float64) float64 {
	b := math.Sqrt(r3.Norm2(f.across))
	toward := r3.Cross(f.along, f.across) // where bending pulls most
	if b == 0 {
		toward = f.shear
	}
	toward = unitOr0(toward)
	pull, bend := f.pull/k.AreaMM2, stressFactor*b/k.ModulusMM3
	twist := f.twists * k.outsideMM / k.TorsionMM4
	v1 := 2 / k.AreaMM2 * r3.Dot(f.shear, toward)
	v2 := 2 / k.AreaMM2 * r3.Dot(f.shear, r3.Cross(f.along, toward))
	square := func(sin, cos float64) float64 {
		s, q := pull+bend*cos, twist+v2*cos-v1*sin
		return s*s + 3*q*q
	}
	best, at := 0.0, 0.0
	sin, cos := 0.0, 1.0 // stepping on by 45°
	for i := range 8 {
		if v := square(sin, cos); v > best {
			best, at = v, float64(i)*math.Pi/4
		}
		sin, cos = (sin+cos)/math.Sqrt2, (cos-sin)/math.Sqrt2
	}
	for range 3 {
		sin, cos = math.Sincos(at)
		s, ds := pull+bend*cos, -bend*sin
		q, dq := twist+v2*cos-v1*sin, -v2*sin-v1*cos
		best = max(best, s*s+3*q*q)
		slope := s*ds + 3*q*dq
		curve := ds*ds - s*bend*cos + 3*(dq*dq-q*(v2*cos-v1*sin))
		if !(curve < 0) {
			break
		}
		at -= slope / curve
	}
	return math.Sqrt(best)
}

// unitOr0 returns v at unit length, or zero if it has none.
func unitOr0(v r3.Vec) r3.Vec {
	if n := r3.Norm(v); n > 0 {
		return r3.Scale(1/n, v)
	}
	return r3.Vec{}
}

// worst returns the greatest stress along the tube.
//
// Along a straight the moment grows from the far end to the near, but for what the
// moment at its far end takes off, so that the greatest is at one of its ends. An
// arc is looked at in nine places, and between the neighbors of the greatest at the
// top of the parabola through the three.
func (s *span) worst() Stress {
	w := Stress{Part: s.Part, YieldMPa: s.Section.Material.YieldMPa, MPa: -1} // less than any
	s.tailStress(&w)
	along := 0.0
	for i := range s.pieces {
		p := &s.pieces[i]
		if p.straight() {
			s.note(&w, p, p.section(0, s.stiff.KGPerMM), along)
			s.note(&w, p, p.section(p.lengthMM, s.stiff.KGPerMM), along+p.lengthMM)
		} else {
			s.arcStress(&w, p, along)
		}
		along += p.lengthMM
	}
	return w
}

// note takes a section into account and returns its stress. One that is no number counts
// as greater than all others.
func (s *span) note(w *Stress, p *piece, sec section, along float64) float64 {
	f := forcesOn(sec, s.hung)
	v := f.mises(&s.stiff, p.bend.Stress)
	if v > w.MPa || math.IsNaN(v) {
		w.MPa, w.AtMM, w.MomentNM = v, along, f.momentNM()
	}
	return v
}

// arcLooks is in how many places, in equal steps from end to end, an arc is looked at
// for its greatest stress.
const arcLooks = 9

func (s *span) arcStress(w *Stress, p *piece, before float64) {
	const steps = arcLooks - 1
	var v [arcLooks]float64
	top := 0
	for i := range v {
		v[i] = s.note(w, p, p.looks[i], before+p.lengthMM*float64(i)/steps)
		if v[i] > v[top] {
			top = i
		}
	}
	if top == 0 || top == steps {
		return
	}
	down := v[top-1] - v[top] + (v[top+1] - v[top])
	if down < 0 {
		mm := p.lengthMM / steps * (float64(top) + (v[top-1]-v[top+1])/(2*down))
		s.note(w, p, p.section(mm, s.stiff.KGPerMM), before+mm)
	}
}

// tailStress takes into account what holds up the part of the tube that sticks out
// behind.
func (s *span) tailStress(w *Stress) {
	if s.tailMM == 0 {
		return
	}
	root := section{at: s.pieces[0].from.At, along: r3.Vec{Z: 1}, beyond: s.tail()}
	f := forcesOn(root, hung{gravity: s.hung.gravity})
	w.MPa, w.MomentNM = f.mises(&s.stiff, 1), f.momentNM()
}
