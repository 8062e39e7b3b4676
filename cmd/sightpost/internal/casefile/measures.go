package casefile

import (
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount/space"
)

// measures collects what of one space the case gives and what is assumed.
type measures struct {
	part              float64 // of an adult's measures, 1 for an adult
	published, chosen []string
	open              bool // some size or place is assumed, not the gap alone
}

// body returns a measure of the body, or the published mean for an adult made
// smaller in proportion.
func (m *measures) body(given *length, name string, meanMM float64) float64 {
	return m.follows(given, name, meanMM*m.part)
}

// follows returns a measure, or what follows from published ones.
func (m *measures) follows(given *length, name string, mm float64) float64 {
	if given != nil {
		return given.mm()
	}
	m.open = true
	mm = math.Round(mm)
	m.published = append(m.published, name+" "+FormatLength(mm))
	return mm
}

// size returns a measure, or a choice of this tool.
func (m *measures) size(given *length, name string, chosenMM float64) float64 {
	if given == nil {
		m.open = true
	}
	return m.gap(given, name, chosenMM)
}

// gap returns a measure, or a choice of this tool, without calling the space
// assumed for it.
func (m *measures) gap(given *length, name string, chosenMM float64) float64 {
	if given != nil {
		return given.mm()
	}
	m.chosen = append(m.chosen, name+" "+FormatLength(chosenMM))
	return chosenMM
}

// tell notes what has been assumed.
func (m *measures) tell(r *reader, key, what, from string) {
	if len(m.published) > 0 {
		const digits = 2
		if part := strconv.FormatFloat(m.part, 'f', digits, 64); part != "1.00" {
			from += "; made smaller to " + part + " because the eyes are low above the seat, a choice of this tool"
		}
		r.assumed(key, what, strings.Join(m.published, ", "), from)
	}
	if len(m.chosen) > 0 {
		r.assumed(key, what, strings.Join(m.chosen, ", "), unsourced)
	}
}

// boxBetween returns the box between two corners, low and high in every
// direction, in the axes of pose. Out of order they give a flat box.
func boxBetween(pose frame.Pose, low, high r3.Vec) space.Shape {
	size := r3.Sub(high, low)
	size = r3.Vec{X: max(size.X, 0), Y: max(size.Y, 0), Z: max(size.Z, 0)}
	// Lengths in files are bounded, so that this is a box.
	box, _ := space.Box(pose.Mul(frame.Translate(r3.Scale(0.5, r3.Add(low, high)))), size)
	return box
}

// rounded returns the same box rounded as far as its least edge allows, which comes
// nearer to a body.
func rounded(pose frame.Pose, low, high r3.Vec) space.Shape {
	s := boxBetween(pose, low, high)
	s.RoundMM = min(s.HalfMM.X, s.HalfMM.Y, s.HalfMM.Z)
	s.HalfMM = r3.Sub(s.HalfMM, r3.Vec{X: s.RoundMM, Y: s.RoundMM, Z: s.RoundMM})
	return s
}
