package fit

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/space"
)

// SwingClear is how the mount swings clear about one joint, all others as set, in the
// leading posture, from which the person leaves the chair.
type SwingClear struct {
	// Joint is the place of the swinging joint in the settings, Name its name.
	Joint int
	Name  string
	// InUse is its setting in use (radians or mm).
	InUse float64
	// Low and High are the ends of the free range each way: nothing is touched
	// between them.
	Low, High SwingEnd
	// Parked is the readable setting within the free range at which it is best parked.
	Parked float64
	// TransferHalfWidthMM is how far from the midline the transfer clearance reaches with
	// the mount at Parked, up to TransferHalfWidthRequiredMM, which is [TransferHalfWidthMM]. Both
	// are zero in a bed.
	TransferHalfWidthMM, TransferHalfWidthRequiredMM float64
	// Way is the least clearance on the way from in use to Parked: of the housing and the
	// tubes that swing to the keep-clear zones, and of the housing to the fixed tubes. Its
	// Space is "" when there is nothing to come near to.
	Way SwingClearance
	// Used and ParkedExtent are the floor space that chair and mount take up in use and
	// parked.
	Used, ParkedExtent Extent
	// Problems are what does not fit, or that nothing is gained; empty when all is well.
	Problems []SwingProblem
}

// SwingEnd is one end of a free range.
type SwingEnd struct {
	At float64 // last setting without contact
	// Limit says that it is the limit of the joint; otherwise Part, "housing" or a part of
	// the mount that swings, touches Space: a keep-clear zone, a fixed part of the mount,
	// or "floor".
	Limit       bool
	Part, Space string
}

// SwingClearance is the least clearance on the way.
type SwingClearance struct {
	space.Clearance         // in carrier axes
	At              float64 // setting at which it is least
	// Part is "housing" or a part of the mount that swings, Space a keep-clear zone or a
	// fixed part of the mount.
	Part, Space string
	Posture     int
}

// swing is a mount swinging clear.
type swing struct {
	*problem
	joint mount.Joint
	inUse float64    // its setting
	path  space.Path // in carrier axes, from in use
	parts swingParts
}

// swingClear returns how a mount that is set swings clear about the joint that the job
// names, or about the one that suits best; nil when there is none, see [problem.swinger].
// The error wraps [ErrJob].
//
// Everything beyond the joint swings: the housing, with the screen at the given pose, and
// of the given tubes those that the joint carries. In its way may be the keep-clear zones,
// the fixed tubes and the floor. All are in carrier axes and as in the leading posture,
// with the sag of the mount in use, which is taken to stay the same on the way.
func (b *problem) swingClear(set *Set, screen frame.Pose, tubes []TubePiece) (*SwingClear, error) {
	frames, err := set.Chain.Frames(set.Settings)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrJob, err)
	}
	place, err := b.swinger(set, frames)
	if err != nil || place < 0 {
		return nil, err
	}
	k := movingPlaces(set.Chain)[place]
	joint, moved := set.Chain.Joints[k], frames[k]
	s := &swing{
		problem: b, joint: joint, inUse: set.Settings[place],
		path: space.Path{Through: moved.At, Along: r3.Unit(moved.Rot.Apply(joint.Axis)), Slides: joint.Motion == mount.Slide},
	}
	s.parts = s.sortParts(k, screen, tubes)
	a := &SwingClear{Joint: place, Name: s.joint.Name, InUse: s.inUse}
	if a.Low, a.High, err = s.free(); err != nil {
		return nil, fmt.Errorf("%w: swinging clear: %w", ErrJob, err)
	}
	a.Parked, a.TransferHalfWidthMM = s.park(a)
	if !b.job.Passage.Bed {
		a.TransferHalfWidthRequiredMM = TransferHalfWidthMM
	}
	if a.Way, err = s.way(a.Parked); err != nil {
		return nil, fmt.Errorf("%w: swinging clear: %w", ErrJob, err)
	}
	a.Used, a.ParkedExtent = s.extent(s.inUse), s.extent(a.Parked)
	a.Problems = s.problems(a)
	return a, nil
}

// swinger returns the place in the settings of the joint to swing about, or -1 when
// there is none.
//
// If the job names no joint it is the first from the clamp outward that turns, that
// is not set in stops, whose axis is within 20 degrees of the vertical in the leading posture,
// and that can carry the middle of the screen by at least [TransferHalfWidthMM]. A joint that
// is named may be any that moves.
func (b *problem) swinger(set *Set, frames []frame.Pose) (int, error) {
	const steep = 20 * frame.Degree
	moving := set.Chain.Moving()
	if about := b.job.Passage.About; about != "" {
		place := slices.IndexFunc(moving, func(j mount.Joint) bool { return j.Name == about })
		if place < 0 {
			return 0, fmt.Errorf("%w: swinging clear: there is no joint %q; this mount has %s", ErrJob, about, names(moving))
		}
		return place, nil
	}
	up := b.lead().Carrier.Rot.ApplyInverse(r3.Vec{Z: 1})
	screen := frames[len(frames)-1].At
	for place, k := range movingPlaces(set.Chain) {
		j := set.Chain.Joints[k]
		axis := r3.Unit(frames[k].Rot.Apply(j.Axis))
		if j.Motion != mount.Turn || j.Indexed || math.Abs(r3.Dot(axis, up)) < math.Cos(steep.Radians()) {
			continue
		}
		lever := r3.Norm(r3.Cross(r3.Sub(screen, frames[k].At), axis))
		turn := min(max(j.High-set.Settings[place], set.Settings[place]-j.Low), math.Pi)
		if 2*lever*math.Sin(turn/2) >= TransferHalfWidthMM {
			return place, nil
		}
	}
	return -1, nil
}

func names(joints []mount.Joint) string {
	var all []string
	for _, j := range joints {
		all = append(all, j.Name)
	}
	return strings.Join(all, ", ")
}

// free returns how far the joint is free each way.
func (s *swing) free() (low, high SwingEnd, err error) {
	sweep, err := space.NewSweep(s.path, s.parts.moving, s.parts.fixed, s.parts.adjoining)
	if err != nil {
		return low, high, err
	}
	end := func(limit float64) (SwingEnd, error) {
		stop, err := sweep.Free(limit - s.inUse)
		if err != nil || stop.Fixed < 0 {
			return SwingEnd{At: limit, Limit: true}, err
		}
		return SwingEnd{At: s.inUse + stop.By, Part: s.parts.movers[stop.Moving], Space: s.parts.obstacles[stop.Fixed]}, nil
	}
	if low, err = end(s.joint.Low); err != nil {
		return low, high, err
	}
	high, err = end(s.joint.High)
	return low, high, err
}

// way returns the least gap on the way to a setting. Of the tubes among each other
// and of the floor only contact counts.
func (s *swing) way(to float64) (SwingClearance, error) {
	keeps, floor := len(s.parts.keeps), len(s.parts.fixed)-1
	sweep, err := space.NewSweep(s.path, s.parts.moving, s.parts.fixed[:floor],
		func(moving, fixed int) bool { return moving > 0 && fixed >= keeps })
	if err != nil {
		return SwingClearance{}, err
	}
	least, err := sweep.Least(0, to-s.inUse)
	if err != nil || least.Fixed < 0 {
		return SwingClearance{At: s.inUse, Posture: s.must[0]}, err
	}
	return SwingClearance{
		Clearance: least.Clearance, At: s.inUse + least.By, Posture: s.must[0],
		Part: s.parts.movers[least.Moving], Space: s.parts.obstacles[least.Fixed],
	}, nil
}

// swingParts is what swings and what may be in its way, in carrier axes.
type swingParts struct {
	// moving holds the housing first, then the tubes beyond the joint; movers are
	// their names. A tube whose slide is the joint is taken to move as a whole.
	moving []space.Shape
	movers []string
	// fixed holds the keep-clear zones first, then the fixed tubes, then the floor;
	// obstacles are their names.
	fixed     []space.Shape
	obstacles []string
	keeps     []placed // the keep-clear zones
	touching  []bool   // by moving and fixed: touch by construction
}

// jointMM is about the size of what holds two tubes together, an assumption. Fixed tubes
// do not count within this distance of the swinging joint, where the others are fastened
// to them.
const jointMM = 60

// floorMM is how far the floor reaches each way, and how thick it is taken to be.
const floorMM = 10_000

// sortParts divides the mount into what swings about joint k of the chain and what is
// fixed.
func (s *swing) sortParts(k int, screen frame.Pose, tubes []TubePiece) swingParts {
	p := swingParts{moving: []space.Shape{housing(s.job.Device).Moved(screen)}, movers: []string{"housing"}}
	for _, keep := range s.keeps {
		if keep.posture == s.must[0] {
			p.keeps = append(p.keeps, keep)
			p.fixed, p.obstacles = append(p.fixed, keep.shape), append(p.obstacles, keep.keep.Name)
		}
	}
	for _, t := range tubes {
		if t.Carrier >= k {
			p.moving, p.movers = append(p.moving, t.Shape), append(p.movers, t.Part)
			continue
		}
		for _, piece := range beyond(t.Shape, s.path.Through, r3.Vec{}, jointMM) {
			p.fixed, p.obstacles = append(p.fixed, piece), append(p.obstacles, t.Part)
		}
	}
	floor := space.Shape{
		Pose:   s.lead().Carrier.Inverse().Mul(frame.Translate(r3.Vec{Z: -floorMM})),
		HalfMM: r3.Vec{X: floorMM, Y: floorMM, Z: floorMM},
	}
	p.fixed, p.obstacles = append(p.fixed, floor), append(p.obstacles, "floor")
	p.touching = make([]bool, len(p.moving)*len(p.fixed))
	for m := 1; m < len(p.moving); m++ {
		for f := len(p.keeps); f < len(p.fixed); f++ {
			p.touching[m*len(p.fixed)+f] = space.Between(p.moving[m], p.fixed[f]).MM <= space.FineMM
		}
	}
	return p
}

// adjoining reports whether a swinging part touches a fixed one, or the floor under a
// stand, by construction.
func (p *swingParts) adjoining(moving, fixed int) bool { return p.touching[moving*len(p.fixed)+fixed] }

// lead returns the leading posture.
func (b *problem) lead() *gaze.PostureInCarrier { return &b.postures[b.must[0]] }

// beyond returns what is left of a piece of tube when all of its middle line is
// cut out that is within a radius of the line through a point along a unit
// direction, or of the point if the direction is zero: none, one or two pieces.
//
// With q(t) the square of the distance at t from one end to the other, which is a
// quadratic a t² + 2 b t + c, the part within is where q(t) < r².
func beyond(tube space.Shape, through, along r3.Vec, radiusMM float64) []space.Shape {
	half := r3.Scale(tube.HalfMM.X, tube.Pose.Rot.X)
	across := func(v r3.Vec) r3.Vec { return r3.Sub(v, r3.Scale(r3.Dot(v, along), along)) }
	from, way := across(r3.Sub(r3.Sub(tube.Pose.At, half), through)), across(r3.Scale(2, half))
	a, b, c := r3.Dot(way, way), r3.Dot(from, way), r3.Dot(from, from)-radiusMM*radiusMM
	root := b*b - a*c
	if c < 0 && a == 0 {
		return nil
	}
	if a == 0 || root <= 0 {
		return []space.Shape{tube}
	}
	in, out := (-b-math.Sqrt(root))/a, (-b+math.Sqrt(root))/a
	var left []space.Shape
	if in > 0 {
		left = append(left, part(tube, 0, min(in, 1)))
	}
	if out < 1 {
		left = append(left, part(tube, max(out, 0), 1))
	}
	if in >= 1 || out <= 0 {
		return []space.Shape{tube}
	}
	return left
}

// part returns the part of a piece of tube between two shares of its length.
func part(tube space.Shape, from, to float64) space.Shape {
	tube.Pose.At = r3.Add(tube.Pose.At, r3.Scale((from+to-1)*tube.HalfMM.X, tube.Pose.Rot.X))
	tube.HalfMM.X *= to - from
	return tube
}
