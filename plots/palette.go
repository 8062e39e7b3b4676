package plots

import (
	"image/color"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// The eight colours that people with any of the common kinds of colour blindness
// can tell apart.
//
// Reference: M. Okabe and K. Ito, "Color Universal Design (CUD): How to make
// figures and presentations that are friendly to colorblind people", 2002,
// revised 2008; the values are from memory.
const (
	okabeBlack = iota
	okabeOrange
	okabeSky
	okabeGreen
	okabeYellow
	okabeBlue
	okabeVermilion
	okabePurple
)

// okabe returns one of the eight colours.
func okabe(name int) color.NRGBA {
	return [...]color.NRGBA{
		okabeBlack:     {A: 0xff},
		okabeOrange:    {R: 230, G: 159, A: 0xff},
		okabeSky:       {R: 86, G: 180, B: 233, A: 0xff},
		okabeGreen:     {G: 158, B: 115, A: 0xff},
		okabeYellow:    {R: 240, G: 228, B: 66, A: 0xff},
		okabeBlue:      {G: 114, B: 178, A: 0xff},
		okabeVermilion: {R: 213, G: 94, A: 0xff},
		okabePurple:    {R: 204, G: 121, B: 167, A: 0xff},
	}[name]
}

// faint returns c with the given opacity, 0 to 1.
func faint(c color.NRGBA, opacity float64) color.NRGBA {
	c.A = uint8(255*opacity + 0.5)
	return c
}

// grey returns a grey from black (0) to white (1).
func grey(light float64) color.NRGBA {
	v := uint8(255*light + 0.5)
	return color.NRGBA{R: v, G: v, B: v, A: 0xff}
}

// look is how something is drawn: filled, stroked, or both.
type look struct {
	fill  color.Color // nil means not filled
	line  draw.LineStyle
	hatch draw.LineStyle // no width means not hatched
}

// stroke returns a line of a width in points, dashed as given in points.
func stroke(c color.Color, points float64, dashes ...float64) draw.LineStyle {
	s := draw.LineStyle{Color: c, Width: vg.Points(points)}
	for _, d := range dashes {
		s.Dashes = append(s.Dashes, vg.Points(d))
	}
	return s
}

// curveLook returns the line of the i-th curve of a chart: a colour and a dash
// pattern of its own. After eight they repeat; the curves are labelled as well.
func curveLook(i int) draw.LineStyle {
	colours := [...]int{okabeBlue, okabeVermilion, okabeGreen, okabePurple, okabeOrange, okabeSky, okabeBlack, okabeYellow}
	dashes := [...][]float64{nil, {6, 2}, {2, 2}, {8, 2, 2, 2}, {4, 4}, {10, 3}, {1, 2}, {8, 2, 2, 2, 2, 2}}
	return stroke(okabe(colours[i%len(colours)]), 1.4, dashes[i%len(dashes)]...)
}
