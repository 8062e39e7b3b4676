package fit

import (
	"fmt"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/tube"
)

// Load is what weight does to the mount in all postures in which it is set as given,
// whether these must work or not, on level ground unless said otherwise.
type Load struct {
	// Tubes, Joints and Parts are the worst of every tube, joint and part over the
	// postures; Posture of each is the place of that posture in the job's.
	Tubes  []TubeLoad
	Joints []JointLoad
	Parts  []tube.Carry
	// Weakest is the place in Joints of the joint that slips first; -1 when no
	// joint is known to hold a given load.
	Weakest int
	// Lines are the places along the mount, from the clamp outward, in the posture
	// in which the screen sags most, which is Posture.
	Lines   []tube.Bent
	Posture int
	// CarriedKG is all that hangs on what the mount is clamped to: parts, tubes and device.
	CarriedKG float64
	// Turn is the most that the screen turns under its load, in the posture at
	// TurnPosture.
	Turn        frame.Angle
	TurnPosture int
}

// TubeLoad is the greatest stress of a tube, in the posture where it is greatest.
type TubeLoad struct {
	tube.Stress
	Posture int
}

// JointLoad is the greatest load on a joint, in the posture where it is greatest.
type JointLoad struct {
	tube.JointLoad
	Name    string
	Posture int
}

// Factors returns by how much rough ground multiplies every weight, and by how much
// yield must exceed stress: both 1 or more.
func (d Demand) Factors() (shock, safety float64) {
	return max(d.ShockFactor, 1), max(d.SafetyFactor, 1)
}

// UsedOfTube returns the part of its yield that a tube's stress takes up on rough
// ground, safety included: the tube is too weak above 1. It is 0 when the yield is not
// known.
func (d Demand) UsedOfTube(s tube.Stress) float64 {
	shock, safety := d.Factors()
	return share(s.MPa*shock*safety, s.YieldMPa)
}

// UsedOfJoint returns the part of its slip load that a joint's load takes up on rough
// ground: the joint slips above 1. It is 0 when the slip load is not known.
func (d Demand) UsedOfJoint(j tube.JointLoad) float64 {
	shock, _ := d.Factors()
	return share(j.Load*shock, j.SlipLoad)
}

// UsedOfPart returns the part of its rating that a part carries: it is overloaded above
// 1. Ratings are for use, so rough ground does not count. It is 0 when it is not rated.
func (d Demand) UsedOfPart(c tube.Carry) float64 { return share(c.KG, c.RatedKG) }

// share returns acts as a part of bears; 0 when that is not known.
func share(acts, bears float64) float64 {
	if bears == 0 {
		return 0
	}
	return acts / bears
}

// loadOf returns what weight does to a mount at settings set, without the places along it.
func loadOf(b *problem, s *LoadedMount, set mount.Settings) (*Load, error) {
	l := &Load{Weakest: -1, Posture: b.asSet[0]}
	var here tube.Load
	deepest, most := -1.0, 0.0
	for _, i := range b.asSet {
		if err := s.model.At(&here, set, s.gravity[i]); err != nil {
			return nil, fmt.Errorf("%w: %w", ErrJob, err)
		}
		l.worsen(&here, s.chain.Joints, i)
		if mm := r3.Norm(here.Screen.ShiftMM); mm > deepest {
			deepest, l.Posture = mm, i
		}
	}
	l.CarriedKG = s.model.CarriedKG()
	for k, j := range l.Joints {
		if used := j.Utilization(); used > most {
			most, l.Weakest = used, k
		}
	}
	return l, nil
}

// worsen takes in the load of a posture where it is worse than in those before.
func (l *Load) worsen(here *tube.Load, joints []mount.Joint, posture int) {
	for k, t := range here.Tubes {
		if k == len(l.Tubes) {
			l.Tubes = append(l.Tubes, TubeLoad{t, posture})
		} else if gaze.Less(l.Tubes[k].MPa, t.MPa) {
			l.Tubes[k] = TubeLoad{t, posture}
		}
	}
	for k, j := range here.Joints {
		if k == len(l.Joints) {
			l.Joints = append(l.Joints, JointLoad{j, joints[j.Joint].Name, posture})
		} else if gaze.Less(l.Joints[k].Load, j.Load) {
			l.Joints[k] = JointLoad{j, joints[j.Joint].Name, posture}
		}
	}
	l.Parts = append(l.Parts[:0], here.Parts...) // masses, the same in all
	if turn := frame.Angle(r3.Norm(here.Screen.Turn)); turn > l.Turn {
		l.Turn, l.TurnPosture = turn, posture
	}
}

// weigh fills in what weight does to the mount of a result, and what fails under it on
// rough ground.
func weigh(b *problem, r *Result, s *LoadedMount) (err error) {
	if r.Load, err = loadOf(b, s, r.Set.Settings); err != nil {
		return err
	}
	r.Load.Lines, err = s.model.Lines(nil, r.Set.Settings, s.gravity[r.Load.Posture], 0)
	if err != nil {
		return fmt.Errorf("%w: %w", ErrJob, err)
	}
	for _, why := range r.Load.bearing(nil, b.job.Demand) {
		if why.used > bearsAll {
			r.Reasons = append(r.Reasons, why.Reason)
		}
	}
	return nil
}

// bearsAll is the part up to which a thing bears its load: all of it, except for
// rounding.
const bearsAll = 1 + 1e-9

// borne is what bears load, as the reason that it is if it fails, and the part of what it can
// bear that is taken up on rough ground, safety included, or of what the screen may turn on
// level ground; 0 when that is not known.
type borne struct {
	Reason
	used float64
}

// bearing appends to all what bears load: the tubes first, then the joints, the parts and the
// screen.
func (l *Load) bearing(all []borne, d Demand) []borne {
	all = slices.Grow(all, len(l.Tubes)+len(l.Joints)+len(l.Parts)+1)
	for at, t := range l.Tubes {
		why := Reason{Kind: TubeYields, At: at, Part: t.Part, Posture: t.Posture, Is: t.MPa, Limit: t.YieldMPa}
		all = append(all, borne{why, d.UsedOfTube(t.Stress)})
	}
	for at, j := range l.Joints {
		why := Reason{Kind: JointSlips, At: at, Part: j.Name, Posture: j.Posture, Is: j.Load, Limit: j.SlipLoad}
		all = append(all, borne{why, d.UsedOfJoint(j.JointLoad)})
	}
	for at, p := range l.Parts {
		why := Reason{Kind: PartOverloaded, At: at, Part: p.Part, Posture: -1, Is: p.KG, Limit: p.RatedKG}
		all = append(all, borne{why, d.UsedOfPart(p)})
	}
	soft := Reason{Kind: TooSoft, Posture: l.TurnPosture, Is: l.Turn.Radians(), Limit: tube.SmallTurn.Radians()}
	return append(all, borne{soft, share(soft.Is, soft.Limit)})
}
