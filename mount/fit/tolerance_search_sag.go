package fit

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount"
	"sightpost/mount/tube"
)

// drift is how what weight does to a mount changes with one setting, all others as set:
// bounds that hold over the whole range of the setting.
//
// They are found by looking at places spread over the range. The sag is a polynomial of a
// slide, or of the sine and cosine of a turn, of the fourth degree at most: a load moves
// by the first, turns by the first what gives under it, and that moves by two more what
// is beyond. Between places h apart the slope of such a polynomial is at most twice the
// greatest mean slope from place to place if h is at most a quarter of a radian
// (S. Bernstein's inequality for the second derivative, |p”| <= 4 max |p'|, which is for
// a whole turn and taken for granted of a part), or a twentieth of the length of a slide
// (A. Markov's, |p”| <= 9 max |p'| for a length of 2; both from memory). That stresses,
// which are roots of such polynomials, and moments keep the bound as well is assumed.
type drift struct {
	screen sagRate
	// pointMM bounds how fast a point of the housing or of a tube moves for the sag
	// changing (mm for each unit), mostMM how far it is from where it would be without load.
	pointMM, mostMM float64
	// nearMM is pointMM for the near end of each tube: what stands on the floor stays.
	nearMM []float64
	// used is at every place the greatest part of what something can bear that is taken
	// up; the part of nothing changes faster than usedRate (for each unit).
	used     []float64
	usedRate float64
	step     float64 // from place to place
}

const (
	// driftTurn and driftSlides are how far apart the places are: radians, and how many
	// of them a slide has.
	driftTurn   = 0.25
	driftSlides = 20
	// steeper is by how much a slope between two places may exceed the mean.
	steeper = 2
	// farther is the same for how far a point between those looked at is moved.
	farther = 1.5
)

// places returns in how many steps a joint's range is looked at; 0 without one.
func places(j mount.Joint) int {
	switch {
	case !(j.High > j.Low):
		return 0
	case j.Motion == mount.Turn:
		return int(math.Ceil((j.High - j.Low) / driftTurn))
	default:
		return driftSlides
	}
}

// measure returns the drift of the setting.
func (w *wandering) measure() (drift, error) {
	d := drift{nearMM: make([]float64, len(w.runs))}
	n := places(w.joint)
	if n > 0 {
		d.step = (w.joint.High - w.joint.Low) / float64(n)
	}
	var was, is []drifted
	var usedWas, usedIs []float64
	for i := 0; i <= n; i++ {
		var err error
		if is, usedIs, err = w.lookAt(min(w.joint.Low+float64(i)*d.step, w.joint.High), is[:0], usedIs[:0]); err != nil {
			return d, err
		}
		d.farthest(is, w.cornerMM())
		most := 0.0
		for k, u := range usedIs {
			most = max(most, u)
			if i > 0 {
				d.usedRate = max(d.usedRate, steeper*math.Abs(u-usedWas[k])/d.step)
			}
		}
		d.used = append(d.used, most)
		if i > 0 {
			d.steepest(was, is, w.cornerMM())
		}
		was, is, usedWas, usedIs = is, was, usedIs, usedWas
	}
	return d, nil
}

// cornerMM returns how far the housing's corners are from the screen's middle.
func (w *wandering) cornerMM() float64 {
	return r3.Norm(w.housing.Pose.At) + r3.Norm(w.housing.HalfMM)
}

// drifted is by how much load moves something: a point of a tube (mm), or the screen, whose
// middle it shifts and which it turns (radians).
type drifted struct{ shift, turn r3.Vec }

// alongTube is at how many points of a tube is looked: its near end, its middle beyond
// what holds it, and its far end.
const alongTube = 3

// farthest takes in how far something is moved.
func (d *drift) farthest(all []drifted, cornerMM float64) {
	for _, m := range all {
		d.mostMM = max(d.mostMM, farther*(r3.Norm(m.shift)+r3.Norm(m.turn)*cornerMM))
	}
}

// steepest takes in how much faster something moves from one place to the next.
func (d *drift) steepest(was, is []drifted, cornerMM float64) {
	parts := 1 + alongTube*len(d.nearMM)
	for k := range is {
		shift := steeper * r3.Norm(r3.Sub(is[k].shift, was[k].shift)) / d.step
		turn := steeper * r3.Norm(r3.Sub(is[k].turn, was[k].turn)) / d.step
		switch part := k%parts - 1; {
		case part < 0:
			d.screen.shift, d.screen.turn = max(d.screen.shift, shift), max(d.screen.turn, turn)
		case part%alongTube == 0:
			near := &d.nearMM[part/alongTube]
			*near = max(*near, shift)
		}
		d.pointMM = max(d.pointMM, shift+turn*cornerMM)
	}
}

// lookAt appends how the load moves the screen, then the tubes, in every posture, and
// what it takes up of what they bear, where the setting is v.
func (w *wandering) lookAt(v float64, all []drifted, used []float64) ([]drifted, []float64, error) {
	w.at[w.setting] = v
	for i, g := range w.sagging.gravity {
		if i > 0 && g == w.sagging.gravity[i-1] {
			continue
		}
		if err := w.sagging.model.At(&w.here, w.at, g); err != nil {
			return all, used, fmt.Errorf("%w: %w", ErrJob, err)
		}
		used = w.usedHere(used)
		all = append(all, drifted{w.here.Screen.ShiftMM, w.here.Screen.Turn})
		for t := range w.sagging.chain.Spans {
			run := w.runs[t]
			if run.slide == w.setting {
				run.lengthMM += v - w.set[w.setting]
			}
			for _, mm := range [alongTube]float64{min(run.lengthMM-run.totalMM, 0), run.lengthMM / 2, run.lengthMM} {
				all = append(all, drifted{shift: w.sagging.model.Along(t, mm).Sag.ShiftMM})
			}
		}
	}
	return all, used, nil
}

// usedHere appends the parts of what everything can bear that the load last looked at
// takes up.
func (w *wandering) usedHere(used []float64) []float64 {
	d := w.job.Demand
	for _, t := range w.here.Tubes {
		used = append(used, d.UsedOfTube(t))
	}
	for _, j := range w.here.Joints {
		used = append(used, d.UsedOfJoint(j))
	}
	for _, p := range w.here.Parts {
		used = append(used, d.UsedOfPart(p))
	}
	return append(used, share(r3.Norm(w.here.Screen.Turn), tube.SmallTurn.Radians()))
}

// run is the length of a tube beyond what holds it (mm), which of the settings makes it
// longer, -1 if none, and its whole length, 0 if not known.
type run struct {
	lengthMM, totalMM float64
	slide             int
}

// measureRuns returns the lengths of all tubes as set.
func (s *setMount) measureRuns() ([]run, error) {
	links, err := s.sagging.chain.Links(s.set)
	if err != nil {
		return nil, err
	}
	out := make([]run, len(links))
	for t, l := range links {
		span := &s.sagging.chain.Spans[t]
		out[t] = run{l.Curve.LengthMM(), span.TotalMM, span.Slide}
	}
	return out, nil
}
