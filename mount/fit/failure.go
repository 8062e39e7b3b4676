package fit

import (
	"slices"

	"sightpost/mount/tube"
)

// failing is a kind of failure under load.
type failing int

const (
	yields     failing = iota // a tube
	slips                     // a joint
	overloaded                // a part
	droops                    // the screen
)

// failure is something that fails under load: the place of a tube, joint or part in
// a [Load].
type failure struct {
	kind failing
	at   int
}

// used returns the part of what a tube, joint or part can bear that is taken up on
// rough ground, safety included, and of what the screen may turn on level ground; 0
// when it is not known what a thing can bear.
func (l *Load) used(f failure, d Demand) float64 {
	switch f.kind {
	case yields:
		return d.UsedOfTube(l.Tubes[f.at].Stress)
	case slips:
		return d.UsedOfJoint(l.Joints[f.at].JointLoad)
	case overloaded:
		return d.UsedOfPart(l.Parts[f.at])
	default:
		return share(l.Turn.Radians(), tube.SmallTurn.Radians())
	}
}

// bearsAll is the part up to which a thing bears its load: all of it, but for
// rounding.
const bearsAll = 1 + 1e-9

// all returns everything that can fail, the tubes first, then the joints, the parts and
// the screen.
func (l *Load) all() []failure {
	var out []failure
	for kind, n := range []int{yields: len(l.Tubes), slips: len(l.Joints), overloaded: len(l.Parts), droops: 1} {
		for at := range n {
			out = append(out, failure{failing(kind), at})
		}
	}
	return out
}

// failures returns what of all fails.
func (l *Load) failures(d Demand) []failure {
	return slices.DeleteFunc(l.all(), func(f failure) bool { return l.used(f, d) <= bearsAll })
}

// reason returns the failure as a reason.
func (s *strength) reason(f failure) Reason {
	l := s.load
	switch f.kind {
	case yields:
		t := &l.Tubes[f.at]
		return Reason{Kind: TubeYields, At: f.at, Part: t.Part, Posture: t.Posture, Is: t.MPa, Limit: t.YieldMPa}
	case slips:
		j := &l.Joints[f.at]
		return Reason{Kind: JointSlips, At: f.at, Part: j.Name, Posture: j.Posture, Is: j.Load, Limit: j.SlipLoad}
	case overloaded:
		p := &l.Parts[f.at]
		return Reason{Kind: PartOverloaded, At: f.at, Part: p.Part, Posture: -1, Is: p.KG, Limit: p.RatedKG}
	default:
		return Reason{Kind: TooSoft, Posture: l.TurnPosture, Is: l.Turn.Radians(), Limit: tube.SmallTurn.Radians()}
	}
}
