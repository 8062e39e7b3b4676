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
		p.tell(p.flat(p.shown.Screen.At), fmt.Sprintf("cannot be moved: %s touches %s", spoken(a.Low.Part), spoken(a.Low.Space)))
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
	a     *fit.SwingClear
	joint mount.Joint
	words func(v float64) string // see [Options]; nil for numbers with their sign
	pivot r2.Vec                 // of the joint, in the view
	inUse frame.Pose             // carrierFromScreen as the settings have it, without sag
}

// newSwing starts the drawing of a mount that swings clear, from above.
func newSwing(r *fit.Result, title string, opt Options) (*swing, error) {
	opt.Posture, opt.Compact = "", false
	s, err := newScene(r, Top, title, opt)
	if err != nil {
		return nil, err
	}
	s.scales = []int{5, 10, 15, 20, 25, 30, 40, 50, 75, 100}
	p := &swing{scene: s, a: r.SwingClear, words: opt.Swing}
	return p, p.prepare()
}

// prepare finds the joint and its place; its error says that there is no swing to draw.
func (p *swing) prepare() error {
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
	p.pivot = p.flat(p.shown.InCarrier.Carrier.Apply(frames[set.Chain.MovingPlaces()[p.a.Joint]].At))
	return nil
}

// setting returns a value of the joint as it is read.
func (p *swing) setting(v float64) string {
	if p.words != nil {
		return p.words(v)
	}
	return settingWords(p.units, p.joint, v)
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
	return fmt.Sprintf("%s: %s touches %s", p.setting(e.At), spoken(e.Part), spoken(e.Space))
}

// nearest marks where on the way to the parked position the mount comes nearest to something.
func (p *swing) nearest() {
	if p.a.Way.Space == "" {
		return
	}
	carrier := p.shown.InCarrier.Carrier
	at := p.flat(carrier.Apply(p.a.Way.On))
	p.line(stroke(ink, 0.8), at, p.flat(carrier.Apply(p.a.Way.Against)))
	p.sign(at, signOf(ink, 3, draw.CrossGlyph{}))
	p.tell(at, fmt.Sprintf("least clearance on the way %s: %s to %s", p.units.Length(p.a.Way.MM), spoken(p.a.Way.Part), spoken(p.a.Way.Space)))
}
