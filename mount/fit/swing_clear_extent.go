package fit

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount/space"
)

// Extent is the floor space that chair and mount take up together, seen from
// above, along the chair's axes (mm): how far they reach from the junction of seat
// and back support, negative where they do not reach it.
type Extent struct{ BehindMM, AheadMM, LeftMM, RightMM float64 }

// WidthMM returns the width of the extent.
func (e Extent) WidthMM() float64 { return e.LeftMM + e.RightMM }

// LengthMM returns the length of the extent.
func (e Extent) LengthMM() float64 { return e.AheadMM + e.BehindMM }

// side is a direction in which an extent is measured, as seen by shapes that are
// carried: how far one reaches is fromMM and how far it reaches along.
type side struct {
	along  r3.Vec
	fromMM float64
}

// reachMM returns how far a shape reaches to the side.
func (d side) reachMM(s space.Shape) float64 { return d.fromMM + s.Farthest(d.along) }

// The places of the sides in a view.
const (
	toBehind = iota
	toAhead
	toLeft
	toRight
)

// view returns the four sides as seen by shapes in carrier axes that pose carries.
func (s *swing) view(pose frame.Pose) [4]side {
	chairFromPart := s.lead().Carrier.Mul(pose)
	var v [4]side
	for i, along := range [4]r3.Vec{toBehind: {X: -1}, toAhead: {X: 1}, toLeft: {Y: 1}, toRight: {Y: -1}} {
		v[i] = side{along: chairFromPart.Rot.ApplyInverse(along), fromMM: r3.Dot(along, chairFromPart.At)}
	}
	return v
}

// withParts returns e grown to hold shapes that pose carries in carrier axes.
func (s *swing) withParts(e Extent, parts []space.Shape, pose frame.Pose) Extent {
	view := s.view(pose)
	for _, part := range parts {
		e.BehindMM, e.AheadMM = max(e.BehindMM, view[toBehind].reachMM(part)), max(e.AheadMM, view[toAhead].reachMM(part))
		e.LeftMM, e.RightMM = max(e.LeftMM, view[toLeft].reachMM(part)), max(e.RightMM, view[toRight].reachMM(part))
	}
	return e
}

// stillExtent returns the extent of the chair, if there is one, and of the tubes
// that stay.
func (s *swing) stillExtent() Extent {
	p := s.job.Passage
	e := Extent{BehindMM: p.BehindMM, AheadMM: p.AheadMM, LeftMM: p.WidthMM / 2, RightMM: p.WidthMM / 2}
	if e == (Extent{}) {
		none := math.Inf(-1)
		e = Extent{BehindMM: none, AheadMM: none, LeftMM: none, RightMM: none}
	}
	tubes := s.parts.fixed[len(s.parts.keeps) : len(s.parts.fixed)-1]
	return s.withParts(e, tubes, frame.Identity())
}

// extent returns the extent of chair and mount with the joint at a setting.
func (s *swing) extent(at float64) Extent {
	return s.withParts(s.stillExtent(), s.parts.moving, s.path.Pose(at-s.inUse))
}

// SwingProblem is what a mount that swings clear does not do. Its numbers are those of
// [SwingClear] and [Passage].
type SwingProblem int

// The kinds of [SwingProblem].
const (
	CannotSwing     SwingProblem = iota // something is touched as it is set
	StaysInTransfer                     // the transfer clearance stays blocked wherever it is parked
	TransferNarrow                      // the transfer clearance is less than required
	DoorInUse                           // wider than the doorway with the mount in use
	DoorParked                          // and with it parked
	FloorInUse                          // larger than the clear floor space with the mount in use
	FloorParked                         // and with it parked
)

// tapeMM is half of what a tape shows: a transfer clearance that is shorter by less
// reads as the one required.
const tapeMM = 0.5

// problems returns what the swung mount does not do. The person rides with the mount in
// use; that it is wider when parked, where nobody rides, is a problem only where neither
// fits.
func (s *swing) problems(a *SwingClear) []SwingProblem {
	var out []SwingProblem
	p := s.job.Passage
	for _, must := range []struct {
		fits          func(Extent) bool
		inUse, parked SwingProblem
	}{{p.Passes, DoorInUse, DoorParked}, {p.Fits, FloorInUse, FloorParked}} {
		if must.fits(a.Used) {
			continue
		}
		if out = append(out, must.inUse); !must.fits(a.ParkedExtent) {
			out = append(out, must.parked)
		}
	}
	switch {
	case a.Low.At == a.High.At && !a.Low.Limit:
		out = append(out, CannotSwing)
	case a.TransferHalfWidthMM >= a.TransferHalfWidthRequiredMM-tapeMM:
	case a.TransferHalfWidthMM <= 0:
		out = append(out, StaysInTransfer)
	default:
		out = append(out, TransferNarrow)
	}
	return out
}
