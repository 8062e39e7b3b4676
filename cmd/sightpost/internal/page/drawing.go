package page

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"html/template"
	"math"
	"slices"
	"strconv"
	"strings"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/gaze/frame"
	"sightpost/plots"
)

// look says how figures of the page are drawn, inset by so many dots from where the drawing is.
func (st *state) look(inset int) answer.Look {
	dots, _ := strconv.Atoi(st.Wide) // 0 is as narrow as it can be
	return answer.OnScreen(st.Units, dots-inset)
}

// inCard is how far figures in a card are inset.
const inCard = 36

// beside returns the look of figures of which two are next to each other where there is space.
func (st *state) beside() answer.Look {
	const enough, gap = 480, 30
	l := st.look(gap)
	if dots, _ := strconv.Atoi(st.Wide); dots >= enough {
		l = st.look(dots/2 + gap)
	}
	return l
}

// figure returns the figure of a case that is looked at, from where it is seen if it can be
// turned, and all that there are to choose from.
func (st *state) figure(ctx context.Context, p *answer.Placed, l answer.Look) (looked answer.Figure, t *turned, all []option) {
	figures := p.Figures(ctx, l)
	at := max(0, slices.IndexFunc(figures, func(f answer.Figure) bool { return f.Name == st.Figure }))
	for i, f := range figures {
		all = append(all, option{f.Name, f.Title, i == at})
	}
	if figures[at].Name == turnedName {
		t = turnedOf(st, p)
		from := plots.Turned{Azimuth: frame.Angle(t.Turn) * frame.Degree, Elevation: frame.Angle(t.Lift) * frame.Degree}
		return p.View3D(from, l), t, all
	}
	return figures[at], nil, all
}

// draw draws the one figure that is looked at.
func (v *view) draw(ctx context.Context) (err error) {
	var f answer.Figure
	f, v.Turned, v.Figures = v.figure(ctx, v.Placed, v.look(0))
	v.Drawn = f.Name
	v.Drawing, err = inline(f, "figure")
	return err
}

// inline returns a figure as an element of the page. A figure that cannot be drawn is
// told in words: everything else is still there.
func inline(f answer.Figure, id string) (template.HTML, error) {
	fig, err := f.Draw()
	if errors.Is(err, plots.ErrFigure) {
		return template.HTML("<p>" + template.HTMLEscapeString(plainWords(err)) + "</p>"), nil // escaped
	}
	if err != nil {
		return "", fmt.Errorf("%s: %w", f.Name, err)
	}
	var svg bytes.Buffer
	if err := plots.WriteInlineSVG(&svg, fig, id); err != nil {
		return "", fmt.Errorf("%s: %w", f.Name, err)
	}
	return template.HTML(svg.String()), nil // written by plots, which escapes text
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
