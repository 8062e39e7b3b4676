package fit

import (
	"fmt"
	"slices"

	"sightpost/mount"
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

// what says what fails and by how much.
func (s *strength) what(f failure) string {
	switch f.kind {
	case yields:
		return s.yield(s.load.Tubes[f.at])
	case slips:
		return s.slip(s.load.Joints[f.at])
	case overloaded:
		p := s.load.Parts[f.at]
		return fmt.Sprintf("the %s carries %.2f kg and is made for %.2f kg", p.Part, p.KG, p.RatedKG)
	default:
		return fmt.Sprintf("the mount is too soft in posture %q: the screen turns by %.1f° under its load, and beyond %.0f° nobody can tell where it comes to stand",
			s.posture(s.load.TurnPosture), s.load.Turn.Degrees(), tube.SmallTurn.Degrees())
	}
}

func (s *strength) yield(t TubeLoad) string {
	d := s.job.Demand
	stressed := fmt.Sprintf("it is stressed by %.0f N/mm²", t.MPa)
	if d.shock() > 1 {
		stressed = fmt.Sprintf("it is stressed by %.0f N/mm² on level ground and %.0f N/mm² on rough ground, where weights count %.3g times",
			t.MPa, t.MPa*d.shock(), d.shock())
	}
	safety := ""
	if d.safety() > 1 {
		safety = fmt.Sprintf("; %.0f N/mm² is wanted, %.3g times the stress", t.MPa*d.shock()*d.safety(), d.safety())
	}
	return fmt.Sprintf("the tube of the %s is too weak in posture %q: %s, and yields at %.0f N/mm²%s",
		t.Part, s.posture(t.Posture), stressed, t.YieldMPa, safety)
}

func (s *strength) slip(j JointLoad) string {
	bump, unit := s.job.Demand.shock(), unitOf(s.sagging.chain.Joints[j.Joint])
	if bump == 1 {
		return fmt.Sprintf("%s slips in posture %q: %.1f %s act on it and it holds %.1f %s",
			j.Name, s.posture(j.Posture), j.Load, unit, j.SlipLoad, unit)
	}
	ground := ""
	if j.Utilization() <= bearsAll {
		ground = " on rough ground"
	}
	return fmt.Sprintf("%s slips%s in posture %q: %.1f %s act on it on level ground and %.1f %s on rough ground, where weights count %.3g times, and it holds %.1f %s",
		j.Name, ground, s.posture(j.Posture), j.Load, unit, j.Load*bump, unit, bump, j.SlipLoad, unit)
}

func (s *strength) posture(i int) string { return s.stances[i].Posture.Name }

// unitOf returns the unit of what acts on a joint.
func unitOf(j mount.Joint) string {
	if j.Motion == mount.Slide {
		return "N"
	}
	return "N m"
}
