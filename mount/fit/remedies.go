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

// Advise returns a result with what would help: the remedies of its reasons and, where the job
// was solved, the limits and the keep-clear zones in the way. It tries them, which can take longer than to
// solve the job. It ends soon after ctx, with the error of that.
func Advise(ctx context.Context, r *Result) (*Result, error) {
	if err := r.checkOwn(); err != nil {
		return nil, err
	}
	own, b := *r, r.problem
	own.Reasons = slices.Clone(r.Reasons)
	for i := range own.Reasons {
		why := &own.Reasons[i]
		if why.Kind != NearFloor && !why.OfStrength() {
			continue
		}
		sagging, err := b.withDevice(r.Set.Chain)
		if err != nil {
			return nil, err
		}
		if why.Kind == NearFloor {
			why.Remedies = offTheFloor(b, r.Set, sagging, why.Part)
		} else {
			why.Remedies = (&strength{problem: b, sagging: sagging, set: r.Set, why: *why}).remedies(ctx, r.Load)
		}
	}
	if r.limits != nil {
		set := *r.Set
		set.BindingLimits = r.limits()
		own.Set = &set
	}
	err := ctx.Err()
	if err == nil && b.free != nil && (b.crowded || slices.ContainsFunc(r.Clearances, Clearance.TooClose)) {
		own.InTheWay, err = obstaclesOf(ctx, b, r)
	}
	return &own, err
}

// strength is a mount as it is set of which something fails under its load.
type strength struct {
	*problem
	sagging *LoadedMount // with the device on it
	set     *Set
	why     Reason
}

// bears reports whether what fails bears its load at other settings.
func (s *strength) bears(sagging *LoadedMount, set mount.Settings) bool {
	l, err := loadOf(s.problem, sagging, set)
	if err != nil {
		return false
	}
	return slices.ContainsFunc(l.bearing(nil, s.job.Demand), func(b borne) bool {
		return b.Kind == s.why.Kind && b.At == s.why.At && b.used <= bearsAll
	})
}

// bearsWith reports whether it does so with another chain.
func (s *strength) bearsWith(chain mount.Chain) bool {
	sagging, err := newLoadedMount(s.postures, chain)
	return err == nil && s.bears(sagging, s.set.Settings)
}

// remedies returns changes that would each remove the failure: ratings that follow from the
// load, and others that have been tried.
func (s *strength) remedies(ctx context.Context, load *Load) []Remedy {
	out := s.lighter()
	if s.why.Kind != PartOverloaded {
		out = append(out, s.slidden(ctx)...)
	}
	shock, safety := s.job.Demand.Factors()
	switch s.why.Kind {
	case TubeYields:
		t := load.Tubes[s.why.At]
		out = append(out, Remedy{Kind: TubeRatedFor, To: tenthUp(t.MomentNM * shock * safety)})
	case PartOverloaded:
		out = append(out, Remedy{Kind: PartRatedFor, From: s.why.Limit, To: tenthUp(s.why.Is)})
	case JointSlips:
		j := load.Joints[s.why.At]
		out = append(out, Remedy{Kind: MoreSlipLoad, Joint: s.sagging.chain.Joints[j.Joint], From: j.SlipLoad, To: tenthUp(j.Load * shock)})
	default: // nothing more to change
	}
	return out
}

// tenthUp rounds up to a tenth, in which loads are shown.
func tenthUp(v float64) float64 { return math.Ceil(v*10-1e-9) / 10 }

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

// lastReadable is last for a setting, as the readable value next to it.
func lastReadable(j mount.Joint, from, limit float64, helps func(float64) bool) (float64, bool) {
	v, ok := last(from, limit, helps)
	if !ok {
		return 0, false
	}
	below, above := j.Neighbors(v)
	if v = above; limit < from {
		v = below
	}
	return v, helps(v)
}

// deviceStepKG is the step to which the mass of a device is rounded.
const deviceStepKG = 0.05

// lighter returns what a device may weigh.
//
// Moments and forces are affine in its mass, and utilization goes by their greatest size,
// which is convex. So where the load is borne without a device there is one greatest
// mass, and every smaller one is borne too.
func (s *strength) lighter() []Remedy {
	full := s.job.Device.Screen.MassKG
	helps := func(kg float64) bool { return s.bearsWith(s.withDevice(kg)) }
	if full == 0 {
		return nil
	}
	kg, ok := last(full, 0, helps)
	kg = deviceStepKG * math.Floor(kg/deviceStepKG+1e-9)
	if !ok || kg <= 0 || !helps(kg) {
		return nil
	}
	return []Remedy{{Kind: LighterDevice, From: full, To: kg}}
}

// ownPart is the least share of the mass on the plate that can be the plate's own: less is
// rounding.
const ownPart = 1e-9

// withDevice returns the chain with a device of another mass, its center in the
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

// slidden returns the slides that remove the failure, and how far each must be moved, with
// what a full re-setup gives in which it goes no further.
func (s *strength) slidden(ctx context.Context) []Remedy {
	var out []Remedy
	for i, j := range s.sagging.chain.Moving() {
		if j.Motion != mount.Slide || j.Indexed {
			continue
		}
		set := slices.Clone(s.set.Settings)
		from := set[i]
		for _, limit := range []float64{j.Low, j.High} {
			to, ok := lastReadable(j, from, limit, func(v float64) bool {
				set[i] = v
				return s.bears(s.sagging, set)
			})
			if ok {
				out = append(out, Remedy{Kind: SlideFurther, Joint: j, From: from, To: to})
			}
		}
	}
	_ = parallel.Each(ctx, len(out), 0, func(i int) error { // its caller asks ctx
		own, ok := s.limited(&out[i])
		if !ok {
			return nil
		}
		if full, err := solve(ctx, own, s.variant(s.set.Mounting)); err == nil && full.Works {
			out[i].Works, out[i].MarginMM = true, full.MarginMM()
		}
		return nil
	})
	return out
}

// limited returns the job with the slide of a tube that goes no further than r moves it.
func (s *strength) limited(r *Remedy) (*Job, bool) {
	own, there := *s.job, *s.job.Mount
	there.Kit.Parts = slices.Clone(there.Kit.Parts)
	own.Mount = &there
	for i, p := range there.Kit.Parts {
		tube, ok := p.(mount.Tube)
		if !ok || !strings.HasPrefix(r.Joint.Name, tube.Name+".") {
			continue
		}
		if r.To < r.From {
			tube.Slide.High = r.To
		} else {
			tube.Slide.Low = r.To
		}
		tube.Slide.Preferred = min(max(tube.Slide.Preferred, tube.Slide.Low), tube.Slide.High)
		there.Kit.Parts[i] = tube
		return &own, tube.Slide.Low < tube.Slide.High
	}
	return nil, false
}

// offTheFloor returns what keeps a part as high above the floor as required: the least move of
// its slide, nothing else changed; nothing when the part is too long for that.
func offTheFloor(b *problem, set *Set, sagging *LoadedMount, part string) []Remedy {
	for _, span := range set.Chain.Spans {
		if span.Part != part || span.Slide < 0 {
			continue
		}
		j, s := set.Chain.Moving()[span.Slide], slices.Clone(set.Settings)
		to, ok := lastReadable(j, set.Settings[span.Slide], j.High, func(v float64) bool {
			s[span.Slide] = v
			poses, err := sagging.Poses(s)
			if err != nil {
				return false
			}
			return !b.ground(poses.tubes).TooClose(b.job.Passage.GroundMM)
		})
		if ok {
			return []Remedy{{Kind: SlideFurther, Joint: j, From: set.Settings[span.Slide], To: to}}
		}
	}
	return nil
}
