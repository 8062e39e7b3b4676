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
	c := comparison{was: was, now: now}
	c.draw()
	now.keys = []key{
		{lookBefore, before.words("before")},
		{look{fill: lookTube.fill}, after.words("after")},
	}
	now.desc = now.toScale() + " " + c.changes()
	return now.figure()
}

// comparison is two assessments on one board.
type comparison struct{ was, now *scene }

// draw draws both, the later one first.
func (c comparison) draw() {
	s := c.now
	s.seated()
	s.face(s.shown, lookPerson)
	s.mount()
	s.screen()
	s.outline(s.housing(c.was.shown.Screen), lookBefore)
	if h := c.was.held(); h != nil {
		for _, t := range h.tubes {
			s.line(lookBefore.line, s.flatAll(t.line...)...)
		}
	}
	c.was.face(c.was.shown, lookBefore)
	eyes, screens := c.eyes(), c.screens()
	for i, when := range [2]string{"before", "after"} {
		s.height(&s.left, "eyes, "+when, eyes[i])
		if i == 0 {
			s.height(&s.right, "screen middle, "+when, screens[i].At)
		}
	}
	s.arrow(eyes)
	s.arrow([2]r3.Vec{screens[0].At, screens[1].At})
	s.floor()
}

// eyes returns the middle between the eyes before and after, in chair axes.
func (c comparison) eyes() [2]r3.Vec {
	return [2]r3.Vec{chairFromHead(c.was.shown).At, chairFromHead(c.now.shown).At}
}

// screens returns chairFromScreen before and after.
func (c comparison) screens() [2]frame.Pose {
	return [2]frame.Pose{c.was.shown.Screen, c.now.shown.Screen}
}

// leastArrowMM is the least movement that has an arrow.
const leastArrowMM = 3

// arrow draws the arrow from an earlier to a later place, unless they are as
// good as the same in the view.
func (s *scene) arrow(from [2]r3.Vec) {
	a, b := s.flat(from[0]), s.flat(from[1])
	way := r2.Sub(b, a)
	length := r2.Norm(way)
	if !(length >= leastArrowMM) {
		return
	}
	s.line(lookMoved.line, a, b)
	s.arrowHead(b, r2.Scale(min(18, length/2)/length, way), 0.35, look{fill: okabeVermilion, line: lookMoved.line})
}

// changes adds what changed to the key, in numbers, and returns it in words.
func (c comparison) changes() string {
	var said []string
	say := func(l look, text string) {
		c.now.explain(l, text)
		said = append(said, text)
	}
	eyes, screens, u := c.eyes(), c.screens(), c.now.units
	say(lookMoved, "eyes moved "+movedWords(u, eyes[0], eyes[1]))
	say(lookMoved, "screen moved "+movedWords(u, screens[0].At, screens[1].At))
	say(look{}, "eyes to screen: "+u.Number(r3.Norm(r3.Sub(eyes[0], screens[0].At)))+" to "+u.Length(r3.Norm(r3.Sub(eyes[1], screens[1].At))))
	say(look{}, "was: "+tiltWords(screens[0])+", now: "+tiltWords(screens[1]))
	for i := range c.now.r.Postures {
		if text := c.marginChange(&c.now.r.Postures[i]); text != "" {
			say(look{}, text)
		}
	}
	for _, text := range c.settingChanges() {
		say(look{}, text)
	}
	return strings.Join(said, ". ") + "."
}

// movedWords says how far and which way a place has moved.
func movedWords(u units.Units, a, b r3.Vec) string {
	d := r3.Sub(b, a)
	if r3.Norm(d) < 0.5 {
		return u.Length(0)
	}
	var parts []string
	for _, p := range []struct {
		mm          float64
		plus, minus string
	}{{d.X, "forward", "back"}, {d.Y, "left", "right"}, {d.Z, "up", "down"}} {
		switch {
		case p.mm >= 0.5:
			parts = append(parts, u.Number(p.mm)+" "+p.plus)
		case p.mm <= -0.5:
			parts = append(parts, u.Number(-p.mm)+" "+p.minus)
		}
	}
	text := u.Length(r3.Norm(d))
	if len(parts) == 0 {
		return text
	}
	return text + ": " + strings.Join(parts, ", ")
}

// marginChange says how the margin of a posture changed; it is empty where the
// posture need not work, or was none before.
func (c comparison) marginChange(f *fit.PostureResult) string {
	if !f.Posture.MustWork {
		return ""
	}
	u := c.now.units
	for i := range c.was.r.Postures {
		w := &c.was.r.Postures[i]
		if w.Posture.Name == f.Posture.Name {
			return fmt.Sprintf("margin, %s: %s to %s", spoken(f.Posture.Name), u.Number(w.MarginMM), u.Length(f.MarginMM))
		}
	}
	return fmt.Sprintf("margin, %s: none to %s", spoken(f.Posture.Name), u.Length(f.MarginMM))
}

// settingChanges says which settings changed, in the order of the later chain.
func (c comparison) settingChanges() []string {
	was, now := c.was.r.Set, c.now.r.Set
	if was == nil || now == nil {
		return nil
	}
	old := make(map[string]string)
	for i, j := range was.Chain.Moving() {
		old[j.Name] = settingWords(c.now.units, j, was.Settings[i])
	}
	var out []string
	for i, j := range now.Chain.Moving() {
		is := settingWords(c.now.units, j, now.Settings[i])
		switch before, had := old[j.Name]; {
		case !had:
			out = append(out, fmt.Sprintf("%s: new, %s", jointWords(j), is))
		case before != is:
			out = append(out, fmt.Sprintf("%s: %s to %s", jointWords(j), before, is))
		}
	}
	return out
}
