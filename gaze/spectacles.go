package gaze

import "sightpost/gaze/frame"

// Spectacles are a pair of lenses before the eyes, fixed to the head.
type Spectacles struct {
	// LensSlant is how far the lower edge of the lenses is nearer to the face than
	// the upper: it turns the lens normal down from straight ahead of the head.
	LensSlant frame.Angle
}

// Lens is the direction from one lens to the tracker.
type Lens struct {
	Eye Eye
	// Off is the angle between the lens normal and the direction to the tracker.
	Off frame.Angle
	// Glare says that the lens may throw the tracker's light straight back.
	Glare bool
}
