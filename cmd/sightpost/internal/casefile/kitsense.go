package casefile

import (
	"reflect"
	"strconv"
	"strings"
)

// kitSense reports what is wrong with a kit although every entry by itself is
// right. What needs geometry is left to [mount.Kit.Check], whose lines are put
// where the part is.
func (r *reader) kitSense(k *kitForm) {
	before := len(r.problems)
	r.partOrder(k)
	seen := names{}
	for i := range k.Parts {
		p := &k.Parts[i]
		name := p.name()
		if name == nil {
			continue
		}
		seen.name(r, name.Text, leaf{At: p.place(), valid: name.valid})
		for _, s := range p.slides() {
			rangeSense(r, &s.From.quantity, &s.To.quantity, &s.Preferred.quantity)
		}
		for _, t := range p.turns() {
			rangeSense(r, &t.From.quantity, &t.To.quantity, &t.Preferred.quantity)
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
		case p.name() == nil: // of no kind: reported already
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

// rangeSense reports a setting whose ends are out of order, or that is preferred outside
// of them.
func rangeSense[K kinded](r *reader, from, to, preferred *quantity[K]) {
	if !from.valid || !to.valid {
		return
	}
	switch {
	case from.value >= to.value:
		r.senseless(to.At, quoted(to.text), "more than from, "+from.text)
	case preferred.valid && (preferred.value < from.value || preferred.value > to.value):
		r.senseless(preferred.At, quoted(preferred.text), "from "+from.text+" to "+to.text)
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

// form returns the form of the part's kind; the zero Value if it is of no kind.
func (p *partForm) form() reflect.Value {
	v := reflect.ValueOf(p).Elem()
	for _, f := range shapeOf(v.Type()).fields {
		if part := v.FieldByIndex(f.index); !part.IsNil() {
			return part.Elem()
		}
	}
	return reflect.Value{}
}

// name returns the name of the part, or nil if it is of no kind.
func (p *partForm) name() *partName {
	form := p.form()
	if !form.IsValid() {
		return nil
	}
	return form.FieldByName("Name").Addr().Interface().(*partName)
}

// place returns where the part is, under the key of its kind.
func (p *partForm) place() spot { return p.name().At.parent() }

func (p *partForm) slides() []*slideForm { return settingsOf[slideForm](p.form()) }
func (p *partForm) turns() []*turnForm   { return settingsOf[turnForm](p.form()) }

// settingsOf returns the settings of a kind that a part has.
func settingsOf[T any](part reflect.Value) []*T {
	var all []*T
	for i := range part.NumField() {
		if part.Field(i).Type() != reflect.TypeFor[*T]() || part.Field(i).IsNil() {
			continue
		}
		all = append(all, part.Field(i).Interface().(*T))
	}
	return all
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
