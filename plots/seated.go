package plots

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
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

// seated draws chair, legs and trunk. A case that does not say where the back
// support is hinged leaves the hinge on the floor, where no seat is: then only the
// head is drawn.
func (s *scene) seated() {
	if s.job.Scene.Chair.BackHingeMM.Z <= 0 {
		return
	}
	s.chair()
	s.legs()
	s.trunk()
}

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

// chair draws the seat, the back support, and the pivot on its stand.
func (s *scene) chair() {
	chair := s.job.Scene.Chair
	pivot := chair.TiltPivotMM
	l := lookChair()
	tilts := pivot.Z > 0 // a case whose seat does not tilt need not say about what
	if tilts && s.v != Top {
		s.outline(s.balls(ball{pivot, padMM}, ball{r3.Vec{X: pivot.X, Y: pivot.Y, Z: padMM}, padMM}), l)
	}
	sin, cos := math.Sincos(s.fare.Posture.BackAngle.Radians())
	slab := func(from, to r3.Vec) []ball {
		var b []ball
		for _, y := range []float64{-seatHalfMM, seatHalfMM} {
			side := r3.Vec{Y: y}
			b = append(b, ball{s.onSeat(r3.Add(from, side)), padMM}, ball{s.onSeat(r3.Add(to, side)), padMM})
		}
		return b
	}
	below, behind := r3.Vec{Z: -padMM}, r3.Vec{X: -sin * padMM, Z: cos * padMM}
	s.outline(s.balls(slab(below, r3.Add(below, r3.Vec{X: seatLengthMM}))...), l)
	s.outline(s.balls(slab(behind, r3.Add(behind, r3.Vec{X: cos * backLengthMM, Z: sin * backLengthMM}))...), l)
	if !tilts {
		s.explain(l, "chair, schematic")
		return
	}
	s.sign(s.flat(pivot), ring())
	s.explain(l, "chair, schematic (ring: tilt pivot)")
}

// legs draws thighs, shanks and feet, the feet no lower than the floor.
func (s *scene) legs() {
	l := lookPerson()
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
		s.outline(s.balls(ball{ankle, 42}, ball{toe, 25}), l)
		s.outline(s.balls(ball{knee, 55}, ball{ankle, 42}), l)
		s.outline(s.balls(ball{hip, 78}, ball{knee, 58}), l)
	}
}

// trunk draws trunk and neck between the hips and the point about which the head
// turns.
func (s *scene) trunk() {
	l := lookPerson()
	neck := chairFromHead(s.fare).Apply(r3.Scale(-1, s.job.Scene.Person.NeckToEyesMM))
	hip := s.onSeat(r3.Vec{X: hipAheadMM, Z: hipAboveMM})
	chest := r3.Add(hip, r3.Scale(0.68, r3.Sub(neck, hip)))
	s.outline(s.balls(ball{chest, 60}, ball{neck, 42}), l)
	var b []ball
	for _, side := range []float64{-1, 1} {
		b = append(b, ball{r3.Add(hip, r3.Vec{Y: side * hipHalfMM}), 92}, ball{r3.Add(chest, r3.Vec{Y: side * chestHalfMM}), 82})
	}
	s.outline(s.balls(b...), l)
	s.sign(s.flat(neck), cross())
	s.explain(l, "person, schematic (crosses: eyes, neck)")
}

// keepClear draws the spaces to keep clear, where the posture has them.
func (s *scene) keepClear() {
	var names []string
	for _, k := range s.job.Keep {
		shape := k.Shape.Moved(k.Pose(s.job.Scene, s.fare.Posture))
		if err := shape.Check(); err != nil {
			s.problem = fmt.Errorf("%w: to keep clear, %q: %w", ErrFigure, plain(k.Name), err)
			return
		}
		s.outline(s.shape(shape), lookKeep())
		names = append(names, spoken(k.Name))
	}
	if len(names) > 0 {
		s.explain(lookKeep(), "to keep clear: "+plain(strings.Join(names, ", ")))
	}
}
