package mount

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Bend is one bend of a tube as a tube bender is set: feed, rotate, bend.
type Bend struct {
	// StraightMM is the straight tube before the bend, mm.
	StraightMM float64
	// Turn rotates the plane of this bend about the tube from the plane of the
	// bend before it, by the right-hand rule looking along the tube.
	Turn frame.Angle
	// Angle is how far the tube is bent, from 0 to less than 180 degrees of arc.
	Angle frame.Angle
}

// Centerline is the middle line of a tube: straights and circular arcs, all of
// one bend radius. It starts at the origin along z; the first bend, at turn 0, is
// toward x. The zero Centerline has no length.
type Centerline struct {
	Bends        []Bend
	BendRadiusMM float64 // of the middle line, mm
	EndMM        float64 // straight tube after the last bend, mm
}

// LengthMM returns the developed length of l in mm: what the tube measures when
// it is straightened.
func (l Centerline) LengthMM() float64 {
	sum := l.EndMM
	for _, b := range l.Bends {
		sum += b.StraightMM + l.BendRadiusMM*math.Abs(b.Angle.Radians())
	}
	return sum
}

// End returns the frame at the far end of l, with z along the tube.
//
// The frame is carried along without twist: each bend turns it about the bend's
// own axis, and the rotation between bends moves the plane of the bend but not
// the frame. A line drawn along the straight tube before bending stays on the
// frame's x, and two opposite bends leave the frame parallel to its start.
//
// One bend by b in radius R, with the plane at rotation t, is the arc
//
//	R (1 - cos b) (cos t, sin t, 0) + R sin b z, then a turn by b about (-sin t, cos t, 0)
func (l Centerline) End() frame.Pose { return l.At(l.LengthMM()) }

// At returns the frame, with z along the tube, at the given developed length in
// mm from the start. Lengths outside the tube continue its end straights.
func (l Centerline) At(alongMM float64) frame.Pose {
	at := frame.Identity()
	var turn frame.Angle
	for i, b := range l.Bends {
		if alongMM <= b.StraightMM || (i == 0 && alongMM <= 0) {
			return at.Mul(ahead(alongMM))
		}
		alongMM -= b.StraightMM
		at = at.Mul(ahead(b.StraightMM))
		turn += b.Turn
		arc := l.BendRadiusMM * b.Angle.Radians()
		if alongMM < arc {
			return at.Mul(l.arc(turn, frame.Angle(alongMM/l.BendRadiusMM)))
		}
		alongMM -= arc
		at = at.Mul(l.arc(turn, b.Angle))
	}
	return at.Mul(ahead(alongMM))
}

// ahead returns the move by d mm along z.
func ahead(d float64) frame.Pose { return frame.Translate(r3.Vec{Z: d}) }

// arc returns the frame at the end of an arc of the given angle whose plane is
// rotated by turn about z.
func (l Centerline) arc(turn, angle frame.Angle) frame.Pose {
	st, ct := math.Sincos(turn.Radians())
	sb, cb := math.Sincos(angle.Radians())
	out := l.BendRadiusMM * (1 - cb)
	return frame.Pose{
		Rot: frame.About(r3.Vec{X: -st, Y: ct}, angle),
		At:  r3.Vec{X: out * ct, Y: out * st, Z: l.BendRadiusMM * sb},
	}
}

// Points returns the middle line as a polyline from start to far end. Arcs are
// cut into chords that leave the arc by no more than chordMM (mm); a chordMM
// that is not positive means 0.1 mm.
func (l Centerline) Points(chordMM float64) []r3.Vec {
	if !(chordMM > 0) {
		chordMM = 0.1
	}
	points := []r3.Vec{{}}
	along := 0.0
	for _, b := range l.Bends {
		if b.StraightMM > 0 {
			along += b.StraightMM
			points = append(points, l.At(along).At)
		}
		n := chords(l.BendRadiusMM, b.Angle, chordMM)
		arc := l.BendRadiusMM * b.Angle.Radians()
		for i := range n {
			points = append(points, l.At(along+arc*float64(i+1)/float64(n)).At)
		}
		along += arc
	}
	if l.EndMM > 0 {
		points = append(points, l.At(along+l.EndMM).At)
	}
	return points
}

// maxChords bounds the chords of one arc, whatever the radius.
const maxChords = 360

// chords returns into how many chords an arc is cut: a chord over the angle a
// leaves an arc of radius R by R (1 - cos(a/2)).
func chords(radiusMM float64, angle frame.Angle, chordMM float64) int {
	if !(radiusMM > 0) || !(angle > 0) {
		return 0
	}
	if chordMM >= radiusMM {
		chordMM = radiusMM
	}
	most := 2 * math.Acos(1-chordMM/radiusMM)
	n := math.Ceil(angle.Radians() / most)
	return int(math.Min(math.Max(n, 1), maxChords))
}
