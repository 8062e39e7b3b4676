package sheet

import (
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/gaze/frame"
	"sightpost/mount"
)

// howTo words how to read each setting: where tape or inclinometer go, which way is
// plus as the mount really stands, and what an inclinometer reads once all is set,
// which is not the setting wherever something below it leans.
type howTo struct {
	*writer
	frames []frame.Pose // chairFromMoved of every joint of the chain, loaded
	joints []mount.Joint
	moving []int // places in joints of those that move
}

func newHowTo(w *writer) (*howTo, error) {
	frames, err := document.Frames(w.Job, w.Result)
	if err != nil {
		return nil, err
	}
	h := &howTo{writer: w, joints: w.Result.Set.Chain.Joints, frames: frames}
	for i, j := range h.joints {
		if j.Motion != mount.Fixed {
			h.moving = append(h.moving, i)
		}
	}
	return h, nil
}

// read returns how to read the i-th setting: the kit's own words if it has some,
// else those for the kind of part.
func (h *howTo) read(i int, s *document.Setting) string {
	part, what := h.part(s.Name)
	words := ""
	switch p := part.(type) {
	case mount.Clamp:
		words = h.clamp(i, what, p)
	case mount.Tube:
		words = h.tube(i, what, p)
	case mount.Elbow:
		words = h.elbow(i, s, p)
	case mount.Turns:
		words = h.turns(i, s, p)
	case mount.Ball:
		words = h.ball(i, what, p)
	}
	if words == "" {
		words = sentence(s.Read)
		if s.Unit == "deg" && h.Result.Set.Side == mount.OnRight {
			words += " The kit is drawn for the left side: here left and right are exchanged."
		}
	}
	if s.Indexed {
		step, _ := h.value(s, s.Step)
		words += " Stops every " + step + "."
	}
	return words
}

// part returns the part of the kit that a setting belongs to, and what is set.
func (h *howTo) part(setting string) (part mount.Part, what string) {
	name, what, _ := strings.Cut(setting, ".")
	for _, p := range h.Job.Mount.Kit.Parts {
		if p.PartName() == name {
			return p, what
		}
	}
	return nil, what
}

// axis returns the axis of the i-th setting in chair axes.
func (h *howTo) axis(i int) r3.Vec {
	at := h.moving[i]
	return h.frames[at].Rot.Apply(h.joints[at].Axis)
}

func (h *howTo) clamp(i int, what string, p mount.Clamp) string {
	if what == "position" {
		return "Tape along its tube, from the clamp's place above; plus is " + toward(h.axis(i)) + "."
	}
	if p.Index.Read != "" {
		return ""
	}
	return "Stop of the clamp, from its zero mark; plus turns " + h.sense(i, "the outer end") + "."
}

func (h *howTo) tube(i int, what string, p mount.Tube) string {
	slide, name := what == "height" || what == "extension", strings.ReplaceAll(p.Name, "_", " ")
	switch {
	case slide && p.Slide.Read != "" || !slide && p.Turn.Read != "":
		return ""
	case what == "height":
		return "Tape along the " + name + ": clamp's middle to the level of its far end."
	case what == "extension":
		return "Tape along the " + name + ": middle of its holder to the level of its far end."
	case what == "swing":
		return "Scale round the " + name + "; plus turns " + h.sense(i, "its upper end") + "."
	}
	return "Scale round the " + name + "; plus turns " + h.sense(i, "its far end") + "."
}

func (h *howTo) elbow(i int, s *document.Setting, p mount.Elbow) string {
	if strings.HasSuffix(s.Name, ".pan") {
		if p.Pan.Read != "" {
			return ""
		}
		return "Scale on the elbow's own axis; plus turns " + h.sense(i, "its upper end") + "."
	}
	if s.Final == nil {
		return ""
	}
	return h.inclinometer(s.Final) + " Plus is up."
}

func (h *howTo) turns(i int, s *document.Setting, p mount.Turns) string {
	switch {
	case strings.HasSuffix(s.Name, ".pan") && p.Pan.Read == "":
		return "Scale on the plate's upright axis; plus turns " + h.sense(i, "its upper end") + "."
	case strings.HasSuffix(s.Name, ".tilt") && s.Final != nil:
		return h.inclinometer(s.Final) + " Plus is face up."
	case strings.HasSuffix(s.Name, ".roll") && s.Final != nil:
		return h.inclinometer(s.Final) + " Plus is " + h.clock() + "."
	}
	return ""
}

// inclinometer says what an inclinometer reads once all is set.
func (h *howTo) inclinometer(f *document.Final) string {
	return fmt.Sprintf("Inclinometer on %s, in the end: %s.", f.On, f)
}

func (h *howTo) ball(_ int, what string, p mount.Ball) string {
	switch {
	case what == "lean_toward":
		return "Where the plate leans to, from straight up; plus is " + h.clock() + "."
	case what == "lean":
		return "Angle of the plate off its stem; the checks say how the face stands in the end."
	case p.Spin.Read != "":
		return ""
	}
	return "Scale round the plate's stem; plus is " + h.clock() + "."
}

// clock returns the way in which a turn about the screen's normal is positive: the
// kit's way on the left, the other on the right, where the mount is mirrored.
func (h *howTo) clock() string {
	if h.Result.Set.Side == mount.OnRight {
		return "clockwise for the viewer"
	}
	return "counter-clockwise for the viewer"
}

// sense returns the way in which the i-th setting turns: seen from above if its
// axis is more upright than not, else from the end that is named.
func (h *howTo) sense(i int, end string) string {
	const upright = 0.7 // about cos 45°
	axis := h.axis(i)
	switch {
	case axis.Z > upright:
		return "left, seen from above"
	case axis.Z < -upright:
		return "right, seen from above"
	case r3.Dot(h.joints[h.moving[i]].Axis, r3.Vec{X: 1, Y: 1, Z: 1}) > 0:
		return "counter-clockwise, seen from " + end
	}
	return "clockwise, seen from " + end
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
func heading(v r3.Vec) float64 { return frame.Angle(math.Atan2(v.Y, v.X)).Degrees() }

// sentence returns words as a sentence.
func sentence(words string) string {
	words = strings.TrimSuffix(strings.TrimSpace(words), ".")
	first, size := utf8.DecodeRuneInString(words)
	if size == 0 {
		return ""
	}
	return string(unicode.ToUpper(first)) + words[size:] + "."
}
