package plots

import (
	"fmt"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// Assessment is a case as it was found on one day.
type Assessment struct {
	// Label names the assessment; Date is the day as it is to be printed. Either may
	// be empty.
	Label, Date string
	Result      *fit.Result
}

// words names an assessment, or calls it other if it has no name.
func (a *Assessment) words(other string) string {
	name := strings.Trim(plain(a.Label)+", "+plain(a.Date), ", ")
	if name == "" {
		return other
	}
	return other + ": " + name
}

// Assessments returns the figure of what changed between two assessments in one
// posture: the later one as [Scene] draws it, and over it, to the same scale from
// the same floor, the earlier head, screen and mount as dashed outlines. Arrows
// lead from the earlier to the later place of the eyes and of the screen's middle.
// The key says in numbers how far they moved, and how distance, tilt, margins and
// settings changed.
//
// Both are in chair axes; the figure cannot know whether the chair is the
// same. The figure is to scale, at the largest of 1:5, 1:10, 1:15, 1:20, 1:25,
// 1:30, 1:40 and 1:50 that fits. The error wraps [ErrFigure], or is that of a
// mount's chain.
func Assessments(before, after Assessment, v View, opt Options) (Figure, error) {
	title := "what changed, " + v.String()
	opt.Label, opt.Compact = "", false // each assessment has its own
	now, err := newScene(after.Result, v, title, opt)
	if err != nil {
		return Figure{}, err
	}
	opt.Posture = now.shown.Posture.Name
	was, err := newScene(before.Result, v, title, opt)
	if err != nil {
		return Figure{}, err
	}
	for _, r := range [...]*fit.Result{before.Result, after.Result} {
		for i := range r.Postures {
			if f := &r.Postures[i]; !isFinite(f.MarginMM) {
				return Figure{}, fmt.Errorf("%w: posture %q: the margin is not finite", ErrFigure, f.Posture.Name)
			}
		}
	}
	was.board = now.board // one drawing
	c := comparison{
		was: was, now: now, u: opt.Units,
		eyes:    [2]r3.Vec{chairFromHead(was.shown).At, chairFromHead(now.shown).At},
		screens: [2]frame.Pose{was.shown.Screen, now.shown.Screen},
	}
	c.draw()
	now.keys = []key{
		{lookBefore, before.words("before")},
		{look{fill: lookTube.fill}, after.words("after")},
	}
	c.changes()
	return now.figure()
}

// comparison is two assessments on one board: of each pair, before and after.
type comparison struct {
	was, now *scene
	u        units.Units
	eyes     [2]r3.Vec // the middle between them, in chair axes
	screens  [2]frame.Pose
}

// draw draws both, the later one first.
func (c comparison) draw() {
	s := c.now
	s.person()
	s.screen()
	s.hold(s.held(), lookTube, tubeWords)
	s.paint()
	s.face()
	s.signs()
	if h := c.was.held(); h != nil {
		for _, t := range h.tubes {
			s.line(lookBefore.line, s.flatAll(t.line...)...)
		}
	}
	c.was.ghost(c.was.shown, lookBefore)
	s.height(&s.left, "eyes, before", c.eyes[0])
	s.height(&s.right, "screen middle, before", c.screens[0].At)
	s.arrow(c.eyes[0], c.eyes[1])
	s.arrow(c.screens[0].At, c.screens[1].At)
	s.ground()
}

// arrow draws the arrow from an earlier to a later place, unless they are as
// good as the same in the view.
func (s *scene) arrow(from, to r3.Vec) {
	const leastMM = 3
	a, b := s.flat(from), s.flat(to)
	way := r2.Sub(b, a)
	length := r2.Norm(way)
	if !(length >= leastMM) {
		return
	}
	s.line(lookMoved.line, a, b)
	s.arrowHead(b, r2.Scale(min(18, length/2)/length, way), 0.35, look{fill: okabeVermilion, line: lookMoved.line})
}

// changes adds what changed to the key, in numbers, and to the description.
func (c comparison) changes() {
	distance := func(i int) float64 { return r3.Norm(r3.Sub(c.eyes[i], c.screens[i].At)) }
	said := []string{
		"eyes moved " + movedWords(c.u, c.eyes[0], c.eyes[1]),
		"screen moved " + movedWords(c.u, c.screens[0].At, c.screens[1].At),
		"eyes to screen: " + c.u.Number(distance(0)) + " to " + c.u.Length(distance(1)),
		"was: " + tiltWords(c.screens[0]) + ", now: " + tiltWords(c.screens[1]),
	}
	for i := range c.now.r.Postures {
		if f := &c.now.r.Postures[i]; f.Posture.MustWork {
			said = append(said, c.marginChange(f))
		}
	}
	said = append(said, c.settingChanges()...)
	for i, text := range said {
		l := look{}
		if i < 2 {
			l = lookMoved
		}
		c.now.state(l, text)
	}
}

// movedWords says how far and which way a place has moved.
func movedWords(u units.Units, a, b r3.Vec) string {
	d := r3.Sub(b, a)
	const least = 0.5
	if r3.Norm(d) < least {
		return u.Length(0)
	}
	var parts []string
	for i, mm := range [3]float64{d.X, d.Y, d.Z} {
		if mm >= least {
			parts = append(parts, u.Number(mm)+" "+[3]string{"forward", "left", "up"}[i])
		} else if mm <= -least {
			parts = append(parts, u.Number(-mm)+" "+[3]string{"back", "right", "down"}[i])
		}
	}
	return strings.TrimSuffix(u.Length(r3.Norm(d))+": "+strings.Join(parts, ", "), ": ")
}

// marginChange says how the margin of a posture changed.
func (c comparison) marginChange(f *fit.PostureResult) string {
	name, was := f.Posture.Name, "none"
	for i := range c.was.r.Postures {
		if w := &c.was.r.Postures[i]; w.Posture.Name == name {
			was = c.u.Number(w.MarginMM)
		}
	}
	return fmt.Sprintf("margin, %s: %s to %s", spoken(name), was, c.u.Length(f.MarginMM))
}

// settingChanges says which settings changed, in the order of the later chain.
func (c comparison) settingChanges() []string {
	was, now := c.was.r.Set, c.now.r.Set
	if was == nil || now == nil {
		return nil
	}
	old := make(map[string]string)
	for i, j := range was.Chain.Moving() {
		old[j.Name] = settingWords(c.u, j, was.Settings[i])
	}
	var out []string
	for i, j := range now.Chain.Moving() {
		is, before := settingWords(c.u, j, now.Settings[i]), old[j.Name]
		if before == "" {
			out = append(out, jointWords(j)+": new, "+is)
		} else if before != is {
			out = append(out, jointWords(j)+": "+before+" to "+is)
		}
	}
	return out
}
