package document

import "fmt"

// verdict says in a sentence how the case stands, and what to do when it fails.
func (p *printer) verdict(r *Report) {
	what := "the screen has a place that works"
	switch {
	case !r.Works:
		what = r.failure()
	case r.Kind == Check:
		what = "the screen works as it is set"
	}
	p.wrapped("", r.Label+": "+what)
	if r.Works || !r.EyesContent() {
		p.wrapped("  ", p.units.Headroom(r)+".")
	}
	p.list("WHAT HOLDS IT BACK", p.told(r.Reasons))
	if !r.Works && r.EyesContent() {
		p.wrapped("    ", "("+p.units.Headroom(r)+".)")
	}
	p.list("WHAT WOULD HELP", p.told(r.Remedies))
}

// failure says what fails.
func (r *Report) failure() string {
	const best = "; the best that was found is NOT to be set"
	switch {
	case r.Kind == Check:
		return "the screen does NOT work as it is set"
	case r.Mount != nil && r.Target != nil && r.Target.MarginMM >= r.wantedMM && r.Target.BrokenMM == 0:
		return "the mount CANNOT hold the screen where it would work" + best
	case r.MarginMM < 0:
		return "NO place works for all that must" + best
	}
	return "NO place does all that is wanted" + best
}

// EyesContent reports whether the eyes have all the room that is wanted, so that
// what does not work is something else.
func (r *Report) EyesContent() bool { return r.MarginMM >= 0 && r.MarginMM >= r.wantedMM }

// Headroom says in a sentence how far the head may move, or might if nothing else
// stood in the way.
func (u Units) Headroom(r *Report) string {
	first := r.LimitingPosture + ", " + r.Limiting
	switch {
	case r.MarginMM < 0:
		return "Room is lacking already within the usual movement of the head, by about " + u.length(-r.MarginMM) + ": " + first
	case !r.EyesContent():
		return "The head may move only " + u.fine(r.MarginMM) + " beyond its usual movement, where " + u.fine(r.wantedMM) + " is wanted: " + first
	case !r.Works:
		return "For the eyes alone there would be " + u.fine(r.MarginMM) + " of room beyond the usual movement of the head"
	}
	return "The head may move " + u.fine(r.MarginMM) + " beyond its usual movement, any way, in every posture that must work. " +
		"First to give out: " + first
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
		{"middle of the display area", p.units.length(m.UpMM) + " up, " + p.along(m.ForwardMM, "forward", "back") + ", " +
			p.along(m.LeftMM, "to the person's left", "to the person's right")},
		{"", "(from the floor below the junction of seat and back, chair untilted)"},
		{"edges of the display area", "top " + p.units.length(s.TopUpMM) + " up, bottom " + p.units.length(s.BottomUpMM) + " up"},
		{"lean of the face", turned(s.TiltDeg, "none, upright", "back from vertical (top away from the person)", "forward from vertical (top toward the person)")},
		{"turn of the face", turned(s.RotationDeg, "none, straight back along the chair", "toward the person's left", "toward the person's right")},
		{"slope of the top edge", turned(s.RollDeg, "none, level", "up toward the person's right", "down toward the person's right")},
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
