package casefile

import (
	"errors"
	"math"
	"slices"
	"strings"

	"sightpost/mount"
	"sightpost/plots/units"
)

// kitSense reports what is wrong with a kit although every entry by itself is
// right. What needs geometry is left to [mount.Kit.Check], whose faults are put
// where the part is.
func (r *reader) kitSense(k *node) {
	parts := k.list("parts")
	r.partOrder(parts)
	r.distinct(parts)
	for _, item := range parts {
		p := item.part()
		if p == nil {
			continue
		}
		for _, f := range p.row.Fields {
			if s := p.get(f.Key); s.isSetting() {
				r.preferredSense(s)
				r.stopsSense(s)
			}
		}
		r.tubeSense(p)
	}
	if len(parts) > 0 && r.sound(k) {
		r.checkKit(k)
	}
}

// sound reports whether a kit has no problem of its own, in whatever file it is.
func (r *reader) sound(k *node) bool {
	return !slices.ContainsFunc(r.problems, func(p Problem) bool {
		return p.File == k.at.File && strings.HasPrefix(p.Key, k.at.Key)
	})
}

func (r *reader) partOrder(parts []*node) {
	last := len(parts) - 1
	for i, p := range parts {
		switch {
		case p.part() == nil: // of no kind: reported already
		case i == 0 && !p.has("clamp"):
			r.senseless(p.at, "a kit that does not begin with a clamp", "clamp as the first part")
		case i > 0 && p.has("clamp"):
			r.senseless(p.get("clamp").at, "a clamp beyond the first part", "one clamp, as the first part")
		case i == last && !p.has("plate"):
			r.senseless(p.at, "a kit that does not end with a plate", "plate as the last part")
		case i < last && p.has("plate"):
			r.senseless(p.get("plate").at, "a plate before the last part", "one plate, as the last part")
		}
	}
}

// preferredSense reports a setting that is preferred outside of its limits.
func (r *reader) preferredSense(s *node) {
	from, to, preferred := s.get("from"), s.get("to"), s.get("preferred")
	if from.ok() && to.ok() && preferred.ok() && from.Low < to.Low && (preferred.Low < from.Low || preferred.Low > to.Low) {
		r.senseless(preferred.at, quoted(preferred.text), "from "+from.text+" to "+to.text)
	}
}

// stopsSense reports stops of which the last is the first again.
func (r *reader) stopsSense(s *node) {
	from, to, every := s.get("from"), s.get("to"), s.get("stops_every")
	if s.row.form != "turn" || !from.ok() || !to.ok() || !every.ok() {
		return
	}
	const whole, slack = 360, 1e-6 // degrees
	if to.Low-from.Low >= whole && math.Abs(math.Remainder(whole, every.Low)) <= slack {
		last := to.row.of.unitOf(to.text).bound(from.Low+whole-every.Low, math.Round)
		r.senseless(to.at, quoted(to.text), "at most "+last+": the stop a whole turn from the first is the first again")
	}
}

func (r *reader) tubeSense(p *node) {
	outside, wall, bends, radius := p.get("tube.outside"), p.get("tube.wall"), p.list("bends"), p.get("bend_radius")
	r.compare(wall, outside, func(wall, outside float64) bool { return 2*wall <= outside }, "at most half of the outside diameter, %s")
	if len(bends) > 0 { // geometry needs half of it only; that no bender bends tighter is common practice, no source
		r.compare(radius, outside, func(radius, outside float64) bool { return radius >= outside }, "at least the outside diameter, %s: a tube that is bent tighter folds")
	}
	if r.sound(p) {
		r.offsetSense(p)
	}
	if r.sound(p) {
		r.lengthSense(p)
		r.massSense(p)
	}
}

// mostOff is how many times heavier or lighter than computed a tube may be weighed before
// it is warned of: a choice of this tool, no source.
const mostOff = 2

// massSense warns of a weighed tube that its section, length and material do not explain.
func (r *reader) massSense(p *node) {
	weighed := p.get("mass")
	if weighed == nil || p.row.Key != "post" && p.row.Key != "arm" {
		return
	}
	if kg := p.tubeKG(p.section()); weighed.Low > mostOff*kg || weighed.Low < kg/mostOff {
		const grams = 1000
		u := mass.unitOf(weighed.text)
		r.warn(weighed.at, quoted(weighed.text), "about "+u.atMost(math.Round(kg*grams)/grams)+" by section, length and material; weigh again")
	}
}

// offsetSense reports bends whose offset leaves no tube between them.
func (r *reader) offsetSense(p *node) {
	bends := p.list("bends")
	for i, b := range bends {
		offset := b.get("offset")
		switch {
		case offset == nil:
		case i == 0:
			r.senseless(offset.at, "an offset of the first bend", "straight, the tube before it")
		case p.straight(i) < 0:
			least := p.corners(i) * math.Sin(bends[i-1].angle("angle").Radians())
			r.senseless(offset.at, quoted(offset.text), "at least "+length.unitOf(offset.text).atLeast(math.Ceil(least))+
				", which bends of "+bends[i-1].get("angle").text+" and "+b.get("angle").text+" with the radius "+p.get("bend_radius").text+" lead aside")
		}
	}
}

// A total may differ from the sum of its straights and bends by this share of it, or by
// these mm, before it counts as measured wrong: choices of this tool, no source.
const totalShare, totalMM = 0.02, 5

// lengthSense reports a tube whose straights and bends do not make up its total: all of
// them in a tube that slides, as the first straight is told from its near end; at most in
// one that is fixed, which may go on behind what holds it.
func (r *reader) lengthSense(p *node) {
	total, shape := p.get("total"), p.shape()
	sum := shape.LengthMM()
	if total == nil || sum == 0 {
		return
	}
	off, slides := total.Low-sum, p.has("height") || p.has("extension")
	if math.Abs(off) <= max(totalMM, totalShare*total.Low) || off > 0 && !slides {
		return
	}
	show := length.unitOf(total.text).told
	var pieces []string
	for _, b := range shape.Bends {
		if b.StraightMM > 0 {
			pieces = append(pieces, "straight "+show(b.StraightMM))
		}
		pieces = append(pieces, "bend "+show(shape.BendRadiusMM*b.Angle.Radians()))
	}
	pieces = append(pieces, "end "+show(shape.EndMM))
	r.senseless(total.at, quoted(total.text), "about "+show(sum)+": "+strings.Join(pieces, " + "))
}

// checkKit reports what [mount.Kit.Check] finds in a kit of sound entries, with lengths in the
// unit of the setting or, where there is none, of the tube.
func (r *reader) checkKit(k *node) {
	var faults mount.Faults
	errors.As(newKit(k).Check(), &faults)
	for _, f := range faults {
		at, in := k.at, length.units[0]
		for _, item := range k.list("parts") {
			if name := item.name(); f.Part != "" && name.Word == f.Part {
				at = name.at.parent()
				s := item.part().get(f.Key)
				if s.isSetting() {
					at = s.at
				}
				for _, n := range []*node{item.part().get("total"), s.get("to")} {
					if n.ok() && n.row.of == length {
						in = length.unitOf(n.text)
					}
				}
			}
		}
		told := in.told
		if in.word != units.Inch.String() { // a step may be finer than a tape
			told = func(mm float64) string { return in.bound(math.Round(10*mm)/10, math.Round) }
		}
		r.senseless(at, "a contradiction ("+f.Words(told)+")", "numbers that fit together")
	}
}
