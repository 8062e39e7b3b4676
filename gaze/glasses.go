package gaze

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Glasses are a pair of lenses before the eyes, fixed to the head.
type Glasses struct {
	// LensSlant is how far the lower edge of the lenses is nearer to the face than
	// the upper: it turns the lens normal down from straight ahead of the head.
	LensSlant frame.Angle
}

// Lens is the direction from one lens to the tracker.
type Lens struct {
	Eye Eye
	// Off is the angle between the lens normal and the direction to the tracker.
	Off frame.Angle
	// Glare says that the lens may throw the tracker's light straight back, right
	// over the pupil; see [GlareWithin].
	Glare bool
}

// GlareWithin is the angle between lens normal and direction to the tracker below
// which glare is warned of. It is a choice of this tool, no source.
//
// Light is thrown back by twice the angle at which it meets a surface, so that it
// returns to the tracker, which both lights and looks, where the surface is square
// to the direction to it. A lens is curved: of radius R, it has that place R sin a
// from the middle when its normal there is a off. For a front of R = 88 mm, 6
// dioptres at an index of 1.53 (common practice, no source), 10° is 15 mm: the
// half width of an iris, 6 mm, and as much again and half for what is not known of
// the lens, how it curves and where it sits.
const GlareWithin = 10 * frame.Degree

// Lenses returns the direction to d's tracker from the lens before each eye that
// is needed, with the screen at pose carrierFromScreen and a person in posture st.
// When either eye is enough both are listed.
//
// A lens is taken to be where its eye is: 15 mm nearer (common practice, no
// source) turn the direction to a tracker 20° off at 600 mm by half a degree. A
// tracker at an eye, or a place that is no number, is listed as straight ahead of
// the lens.
func (s Glasses) Lenses(d Device, screen frame.Pose, st *PostureInCarrier, eyes EyesUsed) []Lens {
	sin, cos := math.Sincos(s.LensSlant.Radians())
	normal := st.Head.Rot.Apply(r3.Vec{X: cos, Z: -sin})
	tracker := screen.Apply(d.Tracker.Place())
	var lenses []Lens
	for _, eye := range eyes.Needed() {
		off := frame.Between(normal, r3.Sub(tracker, st.Eyes[eye]))
		if math.IsNaN(off.Radians()) {
			off = 0
		}
		lenses = append(lenses, Lens{Eye: eye, Off: off, Glare: off < GlareWithin})
	}
	return lenses
}
