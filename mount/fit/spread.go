package fit

import (
	"fmt"
	"math"
	"math/rand/v2"

	"sightpost/gaze/frame"
	"sightpost/mount"
)

// SpreadKind is the shape of a [Spread].
type SpreadKind int

// The two shapes.
const (
	Normal  SpreadKind = iota // Size is the standard deviation
	Uniform                   // Size is the half-width
)

// String returns "normal" or "uniform".
func (k SpreadKind) String() string {
	if k == Uniform {
		return "uniform"
	}
	return "normal"
}

// Spread is how far the truth may be from what was read or set, with no
// preferred side. The zero Spread is no error at all.
type Spread struct {
	Kind SpreadKind
	// Size is in mm for a length and in radians for an angle.
	Size float64
}

// draw returns one error.
func (s Spread) draw(rng *rand.Rand) float64 {
	if s.Kind == Uniform {
		return s.Size * (2*rng.Float64() - 1)
	}
	return s.Size * rng.NormFloat64()
}

// Uncertainty are the errors of everything that is measured or set. All are taken to
// be independent.
//
// An error of a measure means that the person differs from what was written
// down while the screen stays where the settings put it; an error of a setting
// moves the screen; an error of the clamp's place moves the whole mount.
//
// A reading of a posture (tilt, back angle, head angles) that is the same as in
// the measured sitting is taken to be that very reading and errs with it; any
// other reading errs on its own. So do the eyes of a posture in which they
// were measured.
//
// A wrong seat tilt at measuring turns what was measured from the floor, the
// eyes and the clamp, against the seat, and both alike: with a mount on the seat it
// costs nothing in the measured posture, but for the axes of the usual movement,
// and shows in the others.
type Uncertainty struct {
	EyesForward, EyesLeft, EyesUp                 Spread   // mm, chair axes
	HeadRotation, HeadFlexion, HeadLateralFlexion Spread   // radians
	SeatTilt, BackAngle                           Spread   // radians
	Slump                                         Spread   // mm; of postures that have one
	PupilSpacing                                  Spread   // mm
	NeckForward, NeckUp                           Spread   // mm, from the neck to the eyes, head axes
	ClampForward, ClampLeft, ClampUp              Spread   // mm, chair axes; without a mount, of the screen's place
	Settings                                      []Spread // in the order of [mount.Chain.Moving]; empty means none
}

// DefaultUncertainty returns spreads for a result's measures and settings.
//
// They are assumptions without a published source, to be replaced by what a
// team finds when it measures twice: a tape to a person who sits, 5 mm (standard
// deviation, as all that follow); an inclinometer on seat and back, 1°; head
// angles, 2°, since a head does not hold still; the spacing of the pupils, 1 mm;
// a slide along the back support, 5 mm; the neck, which nobody sees, 10 mm; a tape
// to the clamp, 3 mm. A setting is anywhere within half a readable step of its value;
// a stop holds exactly.
func DefaultUncertainty(r *Result) Uncertainty {
	tape, angle := Spread{Size: 5}, Spread{Size: frame.Degree.Radians()}
	head, neck, clamp := Spread{Size: 2 * frame.Degree.Radians()}, Spread{Size: 10}, Spread{Size: 3}
	s := Uncertainty{
		EyesForward: tape, EyesLeft: tape, EyesUp: tape,
		HeadRotation: head, HeadFlexion: head, HeadLateralFlexion: head,
		SeatTilt: angle, BackAngle: angle, Slump: tape,
		PupilSpacing: Spread{Size: 1},
		NeckForward:  neck, NeckUp: neck,
		ClampForward: clamp, ClampLeft: clamp, ClampUp: clamp,
	}
	if r == nil || r.Set == nil {
		return s
	}
	for _, j := range r.Set.Chain.Moving() {
		half := Spread{Kind: Uniform, Size: max(j.Step, 0) / 2}
		if j.Indexed {
			half.Size = 0
		}
		s.Settings = append(s.Settings, half)
	}
	return s
}

const (
	// largestMM and largestTurn are beyond what anybody could call an error.
	largestMM   = 500.0
	largestTurn = 90 * frame.Degree
)

// named is a spread with what it is a spread of.
type named struct {
	name   string
	turns  bool
	spread Spread
}

// measures returns the spreads of the measures in the order of the slots of
// sampling.go.
func (s *Uncertainty) measures() [measureSlots]named {
	return [measureSlots]named{
		{"eyes forward", false, s.EyesForward},
		{"eyes left", false, s.EyesLeft},
		{"eyes up", false, s.EyesUp},
		{"head rotation", true, s.HeadRotation},
		{"head flexion", true, s.HeadFlexion},
		{"head lateral flexion", true, s.HeadLateralFlexion},
		{"seat tilt", true, s.SeatTilt},
		{"back angle", true, s.BackAngle},
		{"slump", false, s.Slump},
		{"pupil spacing", false, s.PupilSpacing},
		{"neck forward", false, s.NeckForward},
		{"neck up", false, s.NeckUp},
		{"clamp forward", false, s.ClampForward},
		{"clamp left", false, s.ClampLeft},
		{"clamp up", false, s.ClampUp},
	}
}

// settings returns the spreads of the settings of the joints that move.
func (s *Uncertainty) settings(moving []mount.Joint) ([]named, error) {
	if len(s.Settings) != 0 && len(s.Settings) != len(moving) {
		return nil, fmt.Errorf("fit: spreads of %d settings, but the mount has %d; give one for each or none", len(s.Settings), len(moving))
	}
	var out []named
	for i := range s.Settings {
		out = append(out, named{moving[i].Name, moving[i].Motion == mount.Turn, s.Settings[i]})
	}
	return out, nil
}

// check reports a spread that cannot be meant.
func (n named) check() error {
	unit, most, size := "mm", largestMM, n.spread.Size
	if n.turns {
		unit, most, size = "°", largestTurn.Degrees(), frame.Angle(n.spread.Size).Degrees()
	}
	switch {
	case n.spread.Kind != Normal && n.spread.Kind != Uniform:
		return fmt.Errorf("fit: spread of %q: kind %d is neither normal nor uniform", n.name, int(n.spread.Kind))
	case math.IsNaN(size) || math.IsInf(size, 0):
		return fmt.Errorf("fit: spread of %q: %v is not a finite number", n.name, size)
	case size < 0 || size > most:
		return fmt.Errorf("fit: spread of %q: %.4g%s is outside 0 to %g%s", n.name, size, unit, most, unit)
	}
	return nil
}
