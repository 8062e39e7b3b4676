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

// SwingClear returns the figure of how the mount swings clear, from above in the leading
// posture: the mount and housing in use and parked, the way of the housing's middle and of
// its farthest corner over the free range, what ends that, and the transfer clearance. A
// mount that cannot be moved is drawn in use alone, with what it touches.
//
// The figure is to scale, at the largest of 1:5, 1:10, 1:15, 1:20, 1:25, 1:30, 1:40, 1:50,
// 1:75 and 1:100 that fits. The error wraps [ErrFigure], also where the mount has no joint
// to swing about, or is that of the mount's chain.
func SwingClear(r *fit.Result, opt Options) (Figure, error) {
	p, err := newSwing(r, "swing clear, from above", opt)
	if err != nil {
		return Figure{}, err
	}
	a := p.a
	if mm := a.TransferHalfWidthMM; mm > 0 {
		p.outline(p.rectangle(0, fit.TransferAheadMM, mm, -mm), lookTransfer)
		p.explain(lookTransfer, "transfer clearance parked, "+p.units.Length(mm)+" to either side of the midline")
	}
	p.mounts()
	if p.stuck() {
		p.tell(p.flat(p.shown.Screen.At), fmt.Sprintf("cannot be moved: %s touches %s", spoken(a.Low.Part), spoken(a.Low.Zone)))
		return p.figure()
	}
	p.ways()
	p.end(a.Low)
	p.end(a.High)
	p.nearest()
	return p.figure()
}

// swing is a mount that swings clear being drawn.
type swing struct {
	*scene
	a       *fit.SwingClear
	joint   mount.Joint
	setting func(v float64) string // a value of the joint as it is read
	pivot   r2.Vec                 // of the joint, in the view
	inUse   frame.Pose             // carrierFromScreen as the settings have it, without sag
}

// newSwing starts the drawing of a mount that swings clear, from above.
func newSwing(r *fit.Result, title string, opt Options) (*swing, error) {
	opt.Posture, opt.Compact = "", false
	s, err := newScene(r, Top, title, opt)
	if err != nil {
		return nil, err
	}
	s.scales = []int{5, 10, 15, 20, 25, 30, 40, 50, 75, 100}
	p := &swing{scene: s, a: r.SwingClear, setting: opt.Swing}
	set := r.Set
	if p.a == nil || set == nil {
		return nil, fmt.Errorf("%w: the mount does not swing clear", ErrFigure)
	}
	moving := set.Chain.Moving()
	if p.a.Joint < 0 || p.a.Joint >= len(moving) {
		return nil, fmt.Errorf("%w: the mount has no joint %d to swing about", ErrFigure, p.a.Joint)
	}
	p.joint = moving[p.a.Joint]
	if p.setting == nil {
		p.setting = func(v float64) string { return settingWords(p.units, p.joint, v) }
	}
	frames, err := set.Chain.Frames(set.Settings)
	if err != nil {
		return nil, fmt.Errorf("plots: mount: %w", err)
	}
	p.inUse = p.screenAt(p.a.InUse)
	p.pivot = p.flat(p.shown.InCarrier.Carrier.Apply(frames[set.Chain.MovingPlaces()[p.a.Joint]].At))
	return p, nil
}

// stuck reports whether the mount touches something where it is in use, so that it
// cannot be moved.
func (p *swing) stuck() bool { return p.a.Low.At == p.a.High.At && !p.a.Low.Limit }

// settings returns those of the mount with the joint at a value.
func (p *swing) settings(at float64) mount.Settings {
	s := slices.Clone(p.r.Set.Settings)
	s[p.a.Joint] = at
	return s
}

// screenAt returns carrierFromScreen with the joint at a setting, without sag.
func (p *swing) screenAt(at float64) frame.Pose {
	screen, err := p.r.Set.Chain.Forward(p.settings(at))
	if err != nil {
		p.fail(fmt.Errorf("plots: mount: %w", err))
	}
	return screen
}

// motion returns how what swings is carried from in use to a setting, in chair
// axes.
func (p *swing) motion(at float64) frame.Pose {
	carrier := p.shown.InCarrier.Carrier
	return carrier.Mul(p.screenAt(at)).Mul(p.inUse.Inverse()).Mul(carrier.Inverse())
}

// mounts draws the person, the keep-clear zones and the mount in use and, if it can be
// moved, parked.
func (p *swing) mounts() {
	p.person()
	p.keepClear()
	if !p.stuck() {
		p.mountAt(p.a.Parked, lookParked, "parked at "+p.setting(p.a.Parked), "mount and housing parked")
	}
	p.mountAt(p.a.InUse, lookHousing, "in use at "+p.setting(p.a.InUse), "mount and housing in use (ring: "+jointWords(p.joint)+")")
	p.paint()
	p.face()
	p.sign(p.pivot, ring)
}

// mountAt adds the mount and the housing with the joint at a setting, told in words and
// explained in the key.
func (p *swing) mountAt(at float64, l look, told, key string) {
	result, set, shown := *p.r, *p.r.Set, *p.shown
	set.Settings, result.Set = p.settings(at), &set
	shown.Screen, shown.Mount = p.motion(at).Mul(shown.Screen), nil // its sag elsewhere is not known
	p.explain(l, key)
	there := *p.scene
	there.r, there.shown = &result, &shown
	tube := l
	if l.line.Dashes == nil {
		tube = lookTube
	}
	there.hold(there.held(), tube, key)
	there.housed(shown.Screen, l)
	p.pieces = there.pieces
	p.tell(p.flat(shown.Screen.At), told)
}

// tell labels a place on the nearer side of the drawing.
func (p *swing) tell(at r2.Vec, text string) {
	p.aside(p.flat(r3.Vec{X: p.a.Used.AheadMM / 2}).X, at, text)
}

// ways draws how the middle of the screen and the farthest corner of the housing
// go over the free range.
func (p *swing) ways() {
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
func (p *swing) end(e fit.SwingEnd) {
	screen := p.motion(e.At).Mul(p.shown.Screen)
	at := p.flat(screen.At)
	p.outline(p.shape(p.housing(screen)), look{line: stroke(okabeVermilion, 0.6, 1.5, 2)})
	p.sign(at, signOf(okabeVermilion, 3, draw.BoxGlyph{}))
	p.tell(at, "free to "+p.endWords(e))
}

// endWords says where the free range ends and at what.
func (p *swing) endWords(e fit.SwingEnd) string {
	if e.Limit {
		return p.setting(e.At) + ", the joint's limit"
	}
	return fmt.Sprintf("%s: %s touches %s", p.setting(e.At), spoken(e.Part), spoken(e.Zone))
}

// nearest marks where on the way to the parked position the mount comes nearest to something.
func (p *swing) nearest() {
	if p.a.Way.Zone == "" {
		return
	}
	carrier := p.shown.InCarrier.Carrier
	at := p.flat(carrier.Apply(p.a.Way.On))
	p.line(stroke(ink, 0.8), at, p.flat(carrier.Apply(p.a.Way.Against)))
	p.sign(at, signOf(ink, 3, draw.CrossGlyph{}))
	p.tell(at, fmt.Sprintf("least clearance on the way %s: %s to %s", p.units.Length(p.a.Way.MM), spoken(p.a.Way.Part), spoken(p.a.Way.Zone)))
}

// Passage returns the figure of the space that chair and mount need, from above in the
// leading posture: with the mount in use and parked, and the clear floor space and the
// doorway that the job asks for. The doorway is drawn ahead of the chair, and both lie
// about the middle of the space that chair and mount take up with the mount in use, as the
// person rides.
//
// The figure is to scale, as [SwingClear] is. The error wraps [ErrFigure], also where the
// size of the chair is not known or the mount has no joint to swing about, or is that of
// the mount's chain.
func Passage(r *fit.Result, opt Options) (Figure, error) {
	p, err := newSwing(r, "passage, from above", opt)
	if err != nil {
		return Figure{}, err
	}
	c := p.job.Passage
	if !(c.WidthMM > 0) {
		return Figure{}, fmt.Errorf("%w: the width of the chair is not known", ErrFigure)
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
	floor := c.FloorWidthMM > 0 && c.FloorLengthMM > 0
	if floor {
		p.clearFloor(c.FloorWidthMM, c.FloorLengthMM)
	}
	chair := look{line: lookChair.line}
	p.outline(p.rectangle(-c.BehindMM, c.AheadMM, c.WidthMM/2, -c.WidthMM/2), chair)
	p.explain(chair, "chair with the person's feet")
	p.mounts()
	for _, t := range spaces {
		p.outline(p.rectangle(-t.is.BehindMM, t.is.AheadMM, t.is.LeftMM, -t.is.RightMM), t.look)
		p.explain(t.look, fmt.Sprintf("space of chair and mount %s, %s by %s", t.how, p.units.Number(t.is.WidthMM()), p.units.Length(t.is.LengthMM())))
	}
	apart := float64(dimensionMM)
	if p.size.Width < narrow { // at a smaller scale
		apart *= 1.8
	}
	x, y := p.loX, p.loY-apart
	for _, t := range slices.Backward(spaces) {
		x -= apart
		p.dimension(r2.Vec{X: x, Y: -t.is.RightMM}, r2.Vec{X: x, Y: t.is.LeftMM}, t.how+" "+p.units.Number(t.is.WidthMM()))
	}
	if floor {
		x -= apart
		m := p.middle()
		p.dimension(r2.Vec{X: m.X - c.FloorLengthMM/2, Y: y}, r2.Vec{X: m.X + c.FloorLengthMM/2, Y: y}, "clear floor "+p.units.Number(c.FloorLengthMM))
		p.dimension(r2.Vec{X: x, Y: m.Y - c.FloorWidthMM/2}, r2.Vec{X: x, Y: m.Y + c.FloorWidthMM/2}, "clear floor "+p.units.Number(c.FloorWidthMM))
	}
	if c.DoorMM > 0 {
		p.doorway(c.DoorMM)
	}
	return p.figure()
}

// Distances of the drawing of spaces, mm of the world: chosen to look right.
const (
	dimensionMM = 75  // from what is measured to its dimension, and between two
	tickMM      = 20  // half of the stroke at the end of a dimension
	wallMM      = 100 // thickness of the wall with the doorway
	jambMM      = 180 // what is shown of the wall on either side
	beforeMM    = 160 // from all else to the wall
)

// rectangle returns a level rectangle along the chair's axes, on the plane.
func (p *swing) rectangle(behind, ahead, left, right float64) []r2.Vec {
	return p.flatAll(r3.Vec{X: behind, Y: right}, r3.Vec{X: ahead, Y: right}, r3.Vec{X: ahead, Y: left}, r3.Vec{X: behind, Y: left})
}

// middle returns the middle of the space that chair and mount take up in use, as the
// person rides.
func (p *swing) middle() r2.Vec {
	e := p.a.Used
	return p.flat(r3.Vec{X: (e.AheadMM - e.BehindMM) / 2, Y: (e.LeftMM - e.RightMM) / 2})
}

// clearFloor draws the clear floor space.
func (p *swing) clearFloor(wide, long float64) {
	m := p.middle()
	low, high := r2.Vec{X: m.X - long/2, Y: m.Y - wide/2}, r2.Vec{X: m.X + long/2, Y: m.Y + wide/2}
	p.outline(r2.Box{Min: low, Max: high}.Vertices(), lookFloor)
	p.explain(lookFloor, "clear floor space, "+p.units.Number(wide)+" by "+p.units.Length(long))
}

// doorway draws the clear width of the doorway as an opening in a wall ahead.
func (p *swing) doorway(door float64) {
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
func (p *swing) dimension(a, b r2.Vec, text string) {
	thin, along := stroke(ink, 0.5), r2.Sub(b, a)
	p.line(thin, a, b)
	across := r2.Scale(tickMM, r2.Unit(r2.Vec{X: -along.Y, Y: along.X}))
	for _, end := range []r2.Vec{a, b} {
		p.line(thin, r2.Sub(end, across), r2.Add(end, across))
	}
	p.notes = append(p.notes, note{at: r2.Scale(0.5, r2.Add(a, b)), along: along, text: text})
}
