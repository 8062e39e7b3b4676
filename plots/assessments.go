package plots

import (
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount/fit"
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
// lead from the earlier to the later place of the eyes and of the screen's middle, and the
// key says how far.
//
// Both are in chair axes; the figure cannot know whether the chair is the
// same. The figure is to scale, at the largest of 1:5, 1:10, 1:15, 1:20, 1:25,
// 1:30, 1:40 and 1:50 that fits. The error wraps [ErrFigure], or is that of a
// mount's chain.
func Assessments(before, after Assessment, v View, opt Options) (Figure, error) {
	title := "what changed, " + v.String()
	opt.Label, opt.Compact = "", false // each assessment has its own
	s, err := newScene(after.Result, v, title, opt)
	if err != nil {
		return Figure{}, err
	}
	opt.Posture = s.shown.Posture.Name
	was, err := newScene(before.Result, v, title, opt)
	if err != nil {
		return Figure{}, err
	}
	was.board = s.board // one drawing
	s.person()
	s.screen()
	s.hold(s.held(), lookTube, tubeWords)
	s.paint()
	s.face()
	s.signs()
	if h := was.held(); h != nil {
		for _, t := range h.tubes {
			s.line(lookBefore.line, s.flatAll(t.line...)...)
		}
	}
	was.ghost(was.shown, lookBefore)
	s.keys = []key{
		{lookBefore, before.words("before")},
		{look{fill: lookTube.fill}, after.words("after")},
	}
	s.moved(&s.left, "eyes", chairFromHead(was.shown).At, chairFromHead(s.shown).At)
	s.moved(&s.right, "screen middle", was.shown.Screen.At, s.shown.Screen.At)
	s.ground()
	return s.figure()
}

// moved labels where a place was and draws an arrow from there to where it is, unless they
// are as good as the same in the view.
func (s *scene) moved(where *lane, name string, from, to r3.Vec) {
	const leastMM, headMM = 3, 18
	s.name(where, name+", before", from)
	s.explain(lookMoved, name+" moved "+s.units.Length(r3.Norm(r3.Sub(to, from))))
	a, b := s.flat(from), s.flat(to)
	if long := r2.Norm(r2.Sub(b, a)); long >= leastMM {
		s.arrow(lookMoved.line, min(headMM, long/2), a, b)
	}
}
