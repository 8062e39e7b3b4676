package page

import (
	"math"
	"strconv"
	"strings"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/gaze/frame"
	"sightpost/plots"
)

// turnedName is the name of the figure that can be turned.
const turnedName = "view3d"

// turned says from where a figure is seen, in whole degrees.
type turned struct {
	// Turn is about the upright axis, Lift above level.
	Turn int `json:"turn"`
	Lift int `json:"lift"`
}

// turnedOf returns from where the page wants to see the figure: as it was turned to,
// or from where the mount is seen best.
func turnedOf(st *state, p *answer.Placed) *turned {
	best := plots.TurnedTo(p.Result)
	t := &turned{Turn: int(math.Round(best.Azimuth.Degrees())), Lift: int(math.Round(best.Elevation.Degrees()))}
	if turn, ok := degrees(st.Turn); ok {
		t.Turn = int(math.Round((frame.Angle(turn) * frame.Degree).Wrapped().Degrees()))
	}
	if lift, ok := degrees(st.Lift); ok {
		t.Lift = int(math.Round(max(-90, min(90, lift))))
	}
	return t
}

// degrees reads an angle as it was typed. What is no number, or turns round more than
// ten times, says nothing.
func degrees(text string) (float64, bool) {
	const most = 3600
	v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	return v, err == nil && math.Abs(v) <= most // not so for what is not a number
}

// view returns the direction as figures take it; that of nothing turned is from ahead.
func (t *turned) view() plots.Turned {
	if t == nil {
		return plots.Turned{}
	}
	return plots.Turned{Azimuth: frame.Angle(t.Turn) * frame.Degree, Elevation: frame.Angle(t.Lift) * frame.Degree}
}
