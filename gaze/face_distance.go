package gaze

import (
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// FaceDistance is the limit that keeps the housing away from the eyes in every
// posture. Build it with [NewFaceDistance].
type FaceDistance struct {
	leastMM      float64
	eyes         []r3.Vec
	middle, half r3.Vec // of the housing, in screen axes
}

// NewFaceDistance returns the limit that keeps every point of d's housing leastMM
// from both eyes in the given postures.
func NewFaceDistance(d Device, postures []PostureInCarrier, leastMM float64) *FaceDistance {
	l := &FaceDistance{leastMM: leastMM}
	l.middle, l.half = d.Screen.Housing()
	for _, st := range postures {
		l.eyes = append(l.eyes, st.Eyes[:]...)
	}
	return l
}

// EyeByEye returns the limit as one for each eye, which are smooth outside the housing.
func (l *FaceDistance) EyeByEye() []Limit {
	parts := make([]Limit, len(l.eyes))
	for i := range l.eyes {
		one := *l
		one.eyes = l.eyes[i : i+1]
		parts[i] = &one
	}
	return parts
}

// Housing returns the middle and the half extents of the housing in screen axes
// (mm).
func (s Screen) Housing() (middle, half r3.Vec) {
	return r3.Vec{Y: -s.HousingBelowMM, Z: -s.HousingMM.Z / 2}, r3.Scale(0.5, s.HousingMM)
}

// Margin implements [Limit]. Outside the housing the distance of the nearest eye
// counts, inside it the depth to the glass, as a negative number. Without eyes the
// margin is 100 m.
func (l *FaceDistance) Margin(screen frame.Pose) Slope {
	least := Slope{MM: farthestMM}
	for _, eye := range l.eyes {
		arm := r3.Sub(eye, screen.At)
		local := screen.Rot.ApplyInverse(arm)
		near := r3.Add(l.middle, clampTo(r3.Sub(local, l.middle), l.half))
		off := r3.Sub(local, near)
		d, n := r3.Norm(off), r3.Vec{Z: 1}
		if d > 0 {
			n = r3.Scale(1/d, off)
		} else {
			d = local.Z - l.middle.Z - l.half.Z
		}
		if d < least.MM {
			n = screen.Rot.Apply(n)
			least = Slope{MM: d, Shift: r3.Scale(-1, n), Turn: r3.Scale(-1, r3.Cross(arm, n))}
		}
	}
	least.MM -= l.leastMM
	return least
}

// clampTo returns v with every component within ± that of half.
func clampTo(v, half r3.Vec) r3.Vec {
	return r3.Vec{
		X: min(max(v.X, -half.X), half.X),
		Y: min(max(v.Y, -half.Y), half.Y),
		Z: min(max(v.Z, -half.Z), half.Z),
	}
}
