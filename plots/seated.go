package plots

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount/fit"
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
	ankleMM      = 75 // of the ankle above the floor
	footMM       = 170
	trunkHalfMM  = 102
)

// person adds chair, legs and trunk, if the case says where they are, and the head: an
// ellipsoid, for which a ball drawn out along two of its axes stands in where it is asked
// what is in front.
func (s *scene) person() {
	if s.hasSeat() {
		s.chair()
		s.legs()
		s.trunk()
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

// skull returns the semi-axes of the head and its middle from the point midway between
// the eyes, in head axes (mm): a middling adult's, smaller for a smaller person;
// schematic, no source.
func (s *scene) skull() (semi, middle r3.Vec) {
	return r3.Scale(s.part(), r3.Vec{X: 98, Y: 76, Z: 112}), r3.Scale(s.part(), r3.Vec{X: -88, Z: 8})
}

// headOutline returns the outline of a head.
func (s *scene) headOutline(head frame.Pose) []r2.Vec {
	semi, middle := s.skull()
	return s.ellipsoid(head.Apply(middle), scaled(semi, head.Rot))
}

// nose returns the line of the nose of a head (mm): schematic, no source.
func (s *scene) nose(head frame.Pose) []r3.Vec {
	var line []r3.Vec
	for _, p := range [3]r3.Vec{{X: 8, Z: -14}, {X: 30, Z: -44}, {X: 4, Z: -50}} {
		line = append(line, head.Apply(r3.Scale(s.part(), p)))
	}
	return line
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

// ghost draws the head and the housing of a posture in outline.
func (s *scene) ghost(f *fit.PostureResult, l look) {
	head := chairFromHead(f)
	s.outline(s.headOutline(head), l)
	s.line(l.line, s.flatAll(s.nose(head)...)...)
	for _, eye := range f.Eyes() {
		s.sign(s.flat(eye), cross)
	}
	s.outline(s.shape(s.housing(f.Screen)), l)
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
func (s *scene) part() float64 { return cmp.Or(s.job.Seated.Part, 1) }

// tilts reports whether the case says about what the seat tilts; one whose seat
// does not need not.
func (s *scene) tilts() bool { return s.job.Scene.Chair.TiltPivotMM.Z > 0 }

// onSeat returns a place given from the junction of seat and back support in seat
// axes, for an adult (mm), in chair axes.
func (s *scene) onSeat(v r3.Vec) r3.Vec {
	return s.seat.Apply(r3.Add(s.hinge(), r3.Scale(s.part(), v)))
}

// limb adds a part of the body from one place to another, half as wide as half to either
// side and rounded, both given for an adult (mm).
func (s *scene) limb(from, to r3.Vec, half, round float64) {
	s.solid(slab(from, to, half*s.part(), round*s.part()), lookPerson, ofBody)
}

// chair adds the stand of the pivot, the seat and the back support.
func (s *scene) chair() {
	what, length, half, back := "chair, schematic", float64(seatLengthMM), float64(seatHalfMM), float64(backLengthMM)
	if s.job.Passage.Bed {
		what, length, half, back = "bed, schematic", bedLengthMM, bedHalfMM, bedBackMM
	}
	if s.tilts() {
		what += " (ring: tilt pivot)"
		if pivot := s.job.Scene.Chair.TiltPivotMM; s.v != Top {
			s.solid(slab(pivot, r3.Vec{X: pivot.X, Y: pivot.Y, Z: padMM}, 0, padMM), lookChair, ofBody)
		}
	}
	s.explain(lookChair, what)
	sin, cos := math.Sincos(s.shown.Posture.BackAngle.Radians())
	below, behind := r3.Vec{Z: -padMM}, r3.Vec{X: -sin * padMM, Z: cos * padMM}
	pad := func(from, along r3.Vec) {
		s.solid(slab(s.onSeat(from), s.onSeat(r3.Add(from, along)), half*s.part(), padMM), lookChair, ofBody)
	}
	pad(below, r3.Vec{X: length})
	pad(behind, r3.Vec{X: cos * back, Z: sin * back})
}

// legs adds thighs, shanks and feet, the feet no lower than the floor; in bed they
// lie.
func (s *scene) legs() {
	part := s.part()
	shin, foot := r3.Vec{X: 0.17, Z: -0.985}, r3.Vec{X: footMM, Z: -25}
	if s.job.Passage.Bed {
		shin, foot = r3.Vec{X: 1, Z: -0.03}, r3.Vec{X: 60, Z: footMM}
	}
	down := s.seat.Rot.Apply(shin)
	for _, side := range []float64{-1, 1} {
		hip := s.onSeat(r3.Vec{X: hipAheadMM, Y: side * 85, Z: hipAboveMM - 20})
		knee := s.onSeat(r3.Vec{X: hipAheadMM + thighMM, Y: side * 110, Z: hipAboveMM - 30})
		length := shankMM * part
		if down.Z < 0 {
			length = max(0, min(length, (knee.Z-ankleMM*part)/-down.Z))
		}
		ankle := r3.Add(knee, r3.Scale(length, down))
		toe := r3.Add(ankle, s.seat.Rot.Apply(r3.Scale(part, foot)))
		toe.Z = max(toe.Z, 30*part)
		s.limb(ankle, toe, 0, 32)
		s.limb(knee, ankle, 0, 46)
		s.limb(hip, knee, 0, 66)
	}
}

// neck returns the point about which the head turns.
func (s *scene) neck() r3.Vec {
	return chairFromHead(s.shown).Apply(r3.Scale(-1, s.job.Scene.Person.NeckToEyesMM))
}

// trunk adds neck and trunk, between the hips and the point about which the
// head turns.
func (s *scene) trunk() {
	neck, hip := s.neck(), s.onSeat(r3.Vec{X: hipAheadMM, Z: hipAboveMM})
	chest := r3.Add(hip, r3.Scale(0.68, r3.Sub(neck, hip)))
	s.limb(chest, neck, 0, 48)
	s.limb(hip, chest, trunkHalfMM, 86)
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
		s.solid(shape, lookKeep, ofKeep)
		names = append(names, spoken(k.Name))
	}
	if len(names) > 0 {
		s.explain(lookKeep, "keep-clear zones: "+strings.Join(names, ", "))
	}
}
