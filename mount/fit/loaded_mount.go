package fit

import (
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/space"
)

// LoadedMount is a mount under weight, with the device on it or taken off. It holds
// buffers: one serves one goroutine.
type LoadedMount struct{ sagging *sagging }

// NewLoadedMount prepares a chain of the job's kit. The error wraps [ErrJob].
func NewLoadedMount(job *Job, chain mount.Chain, deviceOn bool) (*LoadedMount, error) {
	b, err := newBench(job)
	if err != nil {
		return nil, err
	}
	l := &LoadedMount{}
	if deviceOn {
		l.sagging, err = b.newSagging(chain)
	} else {
		l.sagging, err = b.saggingOf(unloaded(chain))
	}
	return l, err
}

// Motions returns how the load moves the screen in every posture, in carrier axes. The
// slice is reused by the next call.
func (l *LoadedMount) Motions(s mount.Settings) ([]frame.Pose, error) { return l.sagging.at(s) }

// TubePiece is a straight piece of a mount's tube where it is, in carrier axes.
type TubePiece struct {
	Part    string
	Carrier int // place of the joint that carries the tube
	Shape   space.Shape
}

// Tubes returns the pieces of the tubes as they are bent in every posture.
func (l *LoadedMount) Tubes(s mount.Settings) ([][]TubePiece, error) {
	tubes, err := l.sagging.tubes(s)
	if err != nil {
		return nil, err
	}
	out := make([][]TubePiece, len(tubes))
	for i := range tubes {
		for _, t := range tubes[i] {
			out[i] = append(out[i], TubePiece{Part: t.part, Carrier: t.carrier, Shape: t.shape})
		}
	}
	return out, nil
}

// Drive returns what the load does to a setting that is freed in a posture: the force
// along it (N) or the moment about it (N·m), positive toward higher values, see
// [tube.Model.Drive].
func (l *LoadedMount) Drive(s mount.Settings, setting, posture int) (float64, error) {
	if _, _, err := l.sagging.under(s, l.sagging.gravity[posture]); err != nil {
		return 0, err
	}
	return l.sagging.model.Drive(movingPlaces(l.sagging.chain)[setting]), nil
}
