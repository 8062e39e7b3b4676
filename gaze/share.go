package gaze

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Share returns the part, 0 to 1, of the used area of the screen that is within
// the tracker's gaze limit and within the gaze range, for every eye that
// is needed. When either eye is enough it is the larger part of the two. An empty
// area gives 0.
//
// Seen from an eye the gaze limit is a cone about the direction to the tracker
// and a limit of the gaze range is a half-space, so on each row of the screen what is
// within all of them is one interval. The intervals are added up by Gauss's rule
// on sixteen bands, good to about a thousandth of the area where an edge of the
// region meets a corner.
func (j *Judge) Share(screen frame.Pose, st *PostureInCarrier) float64 {
	best := 0.0
	var all []rowLimit
	for _, eye := range j.eyes.Needed() {
		limits := j.rowLimits(screen, st, eye)
		if j.eyes == Either {
			best = max(best, j.share(limits))
		}
		all = append(all, limits...)
	}
	if j.eyes == Either {
		return best
	}
	return j.share(all)
}

// rowLimit narrows the interval [lo, hi] of a row at height y of the screen.
type rowLimit func(y, lo, hi float64) (float64, float64)

// share adds up the rows of the used area within all limits.
func (j *Judge) share(limits []rowLimit) float64 {
	const bands, points = 16, 8
	low, high := j.corners[2].at, j.corners[1].at // bottom left, top right
	width := func(y float64) float64 {
		lo, hi := low.X, high.X
		for _, l := range limits {
			lo, hi = l(y, lo, hi)
		}
		return max(0, hi-lo)
	}
	if !(high.X > low.X && high.Y > low.Y) {
		return 0
	}
	all := (high.X - low.X) * (high.Y - low.Y)
	area := 0.0
	for b := range bands {
		from := low.Y + (high.Y-low.Y)*float64(b)/bands
		to := low.Y + (high.Y-low.Y)*float64(b+1)/bands
		area += quad.Fixed(width, from, to, points, nil, 1)
	}
	if part := area / all; part < 1-rounding {
		return part
	}
	return 1
}

// rounding is what adding up whole rows may leave of them.
const rounding = 1e-12

// rowLimits returns the limits at one eye.
func (j *Judge) rowLimits(screen frame.Pose, st *PostureInCarrier, eye Eye) []rowLimit {
	at := screen.ApplyInverse(st.Eyes[eye])
	limits := []rowLimit{j.coneLimit(at)}
	for _, l := range j.gazeRange {
		n := screen.Rot.ApplyInverse(st.Head.Rot.Apply(l.normal))
		limits = append(limits, func(y, lo, hi float64) (float64, float64) {
			rest := n.Y*(y-at.Y) - n.Z*at.Z - n.X*at.X // n·(p - eye) = n.X x + rest
			return halfLine(n.X, rest, lo, hi)
		})
	}
	return limits
}

// halfLine narrows [lo, hi] to where a x + b >= 0.
func halfLine(a, b, lo, hi float64) (float64, float64) {
	switch {
	case a > 0:
		return max(lo, -b/a), hi
	case a < 0:
		return lo, min(hi, -b/a)
	case b < 0:
		return lo, lo - 1
	}
	return lo, hi
}

// coneLimit returns the limit of the gaze cone of an eye at a place in screen
// axes: v·axis >= cos g |v| for v from the eye to the point looked at.
func (j *Judge) coneLimit(eye r3.Vec) rowLimit {
	axis := r3.Unit(r3.Sub(j.tracker, eye))
	c := j.cosLimit
	return func(y, lo, hi float64) (float64, float64) {
		v := r3.Vec{X: -eye.X, Y: y - eye.Y, Z: -eye.Z}
		along := r3.Dot(v, axis) // at x = 0; axis.X more for each mm
		a := axis.X*axis.X - c*c
		b := along*axis.X - c*c*v.X
		k := along*along - c*c*r3.Dot(v, v)
		disc := b*b - a*k
		switch {
		case a < 0 && disc < 0:
			return lo, lo - 1 // the row passes the cone by
		case a < 0:
			root := math.Sqrt(disc)
			lo, hi = max(lo, (-b+root)/a), min(hi, (-b-root)/a)
			if along+axis.X*(lo+hi)/2 < 0 {
				return lo, lo - 1 // it meets the cone behind the eye
			}
			return lo, hi
		case a > 0 && disc >= 0:
			root := math.Sqrt(disc)
			if axis.X > 0 {
				return max(lo, (-b+root)/a), hi
			}
			return lo, min(hi, (-b-root)/a)
		}
		lo, hi = halfLine(2*b, k, lo, hi) // along a side of the cone
		return halfLine(axis.X, along, lo, hi)
	}
}
