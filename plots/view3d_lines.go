package plots

import (
	"fmt"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot/vg/draw"

	"sightpost/plots/units"
)

// linePieces is into how many pieces a line is cut that may be hidden in part.
const linePieces = 40

// faintly returns a line as it is drawn where it is hidden.
func faintly() draw.LineStyle { return stroke(grey(0.35), 0.6, 0.8, 1.8) }

// seen draws the line from p to q: as it is where it is seen, pale and dotted where
// pieces hide it.
func (a *view3d) seen(l draw.LineStyle, p, q r3.Vec) {
	at := func(i int) r3.Vec { return r3.Add(p, r3.Scale(float64(i)/linePieces, r3.Sub(q, p))) }
	middle := func(i int) bool { return a.hidden(r3.Scale(0.5, r3.Add(at(i), at(i+1))), a.pieces, ofKeep) }
	from, hidden := 0, middle(0)
	for i := 1; i <= linePieces; i++ {
		if i < linePieces && middle(i) == hidden {
			continue
		}
		style := l
		if hidden {
			style = faintly()
		}
		a.line(style, a.flat(at(from)), a.flat(at(i)))
		from, hidden = i, !hidden
	}
}

// trackingVolume draws the edges of the space that the tracker sees.
func (a *view3d) trackingVolume() {
	t := a.job.Device.Tracker
	near, far := a.volumeCorners(t.NearMM), a.volumeCorners(t.FarMM)
	at := a.shown.Screen.Apply(t.Place())
	for i := range near {
		next := (i + 1) % len(near)
		a.seen(lookRay(), at, near[i])
		a.seen(lookVolume().line, near[i], far[i])
		a.seen(lookVolume().line, near[i], near[next])
		a.seen(lookVolume().line, far[i], far[next])
	}
	a.explain(lookVolume(), "tracking volume")
}

// nose draws the nose, by which one sees where the face looks.
func (a *view3d) nose() {
	head := chairFromHead(a.shown)
	n := a.scene.nose()
	a.seen(piecePerson().line, head.Apply(n[0]), head.Apply(n[1]))
	a.seen(piecePerson().line, head.Apply(n[1]), head.Apply(n[2]))
}

// sight draws the line from the eyes to the middle of the screen with its length.
func (a *view3d) sight() {
	eyes, middle := chairFromHead(a.shown).At, a.shown.Screen.At
	a.seen(lookSight().line, eyes, middle)
	a.explain(lookSight(), "line of sight")
	a.explain(look{line: faintly()}, "hidden")
	a.notes = append(a.notes, note{a.flat(eyes), a.flat(middle), a.units.Length(r3.Norm(r3.Sub(middle, eyes)))})
}

// armLength returns the length of the arms that show the axes (mm): a round length of
// the units.
func armLength(u units.Units) float64 {
	return u.MM() * [...]float64{units.MM: 200, units.CM: 20, units.Inch: 8}[u]
}

// arms draws the three axes at the lower left, all of one length, and names them; an
// axis along the line of view is left out.
func (a *view3d) arms() {
	arm := armLength(a.units)
	axes := []struct {
		name string
		tip  r2.Vec
	}{
		{"forward", a.flat(r3.Vec{X: arm})}, {"left", a.flat(r3.Vec{Y: arm})}, {"up", a.flat(r3.Vec{Z: arm})},
	}
	var low, high r2.Vec
	for _, x := range axes {
		low = r2.Vec{X: min(low.X, x.tip.X), Y: min(low.Y, x.tip.Y)}
		high = r2.Vec{X: max(high.X, x.tip.X), Y: max(high.Y, x.tip.Y)}
	}
	const aside, head, slim = 120, 24, 0.3
	least := 0.15 * arm
	origin := r2.Vec{X: a.loX - aside - high.X, Y: a.loY - low.Y}
	for _, x := range axes {
		if r2.Norm(x.tip) < least {
			continue
		}
		a.line(stroke(ink(), 0.8), origin, r2.Add(origin, x.tip))
		a.arrowHead(r2.Add(origin, x.tip), r2.Scale(head/r2.Norm(x.tip), x.tip), slim, look{fill: ink()})
		a.tags = append(a.tags, tag{r2.Add(origin, x.tip), x.tip, x.name})
	}
	a.grow(r2.Vec{X: origin.X + low.X - aside, Y: origin.Y}, r2.Vec{X: origin.X, Y: origin.Y + low.Y - aside/2})
	a.explain(look{line: stroke(ink(), 0.8)}, "axes, "+a.units.Length(arm)+" each")
}

// describe says the figure's numbers in words.
func (a *view3d) describe() string {
	var b strings.Builder
	fmt.Fprintf(&b, "Parallel projection seen %s; to scale square to the line of view, lengths in %s.", a.view, inWords(a.units))
	place := func(name string, p r3.Vec) {
		fmt.Fprintf(&b, " %s %s.", name, placeWords(a.units, p))
	}
	place("Eyes", chairFromHead(a.shown).At)
	place("Screen middle", a.shown.Screen.At)
	fmt.Fprintf(&b, " %s.", capital(tiltWords(a.shown.Screen)))
	b.WriteString(" " + a.distanceWords())
	t := a.job.Device.Tracker
	fmt.Fprintf(&b, " The tracking volume reaches from %s to %s in front of the tracker.", a.units.Number(t.NearMM), a.units.Number(t.FarMM))
	if a.hung != nil {
		for _, j := range a.joints(a.hung) {
			if j.part != "" {
				place(capital(j.part), j.at)
			}
		}
	}
	return b.String()
}

// placeWords says where a place is in chair axes.
func placeWords(u units.Units, p r3.Vec) string {
	forward, side := "forward", "left"
	if p.X < -0.5 {
		forward, p.X = "behind", -p.X
	}
	if p.Y < -0.5 {
		side, p.Y = "right", -p.Y
	}
	return fmt.Sprintf("%s %s, %s %s, %s above the floor", u.Number(p.X), forward, u.Number(p.Y), side, u.Number(p.Z))
}
