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

// WayOutMM is how far to either side of the midline the way of a transfer is to
// be free: half the breadth across the forearms of adults who sit, the mean of the
// means of men (579.9 mm) and women (494.8 mm).
//
// Reference: C. C. Gordon et al., "2012 Anthropometric Survey of U.S. Army
// Personnel: Methods and Summary Statistics", NATICK/TR-15/007, 2014, computed from
// its open data files.
const WayOutMM = (579.9 + 494.8) / 4

// WayOutAheadMM is how far ahead of the back support the way of a transfer goes: the length of
// a clear floor space, 48 in (2010 ADA Standards for Accessible Design, section 305.3).
const WayOutAheadMM = 1220

// wayOutHighMM is how high the way of a transfer goes: above 19 of 20 men, whose 95th percentile
// stands 1870 mm tall (the same survey as for [WayOutMM]).
const wayOutHighMM = 1870

// Rests are looked for at round settings only, this far apart: a mount is parked
// by hand and eye, not to the degree.
const (
	roundTurn    = 5 * frame.Degree
	roundSlideMM = 10
)

// resting is the mount at a place where it may rest.
type resting struct {
	at      float64 // setting
	roomMM  float64 // how far from the midline the way out is free; in a bed, from the face
	widthMM float64 // of chair and mount together
	goMM    float64 // how far it is away, mm or radians
}

// rest returns the readable setting within the free range at which the mount rests
// best, and how far from the midline the way of a transfer is free there, zero in a bed.
//
// The best is, of those that keep the required clearance from every keep-clear zone
// if there is one, that which leaves most of the way of a transfer free, up to [WayOutMM]; of
// those alike, to the mm, the one that makes chair and mount least wide; then the one
// least far away. In a bed it is the one farthest from the face, a choice of this tool.
func (s *swing) rest(a *SwingClear) (at, roomMM float64) {
	r := s.newRests()
	var all []resting
	for _, v := range s.choices(a) {
		all = append(all, r.at(v))
	}
	slices.SortStableFunc(all, func(a, b resting) int {
		return cmp.Or(cmp.Compare(math.Round(b.roomMM), math.Round(a.roomMM)),
			cmp.Compare(math.Round(a.widthMM), math.Round(b.widthMM)), cmp.Compare(a.goMM, b.goMM))
	})
	best := all[max(0, slices.IndexFunc(all, func(r resting) bool { return s.keepsClear(r.at) }))]
	if s.job.Passage.Bed {
		return best.at, 0
	}
	return best.at, best.roomMM
}

// choices returns the settings at which the mount may rest: as it is in use, at
// round settings within the free range, and at the last readable ones of it.
func (s *swing) choices(a *SwingClear) []float64 {
	all := []float64{s.inUse}
	add := func(v float64) {
		if v >= a.Low.At && v <= a.High.At {
			all = append(all, v)
		}
	}
	_, first := s.joint.Neighbours(a.Low.At)
	last, _ := s.joint.Neighbours(a.High.At)
	add(first)
	add(last)
	if s.joint.Indexed {
		for _, v := range s.joint.Stops() {
			add(v)
		}
		return all
	}
	step := roundTurn.Radians()
	if s.joint.Motion == mount.Slide {
		step = roundSlideMM
	}
	const most = 1000 // of a range that no joint has
	step = max(step, (last-first)/most)
	for k := math.Ceil(first / step); k*step <= last; k++ {
		add(s.joint.Round(k * step))
	}
	return all
}

// rests measures where a mount may rest.
type rests struct {
	*swing
	wayOut space.Shape   // the middle of the way out: a sheet in the midline
	face   r3.Vec        // midway between the eyes, carrier axes
	apart  []space.Shape // what swings, without what turns on the spot
	still  Extent        // of the chair and of what stays
}

func (s *swing) newRests() *rests {
	r := &rests{swing: s, still: s.stillExtent(), face: s.lead().Head.At}
	r.wayOut = space.Shape{
		Pose:   s.lead().Carrier.Inverse().Mul(frame.Translate(r3.Vec{X: WayOutAheadMM / 2, Z: wayOutHighMM / 2})),
		HalfMM: r3.Vec{X: WayOutAheadMM / 2, Z: wayOutHighMM / 2},
	}
	r.apart = s.parts.moving[:1:1]
	for _, tube := range s.parts.moving[1:] {
		if s.path.Slides {
			r.apart = append(r.apart, tube)
			continue
		}
		r.apart = append(r.apart, beyond(tube, s.path.Through, s.path.Along, jointMM)...)
	}
	return r
}

// at measures one place.
func (r *rests) at(v float64) resting {
	pose := r.path.Pose(v - r.inUse)
	view := r.view(pose)
	to := resting{at: v, roomMM: r.room(pose, &view), goMM: math.Abs(v - r.inUse)}
	left, right := r.still.LeftMM, r.still.RightMM
	for _, part := range r.parts.moving {
		left, right = max(left, view[toLeft].reachMM(part)), max(right, view[toRight].reachMM(part))
	}
	to.widthMM = left + right
	return to
}

// room returns how far from the midline the way of a transfer is free with what swings carried by
// pose, from where the view is; in a bed, how far all of that is from the face.
func (r *rests) room(pose frame.Pose, view *[4]side) float64 {
	if r.job.Passage.Bed {
		far := math.Inf(1)
		for _, part := range r.apart {
			far = min(far, space.FromPoint(r.face, part.Moved(pose)).MM)
		}
		return far
	}
	mm := WayOutMM
	for _, part := range r.apart {
		// The sheet is in the midline: so far to a side is also as far from it.
		if max(-view[toRight].reachMM(part), -view[toLeft].reachMM(part)) < mm {
			mm = min(mm, space.Between(part.Moved(pose), r.wayOut).MM)
		}
	}
	return mm
}

// keepsClear reports whether, with the mount at a setting, nothing that swings comes
// nearer to a zone than is to be kept.
func (s *swing) keepsClear(at float64) bool {
	pose := s.path.Pose(at - s.inUse)
	for _, part := range s.parts.moving {
		part = part.Moved(pose)
		for i := range s.parts.keeps {
			keep := &s.parts.keeps[i]
			if !space.Clear(part, keep.shape, keep.keep.RequiredMM-roundingMM) {
				return false
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
