package casefile

import (
	"strconv"
	"strings"
)

// kitSense reports what is wrong with a kit although every entry by itself is
// right. What needs geometry is left to [mount.Kit.Check], whose lines are put
// where the part stands.
func (r *reader) kitSense(k *kitForm) {
	before := len(r.problems)
	r.partOrder(k)
	names := map[string]spot{}
	for i := range k.Parts {
		p := &k.Parts[i]
		name := p.name()
		if name == nil {
			continue
		}
		if first, twice := names[name.Text]; twice && name.valid {
			r.senseless(p.place(), "the name "+quoted(name.Text)+" again", "name: another one than the part in line "+strconv.Itoa(first.Line)+" has")
		}
		names[name.Text] = p.place()
		for _, s := range p.slides() {
			r.slideSense(s)
		}
		for _, t := range p.turns() {
			r.turnSense(t)
		}
		if t := p.tube(); t != nil {
			r.tubeSense(t)
		}
	}
	if len(r.problems) == before && r.sound(k) {
		r.checkKit(k)
	}
}

// sound reports whether a kit has no problem of its own, in whatever file it is.
func (r *reader) sound(k *kitForm) bool {
	for _, p := range r.problems {
		if p.File == k.At.File && (k.At.Key == "" || strings.HasPrefix(p.Key, k.At.Key)) {
			return false
		}
	}
	return len(k.Parts) > 0
}

func (r *reader) partOrder(k *kitForm) {
	last := len(k.Parts) - 1
	for i := range k.Parts {
		p := &k.Parts[i]
		switch {
		case p.name() == nil: // of no sort: reported already
		case i == 0 && p.Clamp == nil:
			r.senseless(p.At, "a kit that does not begin with a clamp", "clamp as the first part")
		case i > 0 && p.Clamp != nil:
			r.senseless(p.Clamp.At, "a clamp beyond the first part", "one clamp, as the first part")
		case i == last && p.Plate == nil:
			r.senseless(p.At, "a kit that does not end with a plate", "plate as the last part")
		case i < last && p.Plate != nil:
			r.senseless(p.Plate.At, "a plate before the last part", "one plate, as the last part")
		}
	}
}

func (r *reader) slideSense(s *slideForm) {
	if s.From.valid && s.To.valid && s.From.mm() >= s.To.mm() {
		r.senseless(s.To.At, quoted(s.To.text), "more than from, "+s.From.text)
		return
	}
	if s.From.valid && s.To.valid && s.Preferred.valid && (s.Preferred.mm() < s.From.mm() || s.Preferred.mm() > s.To.mm()) {
		r.senseless(s.Preferred.At, quoted(s.Preferred.text), "from "+s.From.text+" to "+s.To.text)
	}
}

func (r *reader) turnSense(t *turnForm) {
	if t.From.valid && t.To.valid && t.From.value >= t.To.value {
		r.senseless(t.To.At, quoted(t.To.text), "more than from, "+t.From.text)
		return
	}
	if t.From.valid && t.To.valid && t.Preferred.valid && (t.Preferred.value < t.From.value || t.Preferred.value > t.To.value) {
		r.senseless(t.Preferred.At, quoted(t.Preferred.text), "from "+t.From.text+" to "+t.To.text)
	}
}

func (r *reader) tubeSense(t *tubeCommon) {
	s := &t.Tube
	if s.Outside.valid && s.Wall.valid && 2*s.Wall.mm() > s.Outside.mm() {
		r.senseless(s.Wall.At, quoted(s.Wall.text), "at most half of the outside diameter, "+s.Outside.text)
	}
	switch {
	case len(t.Bends) == 0:
	case t.BendRadius == nil:
		r.senseless(t.Bends[0].At, "bends without a radius", "bend_radius beside them")
	case t.BendRadius.valid && s.Outside.valid && t.BendRadius.mm() < s.Outside.mm():
		// Geometry needs half of it only; that no bender bends tighter than this is
		// common practice, no source.
		r.senseless(t.BendRadius.At, quoted(t.BendRadius.text), "at least the outside diameter, "+s.Outside.text+": a tube that is bent tighter folds")
	}
}

// checkKit reports what [mount.Kit.Check] finds in a kit of sound entries.
func (r *reader) checkKit(k *kitForm) {
	err := k.build().Check()
	if err == nil {
		return
	}
	for _, line := range strings.Split(err.Error(), "\n") {
		at, rest := k.At, strings.TrimPrefix(line, "mount: ")
		for i := range k.Parts {
			p := &k.Parts[i]
			if after, ok := strings.CutPrefix(rest, "part "+strconv.Quote(p.name().Text)+": "); ok {
				at, rest = p.where(after), after
			}
		}
		r.senseless(at, "a contradiction ("+rest+")", "numbers that fit together")
	}
}

// where returns the place of the setting that a line of [mount.Kit.Check] begins
// with, or of the part.
func (p *partForm) where(line string) spot {
	what, _, _ := strings.Cut(line, ":")
	for _, s := range p.slides() {
		if strings.HasSuffix(s.At.Key, "."+what) {
			return s.At
		}
	}
	for _, t := range p.turns() {
		if strings.HasSuffix(t.At.Key, "."+what) {
			return t.At
		}
	}
	return p.place()
}

// name returns the name of the part, or nil if it is of no sort.
func (p *partForm) name() *partName {
	switch {
	case p.Clamp != nil:
		return &p.Clamp.Name
	case p.Post != nil:
		return &p.Post.Name
	case p.Arm != nil:
		return &p.Arm.Name
	case p.Elbow != nil:
		return &p.Elbow.Name
	case p.Bracket != nil:
		return &p.Bracket.Name
	case p.PlateJoint != nil:
		return &p.PlateJoint.Name
	case p.Ball != nil:
		return &p.Ball.Name
	case p.Plate != nil:
		return &p.Plate.Name
	}
	return nil
}

// place returns where the part stands, under the key of its sort.
func (p *partForm) place() spot { return p.name().At.parent() }

func (p *partForm) slides() []*slideForm {
	switch {
	case p.Post != nil:
		return present(p.Post.Height)
	case p.Arm != nil:
		return present(p.Arm.Extension)
	}
	return nil
}

func (p *partForm) turns() []*turnForm {
	switch {
	case p.Clamp != nil:
		return present(p.Clamp.Index)
	case p.Post != nil:
		return present(p.Post.Swing)
	case p.Arm != nil:
		return present(p.Arm.Twist)
	case p.Elbow != nil:
		return present(p.Elbow.Pan, p.Elbow.Elevation)
	case p.PlateJoint != nil:
		return present(p.PlateJoint.Pan, p.PlateJoint.Tilt, p.PlateJoint.Roll)
	case p.Ball != nil:
		return present(p.Ball.Spin)
	}
	return nil
}

func (p *partForm) tube() *tubeCommon {
	switch {
	case p.Post != nil:
		return &p.Post.tubeCommon
	case p.Arm != nil:
		return &p.Arm.tubeCommon
	}
	return nil
}

// present returns the forms that are there.
func present[T any](forms ...*T) []*T {
	var out []*T
	for _, f := range forms {
		if f != nil {
			out = append(out, f)
		}
	}
	return out
}
