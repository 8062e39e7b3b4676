package document

import (
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
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

func newHowTo(job *fit.Job, r *fit.Result, frames []frame.Pose) *howTo {
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
