package report

import "fmt"

// verdict says in a sentence how the case stands, and what to do when it fails.
func (p *printer) verdict(r *Report) {
	what := "the screen has a place that works"
	if r.Kind == Check {
		what = "the screen works as it is set"
	}
	if !r.Works {
		what = "NO place works for all that must; here is the best that was found"
		if r.MarginMM >= 0 {
			what = "NO place does all that is wanted; here is the best that was found"
		}
		if r.Kind == Check {
			what = "the screen does NOT work as it is set"
		}
	}
	p.wrapped("", r.Label+": "+what)
	if r.MarginMM >= 0 {
		p.wrapped("  ", fmt.Sprintf("The head may move %s beyond its usual movement, any way, in every posture that must work. "+
			"First to give out: %s, %s.", p.units.fine(r.MarginMM), r.TightestPosture, r.Tightest))
	} else {
		p.wrapped("  ", fmt.Sprintf("Room is lacking already within the usual movement of the head, by about %s: %s, %s.",
			p.units.length(-r.MarginMM), r.TightestPosture, r.Tightest))
	}
	p.list("WHAT HOLDS IT BACK", p.units.allWords(r.Reasons))
	p.list("WHAT WOULD HELP", p.units.allWords(r.Remedies))
}

// where says where the screen stands in the posture in which the mount is set.
func (p *printer) where(r *Report) {
	lead := &r.Postures[r.leading]
	title := "WHERE THE SCREEN GOES"
	if r.Kind == Check {
		title = "WHERE THE SCREEN STANDS"
	}
	p.heading(title, fmt.Sprintf("sitting %q, seat tilted back %s°; heights are above the floor", lead.Name, fixed(lead.SeatTiltDeg, 1)))
	m, s, a := lead.Screen.Middle, lead.Stand, lead.Aim
	p.table([][]string{
		{"middle of the lit area", p.units.length(m.UpMM) + " up, " + p.along(m.ForwardMM, "forward", "back") + ", " +
			p.along(m.LeftMM, "to the person's left", "to the person's right")},
		{"", "(from the floor below the junction of seat and back, chair untilted)"},
		{"edges of the lit area", "top " + p.units.length(s.TopUpMM) + " up, bottom " + p.units.length(s.BottomUpMM) + " up"},
		{"lean of the face", turned(s.LeanedBackDeg, "none, upright", "back from vertical (top away from the person)", "forward from vertical (top toward the person)")},
		{"turn of the face", turned(s.TurnedLeftDeg, "none, straight back along the chair", "toward the person's left", "toward the person's right")},
		{"slope of the top edge", turned(s.RightRaisedDeg, "none, level", "up toward the person's right", "down toward the person's right")},
		{"eyes to the middle", p.units.length(a.DistanceMM)},
		{"line of sight", "in the head " + turned(a.DownDeg, "neither down nor up", "down", "up") + ", " +
			turned(a.LeftDeg, "straight ahead", "to the left", "to the right")},
	})
}

// along returns a length with the word for its sign.
func (p *printer) along(mm float64, plus, minus string) string {
	if mm < 0 {
		return p.units.length(-mm) + " " + minus
	}
	return p.units.length(mm) + " " + plus
}

// turned returns an angle with the words for its sign, or the word for one that
// shows as zero.
func turned(deg float64, none, plus, minus string) string {
	const shown = 0.05 // half of the last digit shown
	switch {
	case deg >= shown:
		return fixed(deg, 1) + "° " + plus
	case deg <= -shown:
		return fixed(-deg, 1) + "° " + minus
	}
	return none
}
