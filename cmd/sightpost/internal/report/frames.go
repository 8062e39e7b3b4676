package report

import (
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount/fit"
)

// Frames returns chairFromMoved of every joint of the mount of r in the posture that
// leads, as the mount stands with all that hangs on it. A joint moves as what it
// holds does: the next tube, or the screen if there is none; so the give of the
// joints between them counts as its own.
//
// When the screen sags most in a posture in which gravity acts another way on the
// mount than in the one that leads, the sag of its tubes is not known in the latter
// and left out: some mm at most.
func Frames(job *fit.Job, r *fit.Result) ([]frame.Pose, error) {
	frames, err := r.Set.Chain.Frames(r.Set.Settings)
	if err != nil {
		return nil, err
	}
	lead := &r.Postures[leading(job)]
	carrier := carrierOf(job, lead)
	known := r.Load != nil && sameGravity(carrier, carrierOf(job, &r.Postures[r.Load.Posture]))
	for k := range frames {
		sag := frame.Identity()
		part, held := tubeHeldBy(r, k)
		switch {
		case !held:
			at := r3.Sub(lead.Screen.At, lead.Sag.ShiftMM)
			frames[k] = lead.Sag.Pose(at).Mul(carrier).Mul(frames[k])
			continue
		case known:
			sag = sagOf(r.Load, part)
		}
		frames[k] = carrier.Mul(sag).Mul(frames[k])
	}
	return frames, nil
}

// sameGravity reports whether gravity acts in the same direction on two carriers.
func sameGravity(a, b frame.Pose) bool {
	const same = 1e-9
	up := r3.Vec{Z: 1}
	return r3.Norm(r3.Sub(a.Rot.ApplyInverse(up), b.Rot.ApplyInverse(up))) < same
}

// tubeHeldBy returns the part of the first tube that the k-th joint holds.
func tubeHeldBy(r *fit.Result, k int) (part string, held bool) {
	for _, s := range r.Set.Chain.Spans {
		if s.Carrier >= k {
			return s.Part, true
		}
	}
	return "", false
}

// sagOf returns the motion of the point at which a tube is held, carrier axes.
func sagOf(l *fit.Load, part string) frame.Pose {
	for _, b := range l.Lines {
		if b.Part == part {
			return b.Sag.Pose(b.AtMM)
		}
	}
	return frame.Identity()
}
