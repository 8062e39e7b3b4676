package document

import (
	"errors"

	"sightpost/gaze/frame"
	"sightpost/mount/fit"
)

// Frames returns chairFromMoved of every joint of the mount of r in the posture that
// leads, as the mount stands with all that hangs on it.
func Frames(job *fit.Job, r *fit.Result) ([]frame.Pose, error) {
	lead := &r.Postures[leading(job)]
	if lead.Mount == nil || len(lead.Mount.Joints) != len(r.Set.Chain.Joints) {
		return nil, errors.New("document: the result does not say how its mount stands under its load")
	}
	frames := make([]frame.Pose, len(lead.Mount.Joints))
	for k, f := range lead.Mount.Joints {
		frames[k] = lead.Stance.Carrier.Mul(f)
	}
	return frames, nil
}
