package gaze

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Judge evaluates the conditions of a device for a person. Build it with
// [NewJudge]; it is read-only and may be shared.
type Judge struct {
	eyes      EyesUsed
	tracker   r3.Vec // screen axes
	faces     [6]face
	corners   [4]corner
	gazeRange [4]limit
	// cosLimit is the cosine of the tracker's gaze limit
	cosLimit float64
}

// corner is what the conditions need of one corner of the used part.
type corner struct {
	id    Corner
	at    r3.Vec // screen axes
	chord r3.Vec // unit, from the tracker to the corner
	half  r3.Vec // the middle of the chord
	// radius of the arc on which the chord is seen under the gaze limit, and how
	// far its center lies from the chord, on the eye's side
	radius, center float64
}

// NewJudge returns the judge of a device for a person. A gaze limit beyond what
// [Tracker] allows is taken to be the nearest that it does, a thousandth of a
// degree at the least; so is one that is no number. Other lengths and angles that
// are no numbers give margins that are none, as poses do.
func NewJudge(d Device, p Person) Judge {
	d.Tracker.GazeLimit = d.Tracker.gazeLimit()
	j := Judge{
		eyes: p.Eyes, tracker: d.Tracker.Place(), faces: d.Tracker.faces(), gazeRange: p.GazeRange.limits(),
		cosLimit: math.Cos(d.Tracker.GazeLimit.Radians()),
	}
	for i, id := range [4]Corner{TopLeft, TopRight, BottomLeft, BottomRight} {
		at := d.Screen.Used.Corner(id)
		j.corners[i] = newCorner(id, at, j.tracker, d.Tracker.GazeLimit)
	}
	return j
}

// gazeLimit returns the gaze limit within what has a meaning.
func (t Tracker) gazeLimit() frame.Angle {
	const least, most = 0.001 * frame.Degree, 90 * frame.Degree
	if !(t.GazeLimit > least) {
		return least
	}
	return min(t.GazeLimit, most)
}

// Count returns how many margins [Judge.Margins] appends for one posture.
func (j Judge) Count() int {
	if j.eyes == Both {
		return 2 * perEye
	}
	return perEye
}

// perEye is the number of conditions at one eye: six faces, and for each of four
// corners the gaze limit and four limits of the gaze range.
const perEye = 6 + 4*(1+4)

// Margins appends to dst the margin of every condition at every eye that is needed,
// for a screen at pose carrierFromScreen and a person in posture st.
//
// When either eye is enough, the margins are those of the eye with the larger
// least margin.
func (j *Judge) Margins(dst []ConditionMargin, screen frame.Pose, st *PostureInCarrier) []ConditionMargin {
	from := len(dst)
	for _, eye := range j.eyes.Needed() {
		dst = j.atEye(dst, screen, st, eye)
	}
	if j.eyes != Either {
		return dst
	}
	left, right := dst[from:from+perEye], dst[from+perEye:]
	if Less(left[Least(left)].MM, right[Least(right)].MM) {
		copy(left, right)
	}
	return dst[:from+perEye]
}

// Margin returns the least margin and its condition: how far the head may still
// move, any way, beyond its usual movement, before the tracker loses an eye or a
// part of the screen leaves the gaze range. It is exact where positive; where
// negative it is right in sign only.
func (j *Judge) Margin(screen frame.Pose, st *PostureInCarrier) (float64, Condition) {
	least := worst{mm: math.Inf(1)}
	for i, eye := range j.eyes.Needed() {
		if j.eyes != Either {
			j.worstAt(&least, screen, st, eye)
			continue
		}
		own := worst{mm: math.Inf(1)}
		if j.worstAt(&own, screen, st, eye); i == 0 || Less(least.mm, own.mm) {
			least = own
		}
	}
	return least.mm, least.c
}

// worst is the least margin so far, and its condition.
type worst struct {
	mm float64
	c  Condition
}

// take takes a margin if it is less, or no number, so that that is seen.
func (w *worst) take(mm float64, c Condition) {
	if Less(mm, w.mm) || math.IsNaN(mm) {
		*w = worst{mm, c}
	}
}

// worstAt takes the margins at one eye: those of atEye, in its order, without their slopes,
// and none that the usual movement cannot make the least.
func (j *Judge) worstAt(least *worst, screen frame.Pose, st *PostureInCarrier, eye Eye) {
	e := viewOf(screen, st, st.Eyes[eye])
	most := max(st.MovementMM.X, st.MovementMM.Y, st.MovementMM.Z) // of any support
	for i := range j.faces {
		f := &j.faces[i]
		if mm := f.margin(e.local); !(mm-most > least.mm) {
			least.take(mm-st.Support(screen.Rot.Apply(f.inward)), Condition{Kind: f.kind, Eye: eye})
		}
	}
	var arms [4]r3.Vec
	for i := range j.corners {
		k := &j.corners[i]
		arms[i] = r3.Sub(screen.Rot.Apply(k.at), e.arm)
		if mm, g := k.margin(e.local); !(mm-most > least.mm) {
			least.take(mm-st.Support(screen.Rot.Apply(g.inward)), Condition{Kind: GazeLimit, Eye: eye, Corner: k.id})
		}
	}
	for i := range j.gazeRange {
		l := &j.gazeRange[i]
		normal, support := st.Head.Rot.Apply(l.normal), -1.0
		for k := range j.corners {
			mm := r3.Dot(normal, arms[k])
			if mm-most > least.mm {
				continue
			}
			if support < 0 {
				support = st.Support(normal)
			}
			least.take(mm-support, Condition{Kind: l.kind, Eye: eye, Corner: j.corners[k].id})
		}
	}
}

// atEye appends the margins at one eye.
func (j *Judge) atEye(dst []ConditionMargin, screen frame.Pose, st *PostureInCarrier, eye Eye) []ConditionMargin {
	e := viewOf(screen, st, st.Eyes[eye])
	dst = slices.Grow(dst, len(j.faces)+len(j.corners)*(1+len(j.gazeRange)))
	for i := range j.faces {
		f := &j.faces[i]
		dst = append(dst, e.flat(Condition{Kind: f.kind, Eye: eye}, f.margin(e.local), screen.Rot.Apply(f.inward)))
	}
	for i := range j.corners {
		dst = append(dst, e.curved(Condition{Kind: GazeLimit, Eye: eye, Corner: j.corners[i].id}, &j.corners[i]))
	}
	for i := range j.gazeRange {
		l := &j.gazeRange[i]
		normal := st.Head.Rot.Apply(l.normal)
		support := st.Support(normal)
		for k := range j.corners {
			dst = append(dst, e.fromHead(Condition{Kind: l.kind, Eye: eye, Corner: j.corners[k].id}, j.corners[k].at, normal, support))
		}
	}
	return dst
}

// view is one eye before a screen.
type view struct {
	screen frame.Pose
	st     *PostureInCarrier
	arm    r3.Vec // from the screen's middle to the eye, carrier axes
	local  r3.Vec // the same in screen axes
}

// viewOf returns the view of an eye in carrier axes.
func viewOf(screen frame.Pose, st *PostureInCarrier, eye r3.Vec) view {
	arm := r3.Sub(eye, screen.At)
	return view{screen: screen, st: st, arm: arm, local: screen.Rot.ApplyInverse(arm)}
}

// carried returns the margin of a surface carried by the screen: the signed distance
// mm, with the surface's inward normal n in carrier axes, and what turns it when the eye
// moves, nil in a plane.
//
// When the screen shifts by δ and turns by ω about its middle, the eye moves by
// -δ - ω × arm as seen from it, and the normal turns by ω × n. With H the second derivative
// of the distance and w the point of the movement ellipsoid furthest along n,
//
//	d(mm - n·w) = -(n - H w)·δ - ω·(arm × (n - H w)) - ω·(n × w)
func (e *view) carried(c Condition, mm float64, n r3.Vec, arc *arcPoint) ConditionMargin {
	support := e.st.Support(n)
	w, eff := e.st.supportPoint(n, support), n
	if arc != nil && support > 0 {
		eff = r3.Sub(n, e.screen.Rot.Apply(arc.curvature(e.screen.Rot.ApplyInverse(w))))
	}
	turn := r3.Scale(-1, r3.Add(r3.Cross(e.arm, eff), r3.Cross(n, w)))
	return ConditionMargin{Condition: c, Slope: Slope{mm - support, r3.Scale(-1, eff), turn}, Inward: n}
}

// flat returns the margin of a plane carried by the screen.
func (e *view) flat(c Condition, mm float64, n r3.Vec) ConditionMargin {
	return e.carried(c, mm, n, nil)
}

// curved returns the margin of the gaze limit at a corner. The surface of equal
// angle is an arc turned about the chord; its distance has a unit gradient.
func (e *view) curved(c Condition, k *corner) ConditionMargin {
	mm, g := k.margin(e.local)
	return e.carried(c, mm, e.screen.Rot.Apply(g.inward), &g)
}

// fromHead returns the margin of a plane carried by the head through the eye, with
// normal l in carrier axes, to a corner at place p of the screen. The normal
// does not turn with the screen, so the support is the same for every corner.
//
//	d(l·(corner - eye)) = l·δ + ω·((corner - middle) × l)
func (e *view) fromHead(c Condition, p, l r3.Vec, support float64) ConditionMargin {
	arm := e.screen.Rot.Apply(p)
	mm := r3.Dot(l, r3.Sub(arm, e.arm))
	return ConditionMargin{Condition: c, Slope: Slope{mm - support, l, r3.Cross(arm, l)}, Inward: r3.Scale(-1, l)}
}

// isFinite reports whether v is a number.
func isFinite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
