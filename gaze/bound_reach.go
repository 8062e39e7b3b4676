package gaze

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/minimax"
)

// Reach is where a mount can bring a point of the screen: no further along Normals[i] than
// MostMM[i].
type Reach struct {
	PointMM r3.Vec    // screen axes
	Normals []r3.Vec  // unit vectors, carrier axes
	MostMM  []float64 // from the origin
}

// keepReach appends what the reaches ask for of which a screen of the box may be within one,
// and reports whether there are any.
func (b *bounding) keepReach(s *span, rows *minimax.Rows) bool {
	var keep bent
	might := false
	for i := range b.reaches {
		switch row := s.within(&b.reaches[i]); {
		case row.most(s.half) < 0:
		case might:
			keep = higher(&keep, &row, s.half)
		default:
			keep, might = row, true
		}
	}
	if might {
		rows.Keep(keep.mm, keep.grad[:])
	}
	return might || len(b.reaches) == 0
}

// within returns how far the point of a reach stays within it along the normal along which
// that is least in the middle of the box. The point turns with the screen as a corner does,
// see bounding.atEye.
func (s *span) within(r *Reach) bent {
	arm := s.pose.Rot.Apply(r.PointMM)
	at, least, along := r3.Add(s.pose.At, arm), math.Inf(1), r3.Vec{}
	for i, n := range r.Normals {
		if mm := r.MostMM[i] - r3.Dot(n, at); mm < least {
			least, along = mm, n
		}
	}
	m := ConditionMargin{Slope: Slope{MM: least, Shift: r3.Scale(-1, along), Turn: r3.Cross(along, arm)}}
	return s.along(&m, s.turn*s.turn/2*(length(r3.Sub(s.out, arm))+s.shift)+s.twice(along))
}
