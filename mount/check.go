package mount

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Check reports everything that is wrong with the kit, joined; each line names the
// part. A kit needs a clamp first, a plate last, and names that differ.
func (k Kit) Check() error {
	p := &problems{}
	if !(k.RatedKG >= 0) || math.IsInf(k.RatedKG, 1) {
		p.say("kit %q: rated mass %v kg must be 0 (not known) or more", k.Name, k.RatedKG)
	}
	if len(k.Parts) == 0 {
		p.say("kit %q has no parts; it needs at least a clamp and a plate", k.Name)
		return p.join()
	}
	names := map[string]bool{}
	for i, part := range k.Parts {
		if part == nil {
			p.say("kit %q: part %d is missing", k.Name, i+1)
			continue
		}
		p.part = part.PartName()
		p.checkName(i, names)
		p.checkOrder(part, i, len(k.Parts))
		part.check(p)
	}
	return p.join()
}

// checkBoth checks a kit and its mounting.
func checkBoth(k Kit, m Mounting) error { return errors.Join(k.Check(), m.Check()) }

// Check reports everything that is wrong with the mounting, joined.
func (m Mounting) Check() error {
	p := &problems{part: "mounting"}
	p.vec("place of the clamp", m.ClampMM)
	p.axes(m.Axes)
	if m.Side != OnLeft && m.Side != OnRight {
		p.ofPart("side %d is neither left nor right", m.Side)
	}
	p.length("lowest slide", m.SlideLowMM, -maxMM)
	p.length("highest slide", m.SlideHighMM, -maxMM)
	if m.SlideLowMM > m.SlideHighMM {
		p.ofPart("slides %g to %g mm: the lowest is above the highest", m.SlideLowMM, m.SlideHighMM)
	}
	if n := r3.Norm(m.SlideAlong); m.slides() && !(n > 0 && n <= maxMM) {
		p.ofPart("the clamp slides, but the direction along which is zero or not finite")
	}
	return p.join()
}

// maxMM bounds every length: a hundred metres is a mistake of units, and keeps all
// arithmetic far from overflow.
const maxMM = 1e5

// maxKG bounds every mass, for the same reasons.
const maxKG = 1e4

// problems collects what is wrong with parts.
type problems struct {
	part string
	errs []error
}

func (p *problems) join() error { return errors.Join(p.errs...) }

// say adds a problem of the kit.
func (p *problems) say(format string, args ...any) {
	p.errs = append(p.errs, fmt.Errorf("mount: "+format, args...))
}

// ofPart adds a problem of the part at hand.
func (p *problems) ofPart(format string, args ...any) {
	p.say("part %q: "+format, append([]any{p.part}, args...)...)
}

func (p *problems) checkName(i int, names map[string]bool) {
	switch {
	case strings.TrimSpace(p.part) == "":
		p.say("part %d has no name", i+1)
	case strings.ContainsAny(p.part, ". \t\n=,"):
		p.ofPart("a name has no dot, comma, equals sign or space")
	case names[p.part]:
		p.ofPart("the name is used twice; names must differ")
	}
	names[p.part] = true
}

func (p *problems) checkOrder(part Part, i, n int) {
	_, clamp := part.(Clamp)
	_, plate := part.(Plate)
	switch {
	case i == 0 && !clamp:
		p.ofPart("the first part must be the clamp")
	case i > 0 && clamp:
		p.ofPart("only the first part can be a clamp")
	case i == n-1 && !plate:
		p.ofPart("the last part must be the plate")
	case i < n-1 && plate:
		p.ofPart("the plate must be the last part")
	}
}

// vec reports a vector that is not finite or too long.
func (p *problems) vec(what string, v r3.Vec) {
	if !frame.IsFinite(v) || r3.Norm(v) > maxMM {
		p.ofPart("%s: %v mm is not a place within 100 m", what, v)
	}
}

// length reports a length in mm that is not a number, below low or too long.
func (p *problems) length(what string, v, low float64) {
	switch {
	case !(math.Abs(v) <= maxMM):
		p.ofPart("%s: %g mm is not a length within 100 m", what, v)
	case v < low:
		p.ofPart("%s: %g mm is less than %g", what, v, low)
	}
}

func (p *problems) mass(v float64) {
	if !(v >= 0 && v <= maxKG) {
		p.ofPart("mass %g kg must be from 0 to %g", v, maxKG)
	}
}

func (p *problems) rating(v float64) {
	if !(v >= 0 && v <= maxKG) {
		p.ofPart("rated mass %g kg must be from 0 (not known) to %g", v, maxKG)
	}
}

func (p *problems) stiffness(what string, m Motion, g JointStiffness) {
	for _, msg := range g.problems(m) {
		p.ofPart("%s: %s", what, msg)
	}
}

func (p *problems) axes(a Axes) {
	for _, angle := range []frame.Angle{a.Rotation, a.Tilt, a.Roll} {
		p.angle("angle of the axes", angle)
	}
}

func (p *problems) angle(what string, a frame.Angle) {
	if !(math.Abs(a.Radians()) <= 2*math.Pi) {
		p.ofPart("%s: %g° is not within a whole turn", what, a.Degrees())
	}
}

// setting checks the range of one setting; low is the least it may be.
func (p *problems) setting(what string, m Motion, r Range, low float64) {
	if r == (Range{}) {
		return
	}
	most := maxMM
	if m == Turn {
		most = 2 * math.Pi
	}
	j := Joint{
		Name: what, Motion: m, Low: r.Low, High: r.High, Step: r.Step,
		Preferred: r.Preferred, Effort: r.Effort, Indexed: r.Indexed,
	}
	for _, msg := range j.rangeProblems(math.Max(low, -most), most) {
		p.ofPart("%s: %s", what, msg)
	}
	p.stiffness(what, m, r.Stiffness)
	if r.Stiffness.AnyAxis {
		p.ofPart("%s: only a ball holds about any axis", what)
	}
}

// rangeProblems says what is wrong with the numbers of a moving joint whose
// limits may go from low to high.
func (j Joint) rangeProblems(low, high float64) []string {
	var msgs []string
	say := func(format string, args ...any) { msgs = append(msgs, fmt.Sprintf(format, args...)) }
	fine := j
	fine.Step = 0 // prints with one decimal
	switch {
	case !(j.Low >= low && j.High <= high): // also NaN
		say("limits %s to %s must lie within %s to %s",
			fine.Format(j.Low), fine.Format(j.High), fine.Format(low), fine.Format(high))
	case j.Low > j.High:
		say("limits %s to %s: the lowest is above the highest", fine.Format(j.Low), fine.Format(j.High))
	case !(j.Preferred >= j.Low-limitSlack && j.Preferred <= j.High+limitSlack):
		say("preferred %s is outside %s to %s", fine.Format(j.Preferred), fine.Format(j.Low), fine.Format(j.High))
	}
	if !(j.Effort >= 0) || math.IsInf(j.Effort, 1) {
		say("effort %g must be 0 or more", j.Effort)
	}
	if !(j.Step > 0 && j.Step <= high) {
		say("step %s must be more than 0", j.Format(j.Step))
		return msgs
	}
	if len(msgs) > 0 {
		return msgs
	}
	first, last, _, ok := j.grid()
	switch {
	case !ok:
		say("no multiple of the step %s lies within %s to %s", j.Format(j.Step), fine.Format(j.Low), fine.Format(j.High))
	case j.Indexed && last-first+1 > maxStops:
		say("%.0f stops are more than %d", last-first+1, maxStops)
	}
	return msgs
}

// maxStops bounds the stops of one indexed joint, and of all of them together:
// each is searched on its own.
const maxStops = 1000
