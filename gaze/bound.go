package gaze

import (
	"context"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/gaze/minimax"
)

// Bound is what is known of the greatest margin of a request, limits other than the ranges
// of the aim left out.
type Bound struct {
	// MM is what no screen's least margin over the postures exceeds (mm).
	MM float64
	// Aim has the margin BestMM, the greatest met; it keeps the limits as well.
	Aim    Aim
	BestMM float64
}

// Most bounds the margin that any screen can have, from the margin bestMM of one that is
// known. It ends when what it finds is the wanted margin or the bound is within gapMM of it,
// after some number of boxes, or with ctx. It tells watch, unless it is nil, of the bound so
// far.
//
// The search branches over the turn of the screen and the place of the eyes' middle in the
// screen's axes. At one turn of the screen the conditions of the tracking volume and of the
// gaze range are linear in that place, in every posture; see bounding.atEye for what is
// left of them within a box.
func Most(ctx context.Context, r Request, bestMM float64, boxes int, watch func(boundMM float64)) Bound {
	b := newBounding(&r, bestMM)
	search := minimax.Branch{
		Lower: b.low[:], Upper: b.high[:], Above: b.above, Split: b.split, Value: b.value,
		Enough: r.WantedMM, Gap: gapMM, Boxes: boxes, Watch: watch,
	}
	// Whether anything comes near to what is wanted is known much sooner than how far
	// from it the best one is.
	b.levelMM = max(bestMM, r.WantedMM-clearlyMM)
	b.best.MM = search.Maximise(ctx, b.levelMM).Bound
	if b.best.MM < r.WantedMM && b.best.BestMM < b.levelMM {
		b.levelMM, search.Boxes = b.best.BestMM, boxes/5
		b.best.MM = min(b.best.MM, search.Maximise(ctx, b.levelMM).Bound)
	}
	return b.best
}

// gapMM is how near to a margin that is known a bound is near enough, and clearlyMM how far
// below what is wanted.
const gapMM, clearlyMM = 0.5, 2.5

// bounding bounds the margins of a request over boxes of turns and places: the variables
// are a rotation vector from the axes of a middling screen, in carrier axes, and the place
// of the eyes' middle in screen axes (mm).
type bounding struct {
	r         *Request
	aiming    aiming
	start     frame.Rotation
	eyes      []Eye
	middle    r3.Vec // of the eyes in the leading posture, carrier axes
	low, high [6]float64
	corner    float64 // of the corners, the greatest distance from the screen's middle
	levelMM   float64 // what is not above it does not matter
	best      Bound
	rows      [2][]bent // by eye
	climbed   int
}

func newBounding(r *Request, bestMM float64) *bounding {
	lead := &r.Postures[0]
	b := &bounding{r: r, aiming: newAiming(lead, r.Upright), middle: lead.Head.At, best: Bound{BestMM: bestMM}}
	for eye, used := range [2]bool{r.Judge.eyes != RightOnly, r.Judge.eyes != LeftOnly} {
		if used {
			b.eyes = append(b.eyes, Eye(eye))
		}
	}
	low, high := &r.Ranges.Low, &r.Ranges.High
	b.start = b.aiming.pose(Aim{
		Left: (low.Left + high.Left) / 2, Down: (low.Down + high.Down) / 2, Roll: (low.Roll + high.Roll) / 2,
		FacingUp: (low.FacingUp + high.FacingUp) / 2, FacingRight: (low.FacingRight + high.FacingRight) / 2,
	}).Rot
	// From the middle of every range, each angle turns the screen by no more than half its
	// range; a screen unrolled against plumb by no more than a half circle.
	turn := (high.Left - low.Left + high.Down - low.Down + high.FacingUp - low.FacingUp + high.FacingRight - low.FacingRight + high.Roll - low.Roll).Radians() / 2
	if r.Upright == WithLevel {
		turn = math.Pi
	}
	for k := range 3 {
		b.high[k] = min(turn, math.Pi)
		b.low[k] = -b.high[k]
	}
	spacing := 0.0
	for _, eye := range lead.Eyes {
		spacing = max(spacing, r3.Norm(r3.Sub(eye, b.middle)))
	}
	least, most := r.Judge.around(-bestMM)
	for k, v := range [3][2]float64{{least.X, most.X}, {least.Y, most.Y}, {least.Z, most.Z}} {
		b.low[3+k], b.high[3+k] = v[0]-spacing, v[1]+spacing
	}
	for _, c := range b.r.Judge.corners {
		b.corner = max(b.corner, r3.Norm(c.at))
	}
	return b
}

// around returns the box, in screen axes, around the tracking volume with every face moved
// out by some mm.
func (j *Judge) around(mm float64) (least, most r3.Vec) {
	least, most = r3.Vec{X: math.Inf(1), Y: math.Inf(1), Z: math.Inf(1)}, r3.Vec{X: math.Inf(-1), Y: math.Inf(-1), Z: math.Inf(-1)}
	f := &j.faces
	for _, end := range [2]int{0, 1} {
		for _, side := range [2]int{2, 3} {
			for _, edge := range [2]int{4, 5} {
				p := meeting([3]*face{&f[end], &f[side], &f[edge]}, mm)
				least = r3.Vec{X: min(least.X, p.X), Y: min(least.Y, p.Y), Z: min(least.Z, p.Z)}
				most = r3.Vec{X: max(most.X, p.X), Y: max(most.Y, p.Y), Z: max(most.Z, p.Z)}
			}
		}
	}
	return least, most
}

// meeting returns where three faces meet that are moved out by some mm.
func meeting(f [3]*face, mm float64) r3.Vec {
	var p r3.Vec
	det := r3.Dot(f[0].inward, r3.Cross(f[1].inward, f[2].inward))
	for k := range f {
		p = r3.Add(p, r3.Scale((f[k].offset-mm)/det, r3.Cross(f[(k+1)%3].inward, f[(k+2)%3].inward)))
	}
	return p
}

// poseAt returns carrierFromScreen at a point.
func (b *bounding) poseAt(x []float64) frame.Pose {
	turn := r3.Vec{X: x[0], Y: x[1], Z: x[2]}
	rot := b.start
	if angle := r3.Norm(turn); angle > 0 {
		rot = frame.About(r3.Scale(1/angle, turn), frame.Angle(angle)).Mul(b.start)
	}
	return frame.Pose{Rot: rot, At: r3.Sub(b.middle, rot.Apply(r3.Vec{X: x[3], Y: x[4], Z: x[5]}))}
}

// value is the margin at a point, or near it where it is the greatest so far.
func (b *bounding) value(x []float64) float64 {
	pose := b.poseAt(x)
	if mm, _, _ := b.r.Judge.Worst(pose, b.r.Postures); mm <= b.best.BestMM || b.climbed == mostClimbed {
		return math.Inf(-1)
	}
	b.climbed++
	t, err := PlaceNear(*b.r, AimAt(pose, &b.r.Postures[0], b.r.Upright))
	if err != nil || t.BrokenMM > negligibleMM || t.MarginMM <= b.best.BestMM {
		return math.Inf(-1)
	}
	b.best.Aim, b.best.BestMM = t.Aim, t.MarginMM
	return t.MarginMM
}

// mostClimbed is from how many points a better screen is looked for.
const mostClimbed = 30

// split halves the variable on which the rests depend most; the weights are those that
// proved the most of some random refusals.
func (b *bounding) split(mid, half []float64) int {
	far := r3.Norm(r3.Vec{X: mid[3], Y: mid[4], Z: mid[5]})
	turn, shift := math.Hypot(half[0], math.Hypot(half[1], half[2])), math.Hypot(half[3], math.Hypot(half[4], half[5]))
	at, most := 0, -1.0
	for k, h := range half {
		weight := h * (far*turn/2 + 0.8*shift)
		if k >= 3 {
			weight = h * turn
		}
		if weight > most {
			at, most = k, weight
		}
	}
	return at
}

// span is a box of screens about the one in its middle.
type span struct {
	pose        frame.Pose
	out         r3.Vec    // from the screen's middle to the eyes' middle, carrier axes
	axes        [3]r3.Vec // the turn per unit of each turning variable, carrier axes
	half        []float64
	turn, shift float64 // the greatest turn and the greatest shift from the middle
}

func (b *bounding) span(mid, half []float64) span {
	s := span{pose: b.poseAt(mid), half: half}
	s.out = r3.Sub(b.middle, s.pose.At)
	s.turn = math.Hypot(half[0], math.Hypot(half[1], half[2]))
	s.shift = math.Hypot(half[3], math.Hypot(half[4], half[5]))
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

// above implements [minimax.Branch].
func (b *bounding) above(mid, half []float64, rows *minimax.Rows) float64 {
	s := b.span(mid, half)
	if !b.keepRanges(&s, rows) {
		return math.Inf(-1)
	}
	bound := math.Inf(1)
	for i := range b.r.Postures {
		most := [2]float64{math.Inf(-1), math.Inf(-1)}
		for _, eye := range b.eyes {
			b.rows[eye] = b.atEye(b.rows[eye][:0], &s, &b.r.Postures[i], eye)
			most[eye] = math.Inf(1)
			for k := range b.rows[eye] {
				most[eye] = min(most[eye], b.rows[eye][k].most(half))
			}
			if b.r.Judge.eyes != Either && most[eye] <= b.levelMM {
				return most[eye]
			}
		}
		if b.r.Judge.eyes == Either {
			bound = min(bound, max(most[LeftEye], most[RightEye]))
		} else {
			for _, eye := range b.eyes {
				bound = min(bound, most[eye])
			}
		}
		if b.r.Judge.eyes == Either && bound <= b.levelMM {
			return bound
		}
		if b.r.Judge.eyes == Either && most[LeftEye] > b.levelMM && most[RightEye] > b.levelMM {
			for k := range b.rows[LeftEye] {
				either := higher(&b.rows[LeftEye][k], &b.rows[RightEye][k], half)
				rows.Least(either.mm, either.grad[:])
			}
			continue
		}
		for _, eye := range b.eyes {
			if most[eye] <= b.levelMM {
				continue // the other eye is the better one, or it does not matter
			}
			for k := range b.rows[eye] {
				rows.Least(b.rows[eye][k].mm, b.rows[eye][k].grad[:])
			}
		}
	}
	return bound
}

// higher returns a bound of the higher of two.
func higher(p, q *bent, half []float64) bent {
	out := bent{mm: max(p.mm, q.mm)}
	for k := range out.grad {
		out.grad[k] = (p.grad[k] + q.grad[k]) / 2
		out.mm += math.Abs(p.grad[k]-q.grad[k]) / 2 * half[k]
	}
	return out
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

// atEye appends the margins at one eye.
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
func (b *bounding) atEye(dst []bent, s *span, st *PostureInCarrier, eye Eye) []bent {
	j := &b.r.Judge
	e := viewOf(s.pose, st, st.Eyes[eye])
	offset := r3.Norm(r3.Sub(st.Eyes[eye], b.middle))
	bend := s.turn * s.turn / 2
	for i := range j.faces {
		f := &j.faces[i]
		m := e.flat(Condition{Kind: f.kind, Eye: eye}, f.margin(e.local), s.pose.Rot.Apply(f.inward))
		w := st.supportPoint(m.Inward, st.Support(m.Inward))
		dst = append(dst, s.along(&m, bend*(offset+r3.Norm(w))))
	}
	for i := range j.corners {
		dst = append(dst, b.arc(s, st, eye, &j.corners[i]))
	}
	far := r3.Norm(s.out) + b.corner + s.shift
	for i := range j.gazeRange {
		normal := st.Head.Rot.Apply(j.gazeRange[i].normal)
		support, rest := st.Support(normal), bend*far+s.twice(normal)
		for k := range j.corners {
			m := e.fromHead(Condition{Kind: j.gazeRange[i].kind, Eye: eye, Corner: j.corners[k].id}, j.corners[k].at, normal, support)
			dst = append(dst, s.along(&m, rest))
		}
	}
	return dst
}

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
// lower in the middle of the box. The distance from an arc is convex beyond its centre,
// bending by no more than 1/q, q the distance from the centre of the arc.
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
		v = r3.Norm(r3.Sub(from, r3.Scale(u, k.chord))) - k.centre
		offset := r3.Norm(r3.Sub(p, b.middle))
		return e.curved(Condition{Kind: GazeLimit, Eye: eye, Corner: k.id}, k), math.Hypot(u, v), v, s.shift + s.turn*offset, s.turn * s.turn / 2 * offset
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
