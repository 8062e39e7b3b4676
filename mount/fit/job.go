package fit

import (
	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/space"
)

// Job is everything that one case says, checked and in one system of units.
type Job struct {
	Scene  gaze.Scene
	Device gaze.Device
	// Postures are the ways of sitting to report on, at least one of which must
	// work. The first that must work leads.
	Postures []gaze.Posture
	// Wish is what the target pose is chosen by.
	Wish Wish
	// Keep are the spaces to keep clear.
	Keep []Keep
	// Mount is nil when only the place of the screen is asked for.
	Mount *MountJob
}

// Wish is what the target pose is chosen by.
type Wish struct {
	Upright gaze.Upright
	Rates   gaze.Rates
	Ranges  gaze.Ranges
	// FaceMM is the least distance of the casing from the eyes.
	FaceMM float64
	// MarginMM is the least margin that counts as good enough; zero means that
	// any margin that is not negative will do.
	MarginMM float64
}

// Keep is a space to keep clear of the device's casing and of the mount's tubes.
type Keep struct {
	Name string
	// By says what carries the space; Shape is in that carrier's axes.
	By    gaze.Carrier
	Shape space.Shape
	GapMM float64
}

// MountJob is the mount of a job.
type MountJob struct {
	Kit mount.Kit
	// Mountings are the places where the kit may be clamped, in carrier axes:
	// one, or one for either side.
	Mountings []mount.Mounting
}

// Leading returns the place in j.Postures of the posture that leads: the first
// that must work, or -1.
func (j *Job) Leading() int {
	for i, p := range j.Postures {
		if p.MustWork {
			return i
		}
	}
	return -1
}

// stances returns every posture as seen from the carrier, and the places of
// those that must work.
func (j *Job) stances() (all []gaze.Stance, must []int) {
	for i, p := range j.Postures {
		all = append(all, j.Scene.Stance(p))
		if p.MustWork {
			must = append(must, i)
		}
	}
	return all, must
}

// CarrierFromMeasured returns the pose that takes points in chair axes, as they
// were measured, to the axes of a carrier.
func CarrierFromMeasured(s gaze.Scene, by gaze.Carrier) frame.Pose {
	return by.Pose(s.Chair, s.Measured.SeatTilt).Inverse()
}
