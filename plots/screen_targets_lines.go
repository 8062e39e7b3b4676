package plots

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/plot"

	"sightpost/gaze"
)

// equalRays is along how many rays a line of equal size is followed: a degree apart,
// so that chords leave a circle by 4 parts in 100 000 of its radius.
const equalRays = 360

// equal draws the line on which a degree has a size, inside the display area.
//
// From the foot of the perpendicular from the eyes a degree grows along every ray:
// across it is r²/h, with r² = z² + s² at the distance s from the foot and h² = z²
// + (s sin t)² on a ray t off the horizontal, and
//
//	d(r²/h)/ds = s (z² (2 - sin² t) + s² sin² t) / h³ > 0
//
// up likewise. So a line of equal size has one point on each ray, and halving finds
// it.
func (l *screenTargets) equal(level plot.Tick, foot r2.Vec, display gaze.Rect) {
	points := make([]r2.Vec, 0, equalRays+1)
	for i := range equalRays + 1 {
		points = append(points, l.onRay(level.Value, foot, 2*math.Pi*float64(i)/equalRays))
	}
	for _, run := range clipped(points, display) {
		l.line(lookEqual().line, run...)
	}
}

// number writes the number of a line of equal size along it, where it is crossed on
// the way between two places.
func (l *screenTargets) number(level plot.Tick, foot, from, to r2.Vec) {
	for range 40 {
		if mid := r2.Scale(0.5, r2.Add(from, to)); l.degreeMM(mid) < level.Value {
			from = mid
		} else {
			to = mid
		}
	}
	at := math.Atan2(from.Y-foot.Y, from.X-foot.X)
	l.notes = append(l.notes, note{a: l.onRay(level.Value, foot, at-0.02), b: l.onRay(level.Value, foot, at+0.02), text: level.Label})
}

// onRay returns where a degree has a size on the ray in a direction from the foot.
func (l *screenTargets) onRay(level float64, foot r2.Vec, direction float64) r2.Vec {
	s, c := math.Sincos(direction)
	at := func(mm float64) r2.Vec { return r2.Vec{X: foot.X + mm*c, Y: foot.Y + mm*s} }
	lo, hi := 0.0, 1e4
	for range 40 { // to a hundred-millionth of a mm
		if mid := (lo + hi) / 2; l.degreeMM(at(mid)) < level {
			lo = mid
		} else {
			hi = mid
		}
	}
	return at(lo)
}

// clipped returns the pieces of a line that lie inside a rectangle.
func clipped(points []r2.Vec, r gaze.Rect) [][]r2.Vec {
	var pieces [][]r2.Vec
	open := false
	for i := 1; i < len(points); i++ {
		a, b, ok := cutTo(points[i-1], points[i], r)
		if !ok {
			open = false
			continue
		}
		if !open {
			pieces = append(pieces, []r2.Vec{a})
		}
		last := len(pieces) - 1
		pieces[last] = append(pieces[last], b)
		open = b == points[i]
	}
	return pieces
}

// cutTo returns the part of the line from a to b inside a rectangle, and whether
// there is any.
//
// Reference: Y.-D. Liang and B. A. Barsky, "A New Concept and Method for Line
// Clipping", ACM Transactions on Graphics 3(1), 1984, 1-22 (from memory).
func cutTo(a, b r2.Vec, r gaze.Rect) (from, to r2.Vec, ok bool) {
	d := r2.Sub(b, a)
	enter, leave := 0.0, 1.0
	for _, side := range [4][2]float64{
		{-d.X, a.X - r.LeftMM}, {d.X, r.RightMM - a.X}, {-d.Y, a.Y - r.BottomMM}, {d.Y, r.TopMM - a.Y},
	} {
		switch speed, space := side[0], side[1]; {
		case speed == 0 && space < 0:
			return a, b, false
		case speed < 0:
			enter = max(enter, space/speed)
		case speed > 0:
			leave = min(leave, space/speed)
		}
	}
	if enter >= leave {
		return a, b, false
	}
	from, to = a, b
	if enter > 0 {
		from = r2.Add(a, r2.Scale(enter, d))
	}
	if leave < 1 {
		to = r2.Add(a, r2.Scale(leave, d))
	}
	return from, to, true
}
