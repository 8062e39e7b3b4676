package document

import (
	"cmp"
	"slices"

	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// Clearance is the clearance of a keep-clear zone.
type Clearance struct {
	// Name of the zone.
	Zone string `json:"zone"`
	// The part that comes nearest: "housing" or a part of the mount.
	Part string `json:"part"`
	// Name of the posture in which the clearance is least.
	Posture string `json:"posture"`
	// The clearance; negative where the two overlap.
	ClearanceMM float64 `json:"clearance_mm"`
	// The required clearance.
	RequiredMM float64 `json:"required_mm"`
	// True when the clearance is less than that.
	TooClose bool `json:"too_close"`
	// True when the zone was not measured.
	Assumed bool `json:"assumed"`
}

func newClearances(r *fit.Result) []Clearance {
	job := r.Job
	return each(r.Clearances, func(g fit.Clearance) Clearance {
		return Clearance{
			Zone: g.KeepClear.Name, Part: g.Part, Posture: job.Postures[g.Posture].Name,
			ClearanceMM: plain(g.MM), RequiredMM: g.KeepClear.RequiredMM, TooClose: g.TooClose(), Assumed: g.KeepClear.Assumed,
		}
	})
}

// nearestFirst returns clearances in the order of what they have to spare.
func nearestFirst(all []Clearance) []Clearance {
	return slices.SortedStableFunc(slices.Values(all), func(a, b Clearance) int { return cmp.Compare(a.spareMM(), b.spareMM()) })
}

func (c *Clearance) spareMM() float64 { return c.ClearanceMM - c.RequiredMM }

// tightMM is up to which spare clearance a zone is shown in the short form: what a
// person who shifts in the seat takes up. A choice of this tool, no source.
const tightMM = 25

// clearances lists the keep-clear zones, the tightest first.
func (r *Report) clearances() Section {
	s := Section{ID: SectionClearances, Title: "Clearances", Brief: true}
	for i, c := range nearestFirst(r.Clearances) {
		s.line(c.words(len(r.Postures) > 1))
		s.Lines[i].Full = i > 0 && c.spareMM() > tightMM
	}
	if r.Ground != nil {
		s.line(r.Ground.words(len(r.Postures) > 1 || r.Ground.Posture == levelPosture))
		s.Lines[len(s.Lines)-1].Full = true
	}
	return s
}

func (c *Clearance) words(several bool) Text {
	part, at := settingName(c.Part), ""
	if several {
		at = ", " + c.Posture
	}
	if c.Assumed {
		at += ", zone assumed"
	}
	gap := Say("%s from the %s", Length(c.ClearanceMM), part)
	switch {
	case c.ClearanceMM < 0:
		gap = Say("overlaps the %s by %s", part, Length(-c.ClearanceMM))
	case c.TooClose:
		gap = Say("only %s", gap)
	}
	return Say("%s: %s (required %s%s).", c.Zone, gap, Length(c.RequiredMM), at)
}

// levelPosture stands for the untilted chair where that is no posture of the case.
const levelPosture = "seat level"

// newGround returns the ground clearance of a mount on a chair, over the postures in which it
// is used and with the seat level; nil of any other.
func newGround(r *fit.Result, there circumstances) *Clearance {
	from := r.Ground
	if from == nil || !there.onChair() {
		return nil
	}
	required := r.Job.Passage.GroundMM
	return &Clearance{
		Zone: "floor", Part: from.Part, Posture: cmp.Or(postureName(r.Job, from.Posture), levelPosture),
		ClearanceMM: plain(from.MM), RequiredMM: required, TooClose: from.TooClose(required),
	}
}

// nearLevel reports whether the mount is too near to the floor with the seat level alone: in a
// posture that is a reason not to use it.
func (r *Report) nearLevel() bool {
	return r.Ground != nil && r.Ground.TooClose && r.Ground.Posture == levelPosture
}

// Obstacle is a keep-clear zone that holds the screen back: with the mount set
// as if there were no keep-clear zone, something would come too near to it.
type Obstacle struct {
	// Name of the zone.
	Zone string `json:"zone"`
	// What would come too near: "housing" or a part of the mount.
	Part string `json:"part"`
	// Name of the posture in which it would come nearest.
	Posture string `json:"posture"`
	// By how much it would come nearer than is to be kept.
	ShortMM float64 `json:"short_mm"`
	// Least margin possible without this zone, all others kept clear.
	MarginMM float64 `json:"margin_without_mm"`
	// True when everything would work without it.
	Works bool `json:"works_without"`
	// The shortest way to take the zone out of the way of the mount as that would
	// then be set, in plain words; absent when none of up to half a meter does, or
	// when the zone moves with the body.
	Way string `json:"out_of_the_way,omitempty"`
	// How far that is; absent when there is no way.
	WayMM float64 `json:"out_of_the_way_mm,omitempty"`
}

func newObstacles(r *fit.Result) []Obstacle {
	job := r.Job
	return each(r.InTheWay, func(o fit.Obstacle) Obstacle {
		obstacle := Obstacle{
			Zone: o.KeepClear.Name, Part: o.Part, Posture: job.Postures[o.Posture].Name,
			ShortMM: plain(o.ShortMM), MarginMM: plain(o.MarginMM), Works: o.Works,
		}
		if o.Out != fit.NoWay {
			obstacle.Way, obstacle.WayMM = o.Out.String(), o.OutMM
		}
		return obstacle
	})
}

// obstacles says what the keep-clear zones cost that hold the screen back.
func (r *Report) obstacles() Section {
	s := Section{Title: "Keep-clear zones in the way", Note: Say("what one zone alone costs, all others kept clear"), Full: true}
	for _, o := range r.Obstacles {
		s.line(Join(" ", Say("%s: %s The %s would come %s too near.", o.Zone, r.without(&o), settingName(o.Part), Length(o.ShortMM)), o.remedy()))
	}
	return s
}

// without says what there would be without a zone.
func (r *Report) without(o *Obstacle) Text {
	switch {
	case o.Works && !r.Works:
		return Say("without it everything would work, margin %s.", Margin(o.MarginMM))
	case Length(o.MarginMM).In(units.MM) == Length(r.MarginMM).In(units.MM):
		return Say("removing it alone would change nothing.")
	}
	return Say("without it the margin would be %s instead of %s.", Margin(o.MarginMM), Margin(r.MarginMM))
}

// remedy says where the zone would be out of the way; empty when it is not known. A zone may
// be a thing or a limb, which the case does not say.
func (o *Obstacle) remedy() Text {
	if o.Way == "" {
		return Text{}
	}
	return Say("%s: moved %s %s, it would be out of the way. Never force a limb.", o.Zone, Length(o.WayMM), o.Way)
}
