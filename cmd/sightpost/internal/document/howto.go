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
	dials  []dial
	joints []mount.Joint // those that move
	set    mount.Settings
	frames []frame.Pose // chairFromMoved of each of them, loaded
	parts  []mount.Part
}

// newSettings returns the settings of r with how to read them.
func newSettings(r *fit.Result) []Setting {
	set, frames := r.Set, loadedFrames(r)
	h := howTo{
		side: set.Side, at: AttitudeOf(r),
		dials: dialsOf(r), joints: set.Chain.Moving(), set: set.Settings, parts: r.Job.Mount.Kit.Parts,
		frames: each(set.Chain.MovingPlaces(), func(k int) frame.Pose { return frames[k] }),
	}
	settings, values := make([]Setting, len(h.joints)), newSettingValues(r)
	for i, j := range h.joints {
		_, what, _ := strings.Cut(h.dials[i].Name, ".")
		s := Setting{
			SettingValue: values[i], Low: inUnit(j, j.Low), High: inUnit(j, j.High), Step: inUnit(j, j.Step),
			Indexed: j.Indexed, Final: h.final(i, what),
		}
		if set.Exact != nil {
			s.Exact = new(inUnit(j, set.Exact[i]))
		}
		switch words := h.dials[i].Read; {
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
	j := h.dials[i]
	if j.Stiffness.AnyAxis {
		read := Quote(map[string]string{
			"tilt":     "inclinometer on glass, loaded",
			"rotation": "square on lower edge; 0° faces back",
			"roll":     "inclinometer on lower edge, loaded",
		}[what])
		if lean := min(i+1, len(h.joints)-1); what == "tilt" && h.set[lean]+h.joints[lean].Step/2 > h.joints[lean].High {
			return Join("; ", read, Say("stem tipped in its socket as far as it goes, %s", degrees(h.set[lean])))
		}
		return read
	}
	switch what {
	case "position":
		if j.printed().Plus == "" {
			return Quote("tape along its tube, " + j.sign.Plus)
		}
		return Quote("tape along its tube")
	case "index":
		if j.Counted() {
			return Text{}
		}
		return Quote("scale, from " + j.sign.From)
	case "height", "extension":
		tape := Quote(map[string]string{"height": "tape: clamp middle to upper end", "extension": "tape: holder middle to outer end"}[what])
		if j.Scale.Given {
			return Say("scale; by %s, %s", tape, Reading{Value: inUnit(j.Joint, h.set[i]), Step: inUnit(j.Joint, j.Step)})
		}
		return tape
	case "swing", "pan":
		return Quote("scale, from " + j.sign.From + h.zero(i))
	case "twist":
		zero := ""
		if j.Scale.Given {
			zero = ": 0 turned by " + Angle(inUnit(j.Joint, j.Scale.ZeroAt)).In(units.MM)
		}
		return Quote("scale, top seen from outer end" + zero)
	}
	if j.Scale.Given {
		return Quote("scale; " + final.words())
	}
	return Quote(final.words())
}

// counted says which stop the i-th setting is in, and how stops are counted; nothing of
// a setting without.
func (h *howTo) counted(i int) Text {
	j := h.dials[i]
	if !j.Counted() {
		return Text{}
	}
	from := "from the lowest"
	if j.Motion == mount.Turn {
		from = j.sign.Plus + " from " + j.sign.From
	}
	return Say("stop %d of %d, counted %s, at %s", j.Stop(h.set[i]), len(j.Stops()), from, j.reading(h.set[i]))
}

// zero says where the scale of the i-th setting, a swing or pan, shows 0.
func (h *howTo) zero(i int) string {
	j := h.joints[i]
	before := h.frames[i].Rot.Mul(frame.About(j.Axis, -frame.Angle(h.set[i])))
	at := before.Mul(frame.About(j.Axis, frame.Angle(j.Scale.ZeroAt)))
	along, plated := mount.Up, false // the tube before the part runs, and whether it turns the plate
	for _, p := range h.parts {
		if p.PartName() == j.Part() {
			_, plated = p.(mount.Turns)
			break
		}
		if tube, ok := p.(mount.Tube); ok {
			along = tube.Runs
		}
	}
	plate, _ := h.parts[len(h.parts)-1].(mount.Plate)
	switch inLine := along == mount.Ahead && j.Scale.ZeroAt == 0; {
	case math.Abs(h.axis(i).Z) < upright:
		return ""
	case plated && inLine && (plate.Faces == mount.FacesBack || plate.Faces == mount.FacesAhead):
		return ": 0 square to arm"
	case inLine:
		return ": 0 in line with arm"
	case plated:
		return ": 0 facing " + direction(at.X)
	}
	return ": 0 " + direction(at.X)
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
	return "at " + Turn(deg, "", "left of forward", "right of forward").In(units.MM)
}

// axis returns the axis of the i-th setting in chair axes.
func (h *howTo) axis(i int) r3.Vec { return h.frames[i].Rot.Apply(h.joints[i].Axis) }

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
	Way string `json:"way" jsonschema:"enum=level,enum=up,enum=down,enum=vertical,enum=back,enum=forward,enum=right up,enum=right down"`
	// What the inclinometer is held on.
	On string `json:"on"`
}

// words says what an inclinometer reads, and on what.
func (f *Final) words() string {
	reading := Angle(f.Deg).In(units.MM)
	if reading == "0°" {
		reading = levelOf(f.On)
	} else {
		reading += " " + f.Way
	}
	return "inclinometer on " + f.On + ", loaded: " + reading
}

// levelOf returns the word for an angle of 0 on something.
func levelOf(on string) string {
	if on == "glass" {
		return "vertical"
	}
	return "level"
}

// newFinal returns the reading of an angle, with the words for either sign.
func newFinal(deg float64, on, plus, minus string) *Final {
	const shown = 0.05 // what an inclinometer shows
	switch {
	case math.Abs(deg) < shown:
		return &Final{Way: levelOf(on), On: on}
	case deg < 0:
		return &Final{Deg: -deg, Way: minus, On: on}
	}
	return &Final{Deg: deg, Way: plus, On: on}
}

// final returns what an inclinometer reads for the i-th setting; nil where the kit says
// how to read it, and for what is read otherwise.
func (h *howTo) final(i int, what string) *Final {
	switch {
	case h.dials[i].Read != "", h.dials[i].Stiffness.AnyAxis:
	case what == "elevation":
		return newFinal(elevation(h.frames[i].Rot.X), "arm", "up", "down")
	case what == "tilt":
		return newFinal(h.at.TiltDeg, "glass", "back", "forward")
	case what == "roll":
		return newFinal(h.at.RollDeg, "lower edge", "right up", "right down")
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
