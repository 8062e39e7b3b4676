package document

import (
	"errors"
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

// newTape returns the checks in the posture that leads, with the frames of the loaded joints.
func newTape(r *fit.Result, frames []frame.Pose) Tape {
	job := r.Job
	f := &r.Postures[leading(job)]
	t := Tape{
		Posture: f.Posture.Name, SeatTiltDeg: plain(f.Posture.SeatTilt.Degrees()), EyesToScreenMM: f.Aim.DistanceMM,
		Places: []Place{}, Arms: []ArmDirection{},
	}
	place := func(what string, at r3.Vec) { t.Places = append(t.Places, Place{What: what, At: newPoint(at)}) }
	if frames != nil && job.Mount != nil {
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
	place("housing, top edge of the front, middle", f.Screen.Apply(r3.Add(front, r3.Vec{Y: half.Y})))
	place("housing, bottom edge of the front, middle", f.Screen.Apply(r3.Sub(front, r3.Vec{Y: half.Y})))
	return t
}

// loadedFrames returns chairFromMoved of every joint of the mount of r in the posture that
// leads, with the mount under its load.
func loadedFrames(r *fit.Result) ([]frame.Pose, error) {
	lead := &r.Postures[leading(r.Job)]
	if lead.Mount == nil || len(lead.Mount.Joints) != len(r.Set.Chain.Joints) {
		return nil, errors.New("the result does not say where the loaded mount is")
	}
	return each(lead.Mount.Joints, lead.InCarrier.Carrier.Mul), nil
}
