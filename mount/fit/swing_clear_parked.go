package fit

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/space"
)

// TransferHalfWidthMM is how far to either side of the midline a transfer must be free:
// half the breadth across the forearms of seated adults, the mean of the means of men (579.9 mm) and women (494.8 mm).
//
// Reference: C. C. Gordon et al., "2012 Anthropometric Survey of U.S. Army
// Personnel: Methods and Summary Statistics", NATICK/TR-15/007, 2014, computed from
// its open data files.
const TransferHalfWidthMM = (579.9 + 494.8) / 4

// TransferAheadMM is how far ahead of the back support the transfer clearance reaches: the
// length of a clear floor space, 48 in (2010 ADA Standards for Accessible Design, section 305.3).
const TransferAheadMM = 1220

// transferHighMM is how high the transfer clearance reaches: the 95th percentile of men's
// stature (the same survey as for [TransferHalfWidthMM]).
const transferHighMM = 1870

// Parked positions are tried at round settings only, this far apart: a mount is parked by
// hand and eye, not to the degree.
const (
	roundTurn    = 5 * frame.Degree
	roundSlideMM = 10
)

// parking is the mount at a setting where it may be parked.
type parking struct {
	at      float64 // setting
	freeMM  float64 // half-width of the free way of a transfer; in a bed, distance from the face
	widthMM float64 // of chair and mount together
}

// park returns the readable setting within the free range at which the mount is best
// parked, and the half-width of the free way of a transfer there, zero in a bed.
//
// The best is, of those that keep the required clearance from every keep-clear zone if
// there is one, that with the widest way, up to [TransferHalfWidthMM]; of those alike, to the mm, the
// one that makes chair and mount least wide; then the one least far away. In a bed it is
// the one farthest from the face, a choice of this tool.
func (s *swing) park(a *SwingClear) (at, halfWidthMM float64) {
	still, apart := s.stillExtent(), s.apart()
	var all []parking
	for _, v := range s.choices(a) {
		chairFromPart := s.chairFromPart(v)
		all = append(all, parking{v, s.freeMM(apart, chairFromPart), still.with(s.parts[0].moving, chairFromPart).WidthMM()})
	}
	slices.SortStableFunc(all, func(a, b parking) int {
		return cmp.Or(cmp.Compare(math.Round(b.freeMM), math.Round(a.freeMM)),
			cmp.Compare(math.Round(a.widthMM), math.Round(b.widthMM)),
			cmp.Compare(math.Abs(a.at-s.inUse), math.Abs(b.at-s.inUse)))
	})
	best := all[max(0, slices.IndexFunc(all, func(p parking) bool { return s.keepsClear(p.at) }))]
	if s.job.Passage.Bed {
		return best.at, 0
	}
	return best.at, best.freeMM
}

// chairFromPart returns the pose that takes what swings from where it is in use, in
// carrier axes, to where it is with the joint at a setting, in chair axes.
func (s *swing) chairFromPart(at float64) frame.Pose {
	return s.lead().Carrier.Mul(s.path.Pose(at - s.inUse))
}

// choices returns the settings at which the mount may be parked: as it is in use, at
// round settings within the free range, and at the last readable ones of it.
func (s *swing) choices(a *SwingClear) []float64 {
	_, first := s.joint.Neighbors(a.Low.At)
	last, _ := s.joint.Neighbors(a.High.At)
	tried := append([]float64{first, last}, s.joint.Stops()...)
	if !s.joint.Indexed {
		step := roundTurn.Radians()
		if s.joint.Motion == mount.Slide {
			step = roundSlideMM
		}
		const most = 1000 // of a range that no joint has
		step = max(step, (last-first)/most)
		for k := math.Ceil(first / step); k*step <= last; k++ {
			tried = append(tried, s.joint.Round(k*step))
		}
	}
	return append([]float64{s.inUse}, slices.DeleteFunc(tried, func(v float64) bool { return v < a.Low.At || v > a.High.At })...)
}

// apart returns what swings, without what turns on the spot.
func (s *swing) apart() []space.Shape {
	if s.path.Slides {
		return s.parts[0].moving
	}
	apart := s.parts[0].moving[:1:1]
	for _, tube := range s.parts[0].moving[1:] {
		apart = append(apart, beyond(tube, s.path.Through, s.path.Along, jointMM)...)
	}
	return apart
}

// freeMM returns how far the way of a transfer is free to either side of the midline with
// parts that a pose takes to chair axes; in a bed, how far they are from the face.
func (s *swing) freeMM(parts []space.Shape, chairFromPart frame.Pose) float64 {
	if s.job.Passage.Bed {
		far, face := math.Inf(1), s.lead().Carrier.Apply(s.lead().Head.At)
		for _, part := range parts {
			far = min(far, space.FromPoint(face, part.Moved(chairFromPart)).MM)
		}
		return far
	}
	half := r3.Vec{X: TransferAheadMM / 2, Z: transferHighMM / 2}
	middle := space.Shape{Pose: frame.Translate(half), HalfMM: half} // of the way: a sheet in the midline
	mm := TransferHalfWidthMM
	for _, part := range parts {
		part = part.Moved(chairFromPart)
		if max(-part.Farthest(r3.Vec{Y: -1}), -part.Farthest(r3.Vec{Y: 1})) < mm {
			mm = min(mm, space.Between(part, middle).MM)
		}
	}
	return mm
}

// keepsClear reports whether, with the mount at a setting, nothing that swings comes
// nearer to a zone than required in any posture.
func (s *swing) keepsClear(at float64) bool {
	pose := s.path.Pose(at - s.inUse)
	for _, p := range s.parts {
		for _, part := range p.moving {
			part = part.Moved(pose)
			for i := range p.keeps {
				if !space.Clear(part, p.keeps[i].shape, p.keeps[i].keep.RequiredMM-RoundingMM) {
					return false
				}
			}
		}
	}
	return true
}

// Extent is the floor space that chair and mount take up together, seen from
// above, along the chair's axes (mm): how far they reach from the junction of seat
// and back support, negative where they do not reach it.
type Extent struct{ BehindMM, AheadMM, LeftMM, RightMM float64 }

// WidthMM returns the width of the extent.
func (e Extent) WidthMM() float64 { return e.LeftMM + e.RightMM }

// LengthMM returns the length of the extent.
func (e Extent) LengthMM() float64 { return e.AheadMM + e.BehindMM }

// with returns e grown to hold shapes that a pose takes to chair axes.
func (e Extent) with(parts []space.Shape, chairFromPart frame.Pose) Extent {
	for _, part := range parts {
		part = part.Moved(chairFromPart)
		e.BehindMM, e.AheadMM = max(e.BehindMM, part.Farthest(r3.Vec{X: -1})), max(e.AheadMM, part.Farthest(r3.Vec{X: 1}))
		e.LeftMM, e.RightMM = max(e.LeftMM, part.Farthest(r3.Vec{Y: 1})), max(e.RightMM, part.Farthest(r3.Vec{Y: -1}))
	}
	return e
}

// stillExtent returns the extent of the chair, if there is one, and of the fixed tubes.
func (s *swing) stillExtent() Extent {
	p := s.job.Passage
	e := Extent{BehindMM: p.BehindMM, AheadMM: p.AheadMM, LeftMM: p.WidthMM / 2, RightMM: p.WidthMM / 2}
	if e == (Extent{}) {
		none := math.Inf(-1)
		e = Extent{BehindMM: none, AheadMM: none, LeftMM: none, RightMM: none}
	}
	lead := &s.parts[0]
	tubes := lead.fixed[len(lead.keeps) : len(lead.fixed)-1]
	return e.with(tubes, s.lead().Carrier)
}

// extent returns the extent of chair and mount with the joint at a setting.
func (s *swing) extent(at float64) Extent {
	return s.stillExtent().with(s.parts[0].moving, s.chairFromPart(at))
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

// halfTapeMM is half of what a tape shows: a transfer clearance that is shorter by less
// reads as the one required.
const halfTapeMM = 0.5

// problems returns what the parked mount does not do. The person drives with the mount in
// use, so a parked mount that is too wide is a problem only where the one in use is too.
func (s *swing) problems(a *SwingClear) []SwingProblem {
	var out []SwingProblem
	p, stuck := s.job.Passage, a.Low.At == a.High.At && !a.Low.Limit
	for _, must := range []struct {
		fits          func(Extent) bool
		inUse, parked SwingProblem
	}{{p.Passes, DoorInUse, DoorParked}, {p.Fits, FloorInUse, FloorParked}} {
		if must.fits(a.Used) {
			continue
		}
		if out = append(out, must.inUse); !stuck && !must.fits(a.ParkedExtent) {
			out = append(out, must.parked)
		}
	}
	switch {
	case stuck:
		out = append(out, CannotSwing)
	case a.TransferHalfWidthMM >= a.TransferHalfWidthRequiredMM-halfTapeMM:
	case a.TransferHalfWidthMM <= 0:
		out = append(out, StaysInTransfer)
	default:
		out = append(out, TransferNarrow)
	}
	return out
}
