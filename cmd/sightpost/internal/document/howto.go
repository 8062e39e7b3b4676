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
// plus as the mount really stands, and what an inclinometer reads once all is set,
// which is not the setting wherever something below it is tilted.
type howTo struct {
	kit    mount.Kit
	side   mount.Side
	frames []frame.Pose // chairFromMoved of every joint of the chain, loaded
	joints []mount.Joint
	moving []int // places in joints of those that move
}

func newHowTo(r *fit.Result, frames []frame.Pose) *howTo {
	job := r.Job
	h := &howTo{kit: job.Mount.Kit, side: r.Set.Side, joints: r.Set.Chain.Joints, frames: frames}
	for i, j := range h.joints {
		if j.Motion != mount.Fixed {
			h.moving = append(h.moving, i)
		}
	}
	return h
}

// read returns how to read the i-th setting: the kit's own words if it has some,
// else those for the kind of part.
func (h *howTo) read(i int, s *Setting) Text {
	_, what, _ := strings.Cut(s.Name, ".")
	words := ""
	switch p := partOf(h.kit, s.Name).(type) {
	case mount.Clamp:
		words = h.clamp(i, what, p)
	case mount.Tube:
		words = h.tube(i, what, p)
	case mount.Elbow:
		words = h.elbow(i, what, s, p)
	case mount.Turns:
		words = h.turns(i, what, s, p)
	case mount.Ball:
		words = h.ball(what, p)
	}
	if words == "" {
		words = h.joints[h.moving[i]].Read
		if s.Unit == "deg" && h.side == mount.OnRight {
			words += sidesSwapped
		}
	}
	if s.Indexed {
		return Say("%s; stops every %s", words, s.reading(s.Step))
	}
	return Quote(words)
}

// axis returns the axis of the i-th setting in chair axes.
func (h *howTo) axis(i int) r3.Vec {
	at := h.moving[i]
	return h.frames[at].Rot.Apply(h.joints[at].Axis)
}

func (h *howTo) clamp(i int, what string, p mount.Clamp) string {
	if what == "position" {
		return "tape along its tube; + is " + toward(h.axis(i))
	}
	if p.Index.Read != "" {
		return ""
	}
	return "stop, from the zero mark; + is " + h.sense(i, "the outer end")
}

func (h *howTo) tube(i int, what string, p mount.Tube) string {
	slide, name := what == "height" || what == "extension", settingName(p.Name)
	switch {
	case slide && p.Slide.Read != "" || !slide && p.Turn.Read != "":
		return ""
	case what == "height":
		return "tape: clamp middle to far end of the " + name
	case what == "extension":
		return "tape: holder middle to far end of the " + name
	case what == "swing":
		return "scale; + is " + h.sense(i, "the upper end")
	}
	return "scale; + is " + h.sense(i, "the far end")
}

func (h *howTo) elbow(i int, what string, s *Setting, p mount.Elbow) string {
	switch {
	case what == "pan" && p.Pan.Read == "":
		return "scale; + is " + h.sense(i, "the upper end")
	case what != "pan" && s.Final != nil:
		return s.Final.words()
	}
	return ""
}

func (h *howTo) turns(i int, what string, s *Setting, p mount.Turns) string {
	switch {
	case what == "pan" && p.Pan.Read == "":
		return "scale; + is " + h.sense(i, "the upper end")
	case s.Final != nil:
		return s.Final.words()
	}
	return ""
}

func (h *howTo) ball(what string, p mount.Ball) string {
	switch {
	case what == "lean_toward":
		return "direction in which the plate is tilted, from straight up; + is " + h.clock()
	case what == "lean":
		return "angle between the plate and its stem"
	case p.Spin.Read != "":
		return ""
	}
	return "scale on the plate's stem; + is " + h.clock()
}

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
	case r3.Dot(h.joints[h.moving[i]].Axis, r3.Vec{X: 1, Y: 1, Z: 1}) > 0:
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

// readSettings returns the settings of r with how to read them.
func readSettings(r *fit.Result) ([]Setting, error) {
	job := r.Job
	frames, err := Frames(r)
	if err != nil {
		return nil, err
	}
	settings := newSettings(r.Set)
	stand := newAttitude(job.Device.Screen, r.Postures[leading(job)].Screen)
	h := newHowTo(r, frames)
	for i, k := range h.moving {
		s := &settings[i]
		s.Final = final(partOf(h.kit, s.Name), s.Name, stand, frames[k].Rot.X)
		s.Read = h.read(i, s)
		_, s.ball = partOf(h.kit, s.Name).(mount.Ball)
	}
	return settings, nil
}

// final returns what an inclinometer reads for a setting of part; along is the way
// in which what the joint holds points, in chair axes.
func final(part mount.Part, setting string, stand ScreenAttitude, along r3.Vec) *Final {
	_, what, _ := strings.Cut(setting, ".")
	switch p := part.(type) {
	case mount.Elbow:
		if what == "elevation" && p.Elevation.Read == "" {
			return newReading(Elevation(along), "the arm", [3]string{"level", "up", "down"})
		}
	case mount.Turns:
		switch {
		case what == "tilt" && p.Tilt.Read == "":
			return newReading(stand.TiltDeg, "the glass", [3]string{"upright", "back", "forward"})
		case what == "roll" && p.Roll.Read == "":
			return newReading(stand.RollDeg, "the lower edge", [3]string{"level", "right end up", "right end down"})
		}
	}
	return nil
}

// partOf returns the part of a kit to which a setting belongs; nil if there is
// none.
func partOf(kit mount.Kit, setting string) mount.Part {
	name, _, _ := strings.Cut(setting, ".")
	for _, p := range kit.Parts {
		if p.PartName() == name {
			return p
		}
	}
	return nil
}

// carrierOf returns chairFromCarrier in a posture. It is the carrier's own, which
// does not move with the screen's sag.
func carrierOf(job *fit.Job, f *fit.PostureResult) frame.Pose {
	return job.Scene.InCarrier(f.Posture).Carrier
}

// Elevation returns how far a direction points above the horizontal, in degrees.
func Elevation(v r3.Vec) float64 {
	return plain(frame.Angle(math.Atan2(v.Z, math.Hypot(v.X, v.Y))).Degrees())
}
