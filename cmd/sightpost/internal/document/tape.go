package document

import (
	"strings"

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

// newTape returns the checks in the posture that leads.
func newTape(job *fit.Job, r *fit.Result) (Tape, error) {
	f := &r.Postures[leading(job)]
	t := Tape{
		Posture:        f.Posture.Name,
		SeatTiltDeg:    plain(f.Posture.SeatTilt.Degrees()),
		Places:         []Place{},
		EyesToScreenMM: f.Aim.DistanceMM,
	}
	if r.Set != nil && job.Mount != nil {
		frames, err := Frames(job, r)
		if err != nil {
			return Tape{}, err
		}
		for _, part := range job.Mount.Kit.Parts {
			if at, what := landmark(part, r.Set.Chain, frames); what != "" {
				t.Places = append(t.Places, Place{What: what, At: newPoint(at)})
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
		edge("housing, middle of its front top edge", half.Y),
		edge("housing, middle of its front bottom edge", -half.Y),
	}
}

// landmark returns the point of a part that a tape can find, in chair axes, and
// what it is called; "" when the part has none.
func landmark(part mount.Part, c mount.Chain, frames []frame.Pose) (at r3.Vec, what string) {
	var moving []int
	for i, j := range c.Joints {
		if j.Motion != mount.Fixed && strings.HasPrefix(j.Name, part.PartName()+".") {
			moving = append(moving, i)
		}
	}
	if len(moving) == 0 {
		return r3.Vec{}, ""
	}
	first, last := moving[0], moving[len(moving)-1]
	switch part.(type) {
	case mount.Elbow: // where it rises, if it does
		return frames[last].At, "last axis of the elbow (" + part.PartName() + ")"
	case mount.Turns:
		return frames[first].At, "first axis of the plate joint (" + part.PartName() + ")"
	case mount.Ball:
		return frames[first].At, "middle of the ball (" + part.PartName() + ")"
	}
	return r3.Vec{}, ""
}
