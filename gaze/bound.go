package gaze

import (
	"context"
	"math"
	"slices"

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

// Most bounds the margin that any screen can have, or any that is within one of the reaches
// if there are some, from the margin bestMM of one that is known. It ends when it finds a
// screen with the required margin, of which none is sought within reaches, when the bound is
// within gapMM of the greatest margin known, after some number of boxes, or with ctx. It
// tells watch, unless it is nil, of the bound so far.
//
// The search branches over the turn of the screen and the place of the eyes' middle in the
// screen's axes. At one turn of the screen the conditions of the tracking volume and of the
// gaze range are linear in that place, in every posture; see bounding.margins for what is
// left of them within a box.
func Most(ctx context.Context, r Request, reaches []Reach, bestMM float64, boxes int, watch func(boundMM float64)) Bound {
	b := newBounding(&r, reaches, bestMM)
	enough := r.RequiredMM
	if len(reaches) > 0 {
		enough = math.Inf(1)
	}
	search := minimax.Branch{
		Lower: b.low[:], Upper: b.high[:], Shared: len(b.grad) - len(b.low), Above: b.above, Split: b.split, Value: b.value,
		Enough: enough, Gap: gapMM, Boxes: boxes, Watch: watch,
	}
	// Whether anything comes near to what is required is known much sooner than how far
	// from it the best one is.
	b.matter(max(bestMM, r.RequiredMM-clearlyMM))
	found := search.Maximize(ctx, b.levelMM)
	if b.best.MM = found.Bound; b.best.MM < r.RequiredMM && b.best.BestMM < b.levelMM {
		search.Boxes = min(boxes/3, boxes-found.Boxes)
		b.matter(b.best.BestMM)
		b.best.MM = min(b.best.MM, search.Maximize(ctx, b.levelMM).Bound)
	}
	return b.best
}

// gapMM is how near to a margin that is known a bound is near enough, and clearlyMM how far
// below what is required.
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
	levelMM   float64 // what is not above it does not matter
	best      Bound
	reaches   []Reach
	people    []person  // by posture
	rows      [2][]bent // by eye
	keep      []bent
	grad      []float64 // of a row, with a shared variable for each posture where either eye counts
	climbed   int
}

func newBounding(r *Request, reaches []Reach, bestMM float64) *bounding {
	lead := &r.Postures[0]
	b := &bounding{r: r, reaches: reaches, aiming: newAiming(lead, r.Upright), middle: lead.Head.At, best: Bound{BestMM: bestMM}}
	for eye, used := range [2]bool{r.Judge.eyes != RightOnly, r.Judge.eyes != LeftOnly} {
		if used {
			b.eyes = append(b.eyes, Eye(eye))
		}
	}
	for i := range r.Postures {
		b.people = append(b.people, b.person(&r.Postures[i]))
	}
	b.grad = make([]float64, len(bent{}.grad))
	if r.Judge.eyes == Either {
		b.grad = make([]float64, len(b.grad)+len(b.people))
	}
	low, high := &r.Ranges.Low, &r.Ranges.High
	b.start = b.aiming.pose(Aim{
		Left: (low.Left + high.Left) / 2, Down: (low.Down + high.Down) / 2, Roll: (low.Roll + high.Roll) / 2,
		FacingUp: (low.FacingUp + high.FacingUp) / 2, FacingRight: (low.FacingRight + high.FacingRight) / 2,
	}).Rot
	// From the middle of every range, each angle turns the screen by no more than half its
	// range; a screen unrolled against plumb by no more than a half circle. So the rotation
	// vectors are in a ball, and boxes beyond it in the corners of the cube are left out.
	turn := (high.Left - low.Left + high.Down - low.Down + high.FacingUp - low.FacingUp + high.FacingRight - low.FacingRight + high.Roll - low.Roll).Radians() / 2
	if r.Upright == WithLevel {
		turn = math.Pi
	}
	for k := range 3 {
		b.high[k] = min(turn, math.Pi)
		b.low[k] = -b.high[k]
	}
	return b
}

// matter sets what margin (mm) must be exceeded to matter, and the places where it may be.
func (b *bounding) matter(mm float64) {
	b.levelMM = mm
	spacing := 0.0
	for _, eye := range b.r.Postures[0].Eyes {
		spacing = max(spacing, r3.Norm(r3.Sub(eye, b.middle)))
	}
	least, most := b.r.Judge.around(-mm)
	for k, v := range [3][2]float64{{least.X, most.X}, {least.Y, most.Y}, {least.Z, most.Z}} {
		b.low[3+k], b.high[3+k] = v[0]-spacing, v[1]+spacing
	}
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

// rotation returns the rotation of carrierFromScreen at a point.
func (b *bounding) rotation(x []float64) frame.Rotation {
	return frame.FromVector(r3.Vec{X: x[0], Y: x[1], Z: x[2]}).Mul(b.start)
}

// posed returns carrierFromScreen of a screen from whose middle the eyes' middle lies so far out.
func (b *bounding) posed(rot frame.Rotation, out r3.Vec) frame.Pose {
	return frame.Pose{Rot: rot, At: r3.Sub(b.middle, out)}
}

// poseAt returns carrierFromScreen at a point.
func (b *bounding) poseAt(x []float64) frame.Pose {
	rot := b.rotation(x)
	return b.posed(rot, rot.Apply(r3.Vec{X: x[3], Y: x[4], Z: x[5]}))
}

// value is the margin at a point, or near it where it is the greatest so far. Within reaches it is
// one that no bound gets below, whether or not a mount brings a screen there.
func (b *bounding) value(x []float64) float64 {
	pose := b.poseAt(x)
	if len(b.reaches) > 0 {
		if !b.r.Ranges.have(AimAt(pose, &b.r.Postures[0], b.r.Upright)) || !slices.ContainsFunc(b.reaches, func(r Reach) bool { return r.Has(pose) }) {
			return math.Inf(-1)
		}
		mm, _, _ := b.r.Judge.Worst(pose, b.r.Postures)
		return mm
	}
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

// above implements [minimax.Branch].
func (b *bounding) above(mid, half []float64, rows *minimax.Rows) float64 {
	s := b.span(mid, half)
	if s.least > b.high[0] {
		return math.Inf(-1)
	}
	var might bool
	if b.keep, might = b.keepRanges(b.keep[:0], &s); !might {
		return math.Inf(-1)
	}
	if b.keep, might = b.keepReach(b.keep, &s); !might {
		return math.Inf(-1)
	}
	bound := math.Inf(1)
	for i := range b.people {
		most := b.margins(&s, &b.people[i])
		if b.r.Judge.eyes == Either {
			bound = min(bound, max(most[LeftEye], most[RightEye]))
		}
		for _, eye := range b.eyes {
			if b.r.Judge.eyes != Either {
				bound = min(bound, most[eye])
			}
		}
		if bound <= b.levelMM {
			return bound
		}
		if b.r.Judge.eyes == Either && min(most[LeftEye], most[RightEye]) > b.levelMM {
			for k := range b.rows[LeftEye] {
				either, by := between(&b.rows[LeftEye][k], &b.rows[RightEye][k], half)
				choice := len(either.grad) + i // 1 for the left eye, -1 for the right one
				b.grad[choice] = by
				rows.Least(either.mm, b.wide(&either))
				b.grad[choice] = 0
			}
			continue
		}
		for _, eye := range b.eyes {
			if most[eye] <= b.levelMM {
				continue // the other eye is the better one
			}
			for k := range b.rows[eye] {
				rows.Least(b.rows[eye][k].mm, b.wide(&b.rows[eye][k]))
			}
		}
	}
	for k := range b.keep {
		rows.Keep(b.keep[k].mm, b.wide(&b.keep[k]))
	}
	return bound
}

// wide returns the gradient of a row with all shared variables.
func (b *bounding) wide(m *bent) []float64 {
	copy(b.grad, m.grad[:])
	return b.grad
}

// higher returns a bound of the higher of two.
func higher(p, q *bent, half []float64) bent {
	out, by := between(p, q, half)
	out.mm += math.Abs(by)
	return out
}

// between returns what is a bound of p with by added, and of q with by taken off.
func between(p, q *bent, half []float64) (out bent, by float64) {
	out.mm = (p.mm + q.mm) / 2
	for k := range out.grad {
		h := 1.0
		if k < len(half) {
			h = half[k]
		}
		out.grad[k] = (p.grad[k] + q.grad[k]) / 2
		out.mm += math.Abs(p.grad[k]-q.grad[k]) / 2 * h
	}
	return out, (p.mm - q.mm) / 2
}
