package document

import (
	"slices"

	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/tube"
	"sightpost/plots/units"
)

// Load is what weight does to the mount: the worst over the postures that must
// work.
type Load struct {
	// By how much rough ground multiplies every weight, for strength and not for
	// sag.
	ShockFactor float64 `json:"shock_factor"`
	// By how much the yield of a tube must exceed its stress.
	SafetyFactor float64 `json:"safety_factor"`
	// Every tube, from the clamp outward.
	Tubes []TubeLoad `json:"tubes"`
	// Every joint that moves, from the clamp outward.
	Joints []JointLoad `json:"joints"`
	// Every part that is rated, from the clamp outward.
	Parts []PartLoad `json:"parts"`
	// Name of the joint that slips first; absent when no slip load is known.
	WeakestJoint string `json:"weakest_joint,omitempty"`
	// What fails or is overloaded, and what would help.
	Problems []Problem `json:"problems"`
}

// TubeLoad is the greatest stress in a tube.
type TubeLoad struct {
	// Name of the part.
	Part string `json:"part"`
	// Name of the posture in which the stress is greatest.
	Posture string `json:"posture"`
	// Where it is greatest: along the middle line, from the point at which the tube
	// is held.
	AtMM float64 `json:"at_mm"`
	// Equivalent stress after von Mises on level ground.
	StressMPa float64 `json:"stress_mpa"`
	// Yield of the material; 0 when it is not known.
	YieldMPa float64 `json:"yield_mpa"`
	// Bending and twisting moment together at that place, on level ground.
	MomentNM float64 `json:"moment_nm"`
	// Part of the yield taken up on rough ground, safety included: the tube is too
	// weak above 1. 0 when the yield is not known.
	Used float64 `json:"utilization"`
}

// JointLoad is the greatest load on a joint.
type JointLoad struct {
	// Name of the setting.
	Joint string `json:"joint"`
	// Name of the posture in which the load is greatest.
	Posture string `json:"posture"`
	// Unit of the loads: moments of turns, forces of slides.
	Unit string `json:"unit" jsonschema:"enum=N m,enum=N"`
	// What would move the joint, on level ground.
	Load float64 `json:"load"`
	// The load at which it slips; absent when it is not known.
	SlipLoad *float64 `json:"slip_load,omitempty"`
	// Share of that taken up on rough ground: the joint slips above 1. Absent when the
	// slip load is not known.
	Used *float64 `json:"utilization,omitempty"`
}

// PartLoad is what a part carries.
type PartLoad struct {
	// Name of the part.
	Part string `json:"part"`
	// Mass of all that it carries beyond itself.
	CarriesKG float64 `json:"carries_kg"`
	// The mass it is made for.
	RatedKG float64 `json:"rated_kg"`
	// Share of that taken up: the part is overloaded above 1.
	Used float64 `json:"utilization"`
}

// Problem is something that fails under load.
type Problem struct {
	// What fails.
	What Finding `json:"what"`
	// What would help.
	Help Finding `json:"help"`
}

// newLoad returns what weight does to the mount of r; nil without a mount.
func newLoad(r *fit.Result) *Load {
	job := r.Job
	if r.Load == nil || r.Set == nil {
		return nil
	}
	from := r.Load
	shock, safety := job.Demand.Factors()
	to := &Load{
		ShockFactor: shock, SafetyFactor: safety, Problems: []Problem{},
		Tubes: each(from.Tubes, func(t fit.TubeLoad) TubeLoad {
			return TubeLoad{
				Part: t.Part, Posture: postureName(job, t.Posture), AtMM: plain(t.AtMM),
				StressMPa: t.MPa, YieldMPa: t.YieldMPa, MomentNM: t.MomentNM, Used: job.Demand.UsedOfTube(t.Stress),
			}
		}),
		Joints: each(from.Joints, func(j fit.JointLoad) JointLoad { return newJointLoad(job, r.Set, j) }),
		Parts: each(from.Parts, func(p tube.Carry) PartLoad {
			return PartLoad{Part: p.Part, CarriesKG: p.KG, RatedKG: p.RatedKG, Used: job.Demand.UsedOfPart(p)}
		}),
	}
	for i := range r.Reasons {
		if why := &r.Reasons[i]; why.OfStrength() && why.Kind != fit.DeviceTooHeavy {
			to.Problems = append(to.Problems, Problem{newReason(r, why), newHelp(r, why)})
		}
	}
	if from.Weakest >= 0 {
		to.WeakestJoint = from.Joints[from.Weakest].Name
	}
	return to
}

func newJointLoad(job *fit.Job, set *fit.Set, j fit.JointLoad) JointLoad {
	load := JointLoad{Joint: j.Name, Posture: postureName(job, j.Posture), Unit: "N m", Load: plain(j.Load)}
	if set.Chain.Joints[j.Joint].Motion == mount.Slide {
		load.Unit = "N"
	}
	if j.SlipLoad > 0 {
		load.SlipLoad, load.Used = &j.SlipLoad, new(job.Demand.UsedOfJoint(j.JointLoad))
	}
	return load
}

// Weakest returns the joint that slips first; nil when no slip load is known.
func (l *Load) Weakest() *JointLoad {
	if i := slices.IndexFunc(l.Joints, func(j JointLoad) bool { return j.Joint == l.WeakestJoint }); i >= 0 {
		return &l.Joints[i]
	}
	return nil
}

// mostTurned returns the turning joint on which the greatest torque acts; nil if none
// does.
func (l *Load) mostTurned() *JointLoad {
	var most *JointLoad
	for i := range l.Joints {
		if j := &l.Joints[i]; j.Unit == "N m" && (most == nil || j.Load > most.Load) {
			most = j
		}
	}
	return most
}

// quantity returns a load on j.
func (j *JointLoad) quantity(v float64) Quantity { return jointLoad(j.Unit == "N", v) }

// jointLoad returns a load on a joint: a force on a slide, otherwise a torque.
func jointLoad(slides bool, load float64) Quantity {
	if slides {
		return Force(load)
	}
	return Torque(load)
}

// weight says how far the screen sags and what the mount carries.
func (r *Report) weight() Section {
	s := Section{ID: SectionWeight, Title: "Weight", Brief: true}
	m := r.Mount
	if m == nil {
		return s
	}
	s.line(r.perPosture(func(p *Posture) Text { return p.Sag.words() })...)
	for i := range s.Lines {
		s.Lines[i].Full = i > 0
	}
	carried := Say("Load %s, rated mass unknown.", Mass(m.LoadKG))
	if m.RatedKG > 0 {
		carried = Say("Load %s, rated %s.", Mass(m.LoadKG), Mass(m.RatedKG))
	}
	s.line(Join(" ", carried, r.Load.weakestWords()))
	return s
}

// words says how far a screen sags: what shows in the last digit.
func (s *Sag) words() Text {
	sinks := Say("sinks %s", Length(s.DropMM))
	if s.DropMM < 0 {
		sinks = Say("rises %s", Length(-s.DropMM))
	}
	return Say("Under load the screen %s (included).", Join(
		", ", sinks, Way(s.ForwardMM, "", "forward", "back").said("moves %s"), Way(s.LeftMM, "", "left", "right").said("moves %s"),
		Turn(s.PitchDeg, "", "forward", "back").said("pitches %s"), Turn(s.RollDeg, "", "right end up, for the viewer", "right end down, for the viewer").said("rolls %s"),
		Turn(s.YawDeg, "", "right", "left").said("yaws %s")))
}

// weakestWords says which joint slips first; l may be nil.
func (l *Load) weakestWords() Text {
	if l == nil {
		return Text{}
	}
	if j := l.Weakest(); j != nil {
		format, acts := "Weakest joint: %s (%s of slip %s).", "torque"
		if *j.Used > 1+1e-9 {
			format = "The %s slips (%s of slip %s)."
		}
		if j.Unit == "N" {
			acts = "force"
		}
		return Say(format, settingName(j.Joint), Utilization(*j.Used), acts)
	}
	if j := l.mostTurned(); j != nil {
		return Say("The kit gives no slip torques: test every joint by hand, first the %s, which carries %s.", settingName(j.Joint), j.quantity(j.Load))
	}
	return Text{}
}

// strength says what every tube, joint and part bears and carries.
func (r *Report) strength() Section {
	s := Section{Title: "Strength", Full: true}
	l := r.Load
	if l == nil {
		return s
	}
	s.Note = Say("on level ground; utilization on rough ground, shock factor %s, safety factor of tubes %s", units.UpTo(l.ShockFactor, 2), units.UpTo(l.SafetyFactor, 2))
	s.Head = []string{"", "", "load", "allowable", "utilization"}
	for _, j := range l.Joints {
		holds, used := Say("unknown"), Text{}
		if j.SlipLoad != nil {
			holds, used = Say("%s", j.quantity(*j.SlipLoad)), Say("%s", Utilization(*j.Used))
		}
		s.row("joint", settingName(j.Joint), j.quantity(j.Load), holds, used)
	}
	for _, t := range l.Tubes {
		bears, used := Say("unknown"), Text{}
		if t.YieldMPa > 0 {
			bears, used = Say("%s", Stress(t.YieldMPa)), Say("%s", Utilization(t.Used))
		}
		s.row("tube", settingName(t.Part), Stress(t.StressMPa), bears, used)
	}
	for _, p := range l.Parts {
		s.row("part", settingName(p.Part), Mass(p.CarriesKG), Mass(p.RatedKG), Utilization(p.Used))
	}
	return s
}
