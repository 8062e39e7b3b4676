package plots

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot/vg/draw"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
	"sightpost/mount/space"
	"sightpost/plots/units"
)

// Scene returns the figure of person, chair, mount and screen in one posture, to
// scale: the largest of 1:5, 1:10, 1:15, 1:20, 1:25, 1:30, 1:40 and 1:50 that fits the
// paper. A compact one that its labels would make much smaller has none, down to 1:100.
// Other postures that must work are drawn thin and dashed.
//
// What the case measures is drawn where it is: eyes, neck point, hinge, pivot,
// tubes at their diameter, joints, the display area and the housing in outline, the
// tracking volume, keep-clear zones. Head, trunk, legs, seat and back support
// have no measures in a case; they are drawn at the size of a middling adult
// between the points that are known, and the figure says that they are schematic.
// Solid parts hide what is behind them; the tracking volume and the line of sight go on
// behind them, pale and dotted.
//
// The error wraps [ErrFigure], or is that of the mount's chain.
func Scene(r *fit.Result, v View, opt Options) (Figure, error) {
	title := v.String()
	if opt.Compact {
		title, _, _ = strings.Cut(title, " from")
	}
	s, err := newScene(r, v, title, opt)
	if err != nil {
		return Figure{}, err
	}
	s.everything()
	if !s.compact {
		s.ghosts()
		return s.figure()
	}
	s.bare, s.keys = true, nil
	f, err := s.figure()
	without := *s.board // f is not painted yet, and needs its labels
	without.left, without.right, without.scales = nil, nil, append(s.scales, 75, 100)
	bare, bareErr := without.figure()
	if err != nil || bareErr == nil && float64(f.Scale) > worthLabels*float64(bare.Scale) {
		return bare, bareErr
	}
	return f, err
}

// View3D returns the figure of a [Scene] in parallel projection from any direction, without
// the other postures and the region of the eyes: lines that are parallel stay so, and what
// lies square to the line of view is to scale. Where there is space, arms of 200 mm, 20 cm or
// 8 in along the three axes say how much the others are shortened.
func View3D(r *fit.Result, view Turned, opt Options) (Figure, error) {
	title := "3-D view"
	if !opt.Compact { // no line more or less as it turns
		title += " " + view.String()
	}
	s, err := newScene(r, fromAnywhere, title, opt)
	if err != nil {
		return Figure{}, err
	}
	s.plane, s.bare = view.plane(), true
	s.everything()
	switch {
	case s.compact:
		s.keys, s.left, s.right = nil, nil, nil
	case s.size.Width >= narrow:
		s.arms()
	}
	return s.figure()
}

// scene is a board being filled with one posture of a result.
type scene struct {
	*board
	plane
	v     View
	job   *fit.Job
	r     *fit.Result
	shown *fit.PostureResult
	seat  frame.Pose // chairFromSeat

	pieces  []piece
	hung    *held // nil without a mount
	compact bool
}

// newScene checks that there is something to draw and starts the board, at one of the
// scales of a whole scene.
func newScene(r *fit.Result, v View, title string, opt Options) (*scene, error) {
	if r == nil || r.Job == nil {
		return nil, fmt.Errorf("%w: there is no result", ErrFigure)
	}
	job := r.Job
	if len(r.Postures) != len(job.Postures) {
		return nil, fmt.Errorf("%w: the result has %d postures, the job %d", ErrFigure, len(r.Postures), len(job.Postures))
	}
	at := slices.IndexFunc(job.Postures, func(p gaze.Posture) bool { return p.Name == opt.Posture })
	if opt.Posture == "" {
		at = job.Leading()
	}
	if at < 0 {
		return nil, fmt.Errorf("%w: there is no posture %q, or none that must work", ErrFigure, opt.Posture)
	}
	for i := range r.Postures {
		f := &r.Postures[i]
		if !f.Screen.IsFinite() || !f.InCarrier.Head.IsFinite() || !f.InCarrier.Carrier.IsFinite() {
			return nil, fmt.Errorf("%w: posture %q: head or screen is nowhere", ErrFigure, f.Posture.Name)
		}
	}
	f := &r.Postures[at]
	b := &board{
		title: titled(opt.Label, title), size: cmp.Or(opt.Size, Landscape()), units: opt.Units, scales: []int{5, 10, 15, 20, 25, 30, 40, 50},
		acrossName: views[v].acrossName, upName: views[v].upName,
	}
	b.lists = !opt.Compact && b.size.Width < Landscape().Width
	if name := spoken(f.Posture.Name); name != "" {
		b.title += fmt.Sprintf(", posture %q", name)
	}
	return &scene{
		board: b, plane: views[v].plane, v: v, job: job, r: r, shown: f, compact: opt.Compact,
		seat: job.Scene.Chair.SeatPose(f.Posture.SeatTilt),
	}, nil
}

// everything draws person, chair, mount, screen and keep-clear zones, each in front of
// what is behind it, and the lines between them.
func (s *scene) everything() {
	s.person()
	if s.v != fromAnywhere {
		s.onLast(s.region)
	}
	s.screen()
	s.hold(s.held(), lookTube, tubeWords)
	if !s.compact {
		s.keepClear()
	}
	if s.problem != nil {
		return
	}
	if s.v == fromAnywhere {
		s.floor()
	}
	s.paint()
	s.face()
	if !s.compact {
		s.trackingVolume()
	}
	s.sight()
	s.signs()
	s.ground()
}

// ground draws the level floor, where the view is from the side of it.
func (s *scene) ground() {
	if s.v == Side || s.v == Front {
		s.line(stroke(ink, 1.2), r2.Vec{X: s.loX}, r2.Vec{X: s.hiX})
	}
}

// floor draws the level floor under all pieces as a grid.
func (s *scene) floor() {
	step := s.units.MM() * [...]float64{units.MM: 250, units.CM: 25, units.Inch: 10}[s.units]
	low, high := math.Inf(1), math.Inf(-1)
	left, right := low, high
	for _, p := range s.pieces {
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
		s.line(pale, s.flatAll(r3.Vec{X: x, Y: left}, r3.Vec{X: x, Y: right})...)
	}
	for y := left; y <= right; y += step {
		s.line(pale, s.flatAll(r3.Vec{X: low, Y: y}, r3.Vec{X: high, Y: y})...)
	}
	s.explain(look{line: pale}, "floor, lines every "+s.units.Length(step))
}

// arms draws the three axes at the lower left, all of one length, and names them; an
// axis along the line of view is left out.
func (s *scene) arms() {
	arm := s.units.MM() * [...]float64{units.MM: 200, units.CM: 20, units.Inch: 8}[s.units]
	tips := s.flatAll(r3.Vec{X: arm}, r3.Vec{Y: arm}, r3.Vec{Z: arm})
	var low, high r2.Vec
	for _, tip := range tips {
		low = r2.Vec{X: min(low.X, tip.X), Y: min(low.Y, tip.Y)}
		high.X = max(high.X, tip.X)
	}
	const aside, head, least = 120, 24, 0.15
	origin := r2.Vec{X: s.loX - aside - high.X, Y: s.loY - low.Y}
	for i, tip := range tips {
		if r2.Norm(tip) < least*arm {
			continue
		}
		end := r2.Add(origin, tip)
		s.arrow(stroke(ink, 0.8), head, origin, end)
		s.notes = append(s.notes, note{at: end, way: tip, text: [3]string{"forward", "left", "up"}[i]})
	}
	s.grow(r2.Vec{X: origin.X + low.X - aside, Y: origin.Y}, r2.Vec{X: origin.X, Y: origin.Y + low.Y - aside/2})
	s.explain(look{line: stroke(ink, 0.8)}, "axes, "+s.units.Length(arm)+" each")
}

// solid adds a body, one without rounding with the edges between its faces.
func (s *scene) solid(shape space.Shape, l look, g group) {
	p := piece{shape: shape, outline: s.shape(shape), look: l, group: g}
	if shape.RoundMM == 0 {
		edge := l.line
		edge.Width *= 0.6
		p.on = s.faced(shape, edge)
	}
	s.piece(p)
}

// piece adds a piece, if it is one.
func (s *scene) piece(p piece) {
	if err := p.shape.Check(); err != nil {
		s.fail(fmt.Errorf("%w: a part is not finite: %w", ErrFigure, err))
	}
	s.pieces = append(s.pieces, p)
}

// onLast puts what draw draws onto the last piece: over it and what is behind it.
func (s *scene) onLast(draw func()) {
	last, from := &s.pieces[len(s.pieces)-1], len(s.items)
	draw()
	last.on, s.items = append(last.on, s.items[from:]...), s.items[:from:from]
}

// paint draws the pieces from the farthest to the nearest.
func (s *scene) paint() {
	for _, p := range s.ordered(s.pieces) {
		s.outline(p.outline, p.look)
		for _, i := range p.on {
			s.add(i)
		}
	}
}

// linePieces is into how many pieces a line is cut that may be hidden in part.
const linePieces = 40

// seen draws the line from p to q: as it is where it is seen, pale and dotted where
// pieces other than those of a group hide it.
func (s *scene) seen(l draw.LineStyle, p, q r3.Vec, but group) {
	at := func(i int) r3.Vec { return r3.Add(p, r3.Scale(float64(i)/linePieces, r3.Sub(q, p))) }
	middle := func(i int) bool { return s.hidden(r3.Scale(0.5, r3.Add(at(i), at(i+1))), s.pieces, but) }
	from, hidden := 0, middle(0)
	for i := 1; i <= linePieces; i++ {
		if i < linePieces && middle(i) == hidden {
			continue
		}
		style := l
		if hidden {
			style = faintly
		}
		s.line(style, s.flat(at(from)), s.flat(at(i)))
		from, hidden = i, !hidden
	}
}

// chairFromHead returns the head of a posture in chair axes; its origin is midway
// between the eyes.
func chairFromHead(f *fit.PostureResult) frame.Pose { return f.InCarrier.Carrier.Mul(f.InCarrier.Head) }

// heldScreen returns carrierFromScreen in a posture, as the mount holds the screen
// under its load.
func heldScreen(f *fit.PostureResult) frame.Pose { return f.InCarrier.Carrier.Inverse().Mul(f.Screen) }

// name labels a place, with what the view measures of it: in a lane or, in a view from
// anywhere, on the nearer side.
func (s *scene) name(where *lane, text string, p r3.Vec) {
	at := s.flat(p)
	if s.v == fromAnywhere {
		s.aside((s.loX+s.hiX)/2, at, text)
		return
	}
	if !s.compact || s.v == Side {
		text += s.v.of(p, s.units)
	}
	s.grow(at)
	*where = append(*where, label{at, text})
}

// place draws the sign of a place, pale where it is hidden, and names it.
func (s *scene) place(name string, p r3.Vec, m mark, hidden bool) {
	if hidden {
		m.glyph.Color = grey(0.6)
	}
	s.sign(s.flat(p), m)
	if name != "" {
		s.name(&s.right, name, p)
	}
}

// signs draws and names eyes, screen, joints and other places.
func (s *scene) signs() {
	pose, tracker := s.shown.Screen, s.shown.Screen.Apply(s.job.Device.Tracker.Place())
	if s.hasSeat() {
		s.place("", s.neck(), cross, true)
		if s.tilts() {
			pivot := s.job.Scene.Chair.TiltPivotMM
			s.place("", pivot, ring, s.hidden(pivot, s.pieces, ofKeep))
		}
	}
	s.name(&s.left, "eyes", chairFromHead(s.shown).At)
	s.place("", tracker, trackerMark, !s.faces(pose) || s.hidden(tracker, s.pieces, ofScreen))
	s.name(&s.right, "screen middle", pose.At)
	if s.v == Side && !s.compact {
		s.right[len(s.right)-1].text += ", " + tiltWords(pose)
		corners := s.housingCorners(pose)
		byHeight := func(a, b r3.Vec) int { return cmp.Compare(a.Z, b.Z) }
		s.name(&s.right, "housing, highest point", slices.MaxFunc(corners, byHeight))
		s.name(&s.right, "housing, lowest point", slices.MinFunc(corners, byHeight))
	}
	if s.hung == nil {
		return
	}
	for _, t := range s.hung.tubes {
		for _, part := range t.straights() {
			s.seen(draw.LineStyle{}, part.from, part.to, ofMount)
		}
	}
	for _, j := range s.hung.signs() {
		s.place(j.part, j.at, j.sign, s.hidden(j.at, s.pieces, ofMount))
	}
}

// ghosts draws the heads and the screens of the other postures that must work,
// where they are above the same floor.
func (s *scene) ghosts() {
	for _, f := range s.others() {
		s.ghost(f, lookGhost)
		s.name(&s.left, "eyes, "+spoken(f.Posture.Name), chairFromHead(f).At)
		s.explain(lookGhost, "other postures that must work")
	}
}

// others returns the other postures that must work.
func (s *scene) others() []*fit.PostureResult {
	var all []*fit.PostureResult
	for i := range s.r.Postures {
		if f := &s.r.Postures[i]; f != s.shown && f.Posture.MustWork {
			all = append(all, f)
		}
	}
	return all
}
