package gaze

import "sightpost/gaze/frame"

// DefaultRates and DefaultRanges are what a case file takes where it gives none.
func DefaultRates() Rates {
	return Rates{GazePerDegree: 1, FacingPerDegree: 1, RollPerDegree: 1, DistancePerMM: 0.1}
}

func DefaultRanges() Ranges {
	const facing, roll = 40 * frame.Degree, 30 * frame.Degree
	return Ranges{
		Low:  Aim{Left: -60 * frame.Degree, Down: -60 * frame.Degree, DistanceMM: 150, FacingUp: -facing, FacingRight: -facing, Roll: -roll},
		High: Aim{Left: 60 * frame.Degree, Down: 75 * frame.Degree, DistanceMM: 1500, FacingUp: facing, FacingRight: facing, Roll: roll},
	}
}
