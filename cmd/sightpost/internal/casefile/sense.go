package casefile

import (
	"fmt"
	"math"
	"reflect"
	"strconv"

	"gonum.org/v1/gonum/spatial/r3"
)

// sense reports what is wrong with a case although every entry by itself is
// right: the second stage. Entries with problems of their own are passed over.
func (r *reader) sense(f *caseForm) {
	r.trackerSense(&f.Tracker)
	r.screenSense(&f.Screen)
	r.personSense(&f.Person)
	r.eyesSense(&f.Measured.Eyes)
	r.postureSense(f)
	r.chairSense(f)
	r.preferencesSense(f)
	r.mountSense(&f.Mount)
	r.passageSense(f)
	r.uncertaintySense(f)
	if f.Screen.Used == nil {
		r.assumed("screen.used", "part of the display area that is looked at", Value{Word: "all of it"}, unsourced)
	}
	if f.Screen.Fixed == nil && f.Mount.Kit != nil {
		r.assumed("screen.fixed_at", "where the plate is screwed to the housing's back", Value{Word: "in its middle"}, unsourced)
	}
	if g := f.Person.Glasses; g.worn() && g.Form == nil {
		g.Form = &lensForm{}
		r.fill(nil, g.Word.At, reflect.ValueOf(g.Form).Elem(), shapeOf(reflect.TypeFor[lensForm]()))
	}
	if f.Person.RestGaze == nil {
		r.assumptions = append(r.assumptions, restGazeAssumption())
	}
}

// warn notes what is allowed but looks like a mistake.
func (r *reader) warn(at spot, found, expected string) {
	r.warnings = append(r.warnings, at.problem(found, expected).String())
}

// above reports a length that is not more than another.
func (r *reader) above(high, low *length, lowName string) {
	if high != nil && low != nil && high.valid && low.valid && high.mm() <= low.mm() {
		r.senseless(high.At, quoted(high.text), "more than "+lowName+", "+low.text)
	}
}

func (r *reader) trackerSense(t *trackerForm) {
	r.above(&t.Best, &t.Near, "near")
	r.above(&t.Far, &t.Best, "best")
}

func (r *reader) screenSense(s *screenForm) {
	if g := s.Grid; g != nil {
		r.wholeNumber(&g.Rows)
		r.wholeNumber(&g.Columns)
	}
	u := s.Used
	if u == nil {
		return
	}
	r.above(&u.Right, &u.Left, "left")
	r.above(&u.Top, &u.Bottom, "bottom")
	r.within(&u.Right, &s.Display.Width, "the width of the display area")
	r.within(&u.Top, &s.Display.Height, "the height of the display area")
}

// wholeNumber reports a count that is not one.
func (r *reader) wholeNumber(n *number) {
	if v := n.number(); n.valid && v != math.Trunc(v) {
		r.senseless(n.At, quoted(n.text), "a whole number")
	}
}

// within reports a length that is more than another.
func (r *reader) within(v, most *length, name string) {
	if v.valid && most.valid && v.mm() > most.mm() {
		r.senseless(v.At, quoted(v.text), "at most "+name+", "+most.text)
	}
}

// Pupil spacings outside these are warned of (mm): nearly all adults have 45 to 80,
// children of five years and more at least 40.
//
// Reference: N. A. Dodgson, "Variation and extrema of human interpupillary
// distance", Proc. SPIE 5291, 2004, abstract.
const leastPupilMM, mostPupilMM = 40, 80

func (r *reader) personSense(p *personForm) {
	if v := &p.PupilSpacing; v.valid && (v.mm() < leastPupilMM || v.mm() > mostPupilMM) {
		r.warn(v.At, quoted(v.text), fmt.Sprintf("%d to %d mm for nearly everybody of five years and more; measure again", leastPupilMM, mostPupilMM))
	}
	if e := &p.GazeRange; e.Left.valid && e.Right.valid && e.Left.value+e.Right.value == 0 {
		r.senseless(e.At, "eyes that turn neither left nor right", "some range to at least one side")
	}
	if e := &p.GazeRange; e.Up.valid && e.Down.valid && e.Up.value+e.Down.value == 0 {
		r.senseless(e.At, "eyes that turn neither up nor down", "some range up or down")
	}
}

// leastEyesMM and mostEyesMM bound how high above the floor the eyes are of anybody who
// sits or lies on a piece of furniture, raised seats and beds included: they catch a
// unit that was forgotten or mistaken. Choices of this tool, no source.
const leastEyesMM, mostEyesMM = 300, 2500

func (r *reader) eyesSense(e *pointForm) {
	v := &e.Up
	u := lengthUnit{}.kind().unitOf(v.text)
	switch {
	case !v.valid:
	case v.mm() < leastEyesMM:
		r.senseless(v.At, quoted(v.text), "at least "+u.atLeast(leastEyesMM)+" above the floor; is the unit missing, such as cm or in?")
	case v.mm() > mostEyesMM:
		r.senseless(v.At, quoted(v.text), "at most "+u.atMost(mostEyesMM)+" above the floor; is the unit right?")
	}
}

// names are the names in a list, and where each is.
type names map[string]spot

// name notes a name, and reports one that is there already.
func (n names) name(r *reader, name string, l leaf) {
	if first, twice := n[name]; twice && l.valid {
		r.senseless(l.At, "the name "+quoted(name)+" again", "another name than that in line "+strconv.Itoa(first.Line))
	}
	n[name] = l.At
}

func (r *reader) postureSense(f *caseForm) {
	seen := names{}
	works := false
	for i := range f.Postures {
		p := &f.Postures[i]
		works = works || !p.MustWork.valid || p.MustWork.Yes
		seen.name(r, p.Name.Text, p.Name.leaf)
		if p.Eyes != nil {
			r.eyesSense(p.Eyes)
		}
		if p.Eyes != nil && p.Slump != nil {
			r.senseless(p.Slump.At, "slump beside measured eyes", "one of them: measured eyes already are where slump has brought them")
		}
	}
	if !works && len(f.Postures) > 0 {
		r.senseless(f.Postures[0].At, "no posture that must work", "must_work: yes in at least one")
	}
	seen = names{}
	for i := range f.Keep {
		seen.name(r, f.Keep[i].Name.Text, f.Keep[i].Name.leaf)
	}
}

// chairSense reports axes that are missing although a posture turns about them, and
// parts of the chair that cannot be as they are said to be.
func (r *reader) chairSense(f *caseForm) {
	r.chairPartSense(&f.Chair)
	for i := range f.Postures {
		p := &f.Postures[i]
		if differ(p.SeatTilt, &f.Measured.SeatTilt) && f.Chair.TiltPivot == nil {
			r.senseless(p.SeatTilt.At, "a seat tilt other than as measured", "chair.tilt_pivot, the axis about which the seat tilts")
		}
		if differ(p.BackAngle, &f.Measured.BackAngle) && f.Chair.BackHinge == nil && p.Eyes == nil {
			r.senseless(p.BackAngle.At, "a back angle other than as measured", "chair.back_hinge, the axis about which the back support reclines")
		}
	}
}

func (r *reader) chairPartSense(c *chairForm) {
	if a := c.Armrests; a != nil && a.Form != nil {
		r.above(a.Form.Front, a.Form.Back, "back")
	}
	if t := c.Tray; t != nil && t.Form != nil {
		r.above(t.Form.Front, t.Form.Back, "back")
	}
	if j := c.Joystick; j != nil && j.Form != nil && j.Form.At != nil {
		r.sideSense(&j.Form.Side, &j.Form.At.Left, "the joystick is")
	}
}

// sideSense reports a side other than that on which the thing is.
func (r *reader) sideSense(side *choice, left *length, what string) {
	if left.valid && (side.Word == "left" && left.mm() < 0 || side.Word == "right" && left.mm() > 0) {
		r.senseless(side.At, quoted(side.Word), "the side on which "+what+": it is "+left.text+" to the left")
	}
}

func differ(a, measured *angle) bool {
	return a != nil && a.valid && measured.valid && a.value != measured.value
}

func (r *reader) preferencesSense(f *caseForm) {
	if d := &f.Preferences.Ranges.Distance; d.valid && f.Tracker.Far.valid && f.Tracker.Near.valid {
		if d.low > f.Tracker.Far.mm() || d.high < f.Tracker.Near.mm() {
			r.senseless(d.At, quoted(d.text), "a range that meets the tracker's, "+f.Tracker.Near.text+" to "+f.Tracker.Far.text)
		}
	}
	if face := &f.Preferences.FaceClearance; face.valid && f.Tracker.Far.valid && face.mm() >= f.Tracker.Far.mm() {
		r.senseless(face.At, quoted(face.text), "less than the tracker's far limit, "+f.Tracker.Far.text)
	}
}

func (r *reader) mountSense(m *mountForm) {
	c := m.Clamp
	if c == nil {
		return
	}
	if c.Along != nil && c.Along.Form != nil {
		if w := c.Along.Form; w.Forward.valid && w.Left.valid && w.Up.valid && c.Along.vec() == (r3.Vec{}) {
			r.senseless(w.At, "no direction", "at least one of forward, left, up other than 0")
		}
	}
	if m.Side != nil {
		r.sideSense(m.Side, &c.At.Left, "the clamp is")
	}
}
