package fit

import (
	"fmt"

	"sightpost/gaze"
	"sightpost/gaze/frame"
)

// bounded is one variable of an aim, with the range wished for.
type bounded struct {
	name             string
	turns            bool // an angle in radians, otherwise mm
	value, low, high float64
}

// bounds returns the variables of an aim with their ranges.
func (w *Preferences) bounds(x *gaze.Aim) [6]bounded {
	low, high := &w.Ranges.Low, &w.Ranges.High
	angle := func(name string, v, low, high frame.Angle) bounded {
		return bounded{name, true, v.Radians(), low.Radians(), high.Radians()}
	}
	return [6]bounded{
		angle("gaze to the left", x.Left, low.Left, high.Left),
		angle("gaze down", x.Down, low.Down, high.Down),
		{"distance", false, x.DistanceMM, low.DistanceMM, high.DistanceMM},
		angle("turn up", x.FacingUp, low.FacingUp, high.FacingUp),
		angle("turn to the right", x.FacingRight, low.FacingRight, high.FacingRight),
		angle("roll", x.Roll, low.Roll, high.Roll),
	}
}

const (
	// rangeSlack and rangeSlackMM are by how much an aim may be outside of its range:
	// what is left when settings are read to 1° and 5 mm, so that a range of no width
	// can be met.
	rangeSlack   = 0.5 * frame.Degree
	rangeSlackMM = 2.5
)

// outside reports whether the value is outside of its range.
func (b *bounded) outside() bool { return b.room() < 0 }

// room returns how far the value is from leaving its range, the slack included: negative
// when it is outside.
func (b *bounded) room() float64 {
	slack := rangeSlackMM
	if b.turns {
		slack = rangeSlack.Radians()
	}
	return min(b.value-b.low, b.high-b.value) + slack
}

// why says where the value is in a posture and where it is wished to be.
func (b *bounded) why(posture string) string {
	if b.turns {
		deg := func(v float64) float64 { return frame.Angle(v).Degrees() }
		return fmt.Sprintf("the screen's %s is %.1f° in posture %q, outside the range wished for, %.4g° to %.4g°",
			b.name, deg(b.value), posture, deg(b.low), deg(b.high))
	}
	return fmt.Sprintf("the screen's %s is %.0f mm in posture %q, outside the range wished for, %.4g mm to %.4g mm",
		b.name, b.value, posture, b.low, b.high)
}

// slackRanges returns the ranges as wide as they count as met.
func (w *Preferences) slackRanges() gaze.Ranges {
	wider := func(x gaze.Aim, sign float64) gaze.Aim {
		turn := frame.Angle(sign) * rangeSlack
		return gaze.Aim{
			Left: x.Left + turn, Down: x.Down + turn, DistanceMM: x.DistanceMM + sign*rangeSlackMM,
			FacingUp: x.FacingUp + turn, FacingRight: x.FacingRight + turn, Roll: x.Roll + turn,
		}
	}
	return gaze.Ranges{Low: wider(w.Ranges.Low, -1), High: wider(w.Ranges.High, 1)}
}

// outOfRange says of a result which variables of the screen's aim in the leading posture
// are outside of their wished ranges.
func (b *problem) outOfRange(r *Result) []string {
	f := &r.Postures[b.must[0]]
	var out []string
	for _, v := range b.job.Preferences.bounds(&f.Aim) {
		if v.outside() {
			out = append(out, v.why(f.Posture.Name))
		}
	}
	return out
}
