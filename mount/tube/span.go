package tube

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
)

// ErrUnknown reports a tube whose section or material is not known.
var ErrUnknown = errors.New("not known")

// span is a tube made ready. All of it but its near straight is at rest in its own
// axes, which the settings move.
type span struct {
	mount.Span
	stiff        Properties
	firstMM      float64 // level of the end of the near straight
	standMM      float64 // level of the point held, where the tube does not slide
	pieces       []piece // the near straight first
	beyondNearMM float64 // developed length of all others

	// as it is at the settings at hand
	pose   frame.Pose // carrier axes from the tube's
	hung   hung
	tailMM float64 // what sticks out behind the point held
	held   drift   // of what holds the tube, carrier axes
}

// newSpan makes a tube ready.
func newSpan(t mount.Span) (span, error) {
	if t.Section == (mount.Section{}) || t.Section.Material == (mount.Material{}) {
		return span{}, fmt.Errorf("tube: section or material of tube %q: %w; its sag and stress cannot be computed without it", t.Part, ErrUnknown)
	}
	s := span{
		Span: t, stiff: PropertiesOf(t.Section), standMM: -t.Shape.End().At.Z,
	}
	s.cut()
	var after weight
	for i := len(s.pieces) - 1; i >= 0; i-- {
		p := &s.pieces[i]
		p.after = after
		if i > 0 {
			after = p.section(0, s.stiff.KGPerMM).beyond
			s.beyondNearMM += p.lengthMM
		}
		if !p.straight() {
			p.points = p.integrable(p.lengthMM, s.stiff.KGPerMM)
			for k := range p.looks {
				p.looks[k] = p.section(p.lengthMM*float64(k)/(arcLooks-1), s.stiff.KGPerMM)
			}
		}
	}
	return s, nil
}

// cut cuts the middle line into pieces, in axes whose z runs along the near
// straight and whose origin is level with the far end.
func (s *span) cut() {
	level := frame.Translate(r3.Vec{Z: s.standMM})
	s.pieces = []piece{{from: level, bend: BendFactors{1, 1}}}
	if len(s.Shape.Bends) == 0 {
		return
	}
	along := s.Shape.Bends[0].StraightMM
	s.firstMM = s.standMM + along
	var turn frame.Angle
	for i, b := range s.Shape.Bends {
		if i > 0 {
			s.add(piece{from: level.Mul(s.Shape.At(along)), lengthMM: b.StraightMM, bend: BendFactors{1, 1}})
			along += b.StraightMM
		}
		turn += b.Turn
		arc := piece{
			from:     level.Mul(s.Shape.At(along)).Mul(frame.Rotate(turn, r3.Vec{Z: 1})),
			lengthMM: s.Shape.BendRadiusMM * b.Angle.Radians(),
			radiusMM: s.Shape.BendRadiusMM,
			bend:     FactorsOf(s.Section, s.Shape.BendRadiusMM, b.Angle),
		}
		s.add(arc)
		along += arc.lengthMM
	}
	s.add(piece{from: level.Mul(s.Shape.At(along)), lengthMM: s.Shape.EndMM, bend: BendFactors{1, 1}})
}

// add adds a piece, unless it has no length.
func (s *span) add(p piece) {
	if p.lengthMM > 0 {
		s.pieces = append(s.pieces, p)
	}
}

// holdSlackMM is by how much a slide may put the point held past its first bend or
// its far end: rounding.
const holdSlackMM = 1e-6

// place puts the tube where it is: what carries it at a pose, the point held runMM
// before the level of the far end. Tubes that do not slide take no notice of runMM.
func (s *span) place(carrierFromMoved frame.Pose, runMM float64) error {
	if s.Slide < 0 {
		runMM = -s.standMM
	}
	near := &s.pieces[0]
	near.lengthMM = s.firstMM + runMM
	if near.lengthMM < 0 {
		if near.lengthMM < -holdSlackMM {
			return fmt.Errorf("tube: tube %q: at %.1f mm it is held %.1f mm past the end of its near straight",
				s.Part, runMM, -near.lengthMM)
		}
		near.lengthMM = 0
	}
	near.from.At.Z = s.firstMM - near.lengthMM
	s.tailMM = max(0, s.TotalMM-near.lengthMM-s.beyondNearMM)
	s.pose = carrierFromMoved.Mul(s.FromTube)
	return nil
}

// whole returns the weight of all of the tube, in its own axes.
func (s *span) whole() weight {
	return s.pieces[0].section(0, s.stiff.KGPerMM).beyond.plus(s.tail())
}

// tail returns the weight of what sticks out behind the point held.
func (s *span) tail() weight {
	at := r3.Vec{Z: s.pieces[0].from.At.Z - s.tailMM/2}
	return massAt(s.stiff.KGPerMM*s.tailMM, at)
}

// bent returns by how much what is mm from the point held moves against it, in
// the tube's own axes.
func (s *span) bent(mm float64) drift {
	var d drift
	for i := range s.pieces {
		p := &s.pieces[i]
		n := min(mm, p.lengthMM)
		if p.straight() {
			d = d.plus(p.bent(n, p.lengthMM-n, &s.stiff, s.hung))
		} else {
			d = d.plus(p.arched(n, &s.stiff, s.hung))
		}
		if mm -= n; mm <= 0 {
			break
		}
	}
	return d
}

// lengthMM returns the developed length from the point held to the far end.
func (s *span) lengthMM() float64 { return s.pieces[0].lengthMM + s.beyondNearMM }
