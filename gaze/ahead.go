package gaze

// Ahead is what a device hides of the way ahead from somebody who drives.
type Ahead struct {
	// Floor is the strip of floor that each eye does not see, by [Eye], and what
	// both eyes together do not see.
	Floor [2]Shadow
	Both  Shadow
	// SolidSR is the solid angle that the device covers, seen from midway between
	// the eyes (steradians), and Share its share of the forward field.
	SolidSR, Share float64
}

// Shadow is a strip of floor that is hidden: how far it reaches ahead of the eye
// and to the sides of the chair's midline (mm, chair axes). The zero Shadow hides
// nothing.
type Shadow struct {
	Hides           bool
	NearMM, FarMM   float64 // ahead of the point on the floor below the eyes
	LeftMM, RightMM float64 // to the person's left of the midline; right is negative
	Endless         bool    // reaches to the horizon; FarMM, LeftMM and RightMM are then where looking ends
}
