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
	told   []mount.Joint  // those that move, see [mount.Chain.Told]
	joints []mount.Joint  // the same as they are in the chain
	set    mount.Settings
	frames []frame.Pose               // chairFromMoved of each of them, loaded
	runs   map[string]mount.Direction // of the tube before each part
	plated map[string]bool            // parts that turn the plate
	faces  mount.Facing
}

// newSettings returns the settings of r with how to read them, with the frames of the loaded
// joints.
func newSettings(r *fit.Result, frames []frame.Pose) []Setting {
	set := r.Set
	h := howTo{
		side: set.Side, at: newAttitude(r.Job.Device.Screen, r.Postures[leading(r.Job)].Screen),
		told: set.Chain.Told(), joints: set.Chain.Moving(), set: set.Settings,
	}
	h.order(r.Job.Mount.Kit)
	for k, j := range set.Chain.Joints {
		if j.Motion != mount.Fixed {
			h.frames = append(h.frames, frames[k])
		}
	}
	settings, values := make([]Setting, len(h.joints)), newSettingValues(r)
	for i, j := range h.joints {
		_, what, _ := strings.Cut(h.told[i].Name, ".")
		s := Setting{
			SettingValue: values[i], Low: inUnit(j, j.Low), High: inUnit(j, j.High), Step: inUnit(j, j.Step),
			Indexed: j.Indexed, Final: h.final(i, what),
		}
		if set.Exact != nil {
			s.Exact = new(inUnit(j, set.Exact[i]))
		}
		switch words := h.told[i].Read; {
		case words == "":
			s.Read = h.words(i, what, s.Final)
		case j.Motion == mount.Turn && h.side == mount.OnRight:
			s.Read = Say("%s (The kit is drawn for the left side: swap left and right.)", words)
		default:
			s.Read = Quote(words)
		}
		s.Read = Join("; ", s.Read, h.counted(i))
		settings[i] = s
	}
	return settings
}

// words says how to read the i-th setting, which is what moves of its part, where the
// kit does not say.
func (h *howTo) words(i int, what string, final *Final) Text {
	j := h.told[i]
	if j.Stiffness.AnyAxis {
		return Quote(map[string]string{
			"tilt":     "inclinometer on glass; loaded",
			"rotation": "square on lower edge; 0° faces back",
			"roll":     "inclinometer on lower edge; loaded",
		}[what])
	}
	switch what {
	case "position":
		return Quote("tape along its tube; + is " + toward(h.axis(i)))
	case "index":
		if j.Counted() {
			return Text{}
		}
		return Quote("scale: + " + h.sense(i, "the outer end"))
	case "height", "extension":
		from := map[string]string{"height": "clamp", "extension": "holder"}[what]
		tape := Say("tape: %s middle to far end of tube", from)
		if j.Scale.Given {
			return Say("scale; by %s, %s", tape, Reading{Value: inUnit(j, h.set[i]), Step: j.Step})
		}
		return tape
	case "swing", "pan":
		return Quote("scale: " + h.zero(i) + "+ " + h.sense(i, "the upper end"))
	case "twist":
		zero := ""
		if j.Scale.Given {
			zero = "0 turned by " + Angle(inUnit(j, j.Scale.ZeroAt)).In(units.MM) + ", "
		}
		return Quote("scale: " + zero + "+ " + h.sense(i, "far end"))
	}
	if j.Scale.Given {
		return Quote("scale; " + final.words())
	}
	return Quote(final.words())
}

// counted says which stop the i-th setting is in, and how stops are counted; nothing of
// a setting without.
func (h *howTo) counted(i int) Text {
	j := h.told[i]
	if !j.Counted() {
		return Text{}
	}
	from := "from the lowest"
	if j.Motion == mount.Turn {
		from = h.sense(i, "the outer end")
	}
	return Say("stop %d of %d, counted %s, at %s", j.Stop(h.set[i]), len(j.Stops()), from, readingOf(j, h.set[i]))
}

// order notes which way the tube before every part runs, and where the kit has the screen
// face.
func (h *howTo) order(kit mount.Kit) {
	h.runs, h.plated = map[string]mount.Direction{}, map[string]bool{}
	along := mount.Up
	for _, p := range kit.Parts {
		h.runs[p.PartName()] = along
		switch p := p.(type) {
		case mount.Tube:
			along = p.Runs
		case mount.Turns:
			h.plated[p.Name] = true
		case mount.Plate:
			h.faces = p.Faces
		}
	}
}

// zero says where the scale of the i-th setting, a swing or pan, shows 0.
func (h *howTo) zero(i int) string {
	j := h.joints[i]
	before := h.frames[i].Rot.Mul(frame.About(j.Axis, -frame.Angle(h.set[i])))
	at := before.Mul(frame.About(j.Axis, frame.Angle(j.Scale.ZeroAt)))
	inLine := h.runs[j.Part()] == mount.Ahead && j.Scale.ZeroAt == 0
	switch plated := h.plated[j.Part()]; {
	case math.Abs(h.axis(i).Z) < upright:
		return ""
	case plated && inLine && (h.faces == mount.FacesBack || h.faces == mount.FacesAhead):
		return "0 square to arm, "
	case inLine:
		return "0 in line with arm, "
	case plated:
		return "0 facing " + direction(at.X) + ", "
	}
	return "0 " + direction(at.X) + ", "
}

// direction returns the word for the way in which v points, seen from above, or by how
// much it is off forward.
func direction(v r3.Vec) string {
	const near = 0.25 // degrees: shown as 0
	deg := heading(v)
	for at, word := range map[float64]string{0: "forward", 90: "left", -90: "right", 180: "back", -180: "back"} {
		if math.Abs(deg-at) < near {
			return word
		}
	}
	return "at " + Turn{deg, "", "left of forward", "right of forward"}.In(units.MM)
}

// axis returns the axis of the i-th setting in chair axes.
func (h *howTo) axis(i int) r3.Vec { return h.frames[i].Rot.Apply(h.joints[i].Axis) }

// upright is the height of a unit vector from where on it is more upright than not.
const upright = 0.7 // about cos 45°

// sense returns the way in which the scale or the stops of the i-th setting count up: seen
// from above if its axis is more upright than not, else from the end that is named.
func (h *howTo) sense(i int, end string) string {
	axis, own := h.axis(i), h.joints[i].Axis
	if h.joints[i].Scale.Falls {
		axis, own = r3.Scale(-1, axis), r3.Scale(-1, own)
	}
	switch {
	case axis.Z > upright:
		return "left from above"
	case axis.Z < -upright:
		return "right from above"
	case r3.Dot(own, r3.Vec{X: 1, Y: 1, Z: 1}) > 0:
		return "counterclockwise from " + end
	}
	return "clockwise from " + end
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
	if strings.HasPrefix(reading, "0° ") {
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
	case h.told[i].Read != "", h.told[i].Stiffness.AnyAxis:
	case what == "elevation":
		return newReading(elevation(h.frames[i].Rot.X), "arm", [3]string{"level", "up", "down"})
	case what == "tilt":
		return newReading(h.at.GlassTiltDeg, "glass", [3]string{"vertical", "back", "forward"})
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
