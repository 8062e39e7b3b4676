package page

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/gaze/frame"
	"sightpost/plots"
)

// What a page asks for beside the measures stays as it was said, whatever else is
// shown anew: these say how its fields stand.

// Typed returns what was typed in a field that is no part of the case.
func (v *view) Typed(name string) string { return v.Form.Get(name) }

// Ticked reports whether a box was ticked.
func (v *view) Ticked(name, value string) bool { return slices.Contains(v.Form[name], value) }

// Chosen reports whether a record was chosen, or is the one to begin with while none
// that is still there was.
func (v *view) Chosen(field, record string, begin bool) bool {
	if said := v.Form.Get(field); slices.Contains(v.Records.Names, said) {
		return said == record
	}
	return begin
}

// Name returns the name under which the case is to be saved, "" if none was given: it
// is then saved under its [view.Suggested] name.
func (v *view) Name() string { return cmp.Or(v.Form.Get("name"), v.At) }

// Suggested returns the name of a file for the case, after its code.
func (v *view) Suggested() string { return suggested(v.code) }

// MarginWanted says which margin is required if none is typed, and how much there is.
func (v *view) MarginWanted() string {
	const words = "If left empty: the preferred margin of the case"
	if v.Result == nil || v.Result.placed == nil {
		return words + "."
	}
	p := v.Result.placed
	said := document.Say(words+", %s.", document.Length(p.Job.Preferences.MarginMM))
	if v.Stands {
		said = document.Say("%s With the settings as found, the margin is %s.", said, document.Margin(p.Result.MarginMM()))
	}
	return said.In(v.Units)
}

// Drawn reports whether a figure is shown.
func (v *view) Drawn() bool { return v.Result != nil && v.Result.Figure != "" }

// Told reports whether there is a setup sheet.
func (v *view) Told() bool { return v.Result != nil && v.Result.placed != nil }

// Turning says from where a figure that can be turned is seen, nil if there is none.
func (v *view) Turning() *turned {
	if v.Result == nil {
		return nil
	}
	return v.Result.Turned
}

// FigureOptions returns the figures to choose from. While there are none, the choice
// is kept.
func (v *view) FigureOptions() []tab {
	if v.Result == nil || len(v.Result.Figures) == 0 {
		return []tab{{Name: v.Figure, Title: v.Figure, Chosen: true}}
	}
	return v.Result.Figures
}

// shows says which pieces of the page are shown, by their ids: those that hold fields
// and buttons are hidden and never taken away, so that what they say is kept.
func (v *view) shows() map[string]bool {
	return map[string]bool{
		"figure-tools": v.Drawn(), "figure-files": v.Drawn(), "turning": v.Turning() != nil,
		"sheet-tools": v.Told(), "settings-table": v.Mounted != nil, "refitting": v.Mounted != nil,
	}
}

// restands reports whether the form of how the mount stands has other fields than on
// the page that asked. What was said of the mount outlasts a slip in the measures.
func (q *request) restands(m *mounted) bool {
	if m == nil {
		return false
	}
	asked := 0
	for name := range q.Form {
		if strings.HasPrefix(name, settingField) {
			asked++
		}
	}
	for _, s := range m.Settings {
		if !q.Form.Has(settingField + s.Name) {
			return true
		}
	}
	return asked != len(m.Settings) || m.Either != q.Form.Has("side")
}

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
