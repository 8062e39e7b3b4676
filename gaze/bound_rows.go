package gaze

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// span is a box of screens about the one in its middle.
type span struct {
	rot         frame.Rotation // carrierFromScreen in the middle
	eyes        r3.Vec         // from the screen's middle to the eyes' middle, screen axes
	out         r3.Vec         // the same in carrier axes
	arms        [4]r3.Vec      // from the screen's middle to the corners, carrier axes
	axes        [3]r3.Vec      // the turn per unit of each turning variable, carrier axes
	half        []float64
	turn, shift float64 // the greatest turn and the greatest shift from the middle
	bend        float64 // by how much a turn moves a point at a unit's distance off its tangent
	least       float64 // the least length of a rotation vector
	// off is how far, at the most, the screen's middle is off the place that is linear in the
	// variables, along each of the screen's axes. That is the same for all that is asked of
	// the place of the screen: shared variables say which part of it is.
	off [3]float64
}

// shared is how many variables say by how much the screen's middle is off.
const shared = 3

func (b *bounding) span(mid, half []float64) span {
	s := span{rot: b.rotation(mid), eyes: r3.Vec{X: mid[3], Y: mid[4], Z: mid[5]}, half: half}
	s.out = s.rot.Apply(s.eyes)
	for i := range s.arms {
		s.arms[i] = s.rot.Apply(b.r.Judge.corners[i].at)
	}
	s.turn = math.Hypot(half[0], math.Hypot(half[1], half[2]))
	s.shift = math.Hypot(half[3], math.Hypot(half[4], half[5]))
	s.bend = s.turn * s.turn / 2
	for k := range 3 {
		s.least = math.Hypot(s.least, max(0, math.Abs(mid[k])-half[k]))
	}
	w := r3.Vec{X: mid[0], Y: mid[1], Z: mid[2]}
	// The left Jacobian of the exponential map: 1 + (1 - cos φ)/φ² W + (φ - sin φ)/φ³ W².
	once, twice := 0.5, 1/6.0
	if phi := r3.Norm(w); phi > 1e-4 {
		once, twice = (1-math.Cos(phi))/(phi*phi), (phi-math.Sin(phi))/(phi*phi*phi)
	}
	for k, e := range [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		we := r3.Cross(w, e)
		s.axes[k] = r3.Add(e, r3.Add(r3.Scale(once, we), r3.Scale(twice, r3.Cross(w, we))))
	}
	// A turn with a shift moves the screen by the products of each with each.
	for i, n := range [3]r3.Vec{s.rot.X, s.rot.Y, s.rot.Z} {
		both := 0.0
		for k, axis := range s.axes {
			v := s.rot.ApplyInverse(r3.Cross(n, axis))
			both += half[k] * (math.Abs(v.X)*half[3] + math.Abs(v.Y)*half[4] + math.Abs(v.Z)*half[5])
		}
		s.off[i] = s.bend*(length(s.out)+s.shift) + min(both, s.turn*s.shift)
	}
	return s
}

// keepRanges appends what the ranges of the aim ask for, and reports whether any screen of
// the box may keep them. How far the aim may change within the box follows from the turns:
// of the screen, of the line of sight, and of the square axes that follow it.
func (b *bounding) keepRanges(dst []bent, s *span) ([]bent, bool) {
	low, high := &b.r.Ranges.Low, &b.r.Ranges.High
	far := r3.Norm(s.out)
	if far-s.shift > high.DistanceMM || far+s.shift < low.DistanceMM {
		return dst, false
	}
	if far <= s.shift {
		return dst, true
	}
	// |u| is nowhere below its tangent, and above it by at most shift²/(2 (far - shift)).
	farther := bent{mm: far + s.shift*s.shift/(2*(far-s.shift)) - low.DistanceMM}
	nearer := bent{mm: high.DistanceMM - far}
	local := r3.Scale(1/far, s.eyes)
	for k, v := range [3]float64{local.X, local.Y, local.Z} {
		farther.grad[3+k], nearer.grad[3+k] = v, -v
	}
	dst = append(dst, farther)
	dst = append(dst, nearer)

	aim := AimAt(b.posed(s.rot, s.out), &b.r.Postures[0], b.r.Upright)
	swing := math.Asin(s.shift / far) // of the eyes' middle as seen from the screen
	// The angle of incidence is the screen's alone to say.
	incidence := math.Acos(min(1, max(-1, local.Z)))
	steepest := math.Acos(math.Cos(widest(low.FacingUp, high.FacingUp)) * math.Cos(widest(low.FacingRight, high.FacingRight)))
	if incidence-swing > steepest {
		return dst, false
	}
	if steepest < math.Pi/2 { // a cone: u·n >= |u| cos
		cone := bent{mm: far * (local.Z - math.Cos(steepest))}
		for k, v := range [3]float64{local.X, local.Y, local.Z} {
			cone.grad[3+k] = -math.Cos(steepest) * v
		}
		cone.grad[5]++
		dst = append(dst, cone)
	}
	sight := s.turn + swing
	if apart(aim.Down, low.Down, high.Down) > sight {
		return dst, false
	}
	if past := apart(aim.Left, low.Left, high.Left); past > 0 && sight < math.Pi/2 &&
		math.Asin(math.Cos(aim.Down.Radians())*math.Sin(min(past, math.Pi/2))) > sight {
		return dst, false // the nearest direction in range lies on a half circle from pole to pole
	}
	// In screen axes the upper edge of the square axes lies along q = t - (t·û)û, t the
	// upright and û toward the eyes' middle. They move by the turn and by the swing, q by no
	// more than both together.
	t := s.rot.ApplyInverse(b.aiming.up)
	q := r3.Sub(t, r3.Scale(r3.Dot(t, local), local))
	if length(q)*math.Sin(min(apart(aim.FacingUp, low.FacingUp, high.FacingUp), math.Pi/2)) > sight ||
		math.Hypot(q.X, q.Y)*math.Sin(min(apart(aim.Roll, low.Roll, high.Roll), math.Pi/2)) > sight {
		return dst, false
	}
	if high.Roll-low.Roll <= math.Pi {
		sin, cos := frame.Sincos(low.Roll)
		dst = append(dst, s.rolled(b.aiming.up, r3.Vec{X: cos, Y: -sin}))
		sin, cos = frame.Sincos(high.Roll)
		dst = append(dst, s.rolled(b.aiming.up, r3.Vec{X: -cos, Y: sin}))
	}
	return dst, true
}

// rolled bounds e·q = e·t - (t·û)(e·û), which is not negative for a screen rolled to the side of
// a limit that is allowed; see keepRanges. Of û(u) = u/|u| the second derivative is at most
// 2/√3 of 1/|u|².
func (s *span) rolled(up, e r3.Vec) bent {
	far := length(s.eyes)
	local, t := r3.Scale(1/far, s.eyes), s.rot.ApplyInverse(up)
	along, across := r3.Dot(t, local), r3.Dot(e, local)
	byTurn := r3.Sub(e, r3.Scale(across, local))
	bySwing := r3.Add(r3.Scale(along, e), r3.Scale(across, t))
	swing, near := math.Asin(s.shift/far), s.shift/(far-s.shift)
	row := bent{mm: r3.Dot(e, t) - along*across + s.bend*length(byTurn) + near*near/math.Sqrt(3)*length(bySwing) +
		s.turn*swing*(1+math.Abs(across)) + swing*swing*(1+s.turn)}
	turn := r3.Cross(s.rot.Apply(byTurn), up)
	for k, axis := range s.axes {
		row.grad[k] = r3.Dot(axis, turn)
	}
	v := r3.Scale(-1/far, r3.Sub(bySwing, r3.Scale(r3.Dot(bySwing, local), local)))
	row.grad[3], row.grad[4], row.grad[5] = v.X, v.Y, v.Z
	return row
}

// widest returns the greater size of two angles (rad), at most a half circle.
func widest(low, high frame.Angle) float64 {
	return min(max(math.Abs(low.Radians()), math.Abs(high.Radians())), math.Pi)
}

// apart returns how far an angle is from a range, either way round (rad); 0 within it.
func apart(a, low, high frame.Angle) float64 {
	v, lo, hi := a.Radians(), low.Radians(), high.Radians()
	if v >= lo && v <= hi {
		return 0
	}
	return min(math.Abs(math.Remainder(lo-v, 2*math.Pi)), math.Abs(math.Remainder(v-hi, 2*math.Pi)))
}

// bent is a margin within a box: nowhere above mm + grad·d, the shared variables last in d.
type bent struct {
	mm   float64
	grad [6 + shared]float64
}

// most returns the greatest value within the box.
func (m *bent) most(half []float64) float64 {
	mm := m.mm
	for k, h := range half {
		mm += math.Abs(m.grad[k]) * h
	}
	for _, g := range m.grad[len(half):] {
		mm += math.Abs(g)
	}
	return mm
}

// person is what is the same in every box about one posture.
type person struct {
	st      *PostureInCarrier
	offset  [2]r3.Vec // from the eyes' middle in the leading posture to each eye, carrier axes
	limits  [4]r3.Vec // normals of the gaze range, carrier axes
	support [4]float64
	// the least and the most that the movement takes
	least, most float64
}

func (b *bounding) person(st *PostureInCarrier) person {
	p := person{st: st}
	for eye, at := range st.Eyes {
		p.offset[eye] = r3.Sub(at, b.middle)
	}
	for i := range p.limits {
		p.limits[i] = st.Head.Rot.Apply(b.r.Judge.gazeRange[i].normal)
		p.support[i] = st.Support(p.limits[i])
	}
	m := st.MovementMM
	p.least, p.most = min(m.X, m.Y, m.Z), max(m.X, m.Y, m.Z)
	return p
}

// margins fills b.rows with the margins at each eye in one posture, and returns what none of
// the box exceeds. It ends with the first that leaves no eye that matters.
//
// With a rotation vector that changes by θ, a point at a distance ρ from the axis is off
// its tangent by no more than ρ θ²/2, because the exponential map of rotations has a second
// derivative of at most 1. Seen from the screen, an eye is at u, the variable itself, and
// turns with its offset from the eyes' middle. Seen from an eye, a corner turns with
// corner - u, and a turn with a shift of u moves it a second time: the turn of u and the second
// movement are those of the screen's middle, [span.off].
//
// What the movement takes is the support of an ellipsoid, which is nowhere less than that
// of its one point w furthest at the middle of the box: w counts as a part of the eye's
// offset.
func (b *bounding) margins(s *span, p *person) (most [2]float64) {
	most = [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, eye := range b.eyes {
		b.rows[eye], most[eye] = b.rows[eye][:0], math.Inf(1)
	}
	add := func(eye Eye, m bent) bool {
		b.rows[eye] = append(b.rows[eye], m)
		most[eye] = min(most[eye], m.most(s.half))
		return most[eye] > b.levelMM || b.mattersWithout(eye, &most)
	}
	j := &b.r.Judge
	for i := range j.faces {
		f := &j.faces[i]
		n := s.rot.Apply(f.inward)
		support := p.st.Support(n)
		w := p.st.supportPoint(n, support)
		for _, eye := range b.eyes {
			row := s.seen(f.margin(s.eyes)+r3.Dot(n, p.offset[eye])-support, f.inward, n, r3.Sub(p.offset[eye], w))
			row.mm += s.bend * (length(p.offset[eye]) + length(w))
			if !add(eye, row) {
				return most
			}
		}
	}
	for i := range j.corners {
		for _, eye := range b.eyes {
			if !add(eye, s.arc(p, eye, &j.corners[i], most[eye])) {
				return most
			}
		}
	}
	for i, l := range p.limits {
		for _, arm := range s.arms {
			row := s.placed(r3.Dot(l, r3.Sub(arm, s.out))-p.support[i], l, arm)
			for _, eye := range b.eyes {
				own := row
				own.mm -= r3.Dot(l, p.offset[eye])
				if !add(eye, own) {
					return most
				}
			}
		}
	}
	return most
}

// mattersWithout reports whether anything matters where the margin at an eye does not.
func (b *bounding) mattersWithout(eye Eye, most *[2]float64) bool {
	return b.r.Judge.eyes == Either && most[1-eye] > b.levelMM
}

// length is the norm of v, which is far from overflow: several times as fast as [r3.Norm].
func length(v r3.Vec) float64 { return math.Sqrt(r3.Norm2(v)) }

// seen returns a margin of a point at an offset from the eyes' middle that grows along inward,
// in screen axes, which is n in carrier axes: how far the point is inside what the screen carries.
func (s *span) seen(mm float64, inward, n, offset r3.Vec) bent {
	row := bent{mm: mm}
	turn := r3.Cross(n, offset)
	for k, axis := range s.axes {
		row.grad[k] = r3.Dot(axis, turn)
	}
	row.grad[3], row.grad[4], row.grad[5] = inward.X, inward.Y, inward.Z
	return row
}

// placed returns a margin of a point of the screen, at an arm from its middle, that grows along l,
// in carrier axes.
func (s *span) placed(mm float64, l, arm r3.Vec) bent {
	row := bent{mm: mm + s.bend*length(arm)}
	turn := r3.Cross(r3.Sub(arm, s.out), l)
	for k, axis := range s.axes {
		row.grad[k] = r3.Dot(axis, turn)
	}
	local := s.rot.ApplyInverse(l)
	for k, v := range [3]float64{local.X, local.Y, local.Z} {
		row.grad[3+k], row.grad[6+k] = -v, v*s.off[k]
	}
	return row
}

// beyondMM is more than any margin, and little enough to be added to one.
const beyondMM = 1e6

// arc bounds the margin of the gaze limit at a corner in one of two ways, whichever is
// lower in the middle of the box. The distance from an arc is convex beyond its center,
// bending by no more than 1/q, q the distance from the center of the arc.
//
//   - With the one point w of the movement: dist(y) - w·∇dist(y) <= dist(y - w).
//   - With the support at the middle less what it can change by: its point that lies
//     furthest out times the angle by which the gradient turns.
//
// Where the arc is too near for that, the distance still changes by no more than the eye
// moves. Where it is nowhere below what another margin never exceeds, it does not count.
func (s *span) arc(p *person, eye Eye, k *corner, exceeds float64) bent {
	at := func(offset r3.Vec) (row bent, n r3.Vec, q, v, move float64) {
		mm, g := k.margin(r3.Add(s.eyes, s.rot.ApplyInverse(offset)))
		q, n = mm+k.radius, s.rot.Apply(g.inward)
		v, move = -q*r3.Dot(g.tangent, k.chord), s.shift+s.turn*length(offset)
		row = s.seen(mm, g.inward, n, offset)
		if q > move {
			row.mm += s.bend*length(offset) + move*move/(q-move)/2
		}
		return row, n, q, v, move
	}
	own, n, q, v, move := at(p.offset[eye])
	mm := q - k.radius
	if mm-move-p.most > exceeds {
		return bent{mm: beyondMM}
	}
	if v <= move || q <= move {
		return bent{mm: mm + move - p.least}
	}
	support := p.st.Support(n)
	w := p.st.supportPoint(n, support)
	own.mm -= max(support-p.most*(s.turn+move/(q-move)), p.least)

	far, _, q, v, move := at(r3.Sub(p.offset[eye], w))
	if v > move+p.most && q > move && far.mm < own.mm {
		return far
	}
	return own
}
