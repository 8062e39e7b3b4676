package document

import (
	"sightpost/mount"
	"sightpost/mount/fit/refit"
)

// newStep returns a step in words; how says how to read its setting.
func newStep(s refit.Step, how Text) Step {
	key, words := actionWords(s, how)
	out := Step{Action: key, Words: words, Cautions: []Text{}}
	if s.Setting >= 0 {
		out.Setting = s.Joint.Name
	}
	for _, c := range s.Cautions {
		// what a load does once a setting is free is said before it is freed
		if s.Action == refit.Loosen || s.Action == refit.LiftOut {
			continue
		}
		out.Cautions = append(out.Cautions, cautionWords(c))
	}
	return out
}

// readingOf returns v as the scale of j shows it.
func readingOf(j mount.Joint, v float64) Reading {
	return Reading{Value: inUnit(j, v), Step: inUnit(j, j.Step), Turns: j.Motion == mount.Turn}
}

// actionWords returns the word for an action in the object, and what is done.
func actionWords(s refit.Step, how Text) (key string, words Text) {
	name, to := settingName(s.Joint.Name), readingOf(s.Joint, s.To)
	switch s.Action {
	case refit.TakeOff:
		return "take_off", Say("Take the device off the mount.")
	case refit.Support:
		return "support", Say("Support the device with the other hand.")
	case refit.Loosen:
		return "loosen", Say("Loosen the %s.", name)
	case refit.LiftOut:
		return "lift_out", Say("Lift the %s out of its stop.", name)
	case refit.Move:
		return "move", Say("Move the %s from %s to %s.", name, readingOf(s.Joint, s.From), to)
	case refit.Tighten:
		return "tighten", Say("Tighten the %s.", name)
	case refit.ReadAgain:
		if how.Empty() {
			return "read_again", Say("Read the %s again: %s.", name, to)
		}
		return "read_again", Say("Read the %s again: %s (%s).", name, to, how)
	case refit.PutBack:
		return "put_back", Say("Put the device back on the mount.")
	case refit.Recheck:
	}
	return "recheck", Say("Check in every posture that the tracker sees the eyes.")
}

// cautionWords says what to look out for in a step.
func cautionWords(c refit.Caution) Text {
	way := "lower"
	if c.High {
		way = "higher"
	}
	switch c.Kind {
	case refit.Slides:
		return Say("Once loose, it slides toward %s values: the load pulls with %s.", way, Force(c.ForceN))
	case refit.Swings:
		return Say("Once loose, it turns toward %s values: the load turns it with %s.", way, Torque(c.MomentNM))
	case refit.PassesFace:
		return Say("On the way the housing comes within %s of the eyes.", Length(max(c.GapMM, 0)))
	case refit.Passes:
	}
	if c.GapMM <= 0 {
		return Say("On the way the %s would touch %s: guide it around.", settingName(c.Part), c.Zone)
	}
	return Say("On the way the %s comes within %s of %s.", settingName(c.Part), Length(c.GapMM), c.Zone)
}
