package plots

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot/vg/draw"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
)

// Passage returns the figure of how the mount swings clear and what space chair and
// mount need, from above in the leading posture: the mount and housing in use and parked, the
// way of the housing's middle and of its farthest corner over the free range, what ends
// that, the transfer clearance, and the clear floor space and the doorway that the
// job asks for. The doorway is drawn ahead of the chair, and both lie about the
// middle of the space that chair and mount take up with the mount in use, as the person
// rides; of a chair of unknown size there is no such space. A mount that cannot be
// moved is drawn in use alone, with what it touches.
//
// The figure is to scale, at the largest of 1:10, 1:15, 1:20, 1:25, 1:30, 1:40,
// 1:50, 1:60, 1:75 and 1:100 that fits. The error wraps [ErrFigure], also where the
// mount has no joint to swing about, or is that of the mount's chain.
func Passage(r *fit.Result, opt Options) (Figure, error) {
	opt.Posture = ""
	s, err := newScene(r, Top, "swing clear and passage, from above", opt)
	if err != nil {
		return Figure{}, err
	}
	p := &passage{scene: s, a: r.SwingClear}
	if err := p.prepare(); err != nil {
		return Figure{}, err
	}
	s.scales = []int{10, 15, 20, 25, 30, 40, 50, 60, 75, 100}
	p.seat()
	p.swing()
	s.toScale()
	p.moves()
	p.space()
	return s.figure()
}

// passage is a mount that swings clear being drawn.
type passage struct {
	*scene
	a     *fit.SwingClear
	joint mount.Joint
	pivot r2.Vec     // of the joint, in the view
	inUse frame.Pose // carrierFromScreen as the settings have it, without sag
}

// prepare finds the joint and its place, and reports whether there is a swing to draw.
func (p *passage) prepare() error {
	set := p.r.Set
	if p.a == nil || set == nil {
		return fmt.Errorf("%w: the mount does not swing clear", ErrFigure)
	}
	moving := set.Chain.Moving()
	if p.a.Joint < 0 || p.a.Joint >= len(moving) {
		return fmt.Errorf("%w: the mount has no joint %d to swing about", ErrFigure, p.a.Joint)
	}
	p.joint = moving[p.a.Joint]
	frames, err := set.Chain.Frames(set.Settings)
	if err != nil {
		return fmt.Errorf("plots: mount: %w", err)
	}
	p.inUse = p.screenAt(p.a.InUse)
	at := max(0, slices.IndexFunc(set.Chain.Joints, func(j mount.Joint) bool { return j.Name == p.joint.Name }))
	p.pivot = p.flat(p.shown.InCarrier.Carrier.Apply(frames[at].At))
	for _, e := range []fit.Extent{p.a.Used, p.a.ParkedExtent} {
		if !isFinite(e.WidthMM()) || !isFinite(e.LengthMM()) {
			return fmt.Errorf("%w: the space that chair and mount take up is not finite", ErrFigure)
		}
	}
	return nil
}

// setting returns a value of the joint as it is read.
func (p *passage) setting(v float64) string { return settingWords(p.units, p.joint, v) }

// stuck reports whether the mount touches something where it is in use, so that it
// cannot be moved.
func (p *passage) stuck() bool { return p.a.Low.At == p.a.High.At && !p.a.Low.Limit }

// seat draws what stays: the transfer clearance, the chair and the person in it.
func (p *passage) seat() {
	if mm := p.a.TransferHalfWidthMM; mm > 0 {
		p.outline(p.rectangle(0, fit.TransferAheadMM, mm, -mm), lookTransfer)
		p.explain(lookTransfer, "transfer clearance, "+p.units.Length(mm)+" to either side")
	}
	c := p.job.Passage
	if c.WidthMM > 0 {
		l := lookChair
		l.fill = nil
		p.outline(p.rectangle(-c.BehindMM, c.AheadMM, c.WidthMM/2, -c.WidthMM/2), l)
		p.explain(l, "chair with the person's feet")
	}
	p.seated()
	p.face(p.shown, lookPerson)
	p.keepClear()
}

// rectangle returns a level rectangle along the chair's axes, on the plane.
func (p *passage) rectangle(behind, ahead, left, right float64) []r2.Vec {
	return p.flatAll(r3.Vec{X: behind, Y: right}, r3.Vec{X: ahead, Y: right}, r3.Vec{X: ahead, Y: left}, r3.Vec{X: behind, Y: left})
}

// settings returns those of the mount with the joint at a value.
func (p *passage) settings(at float64) mount.Settings {
	s := slices.Clone(p.r.Set.Settings)
	s[p.a.Joint] = at
	return s
}

// screenAt returns carrierFromScreen with the joint at a setting, without sag.
func (p *passage) screenAt(at float64) frame.Pose {
	screen, err := p.r.Set.Chain.Forward(p.settings(at))
	if err != nil {
		p.fail(fmt.Errorf("plots: mount: %w", err))
	}
	return screen
}

// motion returns how what swings is carried from in use to a setting, in chair
// axes.
func (p *passage) motion(at float64) frame.Pose {
	carrier := p.shown.InCarrier.Carrier
	return carrier.Mul(p.screenAt(at)).Mul(p.inUse.Inverse()).Mul(carrier.Inverse())
}

// swing draws the parked mount, its path and the ends of that, if it can be moved, then
// the mount in use.
func (p *passage) swing() {
	joint := "the joint that cannot be moved"
	if !p.stuck() {
		joint = "the joint it swings about"
		p.mountAt(p.a.Parked, lookParked, "mount and housing parked")
		p.ways()
		p.end(p.a.Low)
		p.end(p.a.High)
	}
	used := lookHousing
	used.line.Width *= 2
	p.mountAt(p.a.InUse, used, "mount and housing in use (ring: "+joint+")")
	p.sign(p.pivot, ring)
	p.nearest()
}

// mountAt draws the mount and the housing with the joint at a setting, and says where
// that is.
func (p *passage) mountAt(at float64, l look, words string) {
	result, set, shown := *p.r, *p.r.Set, *p.shown
	set.Settings, result.Set = p.settings(at), &set
	shown.Screen, shown.Mount = p.motion(at).Mul(shown.Screen), nil // its sag elsewhere is not known
	there := *p.scene
	there.r, there.shown = &result, &shown
	h := there.held()
	if h == nil {
		return
	}
	for _, b := range h.bars {
		bar := l.line
		bar.Width = max(bar.Width, 1.5)
		p.line(bar, p.flatAll(b[0], b[1])...)
	}
	dashed, tube, verb := l.line.Dashes != nil, lookTube, "in use at "
	if dashed {
		tube, verb = look{fill: l.fill}, "parked at "
	}
	for _, t := range h.tubes {
		for _, outline := range p.tube(t.line, t.radius) {
			p.outline(outline, tube)
		}
		if dashed {
			p.line(l.line, p.flatAll(t.line...)...)
		}
	}
	p.outline(p.housing(shown.Screen), l)
	p.explain(l, words)
	p.tell(p.flat(shown.Screen.At), verb+p.setting(at))
}

// tell labels a place on the nearer side of the drawing.
func (p *passage) tell(at r2.Vec, text string) {
	p.aside(at, p.flat(r3.Vec{X: p.a.Used.AheadMM / 2}).X, text)
}

// ways draws how the middle of the screen and the farthest corner of the housing
// go over the free range.
func (p *passage) ways() {
	const each = 3 * frame.Degree
	n := 1
	if p.joint.Motion == mount.Turn {
		n = min(1+int(math.Abs(p.a.High.At-p.a.Low.At)/each.Radians()), 240)
	}
	var middle, outer []r2.Vec
	far := func(c r3.Vec) float64 { return r2.Norm(r2.Sub(p.flat(c), p.pivot)) } // from the joint, from above
	corner := slices.MaxFunc(p.housingCorners(p.shown.Screen), func(a, b r3.Vec) int { return cmp.Compare(far(a), far(b)) })
	for i := range n + 1 {
		motion := p.motion(p.a.Low.At + (p.a.High.At-p.a.Low.At)*float64(i)/float64(n))
		middle = append(middle, p.flat(motion.Apply(p.shown.Screen.At)))
		outer = append(outer, p.flat(motion.Apply(corner)))
	}
	p.line(lookOuter.line, outer...)
	p.line(lookPath.line, middle...)
	p.explain(lookPath, "path of the screen's middle where it is free")
	p.explain(lookOuter, "path of the housing's farthest corner")
}

// end draws one end of the free range and says what it is.
func (p *passage) end(e fit.SwingEnd) {
	screen := p.motion(e.At).Mul(p.shown.Screen)
	at := p.flat(screen.At)
	p.outline(p.housing(screen), look{line: stroke(okabeVermilion, 0.6, 1.5, 2)})
	p.sign(at, signOf(okabeVermilion, 3, draw.BoxGlyph{}))
	p.tell(at, "free to "+p.endWords(e))
}

// endWords says where the free range ends and at what.
func (p *passage) endWords(e fit.SwingEnd) string {
	if e.Limit {
		return p.setting(e.At) + ", the joint's limit"
	}
	return fmt.Sprintf("%s: %s touches %s", p.setting(e.At), spoken(e.Part), spoken(e.Space))
}

// nearest marks where on the way to the parked position the mount comes nearest to something, or what
// keeps it from moving at all.
func (p *passage) nearest() {
	if p.a.Way.Space == "" {
		if p.stuck() {
			p.tell(p.flat(p.shown.Screen.At), p.nearestWords())
		}
		return
	}
	carrier := p.shown.InCarrier.Carrier
	at := p.flat(carrier.Apply(p.a.Way.On))
	p.line(stroke(ink, 0.8), at, p.flat(carrier.Apply(p.a.Way.Against)))
	p.sign(at, signOf(ink, 3, draw.CrossGlyph{}))
	p.tell(at, p.nearestWords())
}

// nearestWords says what comes how near to what on the way to the parked position, or what keeps the
// mount from moving at all.
func (p *passage) nearestWords() string {
	w := p.a.Way
	if p.stuck() && w.Space != "" && w.MM <= -0.5 {
		return fmt.Sprintf("cannot be moved: %s %s inside %s", spoken(w.Part), p.units.Length(-w.MM), spoken(w.Space))
	}
	if p.stuck() {
		return fmt.Sprintf("cannot be moved: %s touches %s", spoken(p.a.Low.Part), spoken(p.a.Low.Space))
	}
	return fmt.Sprintf("least clearance on the way %s: %s to %s", p.units.Length(w.MM), spoken(w.Part), spoken(w.Space))
}

// Distances of the drawing of spaces, mm of the world: chosen to look right.
const (
	dimensionMM = 75  // from what is measured to its dimension, and between two
	tickMM      = 20  // half of the stroke at the end of a dimension
	wallMM      = 100 // thickness of the wall with the doorway
	jambMM      = 180 // what is shown of the wall on either side
	beforeMM    = 160 // from all else to the wall
)

// space draws the space that chair and mount take up, where the size of the chair is
// known, and what they must pass: floor first, which lies under all that is drawn so far.
func (p *passage) space() {
	c := p.job.Passage
	if !(c.WidthMM > 0) {
		return
	}
	type taken struct {
		how  string
		is   fit.Extent
		look look
	}
	spaces := []taken{{"in use", p.a.Used, lookUsedSpace}}
	if !p.stuck() {
		spaces = append(spaces, taken{"parked", p.a.ParkedExtent, lookParkedSpace})
	}
	for _, t := range spaces {
		p.outline(p.rectangle(-t.is.BehindMM, t.is.AheadMM, t.is.LeftMM, -t.is.RightMM), t.look)
		p.explain(t.look, "space of chair and mount "+t.how)
		p.say("Chair and mount %s are %s wide and %s long.", t.how, p.units.Number(t.is.WidthMM()), p.units.Number(t.is.LengthMM()))
	}
	floor := c.FloorWidthMM > 0 && c.FloorLengthMM > 0
	if floor {
		p.clearFloor(c.FloorWidthMM, c.FloorLengthMM)
	}
	x := p.loX
	for _, t := range slices.Backward(spaces) {
		x -= dimensionMM
		p.dimension(r2.Vec{X: x, Y: -t.is.RightMM}, r2.Vec{X: x, Y: t.is.LeftMM}, t.how+" "+p.units.Number(t.is.WidthMM()))
	}
	if c.DoorMM > 0 {
		p.doorway(c.DoorMM)
		p.say("The doorway is %s wide.", p.units.Number(c.DoorMM))
	}
	if floor {
		p.say("The clear floor space is %s by %s.", p.units.Number(c.FloorWidthMM), p.units.Number(c.FloorLengthMM))
	}
}

// middle returns the middle of the space that chair and mount take up in use, as the
// person rides.
func (p *passage) middle() r2.Vec {
	e := p.a.Used
	return p.flat(r3.Vec{X: (e.AheadMM - e.BehindMM) / 2, Y: (e.LeftMM - e.RightMM) / 2})
}

// clearFloor draws the clear floor space under everything else.
func (p *passage) clearFloor(wide, long float64) {
	m := p.middle()
	before := p.items
	p.items = nil
	low, high := r2.Vec{X: m.X - long/2, Y: m.Y - wide/2}, r2.Vec{X: m.X + long/2, Y: m.Y + wide/2}
	p.outline(r2.Box{Min: low, Max: high}.Vertices(), lookFloor)
	p.items = append(p.items, before...)
	p.explain(lookFloor, "clear floor space, "+p.units.Number(wide)+" by "+p.units.Length(long))
	y := p.loY - dimensionMM
	p.dimension(r2.Vec{X: low.X, Y: y}, r2.Vec{X: high.X, Y: y}, "clear floor "+p.units.Number(long))
	x := p.loX - dimensionMM
	p.dimension(r2.Vec{X: x, Y: low.Y}, r2.Vec{X: x, Y: high.Y}, "clear floor "+p.units.Number(wide))
}

// doorway draws the clear width of the doorway as an opening in a wall ahead.
func (p *passage) doorway(door float64) {
	y := p.middle().Y
	from := p.hiX + beforeMM
	for _, side := range []float64{-1, 1} {
		near, far := y+side*door/2, y+side*(door/2+jambMM)
		p.outline([]r2.Vec{{X: from, Y: near}, {X: from + wallMM, Y: near}, {X: from + wallMM, Y: far}, {X: from, Y: far}}, lookJamb)
	}
	p.explain(lookJamb, "doorway, clear width "+p.units.Length(door))
	mid := from + wallMM/2
	p.dimension(r2.Vec{X: mid, Y: y - door/2}, r2.Vec{X: mid, Y: y + door/2}, "doorway "+p.units.Number(door))
}

// dimension draws a line from a to b with a stroke across either end, and a text on
// it.
func (p *passage) dimension(a, b r2.Vec, text string) {
	thin := stroke(ink, 0.5)
	p.line(thin, a, b)
	across := r2.Scale(tickMM, r2.Unit(r2.Vec{X: a.Y - b.Y, Y: b.X - a.X}))
	for _, end := range []r2.Vec{a, b} {
		p.line(thin, r2.Sub(end, across), r2.Add(end, across))
	}
	p.notes = append(p.notes, note{a, b, text})
}

// moves says how the mount swings and what that leaves free.
func (p *passage) moves() {
	a := p.a
	if p.stuck() {
		p.say("The mount is in use with %s at %s, and %s.", jointWords(p.joint), p.setting(a.InUse), p.nearestWords())
		return
	}
	p.say("The mount swings about %s, %s in use and %s parked.", jointWords(p.joint), p.setting(a.InUse), p.setting(a.Parked))
	p.say("It is free one way to %s; the other way to %s.", p.endWords(a.Low), p.endWords(a.High))
	if a.Way.Space != "" {
		p.say("%s.", capital(p.nearestWords()))
	}
	switch {
	case a.TransferHalfWidthRequiredMM <= 0:
	case a.TransferHalfWidthMM > 0:
		p.say("Transfer clearance then: %s to either side of the midline.", p.units.Number(a.TransferHalfWidthMM))
	default:
		p.say("There is no transfer clearance then.")
	}
}
