package plots

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot/vg/draw"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
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
	if s.compact {
		s.bare, s.keys = true, nil
	} else {
		s.ghosts()
	}
	f, err := s.figure()
	if !s.compact {
		return f, err
	}
	without := *s.board // f is not painted yet, and needs its labels
	without.unlabeled, without.scales = true, append(s.scales, 75, 100)
	bare, bareErr := without.figure()
	const worth = 1.7 // how much smaller a scene may be for its labels
	if err != nil || bareErr == nil && float64(f.Scale) > worth*float64(bare.Scale) {
		return bare, bareErr
	}
	return f, err
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

// scene is a board being filled with one posture of a result.
type scene struct {
	*board
	plane
	v     View
	job   *fit.Job
	r     *fit.Result
	at    int // place of the posture
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
	at, err := postureAt(job, opt.Posture)
	if err != nil {
		return nil, err
	}
	f := &r.Postures[at]
	b := &board{title: titled(opt.Label, title), size: cmp.Or(opt.Size, Landscape()), units: opt.Units, scales: []int{5, 10, 15, 20, 25, 30, 40, 50}}
	s := &scene{board: b, plane: v.plane(), v: v, job: job, r: r, at: at, shown: f, compact: opt.Compact}
	s.seat = job.Scene.Chair.SeatPose(f.Posture.SeatTilt)
	if v != fromAnywhere {
		s.say("To scale, lengths in %s.", inWords(s.units))
	}
	if name := spoken(f.Posture.Name); name != "" {
		s.subtitle = fmt.Sprintf("posture %q", name)
	}
	s.acrossName, s.upName = v.seen().acrossName, v.seen().upName
	for i := range r.Postures {
		f := &r.Postures[i]
		if !f.Screen.IsFinite() || !f.InCarrier.Head.IsFinite() || !f.InCarrier.Carrier.IsFinite() {
			return nil, fmt.Errorf("%w: posture %q: head or screen is nowhere", ErrFigure, f.Posture.Name)
		}
	}
	return s, nil
}

// postureAt returns the place of the posture with a name, or of the leading one.
func postureAt(job *fit.Job, name string) (int, error) {
	at := slices.IndexFunc(job.Postures, func(p gaze.Posture) bool { return p.Name == name })
	switch {
	case name == "" && job.Leading() < 0:
		return 0, fmt.Errorf("%w: no posture must work; name the one to draw", ErrFigure)
	case name == "":
		return job.Leading(), nil
	case at < 0:
		return 0, fmt.Errorf("%w: there is no posture %q", ErrFigure, name)
	}
	return at, nil
}

// chairFromHead returns the head of a posture in chair axes; its origin is midway
// between the eyes.
func chairFromHead(f *fit.PostureResult) frame.Pose { return f.InCarrier.Carrier.Mul(f.InCarrier.Head) }

// height adds a label of a place's height, or of how far left it is in the top
// view, at the left or at the right.
func (s *scene) height(where *lane, name string, p r3.Vec) {
	at := s.flat(p)
	*where = append(*where, label{at, name + " " + s.units.Number(at.Y), s.v.seen().upOf})
	s.grow(at)
}

// name labels a place: with what the view measures of it or, in a view from anywhere,
// with its name alone.
func (s *scene) name(text string, p r3.Vec) {
	at := s.flat(p)
	s.grow(at)
	if s.v == fromAnywhere {
		s.aside((s.loX+s.hiX)/2, label{at, text, placeWords(s.units, p)})
		return
	}
	s.height(&s.right, text, p)
	if s.v != Side {
		s.top = append(s.top, label{at, text + " " + s.units.Number(at.X), s.v.seen().acrossOf})
	}
}

// place draws the sign of a place, pale where it is hidden, and names it.
func (s *scene) place(name string, p r3.Vec, m mark, hidden bool) {
	if hidden {
		m.glyph.Color = grey(0.6)
	}
	s.sign(s.flat(p), m)
	if name != "" {
		s.name(name, p)
	}
}

// signs draws and names eyes, screen, joints and other places.
func (s *scene) signs() {
	head, pose, tracker := chairFromHead(s.shown), s.shown.Screen, s.shown.Screen.Apply(s.job.Device.Tracker.Place())
	if s.hasSeat() {
		s.place("", s.neck(), cross, true)
		if s.tilts() {
			pivot := s.job.Scene.Chair.TiltPivotMM
			s.place("", pivot, ring, s.hidden(pivot, s.pieces, ofKeep))
		}
	}
	if s.v == fromAnywhere {
		s.name("eyes", head.At)
	} else {
		s.height(&s.left, "eyes", head.At)
	}
	s.place("", tracker, trackerMark, !s.faces(pose) || s.hidden(tracker, s.pieces, ofScreen))
	s.name("screen middle", pose.At)
	if (s.v == Side || s.v == Front) && !s.compact {
		corners := s.housingCorners(pose)
		byHeight := func(a, b r3.Vec) int { return cmp.Compare(a.Z, b.Z) }
		s.height(&s.right, "housing, top", slices.MaxFunc(corners, byHeight))
		s.height(&s.right, "housing, bottom", slices.MinFunc(corners, byHeight))
	}
	if s.hung == nil {
		return
	}
	for _, t := range s.hung.tubes {
		for i := 1; i < len(t.line); i++ {
			s.seen(draw.LineStyle{}, t.line[i-1], t.line[i], ofMount)
		}
	}
	for _, j := range s.hung.signs() {
		s.place(j.part, j.at, j.sign, s.hidden(j.at, s.pieces, ofMount))
	}
}

// skull returns the semi-axes of the head and its middle from the point midway between
// the eyes, in head axes (mm): a middling adult's, smaller for a smaller person;
// schematic, no source.
func (s *scene) skull() (semi, middle r3.Vec) {
	return r3.Scale(s.part(), r3.Vec{X: 98, Y: 76, Z: 112}), r3.Scale(s.part(), r3.Vec{X: -88, Z: 8})
}

// nose returns the line of the nose of a head (mm): schematic, no source.
func (s *scene) nose(head frame.Pose) []r3.Vec {
	var line []r3.Vec
	for _, p := range [3]r3.Vec{{X: 8, Z: -14}, {X: 30, Z: -44}, {X: 4, Z: -50}} {
		line = append(line, head.Apply(r3.Scale(s.part(), p)))
	}
	return line
}

// ghosts draws the heads and the screens of the other postures that must work,
// where they are above the same floor.
func (s *scene) ghosts() {
	for i := range s.r.Postures {
		f := &s.r.Postures[i]
		if i == s.at || !f.Posture.MustWork {
			continue
		}
		s.ghost(f, lookGhost)
		s.height(&s.left, "eyes, "+spoken(f.Posture.Name), chairFromHead(f).At)
		s.explain(lookGhost, "other postures that must work")
	}
}

// ghost draws the head and the housing of a posture in outline.
func (s *scene) ghost(f *fit.PostureResult, l look) {
	head := chairFromHead(f)
	s.outline(s.headOutline(head), l)
	s.line(l.line, s.flatAll(s.nose(head)...)...)
	for _, eye := range f.Eyes() {
		s.sign(s.flat(eye), cross)
	}
	s.outline(s.housing(f.Screen), l)
}

// headOutline returns the outline of a head.
func (s *scene) headOutline(head frame.Pose) []r2.Vec {
	semi, middle := s.skull()
	return s.ellipsoid(head.Apply(middle), scaled(semi, head.Rot))
}

// movement draws the usual movement of a posture's head about the eyes, where
// they are before the screen.
func (s *scene) movement(f *fit.PostureResult, l look, words string) {
	carrier, st := s.shown.InCarrier.Carrier, &f.InCarrier
	semi := scaled(st.MovementMM, carrier.Rot.Mul(st.Seat))
	s.outline(s.ellipsoid(carrier.Apply(st.Head.At), semi), l)
	s.explain(l, words)
}

// scaled returns the semi-axes of an ellipsoid that lies along the axes of rot.
func scaled(semi r3.Vec, rot frame.Rotation) [3]r3.Vec {
	return [3]r3.Vec{r3.Scale(semi.X, rot.X), r3.Scale(semi.Y, rot.Y), r3.Scale(semi.Z, rot.Z)}
}

// region draws the cut of the region in which the tracker works, in the plane of
// the view through the eyes.
func (s *scene) region() {
	edges, inside := s.edges(s.shown)
	s.outline(s.edgePoints(edges), lookRegion)
	if len(edges) > 0 {
		s.explain(lookRegion, whereEyes(inside))
	}
	s.movement(s.shown, lookMovement, "usual head movement")
}

// regionRays is how many rays the edge of a region is followed along.
const regionRays = 240

// whereEyes says what a region is, for eyes inside or outside it.
func whereEyes(inside bool) string {
	if inside {
		return "where the eyes' middle may be"
	}
	return "where the eyes' middle would have to be"
}

// edges returns the edge of the region in the plane of the view through the
// eyes of a posture, and whether the eyes are inside. From eyes outside, the edge
// is looked for around the point of that plane that the tracker sees best; there
// may be none.
func (s *scene) edges(f *fit.PostureResult) (edges []gaze.Edge, inside bool) {
	judge := gaze.NewJudge(s.job.Device, s.job.Scene.Person)
	back := f.InCarrier.Carrier.Rot
	across, up := back.ApplyInverse(s.x), back.ApplyInverse(s.y)
	eyes, screen := f.InCarrier.Head.At, heldScreen(f)
	if edges = judge.Cut(screen, &f.InCarrier, eyes, across, up, regionRays); len(edges) > 0 {
		return edges, true
	}
	t := s.job.Device.Tracker
	best := r3.Sub(screen.Apply(r3.Add(t.Place(), r3.Scale(t.BestMM, t.Axis()))), eyes)
	inPlane := r3.Add(r3.Scale(r3.Dot(best, across), across), r3.Scale(r3.Dot(best, up), up))
	return judge.Cut(screen, &f.InCarrier, r3.Add(eyes, inPlane), across, up, regionRays), false
}

// edgePoints returns edges in the view.
func (s *scene) edgePoints(edges []gaze.Edge) []r2.Vec {
	points := make([]r2.Vec, len(edges))
	for i, e := range edges {
		points[i] = s.flat(s.shown.InCarrier.Carrier.Apply(e.At))
	}
	return points
}
