package casefile

import "sightpost/gaze/frame"

// ParseAngle reads an angle as an entry of a case does.
func ParseAngle(text string) (frame.Angle, error) {
	degrees, err := angle.read(text)
	return frame.Angle(degrees) * frame.Degree, err
}

// ParseMass reads a mass as an entry of a case does.
func ParseMass(text string) (kg float64, err error) { return mass.read(text) }
