package document

import (
	"errors"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
)

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
func newTape(r *fit.Result) (Tape, error) {
	job := r.Job
	f := &r.Postures[leading(job)]
	t := Tape{
		Posture:        f.Posture.Name,
		SeatTiltDeg:    plain(f.Posture.SeatTilt.Degrees()),
		Places:         []Place{},
		Arms:           []ArmDirection{},
		EyesToScreenMM: f.Aim.DistanceMM,
	}
	if r.Set != nil && job.Mount != nil {
		frames, err := Frames(r)
		if err != nil {
			return Tape{}, err
		}
		for _, part := range job.Mount.Kit.Parts {
			if at, what := landmark(part, r.Set.Chain, frames); what != "" {
				t.Places = append(t.Places, Place{What: what, At: newPoint(at)})
			}
			if tube, ok := part.(mount.Tube); ok && tube.Runs == mount.Ahead {
				if k := firstMoving(tube, r.Set.Chain); k >= 0 {
					along := frames[k].Rot.X
					t.Arms = append(t.Arms, ArmDirection{tube.Name, heading(along), Elevation(along)})
				}
			}
		}
	}
	t.Places = append(t.Places, housingEdges(job, f.Screen)...)
	return t, nil
}

// housingEdges returns the middles of the housing's front edges, where a tape can
// be held.
func housingEdges(job *fit.Job, chairFromScreen frame.Pose) []Place {
	middle, half := job.Device.Screen.Housing()
	edge := func(what string, up float64) Place {
		front := r3.Add(middle, r3.Vec{Y: up, Z: half.Z})
		return Place{What: what, At: newPoint(chairFromScreen.Apply(front))}
	}
	return []Place{
		edge("housing, top edge of the front, middle", half.Y),
		edge("housing, bottom edge of the front, middle", -half.Y),
	}
}

// firstMoving returns the place in c of the first joint of a part that moves; -1 if there
// is none.
func firstMoving(part mount.Part, c mount.Chain) int {
	return slices.IndexFunc(c.Joints, func(j mount.Joint) bool { return j.Motion != mount.Fixed && inside(j.Name, part) })
}

// landmark returns the point of a part that a tape can find, in chair axes, and
// what it is called; "" when the part has none.
func landmark(part mount.Part, c mount.Chain, frames []frame.Pose) (at r3.Vec, what string) {
	var moving []int
	for i, j := range c.Joints {
		if j.Motion != mount.Fixed && inside(j.Name, part) {
			moving = append(moving, i)
		}
	}
	if len(moving) == 0 {
		return r3.Vec{}, ""
	}
	first, last := moving[0], moving[len(moving)-1]
	switch part.(type) {
	case mount.Elbow: // where it rises, if it does
		return frames[last].At, settingName(part.PartName()) + ", last axis"
	case mount.Turns:
		return frames[first].At, settingName(part.PartName()) + ", first axis"
	case mount.Ball:
		return frames[first].At, settingName(part.PartName()) + ", middle of the ball"
	}
	return r3.Vec{}, ""
}

// Frames returns chairFromMoved of every joint of the mount of r in the posture that
// leads, with the mount under its load.
func Frames(r *fit.Result) ([]frame.Pose, error) {
	job := r.Job
	lead := &r.Postures[leading(job)]
	if lead.Mount == nil || len(lead.Mount.Joints) != len(r.Set.Chain.Joints) {
		return nil, errors.New("document: the result does not say how its mount stands under its load")
	}
	frames := make([]frame.Pose, len(lead.Mount.Joints))
	for k, f := range lead.Mount.Joints {
		frames[k] = lead.InCarrier.Carrier.Mul(f)
	}
	return frames, nil
}
