package casefile

import "sightpost/gaze/frame"

// ParseAngle reads an angle as an entry of a case does.
func ParseAngle(text string) (frame.Angle, error) {
	degrees, err := parsed(angleUnit{}.kind(), text)
	return frame.Angle(degrees) * frame.Degree, err
}

// ParseMass reads a mass as an entry of a case does.
func ParseMass(text string) (kg float64, err error) { return parsed(massUnit{}.kind(), text) }
