package gaze

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/gaze/minimax"
)

// span is a box of screens about the one in its middle.
type span struct {
	pose        frame.Pose
	out         r3.Vec    // from the screen's middle to the eyes' middle, carrier axes
	axes        [3]r3.Vec // the turn per unit of each turning variable, carrier axes
	half        []float64
	turn, shift float64 // the greatest turn and the greatest shift from the middle
	least       float64 // the least length of a rotation vector
}

func (b *bounding) span(mid, half []float64) span {
	s := span{pose: b.poseAt(mid), half: half}
	s.out = r3.Sub(b.middle, s.pose.At)
	s.turn = math.Hypot(half[0], math.Hypot(half[1], half[2]))
	s.shift = math.Hypot(half[3], math.Hypot(half[4], half[5]))
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
	return s
}

// keepRanges appends what the ranges of the aim ask for, and reports whether any screen of
// the box may keep them. How far the aim may change within the box follows from the turns:
// of the screen, of the line of sight, and of the square axes that follow it.
func (b *bounding) keepRanges(s *span, rows *minimax.Rows) bool {
	low, high := &b.r.Ranges.Low, &b.r.Ranges.High
	far := r3.Norm(s.out)
	if far-s.shift > high.DistanceMM || far+s.shift < low.DistanceMM {
		return false
	}
	if far <= s.shift {
		return true
	}
	out := r3.Scale(1/far, s.out)
	// |u| is nowhere below its tangent, and above it by at most shift²/(2 (far - shift)).
	farther := bent{mm: far + s.shift*s.shift/(2*(far-s.shift)) - low.DistanceMM}
	nearer := bent{mm: high.DistanceMM - far}
	local := s.pose.Rot.ApplyInverse(out)
	for k, v := range [3]float64{local.X, local.Y, local.Z} {
		farther.grad[3+k], nearer.grad[3+k] = v, -v
	}
	rows.Keep(farther.mm, farther.grad[:])
	rows.Keep(nearer.mm, nearer.grad[:])

	aim := AimAt(s.pose, &b.r.Postures[0], b.r.Upright)
	swing := math.Asin(s.shift / far) // of the eyes' middle as seen from the screen
	// The angle of incidence is the screen's alone to say.
	incidence := math.Acos(min(1, max(-1, local.Z)))
	steepest := math.Acos(math.Cos(widest(low.FacingUp, high.FacingUp)) * math.Cos(widest(low.FacingRight, high.FacingRight)))
	if incidence-swing > steepest {
		return false
	}
	if steepest < math.Pi/2 { // a cone: u·n >= |u| cos
		cone := bent{mm: far * (local.Z - math.Cos(steepest))}
		for k, v := range [3]float64{local.X, local.Y, local.Z} {
			cone.grad[3+k] = -math.Cos(steepest) * v
		}
		cone.grad[5]++
		rows.Keep(cone.mm, cone.grad[:])
	}
	sight := s.turn + swing
	if apart(aim.Down, low.Down, high.Down) > sight {
		return false
	}
	if past := apart(aim.Left, low.Left, high.Left); past > 0 && sight < math.Pi/2 &&
		math.Asin(math.Cos(aim.Down.Radians())*math.Sin(min(past, math.Pi/2))) > sight {
		return false // the nearest direction in range lies on a half circle from pole to pole
	}
	// The square axes turn by more than the sight does where that is steep.
	steep := frame.Between(b.aiming.up, r3.Scale(-1, out)).Radians()
	if steep = min(steep, math.Pi-steep) - sight; steep <= 0 {
		return true
	}
	turned := s.turn + sight/math.Sin(steep)
	up := max(math.Abs(aim.FacingUp.Radians())+turned, 0)
	if up >= math.Pi/2 {
		return apart(aim.FacingUp, low.FacingUp, high.FacingUp) <= turned
	}
	about := turned / math.Cos(up)
	return apart(aim.FacingUp, low.FacingUp, high.FacingUp) <= turned &&
		apart(aim.FacingRight, low.FacingRight, high.FacingRight) <= about &&
		apart(aim.Roll, low.Roll, high.Roll) <= about
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

// bent is a margin within a box: nowhere above mm + grad·d.
type bent struct {
	mm   float64
	grad [6]float64
}

// most returns the greatest value within the box.
func (m *bent) most(half []float64) float64 {
	mm := m.mm
	for k, g := range m.grad {
		mm += math.Abs(g) * half[k]
	}
	return mm
}

// along returns a margin with its change per variable, and a rest: a turn ω about the
// screen's middle at the eyes' middle shifts the screen by -ω × out.
func (s *span) along(m *ConditionMargin, rest float64) bent {
	out := bent{mm: m.MM + rest}
	turn := r3.Sub(m.Turn, r3.Cross(s.out, m.Shift))
	for k, axis := range s.axes {
		out.grad[k] = r3.Dot(turn, axis)
	}
	local := s.pose.Rot.ApplyInverse(m.Shift)
	out.grad[3], out.grad[4], out.grad[5] = -local.X, -local.Y, -local.Z
	return out
}

// atEye appends the margins at one eye, and returns what none of the box exceeds. It ends
// with the first that does not matter.
//
// With a rotation vector that changes by θ, a point at a distance ρ from the axis is off
// its tangent by no more than ρ θ²/2, because the exponential map of rotations has a second
// derivative of at most 1. Seen from the screen, an eye is at u, the variable itself, and
// turns with its offset from the eyes' middle. Seen from an eye, a corner turns with
// corner - u, and a turn with a shift of u moves it a second time.
//
// What the movement takes is the support of an ellipsoid, which is nowhere less than that
// of its one point w furthest at the middle of the box: w counts as a part of the eye's
// offset.
func (b *bounding) atEye(dst []bent, s *span, st *PostureInCarrier, eye Eye) (_ []bent, most float64) {
	most = math.Inf(1)
	matters := func(m bent) bool {
		dst, most = append(dst, m), min(most, m.most(s.half))
		return most > b.levelMM
	}
	j := &b.r.Judge
	e := viewOf(s.pose, st, st.Eyes[eye])
	offset := length(r3.Sub(st.Eyes[eye], b.middle))
	bend := s.turn * s.turn / 2
	for i := range j.faces {
		f := &j.faces[i]
		m := e.flat(Condition{Kind: f.kind, Eye: eye}, f.margin(e.local), s.pose.Rot.Apply(f.inward))
		w := st.supportPoint(m.Inward, st.Support(m.Inward))
		if !matters(s.along(&m, bend*(offset+length(w)))) {
			return dst, most
		}
	}
	for i := range j.corners {
		if !matters(b.arc(s, st, eye, &j.corners[i])) {
			return dst, most
		}
	}
	for i := range j.gazeRange {
		normal := st.Head.Rot.Apply(j.gazeRange[i].normal)
		support, twice := st.Support(normal), s.twice(normal)
		for k := range j.corners {
			at := j.corners[k].at
			m := e.fromHead(Condition{Kind: j.gazeRange[i].kind, Eye: eye, Corner: j.corners[k].id}, at, normal, support)
			rest := bend*(length(r3.Sub(s.out, s.pose.Rot.Apply(at)))+s.shift) + twice
			if !matters(s.along(&m, rest)) {
				return dst, most
			}
		}
	}
	return dst, most
}

// length is the norm of v, which is far from overflow: several times as fast as [r3.Norm].
func length(v r3.Vec) float64 { return math.Sqrt(r3.Norm2(v)) }

// twice returns how much a turn and a shift together can move the screen along l: the sum
// of the products of each turn with each shift.
func (s *span) twice(l r3.Vec) float64 {
	sum := 0.0
	for k, axis := range s.axes {
		v := s.pose.Rot.ApplyInverse(r3.Cross(l, axis))
		sum += s.half[k] * (math.Abs(v.X)*s.half[3] + math.Abs(v.Y)*s.half[4] + math.Abs(v.Z)*s.half[5])
	}
	return sum
}

// arc bounds the margin of the gaze limit at a corner in one of two ways, whichever is
// lower in the middle of the box. The distance from an arc is convex beyond its center,
// bending by no more than 1/q, q the distance from the center of the arc.
//
//   - With the one point w of the movement: dist(y) - w·∇dist(y) <= dist(y - w).
//   - With the support at the middle less what it can change by: its point that lies
//     furthest out times the angle by which the gradient turns.
//
// Where the arc is too near for that, the distance still changes by no more than the eye
// moves.
func (b *bounding) arc(s *span, st *PostureInCarrier, eye Eye, k *corner) bent {
	still := *st
	still.MovementMM = r3.Vec{}
	at := func(p r3.Vec) (margin ConditionMargin, q, v, move, bend float64) {
		e := viewOf(s.pose, &still, p)
		from := r3.Sub(e.local, k.half)
		u := r3.Dot(from, k.chord)
		v = length(r3.Sub(from, r3.Scale(u, k.chord))) - k.center
		offset := length(r3.Sub(p, b.middle))
		return e.curved(Condition{Kind: GazeLimit, Eye: eye, Corner: k.id}, k), math.Sqrt(u*u + v*v), v, s.shift + s.turn*offset, s.turn * s.turn / 2 * offset
	}
	most := max(st.MovementMM.X, st.MovementMM.Y, st.MovementMM.Z)
	least := min(st.MovementMM.X, st.MovementMM.Y, st.MovementMM.Z)

	own, q, v, move, bend := at(st.Eyes[eye])
	support := st.Support(own.Inward)
	w := st.supportPoint(own.Inward, support)
	if v <= move || q <= move {
		return bent{mm: own.MM + move - least}
	}
	changed := most * (s.turn + move/(q-move))
	out := s.along(&own, bend+move*move/(q-move)/2-max(support-changed, least))

	far, q, v, move, bend := at(r3.Sub(st.Eyes[eye], w))
	if v <= move+most || q <= move {
		return out
	}
	if other := s.along(&far, bend+move*move/(q-move)/2); other.mm < out.mm {
		out = other
	}
	return out
}
