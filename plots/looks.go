package plots

import (
	"image/color"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"sightpost/gaze"
)

// The eight colors that people with any of the common kinds of color blindness
// can tell apart.
//
// Reference: M. Okabe and K. Ito, "Color Universal Design (CUD): How to make
// figures and presentations that are friendly to colorblind people", 2002,
// revised 2008; the values are from memory.
var (
	okabeBlack     = color.NRGBA{A: 0xff}
	okabeOrange    = color.NRGBA{R: 230, G: 159, A: 0xff}
	okabeSky       = color.NRGBA{R: 86, G: 180, B: 233, A: 0xff}
	okabeGreen     = color.NRGBA{G: 158, B: 115, A: 0xff}
	okabeYellow    = color.NRGBA{R: 240, G: 228, B: 66, A: 0xff}
	okabeBlue      = color.NRGBA{G: 114, B: 178, A: 0xff}
	okabeVermilion = color.NRGBA{R: 213, G: 94, A: 0xff}
	okabePurple    = color.NRGBA{R: 204, G: 121, B: 167, A: 0xff}
)

// ink is the color of text and of main lines.
var ink color.Color = grey(0.07)

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

// The looks of all that is drawn.
var (
	// A scene.
	lookChair    = look{fill: grey(0.96), line: stroke(grey(0.45), 0.6)}
	lookPerson   = look{fill: grey(0.86), line: stroke(grey(0.35), 0.7)}
	lookGhost    = look{line: stroke(grey(0.35), 0.5, 2.5, 1.8)}
	lookTube     = look{fill: grey(0.30)}
	lookHousing  = look{fill: grey(0.78), line: stroke(ink, 0.6)}
	lookDisplay  = look{fill: grey(1), line: stroke(ink, 1.6)}
	lookVolume   = look{line: stroke(okabeVermilion, 0.9, 9, 3)}
	lookRay      = stroke(okabeVermilion, 0.35, 1, 2) // the tracker's field before the tracking volume
	lookRegion   = look{fill: faint(okabeSky, 0.25), line: stroke(okabeBlue, 1.1), hatch: stroke(okabeBlue, 0.25)}
	lookMovement = look{line: stroke(ink, 0.8, 1, 1.5)}
	lookSight    = look{line: stroke(ink, 0.7, 8, 2, 1.5, 2)}
	lookKeep     = look{fill: faint(okabePurple, 0.15), line: stroke(okabePurple, 0.9, 1.5, 1.5)}

	faintly = stroke(grey(0.35), 0.6, 0.8, 1.8) // a line where it is hidden

	// An earlier assessment, and the arrow from an earlier to a later place.
	lookBefore = look{line: stroke(okabeBlue, 0.9, 4, 2)}
	lookMoved  = look{line: stroke(okabeVermilion, 1.4)}

	// A mount that swings clear.
	lookTransfer    = look{fill: faint(okabeSky, 0.18), line: stroke(okabeBlue, 0.5, 6, 2, 1, 2)}
	lookFloor       = look{fill: faint(okabeYellow, 0.25), line: stroke(okabeGreen, 1, 4, 2)}
	lookJamb        = look{fill: grey(0.75), line: stroke(ink, 0.8)}
	lookParked      = look{fill: faint(grey(0.85), 0.6), line: stroke(ink, 0.9, 3.5, 2)}
	lookPath        = look{line: stroke(okabeVermilion, 1.1)}
	lookOuter       = look{line: stroke(okabeVermilion, 0.7, 1.5, 2)}
	lookUsedSpace   = look{line: stroke(ink, 0.9, 8, 2, 2, 2)}
	lookParkedSpace = look{line: stroke(ink, 0.9, 1.5, 2.5)}

	// What is on a screen.
	lookUsed     = look{line: stroke(ink, 0.7, 6, 2)}
	lookCell     = look{fill: grey(0.93), line: stroke(grey(0.6), 0.4)}
	lookEqual    = look{line: stroke(okabeBlue, 0.9, 5, 1.5, 1, 1.5)}
	lookSmallest = look{fill: faint(okabeOrange, 0.25), line: stroke(okabeVermilion, 1.2)}
	lookWorst    = look{fill: lookSmallest.fill, line: lookSmallest.line, hatch: stroke(okabeVermilion, 0.35)}

	// Hidden floor: from either eye by its number, and from both; opaque, so that it looks
	// the same on both of the others.
	lookHiddenFrom = [2]look{
		gaze.LeftEye:  {fill: faint(okabeYellow, 0.25), line: stroke(okabeGreen, 1.1, 6, 2)},
		gaze.RightEye: {fill: faint(okabeOrange, 0.25), line: stroke(okabeVermilion, 1.1, 1.5, 1.5)},
	}
	lookHidden        = look{fill: color.NRGBA{R: 214, G: 236, B: 250, A: 0xff}, line: stroke(ink, 1.1), hatch: stroke(okabeBlue, 0.4)}
	lookHiddenByMount = look{fill: color.NRGBA{R: 120, G: 165, B: 200, A: 0xff}, line: stroke(okabeBlue, 0.5)}

	// Bars of what works or holds, of what does not, and of the weakest joint.
	lookGood    = look{fill: faint(okabeSky, 0.45), line: stroke(ink, 0.5)}
	lookBad     = look{fill: grey(1), line: stroke(ink, 0.5), hatch: stroke(okabeVermilion, 0.8)}
	lookWeakest = look{fill: grey(0.25), line: stroke(ink, 0.5)}

	// Tolerances of slides and of turns.
	lookTolerance = [2]look{
		{fill: faint(okabeSky, 0.55), line: stroke(ink, 0.7)},
		{fill: grey(1), line: stroke(ink, 0.7), hatch: stroke(ink, 0.35)},
	}

	// Margins over a posture with the screen carried as it is and the other way, the range
	// that works, a present value or place, and zero.
	lookCarried = [2]draw.LineStyle{stroke(okabeBlue, 1.5), stroke(okabeVermilion, 1.3, 5, 2.5)}
	lookWorks   = look{fill: faint(okabeSky, 0.22)}
	lookPresent = stroke(grey(0.35), 0.7, 1.5, 1.5)
	lookZero    = stroke(ink, 0.8)
)

// The signs of a joint, an eye or another point, the clamp and the tracker.
var (
	ring        = mark{glyph: signOf(ink, 2.6, draw.RingGlyph{}).glyph, inner: true}
	cross       = signOf(ink, 2.4, draw.PlusGlyph{})
	clampMark   = signOf(ink, 4, draw.BoxGlyph{})
	trackerMark = signOf(okabeVermilion, 2.4, draw.PyramidGlyph{})
)

// signOf returns a mark of a radius in points.
func signOf(c color.Color, points float64, shape draw.GlyphDrawer) mark {
	return mark{glyph: draw.GlyphStyle{Color: c, Radius: vg.Points(points), Shape: shape}}
}

// curveLook returns the line of the i-th curve of a chart: a color and a dash
// pattern of its own. After eight they repeat; the curves are labeled as well.
func curveLook(i int) draw.LineStyle {
	colors := [...]color.NRGBA{okabeBlue, okabeVermilion, okabeGreen, okabePurple, okabeOrange, okabeSky, okabeBlack, okabeYellow}
	dashes := [...][]float64{nil, {6, 2}, {2, 2}, {8, 2, 2, 2}, {4, 4}, {10, 3}, {1, 2}, {8, 2, 2, 2, 2, 2}}
	return stroke(colors[i%len(colors)], 1.4, dashes[i%len(dashes)]...)
}
