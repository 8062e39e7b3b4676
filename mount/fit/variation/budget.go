package variation

import (
	"fmt"
	"math"
	"math/rand/v2"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
)

// Shape is the distribution of an error.
type Shape int

// The shapes.
const (
	Normal  Shape = iota // Size is the standard deviation
	Uniform              // Size is the half-width
)

// String returns "normal" or "uniform".
func (k Shape) String() string {
	if k == Uniform {
		return "uniform"
	}
	return "normal"
}

// Uncertainty is how far the truth may be from what was read or set, with no
// preferred side. The zero Uncertainty is no error at all.
type Uncertainty struct {
	Kind Shape
	// Size is in mm for a length and in radians for an angle.
	Size float64
}

// draw returns one error.
func (u Uncertainty) draw(rng *rand.Rand) float64 {
	if u.Kind == Uniform {
		return u.Size * (2*rng.Float64() - 1)
	}
	return u.Size * rng.NormFloat64()
}

// Budget is the uncertainty of everything that is measured or set. All errors are taken
// to be independent.
//
// An error of a measure means that the person differs from what was written down while
// the screen stays where the settings put it; an error of a setting moves the screen; an
// error of the clamp's place moves the whole mount.
//
// A reading of a posture (tilt, back angle, head angles) that is the same as in the
// measured posture is taken to be the same reading, with the same error. Any other
// reading has an error of its own, and so have eyes measured in a posture.
//
// A wrong seat tilt at measuring turns what was measured from the floor, the eyes and the
// clamp, against the seat, both by the same angle: with a mount on the seat it changes
// nothing in the measured posture, except the axes of the usual movement, and counts in
// the others.
type Budget struct {
	// Measures are those of the measures, each at its place: [EyesForward] and so on.
	Measures [MeasureCount]Uncertainty
	// Settings are in the order of [mount.Chain.Moving]; empty means none.
	Settings []Uncertainty
}

// The places of the measures. A reading of the sitting comes before [PupilSpacing] and may
// be off in each posture by itself.
const (
	EyesForward = iota // chair axes
	EyesLeft
	EyesUp
	HeadRotation
	HeadFlexion
	HeadLateralFlexion
	SeatTilt
	BackAngle
	Slump // of postures that have one
	PupilSpacing
	NeckForward // from the neck to the eyes, head axes
	NeckUp
	ClampForward // chair axes; without a mount, of the screen's place
	ClampLeft
	ClampUp
	MeasureCount
)

// measures says of each measure its name, whether it is an angle, and its standard
// deviation in [DefaultBudget], mm or degrees.
var measures = [MeasureCount]struct {
	name  string
	turns bool
	usual float64
}{
	EyesForward:        {"eyes forward", false, 5},
	EyesLeft:           {"eyes left", false, 5},
	EyesUp:             {"eyes up", false, 5},
	HeadRotation:       {"head rotation", true, 2},
	HeadFlexion:        {"head flexion", true, 2},
	HeadLateralFlexion: {"head lateral flexion", true, 2},
	SeatTilt:           {"seat tilt", true, 1},
	BackAngle:          {"back angle", true, 1},
	Slump:              {"slump", false, 5},
	PupilSpacing:       {"pupil spacing", false, 1},
	NeckForward:        {"neck forward", false, 10},
	NeckUp:             {"neck up", false, 10},
	ClampForward:       {"clamp forward", false, 3},
	ClampLeft:          {"clamp left", false, 3},
	ClampUp:            {"clamp up", false, 3},
}

// Named returns the uncertainty of the measure with a name such as "eyes up"; nil if there
// is none.
func (s *Budget) Named(name string) *Uncertainty {
	for k := range measures {
		if measures[k].name == name {
			return &s.Measures[k]
		}
	}
	return nil
}

// DefaultBudget returns the uncertainty of a result's measures and settings.
//
// They are assumptions without a published source, to be replaced by what a
// team finds when it measures twice: a tape to a seated person, 5 mm (a standard
// deviation, like all that follow); an inclinometer on seat and back, 1°; head angles, 2°,
// since a head does not hold still; pupil spacing, 1 mm; slump along the back support,
// 5 mm; the neck point, which cannot be seen, 10 mm; a tape to the clamp, 3 mm. A setting
// is anywhere within half a readable step of its value; a stop is exact.
func DefaultBudget(r *fit.Result) Budget {
	var s Budget
	for k, m := range measures {
		if s.Measures[k].Size = m.usual; m.turns {
			s.Measures[k].Size = m.usual * frame.Degree.Radians()
		}
	}
	if r == nil || r.Set == nil {
		return s
	}
	for _, j := range r.Set.Chain.Told() {
		half := Uncertainty{Kind: Uniform, Size: max(j.Step, 0) / 2}
		if j.Indexed {
			half.Size = 0
		}
		s.Settings = append(s.Settings, half)
	}
	return s
}

const (
	// largestMM and largestTurn are the largest uncertainties that are valid.
	largestMM   = 500.0
	largestTurn = 90 * frame.Degree
)

// named is an uncertainty with the measure or setting that it is of.
type named struct {
	name  string
	turns bool
	Uncertainty
}

// all returns the uncertainties of the measures, then those of the joints that move.
func (s *Budget) all(moving []mount.Joint) ([]named, error) {
	if len(s.Settings) != 0 && len(s.Settings) != len(moving) {
		return nil, fmt.Errorf("variation: uncertainties of %d settings, but the mount has %d; give one for each or none", len(s.Settings), len(moving))
	}
	var out []named
	for k, m := range measures {
		out = append(out, named{m.name, m.turns, s.Measures[k]})
	}
	for i := range s.Settings {
		out = append(out, named{moving[i].Name, moving[i].Motion == mount.Turn, s.Settings[i]})
	}
	for _, n := range out {
		if err := n.check(); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// check reports an uncertainty that is invalid.
func (n named) check() error {
	unit, most, size := "mm", largestMM, n.Size
	if n.turns {
		unit, most, size = "°", largestTurn.Degrees(), frame.Angle(n.Size).Degrees()
	}
	switch {
	case n.Kind != Normal && n.Kind != Uniform:
		return fmt.Errorf("variation: uncertainty of %q: kind %d is neither normal nor uniform", n.name, int(n.Kind))
	case math.IsNaN(size) || math.IsInf(size, 0):
		return fmt.Errorf("variation: uncertainty of %q: %v is not a finite number", n.name, size)
	case size < 0 || size > most:
		return fmt.Errorf("variation: uncertainty of %q: %.4g%s is outside 0 to %g%s", n.name, size, unit, most, unit)
	}
	return nil
}
