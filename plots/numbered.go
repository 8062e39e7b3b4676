package plots

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/space"
)

// Numbered returns the figure of a mount alone, at its settings and without load, in
// parallel projection: every setting has its number, counted from the clamp outward, and
// an arrow in the direction in which its value grows. Ways, unless nil, are the words for that
// by the numbers of the settings to show alone. The three settings
// of a ball are those of its plate: tilt, rotation and roll. Parts are named. A screen of no
// size is left out. The error wraps [ErrFigure], or is that of the mount's chain.
func Numbered(chain mount.Chain, settings mount.Settings, chairFromCarrier frame.Pose, screen gaze.Screen, ways map[int]string, opt Options) (Figure, error) {
	n, err := newNumbered(chain, settings, chairFromCarrier, screen, "screen", ways, opt)
	if err != nil {
		return Figure{}, err
	}
	if ways != nil {
		n.title = titled(opt.Label, "mount, settings numbered; arrows: larger, or the way named")
	}
	return n.figure()
}

// plateOfKit is what the plate of a kit is drawn as: schematic, no source.
var plateOfKit = gaze.Screen{HousingMM: r3.Vec{X: 120, Y: 90, Z: 5}}

// Kit returns the figure of a kit alone on the person's left, as [Numbered] draws it at the
// settings that can be set nearest to the preferred ones, with what each setting is called and
// its limits. Its clamp slides, as that of most cases, so that both number alike. The error
// wraps [ErrFigure], or is that of the kit.
func Kit(kit mount.Kit, opt Options) (Figure, error) {
	const slideMM = 100
	chain, err := kit.Chain(mount.Mounting{SlideHighMM: slideMM, SlideAlong: frame.NoTurn().X})
	if err != nil {
		return Figure{}, err
	}
	opt.Label = kit.Name
	settings := chain.Preferred()
	for k, j := range chain.Moving() {
		settings[k] = j.Round(settings[k])
	}
	n, err := newNumbered(chain, settings, frame.Identity(), plateOfKit, "plate", nil, opt)
	if err != nil {
		return Figure{}, err
	}
	for k, told := range chain.Told() {
		n.explain(look{}, fmt.Sprintf("%d: %s, %s", k+1, jointWords(told), n.limits(k, told)))
	}
	return n.figure()
}

// limits says between what the k-th setting may be, and where it is drawn.
func (n *numbered) limits(k int, told mount.Joint) string {
	moving := n.hung.chain.Moving()
	j := moving[k]
	if k == 0 {
		return "as the case says; one that does not slide has no number, and the others are one less"
	}
	if told.Stiffness.AnyAxis && !strings.HasSuffix(told.Name, ".roll") {
		return fmt.Sprintf("within the cone of %.4g°", frame.Angle(moving[n.hung.chain.LastBall()+1].High).Degrees())
	}
	show := func(v float64) string { return settingWords(n.units, j, v) }
	if j.Low == j.High {
		return "always " + show(j.Low)
	}
	text := show(j.Low) + " to " + show(j.High)
	if j.Motion == mount.Turn && j.High-j.Low > (359*frame.Degree).Radians() {
		text = "all the way round"
	}
	if j.Indexed {
		step := j
		step.Low, step.Indexed = 0, false
		text += ", stops every " + settingWords(n.units, step, j.Step)
	}
	return text + "; drawn at " + show(j.Round(j.Preferred))
}

// newNumbered fills a drawing with a mount and its numbers; end is what its far end is
// called, ways is as in [Numbered].
func newNumbered(chain mount.Chain, settings mount.Settings, chairFromCarrier frame.Pose, screen gaze.Screen, end string, ways map[int]string, opt Options) (*numbered, error) {
	h, err := newHeld(chain, settings, chairFromCarrier, nil)
	if err != nil {
		return nil, err
	}
	tip := h.joints[len(h.joints)-1]
	h.join(tip, screen)
	view := Turned{Azimuth: 50 * frame.Degree, Elevation: 25 * frame.Degree}
	if h.joints[0].At.Y < 0 {
		view.Azimuth = -view.Azimuth
	}
	b := &board{
		title: titled(opt.Label, "mount, settings numbered; arrows: plus"), size: cmp.Or(opt.Size, Landscape()),
		units: opt.Units, scales: []int{2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50}, bare: true,
	}
	n := &numbered{scene: &scene{board: b, plane: view.plane(), v: fromAnywhere}, turns: map[string]int{}}
	n.hold(h, lookTube, tubeWords)
	if middle, half := screen.Housing(); half != (r3.Vec{}) {
		n.solid(space.Shape{Pose: tip.Mul(frame.Translate(middle)), HalfMM: half}, lookHousing, ofScreen)
	}
	n.paint()
	for _, t := range h.tubes {
		n.name(nil, spoken(t.part), middleOf(t))
	}
	for _, j := range h.signs() {
		n.place(j.part, j.at, j.sign, false)
		n.avoid = append(n.avoid, n.flat(j.at))
	}
	n.name(nil, end, tip.At)
	for k, i := range chain.MovingPlaces() {
		if way, shown := ways[k+1]; shown || ways == nil {
			n.number(k, i, way)
		}
	}
	n.arms()
	n.keys = nil
	return n, nil
}

// numbered is a drawing of a mount being filled with the numbers of its settings.
type numbered struct {
	*scene
	turns map[string]int // arrows drawn so far about turns of each part
}

// middleOf returns the middle of the straight of a tube beyond what holds it.
func middleOf(t tubeLine) r3.Vec {
	return r3.Scale(0.5, r3.Add(t.line[t.held], t.line[min(t.held+1, len(t.line)-1)]))
}

// offMiddle returns a place on a tube away from its middle: behind what holds it, if it sticks
// out so far, or a quarter along.
func offMiddle(t tubeLine, reach float64) r3.Vec {
	holder := t.line[t.held]
	if behind := r3.Sub(t.line[0], holder); r3.Norm(behind) > 2*reach {
		return r3.Add(holder, r3.Scale(1.2*reach, r3.Unit(behind)))
	}
	return r3.Scale(0.5, r3.Add(holder, middleOf(t)))
}

// number draws the arrow of the k-th setting, of the i-th joint, with its number and the word
// for its way.
func (n *numbered) number(k, i int, way string) {
	j := n.hung.chain.Joints[i]
	axis := r3.Unit(n.hung.joints[i].Rot.Apply(j.Axis))
	if j.Scale.Falls { // its numbers grow the other way
		axis = r3.Scale(-1, axis)
	}
	reach := n.reach()
	var line []r3.Vec
	if j.Motion == mount.Slide {
		from := r3.Add(n.hung.joints[i].At, r3.Scale(reach/2, n.beside(axis)))
		if t := n.tubeOf(j); t != nil {
			from = r3.Add(middleOf(*t), r3.Scale(t.radius+reach/4, n.beside(axis)))
		}
		for at := range 7 {
			line = append(line, r3.Add(from, r3.Scale(float64(at)/4*reach, axis)))
		}
	} else {
		if told := n.hung.chain.Told()[k]; told.Stiffness.AnyAxis {
			axis = plateAxis(told, n.hung.joints[len(n.hung.joints)-1].Rot)
		}
		line = n.around(i, axis, reach)
	}
	flat := n.flatAll(line...)
	n.arrow(lookMoved.line, 0.3*reach, flat...)
	n.avoid = append(n.avoid, flat...)
	tip := flat[len(flat)-1]
	if on := r2.Sub(tip, flat[len(flat)-2]); r2.Norm(on) > 0 {
		at := r2.Add(tip, r2.Scale(0.4*reach, r2.Unit(on)))
		n.grow(at)
		n.notes = append(n.notes, note{at: at, text: strings.TrimSpace(strconv.Itoa(k+1) + " " + way), moves: true})
	}
}

// beside returns the unit vector square to an axis and, if it can be, to the line of view.
func (n *numbered) beside(axis r3.Vec) r3.Vec {
	if aside := r3.Cross(axis, n.toward()); r3.Norm(aside) > 1e-6 {
		return r3.Unit(aside)
	}
	return n.x
}

// reach returns the radius of arrows: so large that they show at the mount's scale.
func (n *numbered) reach() float64 {
	const least, share = 30, 0.09 // mm, and of the mount
	low, high := n.hung.joints[0].At, n.hung.joints[0].At
	for _, j := range n.hung.joints {
		low = r3.Vec{X: min(low.X, j.At.X), Y: min(low.Y, j.At.Y), Z: min(low.Z, j.At.Z)}
		high = r3.Vec{X: max(high.X, j.At.X), Y: max(high.Y, j.At.Y), Z: max(high.Z, j.At.Z)}
	}
	return max(least, share*r3.Norm(r3.Sub(high, low)))
}

// tubeOf returns the tube that a joint is part of; nil if none.
func (n *numbered) tubeOf(j mount.Joint) *tubeLine {
	for k := range n.hung.tubes {
		if n.hung.tubes[k].part == j.Part() {
			return &n.hung.tubes[k]
		}
	}
	return nil
}

// plateAxis returns the axis about which a plate turns as its tilt (plus is back), its
// rotation (plus is left) or its roll (plus is right end up) grows.
func plateAxis(told mount.Joint, plate frame.Rotation) r3.Vec {
	_, what, _ := strings.Cut(told.Name, ".")
	switch what {
	case "tilt":
		return r3.Scale(-1, plate.X)
	case "rotation":
		return r3.Vec{Z: -1}
	}
	return plate.Z
}

// around returns an arc about the axis of the i-th joint: from what the joint carries
// in the direction in which it turns or, where that lies on the axis, most of the way round.
func (n *numbered) around(i int, axis r3.Vec, reach float64) []r3.Vec {
	j := n.hung.chain.Joints[i]
	middle, start, round := n.hung.joints[i].At, n.beside(axis), 250*frame.Degree
	if t := n.tubeOf(j); t != nil {
		middle = offMiddle(*t, reach)
	} else {
		for _, next := range n.hung.joints[i+1:] {
			arm := r3.Sub(next.At, middle)
			arm = r3.Sub(arm, r3.Scale(r3.Dot(arm, axis), axis))
			if r3.Norm(arm) > reach/10 {
				start, round = r3.Unit(arm), 100*frame.Degree
				break
			}
		}
	}
	radius := reach * (1 + 0.5*float64(n.turns[j.Part()]))
	n.turns[j.Part()]++
	const pieces = 24
	line := make([]r3.Vec, 0, pieces+1)
	for k := range pieces + 1 {
		turned := frame.About(axis, round*frame.Angle(k)/pieces)
		line = append(line, r3.Add(middle, r3.Scale(radius, turned.Apply(start))))
	}
	return line
}
