package tube

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
)

// Model is a chain made ready to be loaded. It holds buffers, so that nothing it
// does allocates once they have grown: one serves one goroutine. Build it with
// [NewModel].
//
// # How it is computed
//
// From the screen inward, the weights beyond every joint and every tube are added
// up: mass and first moment, which need no gravity yet. Then from the carrier
// outward every joint that gives and every tube that bends moves all that is
// beyond it by a small rigid motion; those motions add up, too.
type Model struct {
	chain mount.Chain
	spans []span
	// part says of every joint whether its hold is told with that of the ball to which
	// it belongs.
	part []bool

	// as it is at the settings at hand, which load has been worked out for
	loaded  bool
	at      mount.Settings
	frames  []frame.Pose // of every joint, moved; then of the screen
	beyond  []weight     // what every joint carries, carrier axes
	moved   []drift      // of what every joint moves, carrier axes
	sag     drift        // of the screen
	gravity r3.Vec
}

// NewModel returns the model of a chain. The error is what [mount.Chain.Check]
// reports, or wraps [ErrUnknown].
func NewModel(c mount.Chain) (*Model, error) {
	if err := c.Check(); err != nil {
		return nil, err
	}
	c.Joints, c.Masses, c.Rated = slices.Clone(c.Joints), slices.Clone(c.Masses), slices.Clone(c.Rated)
	n := len(c.Joints)
	m := &Model{
		chain: c, part: make([]bool, n),
		frames: make([]frame.Pose, n+1), beyond: make([]weight, n+1), moved: make([]drift, n),
	}
	m.markBalls()
	var errs []error
	for i, t := range c.Spans {
		if i > 0 && t.Carrier < c.Spans[i-1].Carrier {
			errs = append(errs, fmt.Errorf("tube: tube %q comes after one further out; list them from the carrier outward", t.Part))
		}
		s, err := newSpan(t)
		errs = append(errs, err)
		m.spans = append(m.spans, s)
	}
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	return m, nil
}

// markBalls finds the turns that are, with another, one ball, whose hold is told
// with that other: turns of the same part that do not hold for themselves.
func (m *Model) markBalls() {
	for _, r := range m.chain.Rated {
		joints := m.chain.Joints[r.First:r.Next]
		ball := slices.ContainsFunc(joints, func(j mount.Joint) bool { return j.Stiffness.AnyAxis })
		for i := r.First; i < r.Next; i++ {
			m.part[i] = ball && !m.chain.Joints[i].Stiffness.AnyAxis
		}
	}
}

// Screen returns the sag of the middle of the screen at s under gravity (m/s², in
// carrier axes; straight down is 9.80665 times the unit vector down). Beyond a turn by
// [SmallTurn] it is rough. Errors are those of [mount.Chain.Forward], of gravity that is
// not finite, and of a sag that is not finite or a turn beyond [MostTurn].
func (m *Model) Screen(s mount.Settings, gravity r3.Vec) (Sag, error) {
	if !frame.IsFinite(gravity) || r3.Norm(gravity) > maxGravity {
		return Sag{}, fmt.Errorf("tube: gravity %v m/s² is not finite or more than %d m/s²", gravity, maxGravity)
	}
	if m.loaded && gravity == m.gravity && slices.Equal(s, m.at) {
		return m.screen(), nil
	}
	m.loaded, m.gravity = false, gravity
	if err := m.pose(s); err != nil {
		return Sag{}, err
	}
	m.weigh()
	m.bend()
	sag := m.screen()
	if !frame.IsFinite(sag.ShiftMM) || !frame.IsFinite(sag.Turn) {
		return Sag{}, ErrNoStiffness
	}
	if turn := frame.Angle(r3.Norm(sag.Turn)); turn > MostTurn {
		return Sag{}, fmt.Errorf("%w: the screen would turn by %.0f° under its load, beyond what small-angle theory can tell",
			ErrNoStiffness, turn.Degrees())
	}
	m.loaded, m.at = true, append(m.at[:0], s...)
	return sag, nil
}

// screen returns the sag of the middle of the screen.
func (m *Model) screen() Sag { return m.sag.at(m.frames[len(m.chain.Joints)].At) }

const (
	// SmallTurn is up to which turn of the screen under its load the sums hold: they leave
	// out that the levers of the weights change as the mount turns, by a tenth then.
	SmallTurn = 5 * frame.Degree
	// MostTurn is from where on what comes out is no place of a screen any more.
	MostTurn = 45 * frame.Degree
)

// ErrNoStiffness reports a mount whose screen turns further under load than can be computed.
var ErrNoStiffness = errors.New("tube: the mount has almost no stiffness; check its materials, sections and compliances")

// finite reports whether v is neither infinite nor NaN.
func finite(v float64) bool { return math.Abs(v) <= math.MaxFloat64 }

// maxGravity bounds gravity, m/s²: more than a hundred times the earth's is a mistake of units.
const maxGravity = 1000

// pose moves every joint and tube to its place.
func (m *Model) pose(s mount.Settings) error {
	if err := m.chain.Accepts(s); err != nil {
		return err
	}
	m.frames = m.chain.AppendFrames(m.frames[:0], s)
	for i := range m.spans {
		t := &m.spans[i]
		run := 0.0
		if t.Slide >= 0 {
			run = s[t.Slide]
		}
		if err := t.place(m.frames[t.Carrier], run); err != nil {
			return err
		}
	}
	return nil
}

// weigh adds up the weights from the screen inward. What sits in the frame that
// carries a tube is beyond the tube.
func (m *Model) weigh() {
	var w weight
	t := len(m.spans) - 1
	for i := len(m.chain.Joints); i >= 0; i-- {
		for k := range m.chain.Masses {
			if mass := &m.chain.Masses[k]; mass.Carrier == i {
				w = w.plus(massAt(mass.KG, m.frames[i].Apply(mass.AtMM)))
			}
		}
		for ; t >= 0 && m.spans[t].Carrier == i; t-- {
			s := &m.spans[t]
			s.hung = hung{end: w.in(s.pose), gravity: s.pose.Rot.ApplyInverse(m.gravity)}
			w = w.plus(s.whole().out(s.pose))
		}
		m.beyond[i] = w
	}
}

// bend adds up the small motions from the carrier outward.
func (m *Model) bend() {
	var d drift
	t := 0
	for i := range m.chain.Joints {
		j := &m.chain.Joints[i]
		if j.Stiffness.Compliance > 0 {
			moves := m.moment(i) // all of it moves a ball, else what there is about the axis
			if axis := m.axis(i); !j.Stiffness.AnyAxis {
				moves = r3.Scale(r3.Dot(moves, axis), axis)
			}
			d.bentAt(m.frames[i].At, r3.Scale(j.Stiffness.Compliance/nmm, moves))
		}
		m.moved[i] = d
		for ; t < len(m.spans) && m.spans[t].Carrier == i; t++ {
			s := &m.spans[t]
			s.held = d
			d = d.plus(s.bent(s.lengthMM()).out(s.pose))
		}
	}
	m.sag = d
}

// nmm are the N mm in a N m.
const nmm = 1000

// moment returns the moment on a joint of what is beyond it, N mm.
func (m *Model) moment(i int) r3.Vec { return m.beyond[i].about(m.frames[i].At, m.gravity) }

// axis returns the axis of a joint, carrier axes.
func (m *Model) axis(i int) r3.Vec { return m.frames[i].Rot.Apply(m.chain.Joints[i].Axis) }
