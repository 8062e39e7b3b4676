package document

import (
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// howTo words how to read each setting: where tape or inclinometer go, which way is
// plus as the mount really is, and what an inclinometer reads once all is set,
// which is not the setting wherever something below it is tilted.
type howTo struct {
	side   mount.Side
	at     ScreenAttitude // of the screen, loaded
	joints []mount.Joint  // those that move
	frames []frame.Pose   // chairFromMoved of each of them, loaded
}

// newSettings returns the settings of r with how to read them, with the frames of the loaded
// joints.
func newSettings(r *fit.Result, frames []frame.Pose) []Setting {
	set := r.Set
	h := howTo{side: set.Side, at: newAttitude(r.Job.Device.Screen, r.Postures[leading(r.Job)].Screen), joints: set.Chain.Moving()}
	for k, j := range set.Chain.Joints {
		if j.Motion != mount.Fixed {
			h.frames = append(h.frames, frames[k])
		}
	}
	settings := make([]Setting, len(h.joints))
	for i, j := range h.joints {
		_, what, _ := strings.Cut(j.Name, ".")
		s := Setting{
			SettingValue: newSettingValue(j, set.Settings[i]), Low: inUnit(j, j.Low), High: inUnit(j, j.High), Step: inUnit(j, j.Step),
			Indexed: j.Indexed, Final: h.final(i, what), ball: what == "lean_toward" || what == "lean" || what == "spin",
		}
		if set.Exact != nil {
			s.Exact = new(inUnit(j, set.Exact[i]))
		}
		switch words := j.Read; {
		case words == "":
			s.Read = Quote(h.words(i, what, s.Final))
		case j.Motion == mount.Turn && h.side == mount.OnRight:
			s.Read = Say("%s (The kit is drawn for the left side: swap left and right.)", words)
		default:
			s.Read = Quote(words)
		}
		if s.Indexed {
			s.Read = Say("%s; stops every %s", s.Read, s.reading(s.Step))
		}
		settings[i] = s
	}
	return settings
}

// words says how to read the i-th setting, which is what moves of its part, where the
// kit does not say.
func (h *howTo) words(i int, what string, final *Final) string {
	part, _, _ := strings.Cut(h.joints[i].Name, ".")
	switch what {
	case "position":
		return "tape along its tube; + is " + toward(h.axis(i))
	case "index":
		return "stop, from the zero mark; + is " + h.sense(i, "the outer end")
	case "height":
		return "tape: clamp middle to far end of the " + settingName(part)
	case "extension":
		return "tape: holder middle to far end of the " + settingName(part)
	case "swing", "pan":
		return "scale; + is " + h.sense(i, "the upper end")
	case "twist":
		return "scale; + is " + h.sense(i, "the far end")
	case "lean_toward":
		return "direction in which the plate is tilted, from straight up; + is " + h.clock()
	case "lean":
		return "angle between the plate and its stem"
	case "spin":
		return "scale on the plate's stem; + is " + h.clock()
	}
	return final.words()
}

// axis returns the axis of the i-th setting in chair axes.
func (h *howTo) axis(i int) r3.Vec { return h.frames[i].Rot.Apply(h.joints[i].Axis) }

// clock returns the way in which a turn about the screen's normal is positive: the
// kit's way on the left, the other on the right, where the mount is mirrored.
func (h *howTo) clock() string {
	if h.side == mount.OnRight {
		return "clockwise for the viewer"
	}
	return "counterclockwise for the viewer"
}

// sense returns the way in which the i-th setting turns: seen from above if its
// axis is more upright than not, else from the end that is named.
func (h *howTo) sense(i int, end string) string {
	const upright = 0.7 // about cos 45°
	axis := h.axis(i)
	switch {
	case axis.Z > upright:
		return "left, from above"
	case axis.Z < -upright:
		return "right, from above"
	case r3.Dot(h.joints[i].Axis, r3.Vec{X: 1, Y: 1, Z: 1}) > 0:
		return "counterclockwise, from " + end
	}
	return "clockwise, from " + end
}

// toward returns the word for the way in which v points most.
func toward(v r3.Vec) string {
	words := [3][2]string{{"forward", "back"}, {"to the person's left", "to the person's right"}, {"up", "down"}}
	parts, most := [3]float64{v.X, v.Y, v.Z}, 0
	for k, p := range parts {
		if math.Abs(p) > math.Abs(parts[most]) {
			most = k
		}
	}
	if parts[most] < 0 {
		return words[most][1]
	}
	return words[most][0]
}

// heading returns how far to the left of straight ahead a direction points, seen
// from above, in degrees.
func heading(v r3.Vec) float64 { return plain(frame.Angle(math.Atan2(v.Y, v.X)).Degrees()) }

// Final is what an inclinometer reads once all is set and the device hangs, in the
// posture in which the mount is set. It differs from the setting wherever something
// below the joint is tilted.
type Final struct {
	// Angle off the level or the vertical, without its sign.
	Deg float64 `json:"deg"`
	// Which way it is off.
	Way string `json:"way" jsonschema:"enum=level,enum=up,enum=down,enum=upright,enum=back,enum=forward,enum=right end up,enum=right end down"`
	// What the inclinometer is held on.
	On string `json:"on"`
}

// words says what an inclinometer reads, and on what.
func (f *Final) words() string {
	reading := Angle(f.Deg).In(units.MM) + " " + f.Way
	if reading[0] == '0' {
		reading = "level"
		if f.Way == "back" || f.Way == "forward" || f.Way == "upright" {
			reading = "upright"
		}
	}
	return "inclinometer on " + f.On + "; loaded: " + reading
}

// newReading returns the reading of an angle, with the words for none and for
// either sign.
func newReading(deg float64, on string, ways [3]string) *Final {
	const shown = 0.05 // what an inclinometer shows
	switch {
	case deg >= shown:
		return &Final{Deg: deg, Way: ways[1], On: on}
	case deg <= -shown:
		return &Final{Deg: -deg, Way: ways[2], On: on}
	}
	return &Final{Way: ways[0], On: on}
}

// final returns what an inclinometer reads for the i-th setting; nil where the kit says
// how to read it, and for what is read otherwise.
func (h *howTo) final(i int, what string) *Final {
	switch {
	case h.joints[i].Read != "":
	case what == "elevation":
		return newReading(elevation(h.frames[i].Rot.X), "arm", [3]string{"level", "up", "down"})
	case what == "tilt":
		return newReading(h.at.TiltDeg, "glass", [3]string{"vertical", "back", "forward"})
	case what == "roll":
		return newReading(h.at.RollDeg, "lower edge", [3]string{"level", "right end up", "right end down"})
	}
	return nil
}

// carrierOf returns chairFromCarrier in a posture. It is the carrier's own, which
// does not move with the screen's sag.
func carrierOf(job *fit.Job, f *fit.PostureResult) frame.Pose {
	return job.Scene.InCarrier(f.Posture).Carrier
}

// elevation returns how far a direction points above the horizontal, in degrees.
func elevation(v r3.Vec) float64 {
	return plain(frame.Angle(math.Atan2(v.Z, math.Hypot(v.X, v.Y))).Degrees())
}
