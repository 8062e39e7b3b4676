package plots

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount/space"
)

// Schematic sizes of seat, back support and body (mm): a middling adult on a
// middling seat, chosen to look right; no source and no measure of the case.
const (
	seatLengthMM = 440
	seatHalfMM   = 210
	backLengthMM = 520
	padMM        = 18 // half the thickness of seat and back support
	hipAheadMM   = 115
	hipAboveMM   = 95
	thighMM      = 400
	shankMM      = 400
	footMM       = 170
	hipHalfMM    = 85
	chestHalfMM  = 120
)

// solid is a part of the drawing that is the convex hull of balls.
type solid struct {
	balls []ball
	look  look
}

// seated draws chair, legs and trunk, if the case says where they are.
func (s *scene) seated() {
	if !s.hasSeat() {
		return
	}
	for _, part := range s.sitting() {
		s.outline(s.balls(part.balls...), part.look)
	}
	pivot := s.job.Scene.Chair.TiltPivotMM
	if s.tilts() {
		s.sign(s.flat(pivot), ring())
		s.explain(lookChair(), "chair, schematic (ring: tilt pivot)")
	} else {
		s.explain(lookChair(), "chair, schematic")
	}
	s.sign(s.flat(s.neck()), cross())
	s.explain(lookPerson(), "person, schematic (crosses: eyes, neck)")
}

// hasSeat reports whether the case says where the back support is hinged; one
// that does not leaves the hinge on the floor, where no seat is, and then only
// the head is drawn.
func (s *scene) hasSeat() bool { return !(s.job.Scene.Chair.BackHingeMM.Z <= 0) } // not a number is an error, later

// tilts reports whether the case says about what the seat tilts; one whose seat
// does not need not.
func (s *scene) tilts() bool { return s.job.Scene.Chair.TiltPivotMM.Z > 0 }

// sitting returns chair, legs and trunk.
func (s *scene) sitting() []solid { return slices.Concat(s.chair(), s.legs(), s.trunk()) }

// onSeat returns a place given from the hinge of the back support in seat axes
// (mm), in chair axes.
func (s *scene) onSeat(v r3.Vec) r3.Vec {
	return s.seat.Apply(r3.Add(s.job.Scene.Chair.BackHingeMM, v))
}

// floor draws the level floor under everything else, where the view is from the
// side of it.
func (s *scene) floor() {
	if s.v != Top {
		s.line(stroke(ink(), 1.2), r2.Vec{X: s.loX}, r2.Vec{X: s.hiX})
	}
}

// chair returns the seat, the back support, and the stand of the pivot.
func (s *scene) chair() []solid {
	l := lookChair()
	pivot := s.job.Scene.Chair.TiltPivotMM
	var all []solid
	if s.tilts() && s.v != Top {
		all = append(all, solid{[]ball{{pivot, padMM}, {r3.Vec{X: pivot.X, Y: pivot.Y, Z: padMM}, padMM}}, l})
	}
	sin, cos := math.Sincos(s.fare.Posture.BackAngle.Radians())
	slab := func(from, to r3.Vec) solid {
		var b []ball
		for _, y := range []float64{-seatHalfMM, seatHalfMM} {
			side := r3.Vec{Y: y}
			b = append(b, ball{s.onSeat(r3.Add(from, side)), padMM}, ball{s.onSeat(r3.Add(to, side)), padMM})
		}
		return solid{b, l}
	}
	below, behind := r3.Vec{Z: -padMM}, r3.Vec{X: -sin * padMM, Z: cos * padMM}
	return append(all,
		slab(below, r3.Add(below, r3.Vec{X: seatLengthMM})),
		slab(behind, r3.Add(behind, r3.Vec{X: cos * backLengthMM, Z: sin * backLengthMM})))
}

// legs returns thighs, shanks and feet, the feet no lower than the floor.
func (s *scene) legs() []solid {
	l := lookPerson()
	var all []solid
	for _, side := range []float64{-1, 1} {
		hip := s.onSeat(r3.Vec{X: hipAheadMM, Y: side * hipHalfMM, Z: hipAboveMM - 20})
		knee := s.onSeat(r3.Vec{X: hipAheadMM + thighMM, Y: side * (hipHalfMM + 25), Z: hipAboveMM - 30})
		down := s.seat.Rot.Apply(r3.Vec{X: 0.17, Z: -0.985})
		length := float64(shankMM)
		const ankleMM = 75 // of the ankle above the floor
		if down.Z < 0 {
			length = max(0, min(length, (knee.Z-ankleMM)/-down.Z))
		}
		ankle := r3.Add(knee, r3.Scale(length, down))
		toe := r3.Add(ankle, s.seat.Rot.Apply(r3.Vec{X: footMM, Z: -25}))
		toe.Z = max(toe.Z, 25)
		all = append(all,
			solid{[]ball{{ankle, 42}, {toe, 25}}, l},
			solid{[]ball{{knee, 55}, {ankle, 42}}, l},
			solid{[]ball{{hip, 78}, {knee, 58}}, l})
	}
	return all
}

// neck returns the point about which the head turns.
func (s *scene) neck() r3.Vec {
	return chairFromHead(s.fare).Apply(r3.Scale(-1, s.job.Scene.Person.NeckToEyesMM))
}

// trunk returns neck and trunk, between the hips and the point about which the
// head turns.
func (s *scene) trunk() []solid {
	l, neck := lookPerson(), s.neck()
	hip := s.onSeat(r3.Vec{X: hipAheadMM, Z: hipAboveMM})
	chest := r3.Add(hip, r3.Scale(0.68, r3.Sub(neck, hip)))
	var b []ball
	for _, side := range []float64{-1, 1} {
		b = append(b, ball{r3.Add(hip, r3.Vec{Y: side * hipHalfMM}), 92}, ball{r3.Add(chest, r3.Vec{Y: side * chestHalfMM}), 82})
	}
	return []solid{{[]ball{{chest, 60}, {neck, 42}}, l}, {b, l}}
}

// keepClear draws the spaces to keep clear, where the posture has them.
func (s *scene) keepClear() {
	shapes, names := s.keeps()
	for _, shape := range shapes {
		s.outline(s.shape(shape), lookKeep())
	}
	if len(names) > 0 {
		s.explain(lookKeep(), keepWords(names))
	}
}

// keepWords says what is to be kept clear.
func keepWords(names []string) string { return "to keep clear: " + strings.Join(names, ", ") }

// keeps returns the spaces to keep clear, in chair axes, and their names.
func (s *scene) keeps() (shapes []space.Shape, names []string) {
	for _, k := range s.job.Keep {
		shape := k.Shape.Moved(k.Pose(s.job.Scene, s.fare.Posture))
		if err := shape.Check(); err != nil {
			s.problem = fmt.Errorf("%w: to keep clear, %q: %w", ErrFigure, plain(k.Name), err)
			return nil, nil
		}
		shapes, names = append(shapes, shape), append(names, spoken(k.Name))
	}
	return shapes, names
}
