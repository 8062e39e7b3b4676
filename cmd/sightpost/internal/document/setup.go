package document

import (
	"strings"

	"sightpost/gaze"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// setup is what whoever sets a mount needs beyond the numbers of a report.
type setup struct {
	clamp    Text // where the clamp goes; empty without a mount
	bothEyes bool // the tracker must see both
}

func newSetup(job *fit.Job, r *fit.Result) setup {
	s := setup{bothEyes: job.Scene.Person.Eyes == gaze.Both}
	if r.Set == nil || job.Mount == nil {
		return s
	}
	side := "left"
	if r.Set.Side == mount.OnRight {
		side = "right"
	}
	carrier := job.Scene.InCarrier(job.Postures[leading(job)]).Carrier
	m := job.Mount.Mountings[r.Set.Mounting]
	at := carrier.Apply(m.ClampMM)
	by := "on what tilts with the seat"
	if job.Scene.Carrier == gaze.Base {
		by = "on what does not tilt with the seat"
	}
	middle := "its middle"
	if m.SlideLowMM != m.SlideHighMM {
		middle = "its middle, with the position at 0,"
	}
	axes := mount.AxesOf(carrier.Rot.Mul(m.Axes.Rotation()))
	s.clamp = Join(", ", Say("On the person's %s, %s; %s %s above the floor", side, by, middle, Length(at.Z)),
		Say("%s", along(at.X)), Say("%s", aside(at.Y)),
		attitude(axes.Turned.Degrees(), "rotated left", "rotated right"),
		attitude(axes.LeanedBack.Degrees(), "tilted back", "tilted forward"),
		attitude(axes.LeanedLeft.Degrees(), "rolled left", "rolled right"))
	return s
}

// attitude words a turn, or nothing for one that does not show.
func attitude(deg float64, plus, minus string) Text {
	t := Turn{Deg: deg, Plus: plus, Minus: minus}
	if t.In(units.MM) == "" {
		return Text{}
	}
	return Say("%s", t)
}

// clampAt says where the clamp goes.
func (r *Report) clampAt() Section {
	s := Section{ID: SectionClamp, Title: "Clamp", Full: true}
	s.line(r.setup.clamp)
	return s
}

// inUse lists what only shows with the person in the chair.
func (r *Report) inUse() Section {
	s := Section{ID: SectionInUse, Title: "Check with the person in the chair", Full: true}
	if !r.Works {
		return s
	}
	if r.setup.bothEyes {
		s.say("Both eyes tracked and every corner selected, in every posture.")
	} else {
		s.say("The eye in use tracked and every corner selected, in every posture.")
	}
	s.say("Nothing touched on tilting, driving, reaching and swinging clear; no strain.")
	return s
}

// again says what to measure again and when.
func (r *Report) again() Section {
	s := Section{ID: SectionAgain, Title: "Measure again", Full: true}
	if !r.Works {
		return s
	}
	p := &r.Postures[r.leading]
	s.say("At every assessment and after any change of cushion, seat, headrest, device or health: the eyes, now %s above the floor and %s.",
		Length((p.LeftEye.UpMM+p.RightEye.UpMM)/2), along((p.LeftEye.ForwardMM+p.RightEye.ForwardMM)/2))
	s.say("After transport or a knock: every number of the setup.")
	return s
}

// Unmeasured lists in a line what was not measured of person, chair and device, for a
// page that has no room for all assumed values and their sources.
func (r *Report) Unmeasured() Section {
	s := Section{ID: SectionAssumed, Title: "Not measured"}
	var values []Text
	body := false
	for i := range r.Assumptions {
		a := &r.Assumptions[i]
		group, _, _ := strings.Cut(a.Key, ".")
		switch group {
		case "preferences", "passage":
		case "body":
			body = true
		default:
			values = append(values, Say("%s %s", settingName(a.Key), a.Words()))
		}
	}
	if body {
		values = append(values, Say("body size by published means"))
	}
	s.line(Join("; ", values...))
	return s
}
