package document

import (
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
)

// screen says where the screen goes, in the posture in which the mount is set.
func (r *Report) screen() Section {
	lead := r.Lead()
	s := Section{
		ID: SectionScreen, Title: "Where the screen goes", Full: !r.usable(),
		Note: Say("posture %q, seat tilt %s; forward is from where seat and back meet", lead.Name, Angle(lead.SeatTiltDeg)),
	}
	if r.Kind == Check && !r.Planned {
		s.Title = "Where the screen is"
	}
	m, a := lead.Screen.Middle, lead.Aim
	s.row("middle of the display", Say("%s above the floor, %s, %s", Length(m.UpMM), along(m.ForwardMM), aside(m.LeftMM)),
		"tape: up from the floor; level, from above where seat and back meet (chair untilted); to the side, from the midline")
	s.row("edges of the display", Say("top %s, bottom %s above the floor", Length(lead.Attitude.TopUpMM), Length(lead.Attitude.BottomUpMM)), "tape, from the floor")
	s.Rows[1].Full = true
	at := lead.Attitude
	s.row("tilt", Turn(at.TiltDeg, "0°, vertical", "back (top away from the person)", "forward (top toward the person)"), "inclinometer on glass")
	s.row("rotation", Turn(at.RotationDeg, "0°, facing straight back", "toward the person's left", "toward the person's right"), "square, from above")
	s.row("roll", Turn(at.RollDeg, "0°, level", "right end up, for the viewer", "right end down, for the viewer"), "inclinometer on upper edge")
	s.row("eyes to the middle", Length(a.DistanceMM), "tape, from midway between the eyes")
	if r.Mount != nil { // settings say how to get there
		for i := range s.Rows {
			s.Rows[i].Cells = s.Rows[i].Cells[:2]
		}
	}
	s.row("gaze in the head", Say("%s, %s", Turn(a.DownDeg, "level", "down", "up"), Turn(a.LeftDeg, "straight ahead", "left", "right")))
	return s
}

// along words a place along the chair, aside one across it.
func along(mm float64) Signed {
	return Way(mm, "in line with where seat and back meet", "forward", "back")
}

func aside(mm float64) Signed {
	return Way(mm, "on the midline", "to the person's left", "to the person's right")
}

// settings lists what to set, in the order of work.
func (r *Report) settings() Section {
	m := r.Mount
	s := Section{ID: SectionSettings, Title: "Settings", Full: !r.usable()}
	if m == nil {
		return s
	}
	s.Note = Say("%s, on the person's %s", m.Kit, m.Side)
	switch {
	case r.Planned:
	case r.Kind == Check:
		s.Title = "Settings as found"
	case !r.Works:
		s.Title = "Closest settings found: DO NOT USE"
	}
	s.Head = []string{"", "setting", "set to", "", "", "how to measure"}
	if m.tolerances() {
		s.Head[3], s.Head[4] = "between", "and"
		s.Note = Say("%s; between, and: each setting alone, on its own scale", s.Note)
	}
	for i, set := range m.Settings {
		t, low, high := set.told()
		if !t.None.Empty() {
			low, high = Text{}, Text{}
		}
		s.row(strconv.Itoa(i+1), settingName(set.Told.Name), set.Told.Words(), low, high, set.Read)
	}
	if len(m.Settings) > 0 && m.Settings[0].Exact != nil {
		s.full("At these settings the screen is %s and %s from the best position.", Length(m.OffMM), Angle(m.OffDeg))
	}
	return s
}

// tolerances reports whether the settings have tolerances, which is so for all of
// them or for none.
func (m *Mount) tolerances() bool { return len(m.Settings) > 0 && m.Settings[0].Tolerance.None.Empty() }

// checks lists what to measure once all is set.
func (r *Report) checks() Section {
	t := &r.Tape
	s := Section{ID: SectionChecks, Title: "Check by tape", Full: !r.usable()}
	s.Note = Say("seat tilt %s; from floor, where seat and back meet, midline", Angle(t.SeatTiltDeg))
	if r.Mount != nil {
		s.Note = Say("device on, %s", s.Note)
	}
	for _, p := range t.Places {
		s.row(p.What, Say("%s up", Length(p.At.UpMM)), along(p.At.ForwardMM), Way(p.At.LeftMM, "on the midline", "left", "right"))
		s.Rows[len(s.Rows)-1].Full = p.side
	}
	s.row("eyes (midway) to middle of the display", Length(t.EyesToScreenMM))
	for _, a := range t.Arms {
		words := Say("%s, %s", Turn(a.LeftDeg, "straight ahead", "left", "right"), Turn(a.UpDeg, "level", "up", "down"))
		if a.UpDeg > verticalDeg || a.UpDeg < -verticalDeg {
			words = Say("vertical")
		}
		s.row(settingName(a.Part)+", from above, and its elevation", words)
		s.Rows[len(s.Rows)-1].Full = true
	}
	return s
}

// verticalDeg is beyond which elevation nobody can say which way a tube points.
const verticalDeg = 89

// margins lists how every posture does.
func (r *Report) margins() Section {
	s := Section{ID: SectionMargins, Title: "Head-movement margin", Note: Say("beyond the usual head movement"), Head: []string{"posture", "", "margin", "limiting condition"}}
	s.Full = len(r.Postures) == 1 // the summary says it all
	if !r.Works && r.eyesHaveMargin() {
		s.Note = Say("for the eyes alone")
	}
	for _, p := range r.Postures {
		words := Say("%s", p.Limiting)
		if p.ShareInRange < 1 {
			words = Say("%s (%s of the display in range)", p.Limiting, Share(p.ShareInRange))
		}
		s.row(p.Name, need(p.MustWork), Margin(p.MarginMM), words)
	}
	return s
}

func need(mustWork bool) string {
	if mustWork {
		return "required"
	}
	return "optional"
}

// clampAt says where the clamp goes.
func (r *Report) clampAt() Section {
	s := Section{ID: SectionClamp, Title: "Clamp", Full: true}
	job, set := r.result.Job, r.result.Set
	if set == nil || job.Mount == nil {
		return s
	}
	carrier := carrierOf(job, &r.result.Postures[leading(job)])
	m := job.Mount.Mountings[set.Mounting]
	by, middle := "on a part that tilts with the seat", "its middle"
	if job.Scene.Carrier == gaze.Base {
		by = "on a part that does not tilt with the seat"
	}
	if m.SlideLowMM != m.SlideHighMM {
		middle = "its middle, with the position at 0,"
	}
	at, axes := carrier.Apply(m.ClampMM), mount.AxesOf(carrier.Rot.Mul(m.Axes.Matrix()))
	s.line(Join(", ", Say("On the person's %s, %s; %s %s above the floor", set.Side, by, middle, Length(at.Z)),
		Say("%s", along(at.X)), Say("%s", aside(at.Y)),
		Turn(axes.Rotation.Degrees(), "", "rotated left", "rotated right").said("%s"),
		Turn(axes.Tilt.Degrees(), "", "tilted back", "tilted forward").said("%s"),
		Turn(axes.Roll.Degrees(), "", "rolled left", "rolled right").said("%s")))
	if slide := slices.IndexFunc(set.Chain.Moving(), isPosition); slide >= 0 && set.Settings[slide] != 0 {
		j := dialsOf(r.result)[slide]
		at = carrier.Apply(r3.Add(m.ClampMM, r3.Scale(set.Settings[slide], j.Axis)))
		s.say("At the position set, %s: %s above the floor, %s, %s", j.reading(set.Settings[slide]), Length(at.Z), along(at.X), aside(at.Y))
	}
	return s
}

// isPosition reports whether a joint slides the clamp along what it sits on.
func isPosition(j mount.Joint) bool { return strings.HasSuffix(j.Name, ".position") }

// again says what to measure again and when.
func (r *Report) again() Section {
	s := Section{ID: SectionAgain, Title: "Measure again", Full: true}
	if !r.Works {
		return s
	}
	p := r.Lead()
	s.say("At every assessment and after any change of cushion, seat, headrest, device or health: the eyes, now %s above the floor and %s.",
		Length((p.LeftEye.UpMM+p.RightEye.UpMM)/2), along((p.LeftEye.ForwardMM+p.RightEye.ForwardMM)/2))
	s.say("After transport or a bump: every setting.")
	return s
}

// unmeasured lists in a line what was not measured of person, chair and device.
func (r *Report) unmeasured() Section {
	s := Section{Title: "Not measured"}
	var values []Text
	body := false
	for _, a := range r.Assumptions {
		switch {
		case chosen(a.Key):
		case strings.HasPrefix(a.Key, "body."):
			body = true
		default:
			values = append(values, Say("%s: %s", settingName(a.Key), taken(a)))
		}
	}
	if body {
		values = append(values, Say("body size: published means"))
	}
	s.line(Join(" ", toMeasure(r.Assumptions), Join("; ", values...)))
	return s
}

// toMeasure names what is on the chair with an assumed size.
func toMeasure(as []casefile.Assumption) Text {
	var things []string
	for _, a := range as {
		if a.Key == "chair.armrests" || a.Key == "chair.tray" || a.Key == "chair.joystick" {
			things = append(things, strings.TrimPrefix(a.Key, "chair."))
		}
	}
	if things == nil {
		return Text{}
	}
	slices.Sort(things)
	return Say("Measure the %s first.", enumerated(slices.Compact(things)))
}

// chosen reports whether an entry is chosen and not measured.
func chosen(key string) bool {
	return strings.HasPrefix(key, "preferences.") || strings.HasPrefix(key, "passage.")
}

// Tape is what to measure once all is set and the device hangs, to find a setting that
// was misread.
type Tape struct {
	// The posture in which to measure.
	Posture string `json:"posture"`
	// The seat tilt of that posture.
	SeatTiltDeg float64 `json:"seat_tilt_deg"`
	// Places on the mount and the device, from the clamp outward.
	Places []Place `json:"places"`
	// The tubes that run ahead, from the clamp outward.
	Arms []ArmDirection `json:"arms"`
	// From the point midway between the eyes to the middle of the display area.
	EyesToScreenMM float64 `json:"eyes_to_screen_mm"`
}

// Place is a place whose height is to be measured.
type Place struct {
	// What is there.
	What string `json:"what"`
	// Where it is, in chair axes.
	At Point `json:"at"`

	side bool // of the screen: what its turn shows without a scale
}

// ArmDirection is which way a tube points.
type ArmDirection struct {
	// Name of the part.
	Part string `json:"part"`
	// Seen from above, to the person's left of straight ahead.
	LeftDeg float64 `json:"left_deg"`
	// Above the horizontal.
	UpDeg float64 `json:"up_deg"`
}

// newTape returns the checks in the posture that leads.
func newTape(r *fit.Result) Tape {
	job := r.Job
	f := &r.Postures[leading(job)]
	t := Tape{
		Posture: f.Posture.Name, SeatTiltDeg: degreesOf(f.Posture.SeatTilt), EyesToScreenMM: f.Aim.DistanceMM,
		Places: []Place{}, Arms: []ArmDirection{},
	}
	place := func(what string, at r3.Vec) { t.Places = append(t.Places, Place{What: what, At: newPoint(at)}) }
	if frames := loadedFrames(r); frames != nil && job.Mount != nil {
		for _, part := range job.Mount.Kit.Parts {
			name := settingName(part.PartName())
			var moving []frame.Pose
			for k, j := range r.Set.Chain.Joints {
				if j.Motion != mount.Fixed && strings.HasPrefix(j.Name, part.PartName()+".") {
					moving = append(moving, frames[k])
				}
			}
			if moving == nil {
				continue
			}
			switch p := part.(type) {
			case mount.Tube:
				if along := moving[0].Rot.X; p.Runs == mount.Ahead {
					t.Arms = append(t.Arms, ArmDirection{p.Name, heading(along), elevation(along)})
				}
			case mount.Elbow: // where it rises, if it does
				place(name+", last axis", moving[len(moving)-1].At)
			case mount.Turns:
				place(name+", first axis", moving[0].At)
			case mount.Ball:
				place(name+", middle of the ball", moving[0].At)
			}
		}
	}
	middle, half := job.Device.Screen.Housing()
	front := r3.Add(middle, r3.Vec{Z: half.Z}) // where a tape can be held
	for _, edge := range []struct {
		name string
		off  r3.Vec
	}{{"top", r3.Vec{Y: half.Y}}, {"bottom", r3.Vec{Y: -half.Y}}, {"left", r3.Vec{X: -half.X}}, {"right", r3.Vec{X: half.X}}} {
		place("housing, "+edge.name+" edge of the front, middle", f.Screen.Apply(r3.Add(front, edge.off)))
		t.Places[len(t.Places)-1].side = edge.off.X != 0
	}
	return t
}

// loadedFrames returns chairFromMoved of every joint of the mount of r in the posture that
// leads, with the mount under its load; nil without a mount.
func loadedFrames(r *fit.Result) []frame.Pose {
	lead := &r.Postures[leading(r.Job)]
	if lead.Mount == nil {
		return nil
	}
	return each(lead.Mount.Joints, lead.InCarrier.Carrier.Mul)
}
