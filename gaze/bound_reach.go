package gaze

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Reach is where a mount can bring a point of the screen: no further along Normals[i] than
// MostMM[i].
type Reach struct {
	PointMM r3.Vec    // screen axes
	Normals []r3.Vec  // unit vectors, carrier axes
	MostMM  []float64 // from the origin
}

// Has reports whether the point of a screen at carrierFromScreen is within the reach.
func (r *Reach) Has(pose frame.Pose) bool {
	at := pose.Apply(r.PointMM)
	for i, n := range r.Normals {
		if r3.Dot(n, at) > r.MostMM[i] {
			return false
		}
	}
	return true
}

// keepReach appends what the reaches ask for of which a screen of the box may be within one,
// and reports whether there are any.
func (b *bounding) keepReach(dst []bent, s *span) ([]bent, bool) {
	var keep bent
	might := false
	for i := range b.reaches {
		switch row := b.within(&b.reaches[i], s); {
		case row.most(s.half) < 0:
		case might:
			keep = higher(&keep, &row, s.half)
		default:
			keep, might = row, true
		}
	}
	if might {
		dst = append(dst, keep)
	}
	return dst, might || len(b.reaches) == 0
}

// within returns how far the point of a reach stays within it along the normal along which
// that is least in the middle of the box.
func (b *bounding) within(r *Reach, s *span) bent {
	arm := s.rot.Apply(r.PointMM)
	at, least, along := r3.Add(r3.Sub(b.middle, s.out), arm), math.Inf(1), r3.Vec{}
	for i, n := range r.Normals {
		if mm := r.MostMM[i] - r3.Dot(n, at); mm < least {
			least, along = mm, n
		}
	}
	return s.placed(least, r3.Scale(-1, along), arm)
}
