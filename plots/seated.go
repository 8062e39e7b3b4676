package plots

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount/space"
)

// Schematic sizes of seat, back support and body (mm): a middling adult on a
// middling seat or in a bed, chosen to look right; no source and no measure of the case.
// A smaller person and their seat are drawn smaller in proportion.
const (
	seatLengthMM = 440
	seatHalfMM   = 210
	backLengthMM = 520
	bedLengthMM  = 1150 // from the junction to the foot end
	bedHalfMM    = 430
	bedBackMM    = 760
	padMM        = 18 // half the thickness of seat and back support
	hipAheadMM   = 115
	hipAboveMM   = 95
	thighMM      = 400
	shankMM      = 400
	footMM       = 170
	hipHalfMM    = 85
	chestHalfMM  = 120
)

// person adds chair, legs and trunk, if the case says where they are, and the head: an
// ellipsoid, for which a ball drawn out along two of its axes stands in where it is asked
// what is in front.
func (s *scene) person() {
	if s.hasSeat() {
		s.chair()
		s.legs()
		s.trunk()
		what := s.furniture()
		if s.tilts() {
			what += " (ring: tilt pivot)"
		}
		s.explain(lookChair, what)
	}
	s.explain(lookPerson, "person, schematic (crosses: eyes, neck)")
	head := chairFromHead(s.shown)
	semi, middle := s.skull()
	s.piece(piece{
		shape: space.Shape{
			Pose:   frame.Pose{Rot: head.Rot, At: head.Apply(middle)},
			HalfMM: r3.Vec{X: semi.X - semi.Y, Z: semi.Z - semi.Y}, RoundMM: semi.Y,
		},
		outline: s.headOutline(head), look: lookPerson,
	})
}

// face draws nose and eyes.
func (s *scene) face() {
	head := chairFromHead(s.shown)
	const ahead = 25 // of the eyes, so that the head they are in does not hide them
	for _, eye := range s.shown.Eyes() {
		s.place("", eye, cross, s.hidden(r3.Add(eye, r3.Scale(ahead, head.Rot.X)), s.pieces, ofKeep))
	}
	nose := s.nose(head)
	s.seen(lookPerson.line, nose[0], nose[1], ofKeep)
	s.seen(lookPerson.line, nose[1], nose[2], ofKeep)
}

// hasSeat reports whether it is known where the seat is; otherwise only the head is
// drawn.
func (s *scene) hasSeat() bool { return !(s.hinge().Z <= 0) } // not a number is an error, later

// hinge returns the junction of seat and back support in seat axes (mm): where the job
// has it, else where the back support is hinged, which is on the floor, where no seat
// is, when it is not known.
func (s *scene) hinge() r3.Vec {
	if s.job.Seated.Part > 0 {
		return s.job.Seated.JunctionMM
	}
	return s.job.Scene.Chair.BackHingeMM
}

// part returns how large the person is, as a part of an adult.
func (s *scene) part() float64 {
	if p := s.job.Seated.Part; p > 0 {
		return p
	}
	return 1
}

// tilts reports whether the case says about what the seat tilts; one whose seat
// does not need not.
func (s *scene) tilts() bool { return s.job.Scene.Chair.TiltPivotMM.Z > 0 }

// inBed reports whether the person is in bed, where the legs lie.
func (s *scene) inBed() bool { return s.job.Passage.Bed }

// furniture says what the person sits in.
func (s *scene) furniture() string {
	if s.inBed() {
		return "bed, schematic"
	}
	return "chair, schematic"
}

// solid adds the convex hull of balls.
func (s *scene) solid(l look, b ...ball) {
	s.piece(piece{shape: standIn(b), outline: s.balls(b...), look: l})
}

// onSeat returns a place given from the junction of seat and back support in seat
// axes, for an adult (mm), in chair axes.
func (s *scene) onSeat(v r3.Vec) r3.Vec {
	return s.seat.Apply(r3.Add(s.hinge(), r3.Scale(s.part(), v)))
}

// limb returns a ball of a body, its radius given for an adult (mm).
func (s *scene) limb(at r3.Vec, radius float64) ball { return ball{at, radius * s.part()} }

// chair adds the stand of the pivot, the seat and the back support.
func (s *scene) chair() {
	if pivot := s.job.Scene.Chair.TiltPivotMM; s.tilts() && s.v != Top {
		s.solid(lookChair, ball{pivot, padMM}, ball{r3.Vec{X: pivot.X, Y: pivot.Y, Z: padMM}, padMM})
	}
	length, half, back := float64(seatLengthMM), float64(seatHalfMM), float64(backLengthMM)
	if s.inBed() {
		length, half, back = bedLengthMM, bedHalfMM, bedBackMM
	}
	sin, cos := math.Sincos(s.shown.Posture.BackAngle.Radians())
	slab := func(from, to r3.Vec) {
		var b []ball
		for _, y := range []float64{-half, half} {
			side := r3.Vec{Y: y}
			b = append(b, ball{s.onSeat(r3.Add(from, side)), padMM}, ball{s.onSeat(r3.Add(to, side)), padMM})
		}
		s.solid(lookChair, b...)
	}
	below, behind := r3.Vec{Z: -padMM}, r3.Vec{X: -sin * padMM, Z: cos * padMM}
	slab(below, r3.Add(below, r3.Vec{X: length}))
	slab(behind, r3.Add(behind, r3.Vec{X: cos * back, Z: sin * back}))
}

// legs adds thighs, shanks and feet, the feet no lower than the floor; in bed they
// lie.
func (s *scene) legs() {
	part := s.part()
	shin, foot := r3.Vec{X: 0.17, Z: -0.985}, r3.Vec{X: footMM, Z: -25}
	if s.inBed() {
		shin, foot = r3.Vec{X: 1, Z: -0.03}, r3.Vec{X: 60, Z: footMM}
	}
	down := s.seat.Rot.Apply(shin)
	for _, side := range []float64{-1, 1} {
		hip := s.onSeat(r3.Vec{X: hipAheadMM, Y: side * hipHalfMM, Z: hipAboveMM - 20})
		knee := s.onSeat(r3.Vec{X: hipAheadMM + thighMM, Y: side * (hipHalfMM + 25), Z: hipAboveMM - 30})
		length := shankMM * part
		const ankleMM = 75 // of the ankle above the floor
		if down.Z < 0 {
			length = max(0, min(length, (knee.Z-ankleMM*part)/-down.Z))
		}
		ankle := r3.Add(knee, r3.Scale(length, down))
		toe := r3.Add(ankle, s.seat.Rot.Apply(r3.Scale(part, foot)))
		toe.Z = max(toe.Z, 25*part)
		s.solid(lookPerson, s.limb(ankle, 42), s.limb(toe, 25))
		s.solid(lookPerson, s.limb(knee, 55), s.limb(ankle, 42))
		s.solid(lookPerson, s.limb(hip, 78), s.limb(knee, 58))
	}
}

// neck returns the point about which the head turns.
func (s *scene) neck() r3.Vec {
	return chairFromHead(s.shown).Apply(r3.Scale(-1, s.job.Scene.Person.NeckToEyesMM))
}

// trunk adds neck and trunk, between the hips and the point about which the
// head turns.
func (s *scene) trunk() {
	neck := s.neck()
	hip := s.onSeat(r3.Vec{X: hipAheadMM, Z: hipAboveMM})
	chest := r3.Add(hip, r3.Scale(0.68, r3.Sub(neck, hip)))
	var b []ball
	for _, side := range []float64{-1, 1} {
		b = append(b,
			s.limb(r3.Add(hip, r3.Vec{Y: side * hipHalfMM * s.part()}), 92),
			s.limb(r3.Add(chest, r3.Vec{Y: side * chestHalfMM * s.part()}), 82))
	}
	s.solid(lookPerson, s.limb(chest, 60), s.limb(neck, 42))
	s.solid(lookPerson, b...)
}

// keepClear adds the keep-clear zones, where the posture has them.
func (s *scene) keepClear() {
	var names []string
	for _, k := range s.job.KeepClear {
		shape := k.Shape.Moved(k.Pose(s.job.Scene, s.shown.Posture))
		if err := shape.Check(); err != nil {
			s.fail(fmt.Errorf("%w: to keep clear, %q: %w", ErrFigure, plain(k.Name), err))
			return
		}
		p := piece{shape: shape, outline: s.shape(shape), look: lookKeep, group: ofKeep}
		if shape.RoundMM == 0 {
			p.on = s.faced(shape, stroke(lookKeep.line.Color, 0.5, 1.5, 1.5))
		}
		s.piece(p)
		names = append(names, spoken(k.Name))
	}
	if len(names) > 0 {
		s.explain(lookKeep, "keep-clear zones: "+strings.Join(names, ", "))
	}
}
