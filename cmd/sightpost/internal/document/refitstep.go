package document

import (
	"fmt"
	"math"

	"sightpost/mount/fit"
)

// newStep returns a step in the words of the object and in plain ones.
func newStep(s fit.Step) Step {
	key, words := actionWords(s)
	out := Step{Action: key, Words: words, Cautions: []string{}}
	if s.Setting >= 0 {
		out.Setting = s.Joint.Name
	}
	for _, c := range s.Cautions {
		// what a load does once a setting is free is said before it is freed
		if s.Action == fit.Loosen || s.Action == fit.LiftOut {
			continue
		}
		out.Cautions = append(out.Cautions, cautionWords(c, s.Joint.Name))
	}
	return out
}

// actionWords returns the word for an action in the object, and what is done.
func actionWords(s fit.Step) (key, words string) {
	name, to := s.Joint.Name, s.Joint.Format(s.To)
	switch s.Action {
	case fit.TakeOff:
		return "take_off", "take the device off the mount"
	case fit.Support:
		return "support", "take the load in the other hand"
	case fit.Loosen:
		return "loosen", "loosen " + name
	case fit.LiftOut:
		return "lift_out", "lift " + name + " out of its stop"
	case fit.Move:
		return "move", "move " + name + " from " + s.Joint.Format(s.From) + " to " + to
	case fit.Tighten:
		return "tighten", "tighten " + name
	case fit.ReadAgain:
		return "read_again", "read " + name + " again: " + to + " (" + s.Joint.Read + ")"
	case fit.PutBack:
		return "put_back", "put the device back on the mount"
	case fit.Recheck:
	}
	return "recheck", "look at the tracker's own picture of the eyes in every posture"
}

// cautionWords says what to look out for in a step about a setting.
func cautionWords(c fit.Caution, setting string) string {
	way := "lower"
	if c.High {
		way = "higher"
	}
	switch c.Kind {
	case fit.Slides:
		return fmt.Sprintf("once free, %s slides by itself toward %s values: the load pulls with %.0f N", setting, way, c.ForceN)
	case fit.Swings:
		return fmt.Sprintf("once free, %s turns by itself toward %s values: the load turns it with %.1f Nm", setting, way, c.MomentNM)
	case fit.PassesFace:
		return fmt.Sprintf("on the way the housing comes as near as %.0f mm to the eyes", math.Max(c.GapMM, 0))
	case fit.Passes:
	}
	if c.GapMM <= 0 {
		return fmt.Sprintf("on the way the %s would touch %s: guide it round", c.Part, c.Space)
	}
	return fmt.Sprintf("on the way the %s comes as near as %.0f mm to %s", c.Part, c.GapMM, c.Space)
}
