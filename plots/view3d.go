package plots

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot/vg/draw"

	"sightpost/gaze/frame"
	"sightpost/mount/fit"
	"sightpost/mount/space"
	"sightpost/plots/units"
)

// View3D returns the figure of person, chair, mount, screen and the tracker's
// view in one posture, in parallel projection from any direction: lines that are
// parallel stay so, and what lies square to the line of view is to scale, at the
// largest of 1:5, 1:10, 1:15, 1:20, 1:25, 1:30, 1:40 and 1:50 that fits the paper.
// Arms of 200 mm, 20 cm or 8 in along the three axes say how much the others are shortened.
//
// What is drawn, and how far it is schematic, is as in [Scene], but for the other
// postures and the region of the eyes, which are left out. Solid parts hide what is
// behind them; the tracking volume and the line of sight go on behind them, pale
// and dotted. The error wraps [ErrFigure], or is that of the mount's chain.
func View3D(r *fit.Result, view Turned, opt Options) (Figure, error) {
	if err := view.check(); err != nil {
		return Figure{}, err
	}
	title := "3-D view"
	if !opt.Compact { // otherwise the description has it: no line more or less as it turns
		title += " " + view.String()
	}
	s, err := newScene(r, Side, title, opt)
	if err != nil {
		return Figure{}, err
	}
	a := &view3d{scene: s, view: view}
	s.plane, s.bare, s.acrossName, s.upName, s.compact = view.plane(), true, "", "", opt.Compact
	a.collect()
	if s.problem != nil {
		return Figure{}, s.problem
	}
	a.floor()
	a.paint()
	nose := a.nose(chairFromHead(a.shown))
	a.seen(piecePerson.line, nose[0], nose[1])
	a.seen(piecePerson.line, nose[1], nose[2])
	a.trackingVolume()
	a.sight()
	a.signs()
	if s.compact {
		s.keys, s.left, s.right = nil, nil, nil
	} else {
		a.arms()
	}
	a.describe()
	return s.figure()
}

// view3d is a scene being filled with pieces that hide each other.
type view3d struct {
	*scene
	view   Turned
	pieces []piece
	hung   *held // nil without a mount
}

// collect makes the pieces of all that is solid.
func (a *view3d) collect() {
	if a.hasSeat() {
		for _, part := range a.sitting() {
			l := piecePerson
			if part.look.fill == lookChair.fill {
				l = pieceChair
			}
			a.piece(piece{shape: standIn(part.balls), outline: a.balls(part.balls...), look: l})
		}
		a.explain(pieceChair, a.furniture())
	}
	a.explain(piecePerson, "person, schematic (crosses: eyes)")
	a.head()
	a.screen()
	a.hold(a.held())
	if a.compact {
		return
	}
	shapes, names := a.keeps()
	for _, k := range shapes {
		p := piece{shape: k, outline: a.shape(k), look: lookKeep, group: ofKeep}
		if k.RoundMM == 0 {
			p.on = a.faced(k, stroke(lookKeep.line.Color, 0.5, 1.5, 1.5))
		}
		a.piece(p)
	}
	if len(names) > 0 {
		a.explain(lookKeep, keepWords(names))
	}
}

// piece adds a piece, if it is one.
func (a *view3d) piece(p piece) {
	if err := p.shape.Check(); err != nil {
		a.fail(fmt.Errorf("%w: a part is not finite: %w", ErrFigure, err))
	}
	a.pieces = append(a.pieces, p)
}

// head adds the head: an ellipsoid, for which a ball drawn out along two of its
// axes stands in where it is asked what is in front.
func (a *view3d) head() {
	pose := chairFromHead(a.shown)
	semi, middle := a.skull()
	a.piece(piece{
		shape: space.Shape{
			Pose:   frame.Pose{Rot: pose.Rot, At: pose.Apply(middle)},
			HalfMM: r3.Vec{X: semi.X - semi.Y, Z: semi.Z - semi.Y}, RoundMM: semi.Y,
		},
		outline: a.ellipsoid(pose.Apply(middle), scaled(semi, pose.Rot)), look: piecePerson,
	})
}

// screen adds the housing, with the display area on it where its face is seen.
func (a *view3d) screen() {
	pose := a.shown.Screen
	box := a.housingBox(pose)
	p := piece{shape: box, outline: a.shape(box), look: pieceHousing, group: ofScreen}
	p.on = a.faced(box, stroke(ink, 0.4))
	a.explain(pieceHousing, "device housing")
	if a.faces() {
		p.on = append(p.on, item{points: a.display(pose), closed: true, look: pieceDisplay})
		a.explain(pieceDisplay, "display area")
	}
	a.piece(p)
}

// faces reports whether the viewer sees the screen's face.
func (a *view3d) faces() bool { return r3.Dot(a.shown.Screen.Rot.Z, a.toward()) > 0 }

// barMM is half the thickness of the bars that join tubes and joints, whose form
// is not known.
const barMM = 7

// hold adds tubes and bars of the mount: of a tube its straights, each with the ball at
// the bend before it.
func (a *view3d) hold(h *held) {
	if h == nil {
		return
	}
	a.explain(lookTube, tubeWords)
	a.hung = h
	add := func(outline []r2.Vec, ends ...ball) {
		a.piece(piece{shape: standIn(ends), outline: outline, look: lookTube, group: ofMount})
	}
	for _, b := range h.bars {
		from, to := ball{b[0], barMM}, ball{b[1], barMM}
		add(a.cut(tubePoints, from, to), from, to)
	}
	for _, t := range h.tubes {
		for i := 1; i < len(t.line); i++ {
			from, to := ball{t.line[i-1], t.radius}, ball{t.line[i], t.radius}
			outline := a.cylinder(from.at, to.at, t.radius)
			if outline == nil {
				continue
			}
			if i > 1 {
				outline = hull(append(outline, a.cut(tubePoints, from)...))
			}
			add(outline, from, to)
		}
	}
}

// paint draws the pieces from the farthest to the nearest.
func (a *view3d) paint() {
	for _, p := range a.ordered(a.pieces) {
		a.outline(p.outline, p.look)
		for _, i := range p.on {
			a.add(i)
		}
	}
}

// floor draws the level floor under all pieces as a grid.
func (a *view3d) floor() {
	step := a.units.MM() * [...]float64{units.MM: 250, units.CM: 25, units.Inch: 10}[a.units]
	low, high := math.Inf(1), math.Inf(-1)
	left, right := low, high
	for _, p := range a.pieces {
		at := p.shape.Pose.At
		low, high = min(low, at.X), max(high, at.X)
		left, right = min(left, at.Y), max(right, at.Y)
	}
	down := func(v float64) float64 { return math.Floor(v/step-0.4) * step }
	low, high, left, right = down(low), -down(-high), down(left), -down(-right)
	if !(max(-low, high, -left, right) <= farthest) {
		return // what is so far away is an error later
	}
	pale := stroke(grey(0.6), 0.45)
	for x := low; x <= high; x += step {
		a.line(pale, a.flatAll(r3.Vec{X: x, Y: left}, r3.Vec{X: x, Y: right})...)
	}
	for y := left; y <= right; y += step {
		a.line(pale, a.flatAll(r3.Vec{X: low, Y: y}, r3.Vec{X: high, Y: y})...)
	}
	a.explain(look{line: pale}, "floor, lines every "+a.units.Length(step))
}

// signs draws and names the joints and eyes that are not hidden.
func (a *view3d) signs() {
	head := chairFromHead(a.shown)
	const ahead = 25 // of the eyes, so that the head they are in does not hide them
	for _, eye := range a.shown.Eyes() {
		if !a.hidden(r3.Add(eye, r3.Scale(ahead, head.Rot.X)), a.pieces, ofKeep) {
			a.sign(a.flat(eye), cross)
		}
	}
	a.name("eyes", head.At)
	if tracker := a.shown.Screen.Apply(a.job.Device.Tracker.Place()); a.faces() && !a.hidden(tracker, a.pieces, ofScreen) {
		a.sign(a.flat(tracker), trackerMark)
	}
	a.name("screen middle", a.shown.Screen.At)
	if a.hung == nil {
		return
	}
	for _, j := range a.hung.signs() {
		if a.hidden(j.at, a.pieces, ofMount) {
			continue
		}
		a.sign(a.flat(j.at), j.sign)
		if j.part != "" {
			a.name(j.part, j.at)
		}
	}
}

// name labels a place on the side of the drawing on which it is.
func (a *view3d) name(text string, p r3.Vec) {
	at := a.flat(p)
	a.grow(at)
	a.aside(at, (a.loX+a.hiX)/2, text)
}

// linePieces is into how many pieces a line is cut that may be hidden in part.
const linePieces = 40

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
			style = faintly
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
		a.seen(lookRay, at, near[i])
		a.seen(lookVolume.line, near[i], far[i])
		a.seen(lookVolume.line, near[i], near[next])
		a.seen(lookVolume.line, far[i], far[next])
	}
	a.explain(lookVolume, "tracking volume")
}

// sight draws the line from the eyes to the middle of the screen with its length.
func (a *view3d) sight() {
	eyes, middle := chairFromHead(a.shown).At, a.shown.Screen.At
	a.seen(lookSight.line, eyes, middle)
	a.explain(lookSight, "line of sight")
	a.explain(look{line: faintly}, "hidden")
	a.notes = append(a.notes, note{a.flat(eyes), a.flat(middle), a.units.Length(r3.Norm(r3.Sub(middle, eyes)))})
}

// arms draws the three axes at the lower left, all of one length, and names them; an
// axis along the line of view is left out.
func (a *view3d) arms() {
	arm := a.units.MM() * [...]float64{units.MM: 200, units.CM: 20, units.Inch: 8}[a.units]
	tips := a.flatAll(r3.Vec{X: arm}, r3.Vec{Y: arm}, r3.Vec{Z: arm})
	var low, high r2.Vec
	for _, tip := range tips {
		low = r2.Vec{X: min(low.X, tip.X), Y: min(low.Y, tip.Y)}
		high.X = max(high.X, tip.X)
	}
	const aside, head, slim, least = 120, 24, 0.3, 0.15
	origin := r2.Vec{X: a.loX - aside - high.X, Y: a.loY - low.Y}
	for i, tip := range tips {
		long := r2.Norm(tip)
		if long < least*arm {
			continue
		}
		end := r2.Add(origin, tip)
		a.line(stroke(ink, 0.8), origin, end)
		a.arrowHead(end, r2.Scale(head/long, tip), slim, look{fill: ink})
		a.tags = append(a.tags, tag{end, tip, [3]string{"forward", "left", "up"}[i]})
	}
	a.grow(r2.Vec{X: origin.X + low.X - aside, Y: origin.Y}, r2.Vec{X: origin.X, Y: origin.Y + low.Y - aside/2})
	a.explain(look{line: stroke(ink, 0.8)}, "axes, "+a.units.Length(arm)+" each")
}

// describe says the figure's numbers in words.
func (a *view3d) describe() {
	a.say("Parallel projection seen %s; to scale square to the line of view, lengths in %s.", a.view, inWords(a.units))
	place := func(name string, p r3.Vec) { a.say("%s %s.", name, placeWords(a.units, p)) }
	place("Eyes", chairFromHead(a.shown).At)
	place("Screen middle", a.shown.Screen.At)
	a.say("%s.", capital(tiltWords(a.shown.Screen)))
	a.distance()
	t := a.job.Device.Tracker
	a.say("The tracking volume reaches from %s to %s in front of the tracker.", a.units.Number(t.NearMM), a.units.Number(t.FarMM))
	if a.hung == nil {
		return
	}
	for _, j := range a.hung.signs() {
		if j.part != "" {
			place(capital(j.part), j.at)
		}
	}
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
