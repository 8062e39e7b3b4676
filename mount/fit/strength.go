package fit

import (
	"context"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount"
	"sightpost/mount/fit/internal/parallel"
)

// strength is a mount as it is set whose failures are to be removed.
type strength struct {
	*problem
	sagging  *LoadedMount // of the mount, with the device on it
	load     *Load        // as it is
	set      mount.Settings
	mounting int
}

// used returns how much of what it can bear a failing thing takes up with another
// chain, infinity when that is impossible.
func (s *strength) used(why *Reason, chain mount.Chain) float64 {
	sagging, err := newLoadedMount(s.postures, chain)
	if err != nil {
		return math.Inf(1)
	}
	return s.usedIn(why, sagging, s.set)
}

// usedIn is used with other settings instead.
func (s *strength) usedIn(why *Reason, sagging *LoadedMount, set mount.Settings) float64 {
	l, err := s.problem.load(sagging, set)
	if err != nil {
		return math.Inf(1)
	}
	return l.used(why, s.job.Demand)
}

// remedies returns changes that would each remove a failure. All have been tried.
func (s *strength) remedies(ctx context.Context, why *Reason) []Remedy {
	var out []Remedy
	add := func(r Remedy, ok bool) {
		if ok {
			out = append(out, r)
		}
	}
	add(s.lighter(why))
	if why.Kind != PartOverloaded {
		out = append(out, s.slidden(ctx, why)...)
	}
	if why.Kind == TubeYields {
		add(s.thickerWall(why))
		add(s.widerTube(why))
	}
	if why.Kind == JointSlips {
		out = append(out, s.firmer(why))
	}
	return out
}

// last returns the value nearest to from that removes a failure, on the way from one that
// does not to one that does, to about a thousandth of the way.
func last(from, to float64, helps func(float64) bool) (float64, bool) {
	if !helps(to) {
		return 0, false
	}
	for range 12 {
		if mid := (from + to) / 2; helps(mid) {
			to = mid
		} else {
			from = mid
		}
	}
	return to, true
}

// deviceStepKG is the step to which the mass of a device is rounded.
const deviceStepKG = 0.05

// lighter returns what a device may weigh.
//
// Moments and forces are affine in its mass, and utilization goes by their greatest size,
// which is convex. So where the load is borne without a device there is one greatest
// mass, and every smaller one is borne too.
func (s *strength) lighter(why *Reason) (Remedy, bool) {
	full := s.job.Device.Screen.MassKG
	if full == 0 {
		return Remedy{}, false
	}
	helps := func(kg float64) bool { return s.used(why, s.withDevice(kg)) <= bearsAll }
	kg, ok := last(full, 0, helps)
	if !ok {
		return Remedy{}, false
	}
	kg = deviceStepKG * math.Floor(kg/deviceStepKG+1e-9)
	if kg <= 0 || !helps(kg) {
		return Remedy{}, false
	}
	return Remedy{Kind: LighterDevice, From: full, To: kg}, true
}

// ownPart is the least share of the mass on the plate that can be the plate's own: less is
// rounding.
const ownPart = 1e-9

// withDevice returns the chain with a device of another mass, its centre in the
// middle of the housing. Other masses on the plate do not change.
func (s *strength) withDevice(kg float64) mount.Chain {
	chain, screen := s.sagging.chain, len(s.sagging.chain.Joints)
	middle, _ := s.job.Device.Screen.Housing()
	all, sum := 0.0, r3.Vec{} // mass, and mass times place
	var plate, device mount.Mass
	chain.Masses = nil
	for _, m := range s.sagging.chain.Masses {
		if m.Carrier != screen {
			chain.Masses = append(chain.Masses, m)
			continue
		}
		all, sum = all+m.KG, r3.Add(sum, r3.Scale(m.KG, m.AtMM))
		if plate.Part == "" {
			plate = m
		}
		device = m // comes last
	}
	full := min(s.job.Device.Screen.MassKG, all)
	if own := all - full; own > ownPart*all {
		plate.KG, plate.AtMM = own, r3.Scale(1/own, r3.Sub(sum, r3.Scale(full, middle)))
		chain.Masses = append(chain.Masses, plate)
	}
	device.KG, device.AtMM = kg, middle
	chain.Masses = append(chain.Masses, device)
	return chain
}

// slidden returns the slides that remove a failure, and how far each must be moved.
func (s *strength) slidden(ctx context.Context, why *Reason) []Remedy {
	type move struct {
		joint    mount.Joint
		from, to float64
	}
	var moves []move
	for i, j := range s.sagging.chain.Moving() {
		if j.Motion != mount.Slide || j.Indexed {
			continue
		}
		set := slices.Clone(s.set)
		helps := func(v float64) bool {
			set[i] = v
			return s.usedIn(why, s.sagging, set) <= bearsAll
		}
		for _, limit := range []float64{j.Low, j.High} {
			v, ok := last(s.set[i], limit, helps)
			if !ok {
				continue
			}
			if v = outward(j, v, limit); helps(v) {
				moves = append(moves, move{j, s.set[i], v})
			}
		}
	}
	out := make([]Remedy, len(moves))
	_ = parallel.Each(ctx, len(moves), 0, func(i int) { // its caller asks ctx
		out[i] = s.slide(ctx, moves[i].joint, moves[i].from, moves[i].to)
	})
	return out
}

// slide returns a slide that is moved to where it removes a failure, with what a full
// re-setup gives in which it goes no further.
func (s *strength) slide(ctx context.Context, j mount.Joint, from, to float64) Remedy {
	r := Remedy{Kind: SlideFurther, Joint: j, From: from, To: to}
	if own, ok := s.limited(j, from, to); ok {
		if full, _, err := solve(ctx, own, solving{mounting: s.mounting, variantOf: s.problem}); err == nil && full.Works {
			r.Works, r.MarginMM = true, full.MarginMM()
		}
	}
	return r
}

// limited returns the job with a slide of a tube that goes no further than to, as it
// moves there from where it is, and with the mount clamped where it is.
func (s *strength) limited(j mount.Joint, from, to float64) (*Job, bool) {
	own, there := *s.job, *s.job.Mount
	there.Kit.Parts = slices.Clone(there.Kit.Parts)
	own.Mount = &there
	for i, p := range there.Kit.Parts {
		tube, ok := p.(mount.Tube)
		if !ok || !strings.HasPrefix(j.Name, tube.Name+".") {
			continue
		}
		if to < from {
			tube.Slide.High = to
		} else {
			tube.Slide.Low = to
		}
		tube.Slide.Preferred = min(max(tube.Slide.Preferred, tube.Slide.Low), tube.Slide.High)
		there.Kit.Parts[i] = tube
		return &own, tube.Slide.Low < tube.Slide.High
	}
	return nil, false
}

// outward returns the readable value next to v toward limit.
func outward(j mount.Joint, v, limit float64) float64 {
	below, above := j.Neighbours(v)
	if limit < v {
		return below
	}
	return above
}

const (
	// sectionStepMM is the step to which walls and diameters are rounded.
	sectionStepMM = 0.1
	// widest is how many times its diameter a tube is tried with.
	widest = 3
)

// thickerWall returns what wall of the same tube would do.
func (s *strength) thickerWall(why *Reason) (Remedy, bool) {
	section := s.sagging.chain.Spans[why.At].Section
	return s.larger(why, ThickerWall, section.WallMM, section.OutsideMM/2-sectionStepMM,
		func(t *mount.Section, mm float64) { t.WallMM = mm })
}

// widerTube returns what outside diameter with the same wall would do, narrow enough for
// the tube's bends.
func (s *strength) widerTube(why *Reason) (Remedy, bool) {
	span := s.sagging.chain.Spans[why.At]
	most := widest * span.Section.OutsideMM
	if len(span.Shape.Bends) > 0 {
		most = min(most, 2*span.Shape.BendRadiusMM-sectionStepMM)
	}
	return s.larger(why, WiderTube, span.Section.OutsideMM, most,
		func(t *mount.Section, mm float64) { t.OutsideMM = mm })
}

// larger returns what larger size of the tube that fails would do, up to a greatest one.
func (s *strength) larger(why *Reason, kind RemedyKind, from, most float64, set func(*mount.Section, float64)) (Remedy, bool) {
	mm, ok := leastSize(from, most, func(mm float64) bool {
		chain := s.sagging.chain
		chain.Spans = slices.Clone(chain.Spans)
		set(&chain.Spans[why.At].Section, mm)
		return s.used(why, chain) <= bearsAll
	})
	return Remedy{Kind: kind, From: from, To: mm}, ok
}

// sizes is in how many steps a larger size is looked for. The largest need not be the
// strongest: a wide tube with a thin wall is stressed more in a narrow bend.
const sizes = 16

// leastSize returns the least size that removes a failure, rounded up.
func leastSize(from, to float64, helps func(float64) bool) (float64, bool) {
	if to <= from {
		return 0, false
	}
	step := (to - from) / sizes
	for k := range sizes {
		below := from + float64(k)*step
		if mm, ok := last(below, below+step, helps); ok {
			mm = sectionStepMM * math.Ceil(mm/sectionStepMM-1e-9)
			return mm, helps(mm)
		}
	}
	return 0, false
}

// firmer returns the slip load that a joint would need, to a tenth of a unit.
func (s *strength) firmer(why *Reason) Remedy {
	j := s.load.Joints[why.At]
	shock, _ := s.job.Demand.Factors()
	need := math.Ceil(j.Load*shock*10-1e-9) / 10
	return Remedy{Kind: MoreSlipLoad, Joint: s.sagging.chain.Joints[j.Joint], From: j.SlipLoad, To: need}
}
